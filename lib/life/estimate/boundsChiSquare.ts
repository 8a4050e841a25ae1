/** Exact bounds of the scale where the shape is known (IEC 61649, from memory; Nelson 1982 for the exponential). */
import { UsageError } from '../../errors.js';
import { floatAt } from '../../numeric/columns.js';
import { chiSquareQuantile } from '../../numeric/special.js';
import { failureCount } from '../sample.js';
import type { LifeSample } from '../sampleTypes.js';

export interface FixedShapeBounds {
  /** Best scale; Infinity without failures. */
  estimate: number;
  low: number;
  high: number;
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
  options: { level?: number; side?: 'both' | 'lower' | 'upper'; ended?: 'age' | 'failure' } = {},
): FixedShapeBounds {
  const { level = 0.9, side = 'both', ended = 'age' } = options;
  const failures = failureCount(sample);
  const total = totalOfPowers(sample, shape);
  const tail = side === 'both' ? (1 - level) / 2 : 1 - level;
  const scale = (degrees: number, p: number): number =>
    ((2 * total) / chiSquareQuantile(p, degrees)) ** (1 / shape);
  const below = ended === 'age' || failures === 0 ? 2 * failures + 2 : 2 * failures;
  return {
    estimate: failures === 0 ? Infinity : (total / failures) ** (1 / shape),
    low: side === 'upper' ? 0 : scale(below, 1 - tail),
    high: side === 'lower' || failures === 0 ? Infinity : scale(2 * failures, tail),
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
