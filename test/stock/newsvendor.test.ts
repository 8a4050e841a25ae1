import { expect, it } from 'vitest';
import { poissonPmf } from '../../lib/numeric/special.js';
import { newsvendorQuantity } from '../../lib/stock/newsvendor.js';

it('is the quantity of least cost among all, for counts of any kind', () => {
  const pmf = [0.1, 0, 0.4, 0.3, 0, 0.2];
  for (const [short, left] of [
    [1, 1],
    [9, 1],
    [1, 9],
    [1e6, 1],
  ] as const) {
    const cost = (q: number): number =>
      pmf.reduce((sum, p, k) => sum + p * (left * Math.max(0, q - k) + short * Math.max(0, k - q)), 0);
    const best = newsvendorQuantity({ kind: 'empirical', pmf }, { costPerShort: short, costPerLeft: left });
    const least = Math.min(...pmf.map((_, q) => cost(q)));
    expect(best.expectedCost).toBeCloseTo(least, 10);
    expect(cost(best.quantity)).toBeCloseTo(least, 10);
  }
});

it('takes a step of the distribution as enough', () => {
  const none = poissonPmf(0, 1);
  const costs = { costPerShort: none, costPerLeft: 1 - none };
  expect(newsvendorQuantity({ kind: 'poisson', mean: 1 }, costs).quantity).toBe(0);
});

it('refuses costs and demand that make no sense, and has no trouble with large ones', () => {
  const demand = { kind: 'poisson', mean: 1e5 } as const;
  for (const costPerLeft of [0, -1, Number.NaN, Infinity]) {
    expect(() => newsvendorQuantity(demand, { costPerShort: 1, costPerLeft })).toThrow(/costPerLeft/);
  }
  expect(() =>
    newsvendorQuantity({ kind: 'normal', mean: 1, sd: 0 }, { costPerShort: 1, costPerLeft: 1 }),
  ).toThrow(/sd/);
  const best = newsvendorQuantity(demand, { costPerShort: 1e12, costPerLeft: 1 });
  expect(best.quantity).toBeGreaterThan(102_000);
  expect(Number.isFinite(best.expectedCost)).toBe(true);
});
