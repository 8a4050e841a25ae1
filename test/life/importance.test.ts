/** Draws by importance sampling against a density whose moments are known. */
import { expect, it } from 'vitest';
import { importanceDraws } from '../../lib/life/estimate/bounds/importance.js';
import { randomStream } from '../../lib/numeric/random.js';

/** Log of a gamma variable with shape 2: mean digamma(2) = 0.4227843, variance trigamma(2) = 0.6449341; and a normal beside it. */
const target = ([x = 0, y = 0]: readonly number[]): number => 2 * x - Math.exp(x) - (y - x) ** 2 / 0.5;

it('has the mean and variance of a skew density, and of what leans on it', () => {
  const kept = 20_000;
  const draws = importanceDraws(target, [1, 0], {
    proposals: 40_000,
    kept,
    random: randomStream(5, 'importance'),
  });
  const [x = new Float64Array(), y = new Float64Array()] = draws?.columns ?? [];
  const mean = (values: Float64Array): number => values.reduce((sum, value) => sum + value, 0) / kept;
  const variance = (values: Float64Array): number => {
    const middle = mean(values);
    return mean(values.map((value) => (value - middle) ** 2));
  };
  // Four standard errors at an effective size above 20 000: 4 sqrt(0.645 / 20 000) = 0.023; for the variance about 0.03.
  expect(draws?.effectiveSize).toBeGreaterThan(20_000);
  expect(Math.abs(mean(x) - 0.4227843)).toBeLessThan(0.023);
  expect(Math.abs(variance(x) - 0.6449341)).toBeLessThan(0.035);
  expect(Math.abs(mean(y) - 0.4227843)).toBeLessThan(0.027);
  expect(Math.abs(variance(y) - 0.6449341 - 0.25)).toBeLessThan(0.05);
});

it('gives nothing where there is no peak', () => {
  const options = { proposals: 10, kept: 5, random: randomStream(1, 'flat') };
  expect(importanceDraws(() => 0, [0, 0], options)).toBeNull();
});
