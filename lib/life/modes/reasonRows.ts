/** Rows of a sample by why they ended: known leaks by mode, known other reasons, reasons that nobody knows. */
import { UsageError } from '../../errors.js';
import { floatAt, itemAt } from '../../numeric/columns.js';
import { isFailure } from '../sample.js';
import type { LifeSample } from '../sampleTypes.js';
import { type ModeNames, middleOf, namesOfModes } from './modeRows.js';
import { AGE_OFFSET, atRiskOf, hazardAt, kernelsOf, placeOf } from './smoothedHazard.js';

export interface ReasonRows {
  sample: LifeSample;
  reasons: ModeNames;
  /** Reasons that are leaks, each a mode with a law. */
  leaks: readonly string[];
  /** Rows of unknown reason, their lives, and the age of each. */
  unknown: number[];
  unknownCount: Float64Array;
  unknownAge: Float64Array;
  /** Lives known to have leaked; known to have ended otherwise; all that are unknown. */
  knownLeaks: number;
  knownOthers: number;
  unknowns: number;
  /** Hazard per day of known other ends, at the age of each unknown row. */
  otherHazard: Float64Array;
}

/** @throws UsageError for reasons that do not fit their rows, and without a known leak of each mode */
export function readReasons(
  where: string,
  sample: LifeSample,
  reasons: ModeNames,
  { leaks, unknown }: { leaks: readonly string[]; unknown: string },
): ReasonRows {
  const names = namesOfModes(where, sample, reasons);
  if (leaks.length === 0) throw new UsageError(where, 'leaks must name at least one reason.');
  const missing = leaks.find((name) => !names.includes(name) || name === unknown);
  if (missing !== undefined) {
    throw new UsageError(where, 'each reason in leaks must be known of at least one life.', missing);
  }
  const all = Array.from(sample.lower.keys());
  const rows = all.filter((i) => reasons[i] === unknown);
  const isLeak = (i: number): boolean => leaks.includes(reasons[i] ?? '');
  const others = all.filter((i) => isFailure(sample, i) && reasons[i] !== unknown && !isLeak(i));
  const lives = (list: readonly number[]): number =>
    list.reduce((total, i) => total + floatAt(sample.count, i), 0);
  const unknownAge = Float64Array.from(rows, (i) => middleOf(sample, i));
  const hazard = otherHazardOf(sample, others);
  return {
    sample,
    reasons,
    leaks,
    unknown: rows,
    unknownCount: Float64Array.from(rows, (i) => floatAt(sample.count, i)),
    unknownAge,
    knownLeaks: lives(all.filter(isLeak)),
    knownOthers: lives(others),
    unknowns: lives(rows),
    otherHazard: unknownAge.map(hazard),
  };
}

/** Smoothed hazard of the ends at `others` by age, with half an end spread over all the time watched, so that it is nowhere 0. */
function otherHazardOf(sample: LifeSample, others: readonly number[]): (age: number) => number {
  if (others.length === 0) return () => 0;
  const every = Array.from(sample.lower.keys());
  const expanded = (list: readonly number[], value: (i: number) => number): Float64Array =>
    Float64Array.from(list.flatMap((i) => new Array<number>(floatAt(sample.count, i)).fill(value(i))));
  const age = expanded(every, (i) => middleOf(sample, i));
  const entry = expanded(every, (i) => floatAt(sample.entry, i));
  const kernels = kernelsOf(
    expanded(others, (i) => middleOf(sample, i)),
    atRiskOf(entry, age),
  );
  const watched = age.reduce((total, end, i) => total + end - floatAt(entry, i), 0);
  return (days) => hazardAt(kernels, placeOf(days)) / (days + AGE_OFFSET) + 0.5 / Math.max(watched, 1);
}

/**
 * The sample that leak mode m sees, its unknown rows twice: as its leak with `weight`, and sound with the rest. Only the counts
 * depend on the weights, so that the rest is laid out once.
 */
export function weightedSampleOf(rows: ReasonRows, m: number): (weight: Float64Array) => LifeSample {
  const { sample, reasons, leaks, unknown, unknownCount } = rows;
  const name = itemAt(leaks, m);
  const n = sample.lower.length;
  const column = (first: (i: number) => number, again: (i: number) => number): Float64Array =>
    Float64Array.from({ length: n + unknown.length }, (_, i) =>
      i < n ? first(i) : again(itemAt(unknown, i - n)),
    );
  // First all rows with the unknown as sound, then the unknown once more as leaks.
  const own = (i: number): boolean => reasons[i] === name || !isFailure(sample, i);
  const lower = column(
    (i) => (own(i) ? floatAt(sample.lower, i) : middleOf(sample, i)),
    (i) => floatAt(sample.lower, i),
  );
  const upper = column(
    (i) => (own(i) ? floatAt(sample.upper, i) : Infinity),
    (i) => floatAt(sample.upper, i),
  );
  const entry = column(
    (i) => floatAt(sample.entry, i),
    (i) => floatAt(sample.entry, i),
  );
  const cluster = Int32Array.from({ length: n + unknown.length }, (_, i) =>
    Number(sample.cluster[i < n ? i : itemAt(unknown, i - n)]),
  );
  return (weight) => {
    const count = new Float64Array(n + unknown.length);
    count.set(sample.count);
    unknown.forEach((row, u) => {
      const leaked = floatAt(unknownCount, u) * floatAt(weight, u);
      count[row] = floatAt(unknownCount, u) - leaked;
      count[n + u] = leaked;
    });
    return { lower, upper, entry, count, cluster };
  };
}
