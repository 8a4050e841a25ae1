/** Bartlett's test of a constant failure rate, for complete samples. */
import { UsageError } from '../../errors.js';
import { floatAt } from '../../numeric/columns.js';
import { gammaP, gammaQ } from '../../numeric/special.js';
import { failureCount } from '../sample.js';
import type { LifeSample } from '../sampleTypes.js';

export interface BartlettTest {
  /** Near its degrees of freedom under a constant rate; smaller where lives are more alike, larger where they differ more. */
  statistic: number;
  degreesOfFreedom: number;
  /** Chance of a statistic at or below this one under a constant rate: small values speak for a rate that rises with age. */
  pRising: number;
  /** Chance of one at or above this one: small values speak for a rate that falls, or for lives of several kinds. */
  pFalling: number;
  failures: number;
}

/**
 * Twice r (log of mean age - mean of log ages) / (1 + (r + 1) / (6 r)), which is nearly chi-square with r - 1 degrees of freedom
 * where all r ages are exponential (Bartlett 1937; Epstein 1960; from memory). Depends much on the smallest ages: where these are
 * rounded, or some lives are censored, take `exponentialTest`.
 * @throws UsageError for rows that are not exact failures watched from new, an age of 0, and fewer than two failures
 */
export function bartlettTest(sample: LifeSample): BartlettTest {
  const failures = failureCount(sample);
  const scale = longest(sample);
  if (!(failures >= 2)) throw new UsageError('bartlettTest', 'two failures or more are needed.', failures);
  let [ages, logs] = [0, 0];
  for (let i = 0; i < sample.lower.length; i++) {
    // Relative to the longest age, so that no unit of age overflows.
    const age = floatAt(sample.lower, i) / scale;
    requireComplete(sample, i);
    ages += floatAt(sample.count, i) * age;
    logs += floatAt(sample.count, i) * Math.log(age);
  }
  const spread = Math.max(0, Math.log(ages / failures) - logs / failures);
  const statistic = (2 * failures * spread) / (1 + (failures + 1) / (6 * failures));
  const degreesOfFreedom = failures - 1;
  return {
    statistic,
    degreesOfFreedom,
    pRising: gammaP(degreesOfFreedom / 2, statistic / 2),
    pFalling: gammaQ(degreesOfFreedom / 2, statistic / 2),
    failures,
  };
}

function longest({ lower }: LifeSample): number {
  return lower.reduce((most, age) => Math.max(most, age), 0);
}

function requireComplete({ lower, upper, entry, otherHazard }: LifeSample, i: number): void {
  const age = floatAt(lower, i);
  const exact = floatAt(upper, i) === age && floatAt(entry, i) === 0;
  if (!exact || (otherHazard !== undefined && floatAt(otherHazard, i) > 0)) {
    const rule = `row ${i + 1} is no exact failure watched from new; exponentialTest takes every kind of row.`;
    throw new UsageError('bartlettTest', rule, age);
  }
  if (!(age > 0))
    throw new UsageError('bartlettTest', `row ${i + 1} has an age of 0, whose logarithm is none.`, age);
}
