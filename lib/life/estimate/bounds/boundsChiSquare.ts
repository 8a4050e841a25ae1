/** Exact bounds of the scale where the shape is known (IEC 61649, from memory; Nelson 1982 for the exponential). */
import { UsageError } from '../../../errors.js';
import { floatAt } from '../../../numeric/columns.js';
import { chiSquareQuantile } from '../../../numeric/special.js';
import { failureCount } from '../../sample.js';
import type { LifeSample } from '../../sampleTypes.js';

export interface FixedShapeBounds {
  /** Best scale; Infinity without failures. */
  estimate: number;
  low: number;
  high: number;
}

export interface ChiSquareOptions {
  /** Share of certainty, 0.9 by default; two-sided unless `side` says otherwise. */
  level?: number;
  side?: 'both' | 'lower' | 'upper';
  /** How watching ended: at an age or time fixed beforehand ('age', by default), or with the last failure ('failure'). */
  ended?: 'age' | 'failure';
}

/**
 * Bounds of the scale for a known shape: total = sum of age^shape (less entry^shape) and 2 total / scale^shape is chi-square.
 * Watching ended at an age (`'age'`, the usual case: 2 r + 2 degrees of freedom below) or at the last failure
 * (`'failure'`: 2 r). Without failures there is a lower bound only.
 * @param level share of certainty, two-sided unless `side` says otherwise
 * @throws UsageError for interval rows, whose ages are not known exactly
 */
export function fixedShapeBounds(
  sample: LifeSample,
  shape: number,
  options: ChiSquareOptions = {},
): FixedShapeBounds {
  const mean = boundsOfTotal(totalOfPowers(sample, shape), failureCount(sample), options);
  return {
    estimate: mean.estimate ** (1 / shape),
    low: mean.low ** (1 / shape),
    high: mean.high ** (1 / shape),
  };
}

/**
 * Exact bounds of the mean life (mean time between failures) under a constant failure rate, from the time watched and the
 * failures in it alone (Epstein & Sobel 1953, from memory; NIST/SEMATECH e-Handbook 8.4.5.1): 2 total / mean is chi-square
 * with 2 r degrees of freedom, 2 r + 2 for the lower bound where watching ended at a time fixed beforehand.
 * Without failures there is a lower bound only, and the estimate is Infinity.
 * @param seen time watched, summed over all lives, in any unit; failures may be a weighted count
 * @throws UsageError for a time not above 0, failures below 0, and a level not between 0 and 1
 */
export function exponentialBounds(
  seen: { totalTime: number; failures: number },
  options: ChiSquareOptions = {},
): FixedShapeBounds {
  const { totalTime, failures } = seen;
  const { level = 0.9 } = options;
  const refuse = (rule: string, value: unknown): never => {
    throw new UsageError('exponentialBounds', rule, value);
  };
  if (!(totalTime > 0 && totalTime < Infinity)) refuse('totalTime must be above 0 and finite.', totalTime);
  if (!(failures >= 0 && failures < Infinity)) refuse('failures must be at or above 0.', failures);
  if (!(level > 0 && level < 1)) refuse('level must be between 0 and 1.', level);
  return boundsOfTotal(totalTime, failures, options);
}

function boundsOfTotal(total: number, failures: number, options: ChiSquareOptions): FixedShapeBounds {
  const { level = 0.9, side = 'both', ended = 'age' } = options;
  const tail = side === 'both' ? (1 - level) / 2 : 1 - level;
  const mean = (degrees: number, p: number): number => (2 * total) / chiSquareQuantile(p, degrees);
  const below = ended === 'age' || failures === 0 ? 2 * failures + 2 : 2 * failures;
  return {
    estimate: failures === 0 ? Infinity : total / failures,
    low: side === 'upper' ? 0 : mean(below, 1 - tail),
    high: side === 'lower' || failures === 0 ? Infinity : mean(2 * failures, tail),
  };
}

function totalOfPowers(sample: LifeSample, shape: number): number {
  let total = 0;
  for (let i = 0; i < sample.lower.length; i++) {
    const upper = floatAt(sample.upper, i);
    if (upper !== Infinity && upper !== floatAt(sample.lower, i)) {
      throw new UsageError('fixedShapeBounds', `row ${i + 1} is an interval; exact bounds need exact ages.`);
    }
    const entry = floatAt(sample.entry, i);
    total += floatAt(sample.count, i) * (Math.max(floatAt(sample.lower, i), entry) ** shape - entry ** shape);
  }
  return total;
}
