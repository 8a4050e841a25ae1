/** The two parts of Loader's saddle-point form (Loader 2000, from memory). */

import gammaln from '@stdlib/math-base-special-gammaln';

/** log sqrt(2 pi). */
export const LOG_SQRT_TWO_PI = 0.9189385332046727;

/** log k! minus Stirling's formula, k > 0 and not needed whole: the series from 15 on, the definition below. */
export function stirlingError(k: number): number {
  if (k < 15) return gammaln(k + 1) - (k + 0.5) * Math.log(k) + k - LOG_SQRT_TWO_PI;
  const s = 1 / (k * k);
  return (1 / 12 - s * (1 / 360 - s * (1 / 1260 - s * (1 / 1680 - s * (1 / 1188 - (s * 691) / 360360))))) / k;
}

/** k log(k / mean) + mean - k, without cancellation near k = mean. */
export function deviance(k: number, mean: number): number {
  if (Math.abs(k - mean) >= 0.1 * (k + mean)) return k * Math.log(k / mean) + mean - k;
  const v = (k - mean) / (k + mean);
  let total = (k - mean) * v;
  let term = 2 * k * v;
  for (let j = 1; j < 1000; j++) {
    term *= v * v;
    const next = total + term / (2 * j + 1);
    if (next === total) return next;
    total = next;
  }
  return total;
}
