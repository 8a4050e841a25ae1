import { describe, expect, it } from 'vitest';
import { integrate } from '../../lib/numeric/quadrature.js';
import { stockMeasures } from '../../lib/stock/measures.js';
import type { StockPolicy } from '../../lib/stock/policy.js';
import { servedWithin } from '../../lib/stock/servedWithin.js';
import { storeRun } from './storeRun.js';

const JOBS = [0, 0.5, 0.2, 0, 0.3];

describe('pieces handed out within a time', () => {
  it.each([
    { sizes: [0, 1], jobs: 0.2, point: 5, quantity: 4, review: 0, within: 15, seed: 31 },
    { sizes: JOBS, jobs: 0.1, point: 6, quantity: 4, review: 0, within: 15, seed: 32 },
    { sizes: [0, 1], jobs: 0.2, point: 10, quantity: 3, review: 14, within: 10, seed: 33 },
  ])('agrees with a plain run: jobs of $sizes, review $review', (given) => {
    const run = { ...given, lead: 40 };
    const { point, quantity, review, within, sizes } = run;
    const policy: StockPolicy =
      review === 0
        ? { kind: 'reorder', point, quantity }
        : { kind: 'reviewReorder', point, quantity, leadPeriods: 40, reviewPeriods: review };
    const jobs = review === 0 ? run.jobs * 40 : run.jobs;
    const demand = { kind: 'compound', jobs, sizes } as const;
    const share = servedWithin(policy, demand, review === 0 ? within / 40 : within);
    const { fillRate } = stockMeasures(policy, demand);
    const { inTime } = storeRun(run);
    expect(inTime.error).toBeLessThan((share - fillRate) / 8);
    expect(Math.abs(share - inTime.mean)).toBeLessThan(4 * inTime.error);
  });
  it('at once is the fill rate, within a lead time all, and the mean wait is what is left out', () => {
    const policy = { kind: 'reorder', point: 2, quantity: 3 } as const;
    const demand = { kind: 'poisson', mean: 4 } as const;
    const { fillRate, meanWait } = stockMeasures(policy, demand);
    expect(servedWithin(policy, demand, 0)).toBe(fillRate);
    expect(servedWithin(policy, demand, 1)).toBe(1);
    const late = integrate((wait) => 1 - servedWithin(policy, demand, wait), 0, 1);
    expect(late.value).toBeCloseTo(meanWait, 10);
    // Three in half a lead time of 1.5: P(D <= 2) = exp(-1.5) (1 + 1.5 + 1.125).
    const half = servedWithin({ kind: 'baseStock', level: 3 }, { kind: 'poisson', mean: 3 }, 0.5);
    expect(half).toBeCloseTo(Math.exp(-1.5) * 3.625, 12);
  });
  it('refuses a wait below 0 or beyond the lead time, and parts of an empirical lead time', () => {
    const policy = { kind: 'baseStock', level: 3 } as const;
    for (const wait of [-0.1, 1.1, Number.NaN]) {
      expect(() => servedWithin(policy, { kind: 'poisson', mean: 3 }, wait)).toThrow(/wait must be/);
    }
    expect(() => servedWithin(policy, { kind: 'empirical', pmf: [0.5, 0.5] }, 0.5)).toThrow(/whole numbers/);
  });
});
