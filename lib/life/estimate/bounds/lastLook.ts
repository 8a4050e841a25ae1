/**
 * When lives were last looked at before the records closed. Where leaks are found by looking from time to time, a running life is known to
 * be sound up to the last look only, and a leak after it is not known yet. Taking that look for a planned end, or the closing day for a
 * look, gives drawn lives another watch than the lives had.
 */
import { columnOf, floatAt } from '../../../numeric/columns.js';
import type { RandomStream } from '../../../numeric/random.js';
import { countUpTo } from '../../../numeric/sorted.js';
import { isFailure } from '../../sample.js';
import type { LifeSample } from '../../sampleTypes.js';
import type { Recording } from './recording.js';

/** Ages that differ by less, relatively, are one. */
export const TOLERANCE = 1e-9;

export interface LastLook {
  /** Closing ages, those of running lives moved back to their last look. */
  closing: Float64Array;
  /** The age at which the watching of row i ends at the latest, for one life drawn. */
  endOf(i: number, random: RandomStream): number;
}

/**
 * A life last found sound less than one gap between looks before its closing age was running. How long before closing the running ones
 * were last looked at is known; the same is drawn for all others, whose last look would have come as long before as one of theirs.
 */
export function lastLookOf(sample: LifeSample, closing: Float64Array, recording: Recording): LastLook {
  const gapAfter = gaps(recording);
  const since = (i: number): number => floatAt(closing, i) - floatAt(sample.lower, i);
  const rows = Array.from(closing.keys());
  const running = rows.filter(
    (i) =>
      !isFailure(sample, i) &&
      floatAt(closing, i) < Infinity &&
      since(i) <= Math.max(gapAfter(floatAt(sample.lower, i)), TOLERANCE * floatAt(sample.lower, i)),
  );
  const upTo = cumulative(running, (i) => floatAt(sample.count, i));
  const lives = upTo.length === 0 ? 0 : floatAt(upTo, upTo.length - 1);
  if (!running.some((i) => since(i) > TOLERANCE * floatAt(sample.lower, i))) {
    return { closing, endOf: (i) => floatAt(closing, i) };
  }
  const isRunning = new Set(running);
  const seen = columnOf(closing, (age, i) => (isRunning.has(i) ? floatAt(sample.lower, i) : age));
  const endOf = (i: number, random: RandomStream): number => {
    if (isRunning.has(i) || floatAt(closing, i) === Infinity) return floatAt(seen, i);
    const other = running[Math.min(countUpTo(upTo, random.uniform() * lives), running.length - 1)] as number;
    return floatAt(closing, i) - since(other);
  };
  return { closing: seen, endOf };
}

/** The longest that a life may go without a look after it was found sound at an age; 0 where failures are known at once. */
function gaps({ kind, cuts, width }: Recording): (age: number) => number {
  if (kind === 'own') return () => floatAt(width, width.length - 1);
  if (kind !== 'inspections') return () => 0;
  return (age) => {
    const next = countUpTo(cuts, age);
    return next === cuts.length ? 0 : floatAt(cuts, next) - age;
  };
}

function cumulative(rows: readonly number[], of: (i: number) => number): Float64Array {
  let total = 0;
  return columnOf(rows, (i) => {
    total += of(i);
    return total;
  });
}
