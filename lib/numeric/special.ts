/**
 * Special functions and the distributions built on them. The exact work is done by @stdlib (Boost's and Cephes'
 * algorithms); each function here checks its arguments and keeps the order "value first, parameters after".
 */
import betainc from '@stdlib/math-base-special-betainc';
import erfcinv from '@stdlib/math-base-special-erfcinv';
import gammaln from '@stdlib/math-base-special-gammaln';
import stdNormalCdf from '@stdlib/stats-base-dists-normal-cdf';
import { UsageError } from '../errors.js';
import { incompleteGamma, inverseGamma } from './incompleteGamma.js';
import { LOG_SQRT_TWO_PI } from './saddlePoint.js';

export {
  binomialPmf,
  negativeBinomialCdf,
  negativeBinomialPmf,
  negativeBinomialQuantile,
  poissonCdf,
  poissonPmf,
  poissonQuantile,
} from './counts.js';

/** log Gamma(x), x > 0. */
export function logGamma(x: number): number {
  requirePositive('logGamma', 'x', x);
  return gammaln(x);
}

/** Regularised lower incomplete gamma function P(a, x), a > 0, x >= 0. */
export function gammaP(a: number, x: number): number {
  requireGamma('gammaP', a, x);
  return x === Infinity ? 1 : incompleteGamma(a, x, false);
}

/** Regularised upper incomplete gamma function Q(a, x) = 1 - P(a, x), exact in its tail. */
export function gammaQ(a: number, x: number): number {
  requireGamma('gammaQ', a, x);
  return x === Infinity ? 0 : incompleteGamma(a, x, true);
}

/** The value that a gamma variable (shape, scale) stays below with chance p, 0 <= p < 1. */
export function gammaQuantile(p: number, shape: number, scale = 1): number {
  requireChance('gammaQuantile', p);
  requirePositive('gammaQuantile', 'shape', shape);
  requirePositive('gammaQuantile', 'scale', scale);
  return p === 1 ? Infinity : scale * inverseGamma(p, shape);
}

/** Chance that a gamma variable (shape, scale) is at or below x. */
export function gammaCdf(x: number, shape: number, scale = 1): number {
  requirePositive('gammaCdf', 'scale', scale);
  return x <= 0 ? 0 : gammaP(shape, x / scale);
}

/** Chance that a beta variable (a, b) is at or below x: the regularised incomplete beta function I_x(a, b). */
export function betaCdf(x: number, a: number, b: number): number {
  requirePositive('betaCdf', 'a', a);
  requirePositive('betaCdf', 'b', b);
  if (Number.isNaN(x)) throw new UsageError('betaCdf', 'x must be a number.', x);
  return betainc(Math.min(Math.max(x, 0), 1), a, b, true, false);
}

/** Chance that a normal variable is at or below x; good to the smallest double in the lower tail. */
export function normalCdf(x: number, mean = 0, sd = 1): number {
  requirePositive('normalCdf', 'sd', sd);
  return stdNormalCdf(x, mean, sd);
}

/** The value that a normal variable stays below with chance p; -Infinity at 0 and Infinity at 1. */
export function normalQuantile(p: number, mean = 0, sd = 1): number {
  requireChance('normalQuantile', p);
  requirePositive('normalQuantile', 'sd', sd);
  // By the complementary error function: @stdlib's own quantile is -Infinity below p = 1e-17.
  return p <= 0.5 ? mean - sd * Math.SQRT2 * erfcinv(2 * p) : mean + sd * Math.SQRT2 * erfcinv(2 * (1 - p));
}

/** log of the chance that a standard normal variable is above z, in every tail (asymptotic series beyond 30). */
export function logNormalTail(z: number): number {
  if (z < -1) return Math.log1p(-stdNormalCdf(z, 0, 1));
  if (z < 30) return Math.log(stdNormalCdf(-z, 0, 1));
  if (z === Infinity) return -Infinity;
  const s = 1 / (z * z);
  const series = -s * (1 - 3 * s * (1 - 5 * s * (1 - 7 * s * (1 - 9 * s))));
  return -0.5 * z * z - Math.log(z) - LOG_SQRT_TWO_PI + Math.log1p(series);
}

/** Chance that a chi-square variable with df degrees of freedom (not needed whole) is at or below x. */
export function chiSquareCdf(x: number, df: number): number {
  return gammaCdf(x, df / 2, 2);
}

/** The value that a chi-square variable with df degrees of freedom stays below with chance p. */
export function chiSquareQuantile(p: number, df: number): number {
  return gammaQuantile(p, df / 2, 2);
}

function requireGamma(where: string, a: number, x: number): void {
  requirePositive(where, 'a', a);
  if (!(x >= 0)) throw new UsageError(where, 'x must be at or above 0.', x);
}

function requirePositive(where: string, name: string, value: number): void {
  if (!(value > 0)) throw new UsageError(where, `${name} must be above 0.`, value);
}

function requireChance(where: string, p: number): void {
  if (!(p >= 0 && p <= 1)) throw new UsageError(where, 'p must be a chance from 0 to 1.', p);
}
