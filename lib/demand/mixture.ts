/**
 * Counts averaged over draws of the life models. Within a draw exact by grouped convolution; from a variance of 20 on by
 * the refined normal approximation (Volkova 1996, in Hong 2013; both from memory), which is then good to 5e-4 in
 * chance (tested).
 */
import { floatAt } from '../numeric/columns.js';
import { convolve } from '../numeric/convolve.js';
import { normalCdf } from '../numeric/special.js';
import type { Moments, Parts } from './countLaw.js';
import { countLaw, momentsOf } from './countLaw.js';

/** Variance within a draw from which on the refined normal approximation serves. */
export const NORMAL_FROM_VARIANCE = 20;

/** Chance of k or fewer by the refined normal approximation. */
export function refinedNormalCdf(k: number, { mean, variance, third }: Moments): number {
  if (variance <= 0) return k >= mean - 1e-9 ? 1 : 0;
  const sd = Math.sqrt(variance);
  const x = (k + 0.5 - mean) / sd;
  const skew = third / (variance * sd);
  const bell = Math.exp(-0.5 * x * x) / Math.sqrt(2 * Math.PI);
  return Math.min(1, Math.max(0, normalCdf(x) + (skew * (1 - x * x) * bell) / 6));
}

/** Distributions averaged over draws: exact ones as chances, wide ones by their moments. */
export interface Mixture {
  draws: number;
  exact: Float64Array;
  wide: Moments[];
}

export function emptyMixture(): Mixture {
  return { draws: 0, exact: new Float64Array(16), wide: [] };
}

/** Adds one draw; gives its mean. */
export function addDraw(mixture: Mixture, parts: Parts): number {
  mixture.draws += 1;
  const moments = momentsOf(parts);
  if (moments.variance >= NORMAL_FROM_VARIANCE) {
    mixture.wide.push(moments);
    return moments.mean;
  }
  const { start, chances } = countLaw(parts);
  if (start + chances.length > mixture.exact.length) {
    const wider = new Float64Array(2 * (start + chances.length));
    wider.set(mixture.exact);
    mixture.exact = wider;
  }
  const { exact } = mixture;
  for (let i = 0; i < chances.length; i++) exact[start + i] = floatAt(exact, start + i) + floatAt(chances, i);
  return moments.mean;
}

/** Something independent of the draws that adds to the total: its chances, or its moments alone where it is wide. */
export interface Addition {
  chances: Float64Array | null;
  moments: Moments;
}

/** Quantiles of the averaged distribution with an addition: smallest k with chance of k or fewer at or above each p. */
export function mixtureQuantiles(
  mixture: Mixture,
  addition: Addition | null,
  ps: readonly number[],
): number[] {
  return quantilesOf(mixtureCdf(mixture, addition), ps);
}

/** Chance of k or fewer, and where to begin to look for a quantile. */
export interface MixtureCdf {
  at: (k: number) => number;
  guess: number;
}

/** Smallest k with chance of k or fewer at or above each p. */
export function quantilesOf({ at, guess }: MixtureCdf, ps: readonly number[]): number[] {
  return ps.map((p) => smallest(at, p - 1e-12, guess));
}

/** The averaged distribution with an addition. */
export function mixtureCdf(mixture: Mixture, addition: Addition | null): MixtureCdf {
  const plain = lastUsed(mixture.exact);
  const exactShare = mixture.draws - mixture.wide.length;
  const widened = addition !== null && addition.chances === null;
  const chances = addition?.chances == null ? plain : convolve(plain, addition.chances);
  const sums = new Float64Array(chances.length);
  let running = 0;
  let mean = 0;
  for (let k = 0; k < chances.length; k++) {
    running += floatAt(chances, k);
    mean += k * floatAt(chances, k);
    sums[k] = running;
  }
  const wide = mixture.wide.map((each) => (addition === null ? each : together(each, addition.moments)));
  if (widened && exactShare > 0)
    wide.push(...repeated(exactMoments(plain, exactShare, addition), exactShare));
  const all = widened ? wide.length : mixture.draws;
  const guess = (wide.reduce((sum, each) => sum + each.mean, 0) + (widened ? 0 : mean)) / Math.max(1, all);
  const exactAt = (k: number): number => (widened || k < 0 ? 0 : floatAt(sums, Math.min(k, sums.length - 1)));
  return {
    guess: Math.floor(guess),
    at: (k) => (exactAt(k) + wide.reduce((sum, each) => sum + refinedNormalCdf(k, each), 0)) / all,
  };
}

function lastUsed(chances: Float64Array): Float64Array {
  let end = chances.length;
  while (end > 1 && floatAt(chances, end - 1) === 0) end--;
  return chances.subarray(0, end);
}

/** Mean and variance of the exact part where the addition is too wide for chances. */
function exactMoments(chances: Float64Array, weight: number, addition: Addition): Moments {
  let mean = 0;
  let square = 0;
  for (let k = 0; k < chances.length; k++) {
    mean += (k * floatAt(chances, k)) / weight;
    square += (k * k * floatAt(chances, k)) / weight;
  }
  return together({ mean, variance: square - mean * mean, third: 0 }, addition.moments);
}

function repeated(moments: Moments, times: number): Moments[] {
  return Array.from({ length: times }, () => moments);
}

function together(a: Moments, b: Moments): Moments {
  return { mean: a.mean + b.mean, variance: a.variance + b.variance, third: a.third + b.third };
}

/** Smallest k >= 0 with cdf(k) >= p: strides from the guess, then halves. */
function smallest(cdf: (k: number) => number, p: number, guess: number): number {
  let low = -1;
  let high = Math.max(0, guess);
  let stride = 1 + Math.floor(Math.sqrt(high));
  while (cdf(high) < p && high < 1e9) {
    low = high;
    high += stride;
    stride *= 2;
  }
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (cdf(middle) >= p) high = middle;
    else low = middle;
  }
  return high;
}
