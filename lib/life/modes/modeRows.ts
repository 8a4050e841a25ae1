/** Rows that end by a named mode: the check of names against rows, and the sample that one mode sees. */
import { UsageError } from '../../errors.js';
import { at, floatAt } from '../../numeric/columns.js';
import { isFailure } from '../sample.js';
import type { LifeSample } from '../sampleTypes.js';

/** For each row of a sample the name of the mode that ended it; null for a life still sound. */
export type ModeNames = ArrayLike<string | null>;

/**
 * The names that occur, in alphabetical order, after every one was seen to fit its row.
 * @throws UsageError naming the row (from 1)
 */
export function namesOfModes(where: string, sample: LifeSample, modes: ModeNames): string[] {
  const rows = sample.lower.length;
  if (modes.length !== rows) {
    throw new UsageError(where, `modes must be as long as the sample (${rows} rows).`, modes.length);
  }
  const names = new Set<string>();
  for (let i = 0; i < rows; i++) {
    const name: unknown = modes[i];
    if (name === null && isFailure(sample, i)) {
      throw new UsageError(where, `row ${i + 1} ended, so it needs the name of a mode.`, 'null');
    }
    if (name === null) continue;
    if (typeof name !== 'string' || name === '') {
      throw new UsageError(
        where,
        `row ${i + 1}: a mode must be a name, or null for a life still sound.`,
        name,
      );
    }
    if (!isFailure(sample, i)) {
      throw new UsageError(where, `row ${i + 1} is still sound, so its mode must be null.`, name);
    }
    names.add(name);
  }
  return [...names].sort();
}

/** The age that stands for the end of row i where only one is wanted: the middle of its interval under watch. */
export function middleOf(sample: LifeSample, i: number): number {
  const from = Math.max(floatAt(sample.lower, i), floatAt(sample.entry, i));
  const upper = floatAt(sample.upper, i);
  return upper === Infinity ? from : from + (upper - from) / 2;
}

/** The sample that one mode sees: its own rows as they are, those that another mode ended sound at the middle of theirs. */
export function sampleOfMode(sample: LifeSample, modes: ModeNames, name: string): LifeSample {
  const { entry, count, cluster } = sample;
  const own = (i: number): boolean => modes[i] === name || !isFailure(sample, i);
  const lower = sample.lower.map((age, i) => (own(i) ? age : middleOf(sample, i)));
  const upper = sample.upper.map((age, i) => (own(i) ? age : Infinity));
  return { lower, upper, entry, count, cluster };
}

/** Rows of a sample, in the order given. */
export function rowsOf(sample: LifeSample, rows: readonly number[]): LifeSample {
  const take = (column: Float64Array): Float64Array => Float64Array.from(rows, (i) => floatAt(column, i));
  return {
    lower: take(sample.lower),
    upper: take(sample.upper),
    entry: take(sample.entry),
    count: take(sample.count),
    cluster: Int32Array.from(rows, (i) => at(sample.cluster, i)),
  };
}
