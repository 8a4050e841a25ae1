/** Range of a count whose mean is itself known only as draws. */
import { floatAt } from '../numeric/columns.js';
import { poissonCdf } from '../numeric/special.js';

/**
 * Smallest counts that a year's leaks stay at or below with chance (1 - level) / 2 and (1 + level) / 2: the average
 * over the draws of Poisson distributions, so that both not knowing the mean and chance are in it.
 */
export function countRange(means: Float64Array, level = 0.9): [number, number] {
  return [countQuantile(means, (1 - level) / 2), countQuantile(means, (1 + level) / 2)];
}

/** The same for the mean a year over several years. */
export function meanCountRange(means: Float64Array, years: number, level = 0.9): [number, number] {
  const [low, high] = countRange(
    means.map((mean) => mean * years),
    level,
  );
  return [low / years, high / years];
}

function countQuantile(means: Float64Array, probability: number): number {
  if (means.length === 0) return 0;
  const largest = means.reduce((most, mean) => Math.max(most, mean), 0);
  let low = -1;
  let high = Math.ceil(largest + 10 * Math.sqrt(largest) + 20);
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (chanceAtMost(means, middle) >= probability) high = middle;
    else low = middle;
  }
  return high;
}

function chanceAtMost(means: Float64Array, count: number): number {
  let total = 0;
  for (let d = 0; d < means.length; d++) total += poissonCdf(count, floatAt(means, d));
  return total / means.length;
}
