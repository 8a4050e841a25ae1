import { describe, expect, it } from 'vitest';
import { forecastDemand } from '../../lib/demand/forecast.js';
import { completeKit } from '../../lib/demand/kitLevels.js';
import { binomialPmf } from '../../lib/numeric/special.js';
import { plant } from './plant.js';

function binomial(n: number, p: number): (k: number) => number {
  return (k) => {
    let below = 0;
    for (let i = 0; i <= Math.min(k, n); i++) below += binomialPmf(i, n, p);
    return Math.min(1, below);
  };
}

const least = (cdf: (k: number) => number, target: number): number => {
  let k = 0;
  while (cdf(k) < target) k += 1;
  return k;
};

describe('completeKit', () => {
  it('takes the fewest pieces with which the whole kit is complete, by trying all', () => {
    const laws = [binomial(12, 0.7), binomial(30, 0.2), binomial(5, 0.9)];
    for (const target of [0.8, 0.95, 0.98, 0.995]) {
      const levels = completeKit(
        laws,
        laws.map((cdf) => least(cdf, target)),
        target,
      );
      const chance = (ks: readonly number[]): number =>
        laws.reduce((all, cdf, i) => all * cdf(ks[i] ?? 0), 1);
      expect(chance(levels)).toBeGreaterThanOrEqual(target);
      let fewest = Infinity;
      for (let a = 0; a <= 12; a++)
        for (let b = 0; b <= 30; b++)
          for (let c = 0; c <= 5; c++) if (chance([a, b, c]) >= target) fewest = Math.min(fewest, a + b + c);
      expect(levels.reduce((sum, each) => sum + each, 0)).toBe(fewest);
    }
  });
  it('is the quantile of the only item, and ends where nothing more can be gained', () => {
    expect(completeKit([binomial(12, 0.7)], [least(binomial(12, 0.7), 0.98)], 0.98)).toEqual([
      least(binomial(12, 0.7), 0.98),
    ]);
    expect(completeKit([() => 0.5], [3], 0.98)).toEqual([3]);
    expect(completeKit([], [], 0.98)).toEqual([]);
  });
});

describe('the kit of a shutdown with many items', () => {
  it('is complete as a whole with the target of the site, where 95 % of each item is far from it', () => {
    const sizes = [15, 25, 40, 50, 80, 100];
    const { fleet, grouped } = plant(
      sizes.map((size) => ({ size, shape: 2, scale: 700, ages: Array<number>(25).fill(300) })),
      {
        // A second window, so that one fitted after a leak is not due at the first.
        shutdowns: [
          { name: 'spring shutdown', inDays: 100 },
          { name: 'summer stop', inDays: 200 },
        ],
      },
    );
    const { items } = forecastDemand(
      fleet,
      grouped,
      { name: 'proposed', intervalDays: sizes.map(() => 350) },
      { seed: 1, months: 6 },
    );
    const left = Math.exp((300 / 700) ** 2 - (400 / 700) ** 2);
    const law = binomial(25, left);
    let [whole, each95] = [1, 1];
    for (const { planned } of items) {
      whole *= law(planned[0]?.kit ?? 0);
      each95 *= law(planned[0]?.with95 ?? 0);
    }
    expect(whole).toBeGreaterThanOrEqual(0.98);
    expect(each95).toBeLessThan(0.95);
  });
});
