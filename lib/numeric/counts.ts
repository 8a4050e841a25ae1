/**
 * Distributions of counts. Chances of single counts by Loader's saddle-point form (Loader 2000, "Fast and accurate
 * computation of binomial probabilities", from memory): the textbook form exp(k log m - m - log k!) loses six digits at
 * a mean of 1e5. Cumulative chances by the incomplete gamma and beta functions.
 */
import betainc from '@stdlib/math-base-special-betainc';
import { UsageError } from '../errors.js';
import { incompleteGamma } from './incompleteGamma.js';
import { deviance, stirlingError } from './saddlePoint.js';

/** Chance of exactly k events where `mean` are expected. 0 at a k that is not a whole number at or above 0. */
export function poissonPmf(k: number, mean: number): number {
  requireMean('poissonPmf', mean);
  if (!isCount(k)) return 0;
  if (mean === 0) return k === 0 ? 1 : 0;
  if (k === 0) return Math.exp(-mean);
  return Math.exp(-stirlingError(k) - deviance(k, mean)) / Math.sqrt(2 * Math.PI * k);
}

/** Chance of k or fewer events where `mean` are expected. */
export function poissonCdf(k: number, mean: number): number {
  requireMean('poissonCdf', mean);
  if (Number.isNaN(k)) throw new UsageError('poissonCdf', 'k must be a number.', k);
  if (k < 0) return 0;
  if (mean === 0 || k === Infinity) return 1;
  return incompleteGamma(Math.floor(k) + 1, mean, true);
}

/** Smallest k with poissonCdf(k) >= p, 0 <= p < 1. Throws at p = 1: no finite number covers every case. */
export function poissonQuantile(p: number, mean: number): number {
  requireMean('poissonQuantile', mean);
  requireReachable('poissonQuantile', p);
  return smallestCount((k) => poissonCdf(k, mean), p, mean);
}

/** Chance of exactly k events of a negative binomial count given by its mean and variance (variance >= mean). */
export function negativeBinomialPmf(k: number, mean: number, variance: number): number {
  if (isPoisson('negativeBinomialPmf', mean, variance)) return poissonPmf(k, mean);
  if (!isCount(k)) return 0;
  const size = (mean * mean) / (variance - mean);
  if (k === 0) return Math.exp(size * Math.log(mean / variance));
  const raw = binomialRaw(size, size + k, mean / variance, (variance - mean) / variance);
  return (size / (size + k)) * raw;
}

/** Chance of k or fewer events of a negative binomial count given by its mean and variance (variance >= mean). */
export function negativeBinomialCdf(k: number, mean: number, variance: number): number {
  if (isPoisson('negativeBinomialCdf', mean, variance)) return poissonCdf(k, mean);
  if (k < 0) return 0;
  if (k === Infinity) return 1;
  const size = (mean * mean) / (variance - mean);
  return betainc(mean / variance, size, Math.floor(k) + 1, true, false);
}

/** Smallest k with negativeBinomialCdf(k) >= p, 0 <= p < 1. Throws at p = 1. */
export function negativeBinomialQuantile(p: number, mean: number, variance: number): number {
  requireReachable('negativeBinomialQuantile', p);
  return smallestCount((k) => negativeBinomialCdf(k, mean, variance), p, mean);
}

/** Chance of exactly k of n, each with the chance p. */
export function binomialPmf(k: number, n: number, p: number): number {
  if (!(p >= 0 && p <= 1)) throw new UsageError('binomialPmf', 'p must be a chance from 0 to 1.', p);
  if (!isCount(n)) throw new UsageError('binomialPmf', 'n must be a whole number at or above 0.', n);
  if (!isCount(k) || k > n) return 0;
  if (p === 0) return k === 0 ? 1 : 0;
  if (p === 1) return k === n ? 1 : 0;
  return binomialRaw(k, n, p, 1 - p);
}

/** Binomial chance for whole or broken k and n (Loader 2000); q = 1 - p given apart to keep its digits. */
function binomialRaw(k: number, n: number, p: number, q: number): number {
  if (k === 0) return Math.exp(n * (p < 0.1 ? Math.log1p(-p) : Math.log(q)));
  if (k === n) return Math.exp(n * (q < 0.1 ? Math.log1p(-q) : Math.log(p)));
  const rest = n - k;
  const error = stirlingError(n) - stirlingError(k) - stirlingError(rest);
  const log = error - deviance(k, n * p) - deviance(rest, n * q);
  return Math.exp(log) * Math.sqrt(n / (2 * Math.PI * k * rest));
}

/** Smallest whole k >= 0 with cdf(k) >= p: strides away from the guess, then halves. */
function smallestCount(cdf: (k: number) => number, p: number, guess: number): number {
  let high = Math.floor(guess);
  let stride = Math.max(1, Math.floor(Math.sqrt(guess)));
  let low = -1;
  if (cdf(high) >= p) {
    for (let k = high - stride; k >= 0; k -= stride) {
      if (cdf(k) < p) {
        low = k;
        break;
      }
      high = k;
    }
  } else {
    low = high;
    for (high = low + stride; cdf(high) < p; high += stride) {
      low = high;
      stride *= 2;
    }
  }
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (cdf(middle) >= p) high = middle;
    else low = middle;
  }
  return high;
}

function isCount(k: number): boolean {
  return k >= 0 && Number.isInteger(k);
}

/** Below one part in 1e9 of extra variance the negative binomial is a Poisson to nine digits, and computed as one. */
function isPoisson(where: string, mean: number, variance: number): boolean {
  requireMean(where, mean);
  if (!(variance >= mean * (1 - 1e-12)) || variance === Infinity) {
    throw new UsageError(where, 'variance must be at or above the mean, and finite.', variance);
  }
  return variance <= mean * (1 + 1e-9);
}

function requireMean(where: string, mean: number): void {
  if (!(mean >= 0) || mean === Infinity) {
    throw new UsageError(where, 'mean must be at or above 0, and finite.', mean);
  }
}

function requireReachable(where: string, p: number): void {
  if (!(p >= 0 && p <= 1)) throw new UsageError(where, 'p must be a chance from 0 to 1.', p);
  if (p === 1) throw new UsageError(where, 'p = 1 cannot be met: no finite number covers every case.', p);
}
