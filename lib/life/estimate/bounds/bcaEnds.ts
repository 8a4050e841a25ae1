/** Ends of a bootstrap corrected for bias and acceleration, BCa (Efron 1987; Davison & Hinkley 1997 eq. 5.21 to 5.24, from memory). */
import { at, floatAt } from '../../../numeric/columns.js';
import { countBelow } from '../../../numeric/sorted.js';
import { normalCdf, normalQuantile } from '../../../numeric/special.js';
import type { FreeBounds, Tails } from './boundsTypes.js';

/** Values with one unit left out, and how many units give each. */
export interface Jackknife {
  value: Float64Array;
  count: Float64Array;
}

/**
 * With z0 from the share of bootstrap values below the estimate, a from the skewness of the jackknife, and z the normal quantile
 * of a tail, the end is the percentile at Phi(z0 + (z0 + z) / (1 - a (z0 + z))).
 * Precondition: `sorted` ascending, 20 values or more.
 */
export function bcaEnds(
  sorted: readonly number[],
  estimate: number,
  left: Jackknife,
  tails: Tails,
): FreeBounds {
  const size = sorted.length;
  // Where all values lie on one side the share is half a value off it, so that z0 is finite.
  const below = Math.min(Math.max(countBelow(sorted, estimate), 0.5), size - 0.5);
  const z0 = normalQuantile(below / size);
  const a = acceleration(left);
  const moved = (chance: number): number => {
    const z = z0 + normalQuantile(chance);
    // Beyond the pole the correction would turn the order of the ends.
    const rest = 1 - a * z;
    return rest > 0 ? normalCdf(z0 + z / rest) : z > 0 ? 1 : 0;
  };
  return {
    low: tails.below === 0 ? Number.NEGATIVE_INFINITY : orderValue(sorted, moved(tails.below)),
    high: tails.above === 0 ? Infinity : orderValue(sorted, moved(1 - tails.above)),
  };
}

/** A sixth of the skewness of the influences: sum of cubes over 6 times the sum of squares to 3/2 (Efron & Tibshirani 1993 eq. 14.15). */
function acceleration({ value, count }: Jackknife): number {
  let [units, total] = [0, 0];
  for (let i = 0; i < value.length; i++) {
    units += floatAt(count, i);
    total += floatAt(count, i) * floatAt(value, i);
  }
  const mean = total / units;
  let [squares, cubes] = [0, 0];
  for (let i = 0; i < value.length; i++) {
    const influence = mean - floatAt(value, i);
    squares += floatAt(count, i) * influence ** 2;
    cubes += floatAt(count, i) * influence ** 3;
  }
  return squares > 0 ? cubes / (6 * squares ** 1.5) : 0;
}

/**
 * Value of rank chance (n + 1), between two values in proportion on the normal axis (Davison & Hinkley 1997 eq. 5.8); the least or
 * the largest where the rank lies beyond them.
 */
function orderValue(sorted: readonly number[], chance: number): number {
  const size = sorted.length;
  const rank = chance * (size + 1);
  const k = Math.floor(rank);
  if (k < 1) return at(sorted, 0);
  if (k >= size) return at(sorted, size - 1);
  const [low, high] = [normalQuantile(k / (size + 1)), normalQuantile((k + 1) / (size + 1))];
  const part = (normalQuantile(chance) - low) / (high - low);
  return at(sorted, k - 1) + part * (at(sorted, k) - at(sorted, k - 1));
}
