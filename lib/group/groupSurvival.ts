/** Survival of a group without a model: each leak at the middle of its interval (a day wide unless a tight test is on record). */
import { kaplanMeier, type SurvivalCurve } from '../life/empirical/kaplanMeier.js';
import type { LifeSample } from '../life/sampleTypes.js';
import { at, columnOf, floatAt } from '../numeric/columns.js';

/**
 * Product-limit estimate of a group's `sample` with pointwise bounds (90 % by default); null where no life was watched. Removals whose
 * reason is not known count as leaks with their chance.
 */
export function groupSurvival(sample: LifeSample, options: { level?: number } = {}): SurvivalCurve | null {
  const exact = atMiddles(sample);
  return exact === null ? null : kaplanMeier(exact, options);
}

/** The sample with each leak at an age instead of an interval, without rows that were never watched; null without a row. */
export function atMiddles(sample: LifeSample): LifeSample | null {
  const middle = Array.from(sample.lower, (lower, i) =>
    floatAt(sample.upper, i) === Infinity ? lower : (lower + floatAt(sample.upper, i)) / 2,
  );
  const rows = middle.map((_, i) => i).filter((i) => at(middle, i) > floatAt(sample.entry, i));
  if (rows.length === 0) return null;
  return {
    lower: columnOf(rows, (i) => at(middle, i)),
    upper: columnOf(rows, (i) => (floatAt(sample.upper, i) === Infinity ? Infinity : at(middle, i))),
    entry: columnOf(rows, (i) => floatAt(sample.entry, i)),
    count: columnOf(rows, (i) => floatAt(sample.count, i)),
    cluster: Int32Array.from(rows, (i) => at(sample.cluster, i)),
  };
}
