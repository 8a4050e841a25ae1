/** By how much two groups of systems differ in their mean cumulative number of events. */
import { UsageError } from '../errors.js';
import { floatAt } from '../numeric/columns.js';
import { normalQuantile } from '../numeric/special.js';
import type { MeanCumulative } from './meanCumulative.js';

/** Columns by age at which either mean moves. */
export interface MeanCumulativeDifference {
  age: Float64Array;
  /** First mean less the second. */
  difference: Float64Array;
  low: Float64Array;
  high: Float64Array;
  standardError: Float64Array;
  level: number;
}

/**
 * Difference of two independent groups with normal bounds (Nelson 2003 ch. 5, from memory), as far as both were watched. Where the
 * bounds leave 0 out, the groups differ at that age; over many ages this will happen by chance now and then.
 * @throws UsageError where the two begin at different ages, or for a level not between 0 and 1
 */
export function meanCumulativeDifference(
  first: MeanCumulative,
  second: MeanCumulative,
  { level = 0.9 }: { level?: number } = {},
): MeanCumulativeDifference {
  const where = 'meanCumulativeDifference';
  if (!(level > 0 && level < 1)) throw new UsageError(where, 'level must be between 0 and 1.', level);
  if (first.start !== second.start) {
    const rule = 'both must count from one age: set fewestAtRisk, or leave out systems watched late.';
    throw new UsageError(where, rule, `${first.start} and ${second.start}`);
  }
  const end = Math.min(first.end, second.end);
  const ages = new Set([...first.age, ...second.age].filter((age) => age <= end));
  const age = Float64Array.from(ages).sort();
  const a = follow(first, age);
  const b = follow(second, age);
  const z = normalQuantile(0.5 + level / 2);
  const difference = a.mean.map((mean, k) => mean - floatAt(b.mean, k));
  const standardError = a.error.map((error, k) => Math.hypot(error, floatAt(b.error, k)));
  return {
    age,
    difference,
    low: difference.map((x, k) => x - z * floatAt(standardError, k)),
    high: difference.map((x, k) => x + z * floatAt(standardError, k)),
    standardError,
    level,
  };
}

/** Mean and standard error of a curve at ascending ages; 0 before its first event. */
function follow(curve: MeanCumulative, ages: Float64Array): { mean: Float64Array; error: Float64Array } {
  const mean = new Float64Array(ages.length);
  const error = new Float64Array(ages.length);
  let k = -1;
  ages.forEach((age, i) => {
    while (k + 1 < curve.age.length && floatAt(curve.age, k + 1) <= age) k++;
    if (k < 0) return;
    mean[i] = floatAt(curve.mean, k);
    error[i] = floatAt(curve.standardError, k);
  });
  return { mean, error };
}
