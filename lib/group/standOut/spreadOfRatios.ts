/** How far rates of units differ from what is expected of them, and ratios drawn towards 1 by it. */
import { floatAt } from '../../numeric/columns.js';
import { minimiseOnInterval } from '../../numeric/minimise.js';
import { gammaQuantile } from '../../numeric/special.js';
import type { ShrunkenRatio } from './types.js';

/** Least and most that is looked at: rates as different as they come, and rates that differ by 5 %. */
const K_RANGE = [0.05, 400] as const;
/** Two-sided. */
const LEVEL = 0.8;

/**
 * Maximum likelihood of k, where leaks are Poisson with the mean expected times a ratio, and ratios follow a gamma law with
 * mean 1 and variance 1 / k (Clayton & Kaldor 1987, from memory): leaks are negative binomial. Those of whom nothing is
 * expected say nothing.
 */
export function spreadOfRatios(leaks: Float64Array, expected: Float64Array): number {
  const against = (logK: number): number => {
    const k = Math.exp(logK);
    let total = 0;
    for (let u = 0; u < leaks.length; u++) {
      const mean = floatAt(expected, u);
      if (mean > 0) total -= logChance(floatAt(leaks, u), mean, k);
    }
    return total;
  };
  const [low, high] = K_RANGE;
  return Math.exp(minimiseOnInterval(against, Math.log(low), Math.log(high), { relative: 1e-4 }).at);
}

/** Log of the negative binomial chance, but for what does not hang on k. */
function logChance(leaks: number, mean: number, k: number): number {
  let log = -(k + leaks) * Math.log1p(mean / k);
  // (k)(k + 1)...(k + leaks - 1) / k^leaks
  for (let j = 1; j < leaks; j++) log += Math.log1p(j / k);
  return log;
}

/** (leaks + k) / (expected + k), with 80 % bounds of the gamma law that it is the mean of. */
export function shrunkenRatio(leaks: number, expected: number, k: number): ShrunkenRatio {
  const [shape, rate] = [leaks + k, expected + k];
  return {
    estimate: shape / rate,
    low: gammaQuantile((1 - LEVEL) / 2, shape, 1 / rate),
    high: gammaQuantile((1 + LEVEL) / 2, shape, 1 / rate),
  };
}
