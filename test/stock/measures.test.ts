import { describe, expect, it } from 'vitest';
import { UsageError } from '../../lib/errors.js';
import { negativeBinomialPmf, poissonPmf } from '../../lib/numeric/special.js';
import type { LeadTimeDemand } from '../../lib/stock/leadTimeDemand.js';
import { stockMeasures } from '../../lib/stock/measures.js';
import type { StockPolicy } from '../../lib/stock/policy.js';
import { stockCost } from '../../lib/stock/stockCost.js';
import { type Seen, storeRun } from './storeRun.js';

const JOBS = [0, 0.5, 0.2, 0, 0.3];

/** Policy of a plain run, and the span that its demand covers. */
function policyOf(run: { point: number; quantity: number; lead: number; review: number }): StockPolicy {
  const { point, quantity, lead, review } = run;
  return review === 0
    ? { kind: 'reorder', point, quantity }
    : { kind: 'reviewReorder', point, quantity, leadPeriods: lead, reviewPeriods: review };
}

describe('a plain run of the store agrees', () => {
  it.each([
    { jobs: 0.2, sizes: [0, 1], lead: 40, point: 12, quantity: 6, review: 0, seed: 1 },
    { jobs: 0.2, sizes: [0, 1], lead: 40, point: 12, quantity: 6, review: 28, seed: 2 },
    { jobs: 0.2, sizes: [0, 1], lead: 40, point: 14, quantity: 1, review: 28, seed: 3 },
    { jobs: 0.1, sizes: JOBS, lead: 40, point: 12, quantity: 6, review: 0, seed: 4 },
    { jobs: 0.1, sizes: JOBS, lead: 40, point: 12, quantity: 1, review: 0, seed: 5 },
    { jobs: 0.1, sizes: JOBS, lead: 40, point: 14, quantity: 5, review: 28, seed: 6 },
    { jobs: 1, sizes: JOBS, lead: 0, point: 5, quantity: 4, review: 7, seed: 7 },
  ])('jobs of $sizes, point $point, lots of $quantity, review $review', (run) => {
    const seen = storeRun(run);
    const watched = run.review === 0;
    const jobs = watched ? run.jobs * run.lead : run.jobs;
    const demand: LeadTimeDemand =
      run.sizes.length === 2 ? { kind: 'poisson', mean: jobs } : { kind: 'compound', jobs, sizes: run.sizes };
    const measures = stockMeasures(policyOf(run), demand);
    const span = watched ? run.lead : 1;
    const { orders } = stockCost(policyOf(run), demand, { holdingCost: 1, shortageCost: 1, span });
    const agrees = (value: number, { mean, error }: Seen, largest: number): void => {
      expect(error).toBeLessThan(largest);
      expect(Math.abs(value - mean)).toBeLessThan(4 * error);
    };
    // Rates must tell a review every 28 days from none (0.85 and 0.98), and jobs of several pieces from single ones.
    agrees(measures.fillRate, seen.fill, 0.003);
    agrees(measures.readyRate, seen.ready, 0.003);
    agrees(measures.expectedShortage, seen.shortage, 0.03);
    agrees(measures.expectedOnHand, seen.onHand, 0.1);
    agrees(measures.meanWait * span, seen.wait, 0.2);
    agrees(orders, seen.orders, 0.01 * orders);
  });
});

describe('rates that are not to be confused', () => {
  it('fall from 0.979 to 0.850 of pieces at a review every 28 days, each rate with its own value', () => {
    const demand = { kind: 'poisson', mean: 0.2 } as const;
    const lots = { point: 12, quantity: 6 };
    const always = stockMeasures({ kind: 'reorder', ...lots }, { kind: 'poisson', mean: 8 });
    const monthly = stockMeasures(
      { kind: 'reviewReorder', ...lots, leadPeriods: 40, reviewPeriods: 28 },
      demand,
    );
    expect(always.fillRate).toBeCloseTo(0.979, 3);
    expect(monthly.fillRate).toBeCloseTo(0.85, 3);
    expect(monthly.readyRate).toBeCloseTo(0.896, 3);
    expect(monthly.cycleService).toBeCloseTo(0.729, 3);
  });
  it('comes to the policy that is watched always as reviews come closer', () => {
    const lots = { point: 3, quantity: 4 };
    const always = stockMeasures({ kind: 'reorder', ...lots }, { kind: 'poisson', mean: 4 });
    const often = stockMeasures(
      { kind: 'reviewReorder', ...lots, leadPeriods: 1, reviewPeriods: 1e-4 },
      { kind: 'poisson', mean: 4 },
    );
    for (const name of ['fillRate', 'readyRate', 'expectedShortage', 'expectedOnHand'] as const) {
      expect(Math.abs(often[name] - always[name])).toBeLessThan(1e-3);
    }
  });
  it('jobs of one piece are single pieces; a certain job of three in lots of three is a third of the stock', () => {
    const single = stockMeasures(
      { kind: 'reorder', point: 4, quantity: 3 },
      { kind: 'compound', jobs: 3, sizes: [0, 1] },
    );
    const pieces = stockMeasures({ kind: 'reorder', point: 4, quantity: 3 }, { kind: 'poisson', mean: 3 });
    for (const [name, value] of Object.entries(pieces)) {
      expect(single[name as keyof typeof single]).toBeCloseTo(value, 12);
    }
    const threes = stockMeasures(
      { kind: 'baseStock', level: 6 },
      { kind: 'compound', jobs: 1, sizes: [0, 0, 0, 1] },
    );
    const ones = stockMeasures({ kind: 'baseStock', level: 2 }, { kind: 'poisson', mean: 1 });
    expect(threes.fillRate).toBeCloseTo(ones.fillRate, 12);
    expect(threes.readyRate).toBeCloseTo(ones.readyRate, 12);
    expect(threes.expectedShortage).toBeCloseTo(3 * ones.expectedShortage, 12);
  });
  it('a negative binomial number of jobs of one piece is a negative binomial number of pieces', () => {
    const jobs = { kind: 'compound', jobs: 5, jobsVariance: 20, sizes: [0, 1] } as const;
    const pieces = { kind: 'negativeBinomial', mean: 5, variance: 20 } as const;
    for (const policy of [
      { kind: 'reorder', point: 4, quantity: 3 },
      { kind: 'review', level: 15, leadPeriods: 1, reviewPeriods: 0.5 },
    ] as const) {
      const found = stockMeasures(policy, jobs);
      for (const [name, value] of Object.entries(stockMeasures(policy, pieces))) {
        expect(found[name as keyof typeof found]).toBeCloseTo(value, 11);
      }
    }
  });
  it('an empirical law by the period gives the same share of pieces at reviews as the law it copies', () => {
    const pmf = Array.from({ length: 60 }, (_, k) => negativeBinomialPmf(k, 1.5, 4));
    const policy = {
      kind: 'reviewReorder',
      point: 9,
      quantity: 3,
      leadPeriods: 3,
      reviewPeriods: 2,
    } as const;
    const copied = stockMeasures(policy, { kind: 'empirical', pmf });
    const law = stockMeasures(policy, { kind: 'negativeBinomial', mean: 1.5, variance: 4 });
    expect(copied.fillRate).toBeCloseTo(law.fillRate, 9);
    expect(copied.cycleService).toBeCloseTo(law.cycleService, 9);
    // At the ends of periods more is owed than over all of their time.
    expect(copied.expectedShortage).toBeGreaterThan(law.expectedShortage);
  });
});

describe('edges', () => {
  const all: LeadTimeDemand[] = [
    { kind: 'poisson', mean: 0 },
    { kind: 'poisson', mean: 1e5 },
    { kind: 'negativeBinomial', mean: 1e5, variance: 3e5 },
    { kind: 'empirical', pmf: [1] },
    { kind: 'compound', jobs: 0, sizes: [0, 1] },
    { kind: 'compound', jobs: 5e4, sizes: [0, 0.5, 0, 0.5] },
    { kind: 'compound', jobs: 1e-9, sizes: [0, 0, 1] },
  ];
  it.each(all)('are finite shares and numbers: $kind', (demand) => {
    for (const policy of [
      { kind: 'baseStock', level: 0 },
      { kind: 'reorder', point: -3, quantity: 3 },
      { kind: 'reorder', point: 100_100, quantity: 10 },
      { kind: 'review', level: 100_500, leadPeriods: 0, reviewPeriods: 1 },
      { kind: 'reviewReorder', point: 99_000, quantity: 7, leadPeriods: 1, reviewPeriods: 1 },
    ] as const) {
      const measures = stockMeasures(policy, demand);
      for (const value of Object.values(measures)) {
        expect(Number.isFinite(value)).toBe(true);
        expect(value).toBeGreaterThanOrEqual(0);
      }
      for (const share of [measures.readyRate, measures.fillRate, measures.cycleService]) {
        expect(share).toBeLessThanOrEqual(1 + 1e-12);
      }
    }
  });
  it('at a mean of 1e5 a level one standard deviation up is ready 84 % of the time', () => {
    const policy = { kind: 'baseStock', level: 100_316 } as const;
    expect(stockMeasures(policy, { kind: 'poisson', mean: 1e5 }).readyRate).toBeCloseTo(0.8414, 3);
  });
  it('of next to no demand keep their digits: one of three positions is above 0', () => {
    const policy = {
      kind: 'reviewReorder',
      point: -2,
      quantity: 3,
      leadPeriods: 2,
      reviewPeriods: 3,
    } as const;
    for (const mean of [1e-3, 1e-9, 1e-20, 1e-300, 1.5e-323]) {
      const { fillRate } = stockMeasures(policy, { kind: 'poisson', mean });
      // Of a position of 1: handed out at once where nothing was asked for in s before, s evenly from lead to lead + review.
      const expected = mean < 1e-15 ? 1 : (Math.exp(-2 * mean) * -Math.expm1(-3 * mean)) / (3 * mean);
      expect(fillRate).toBeCloseTo(expected / 3, 11);
    }
  });
  it('without a lead time at reviews only the review period counts', () => {
    const level = { kind: 'review', level: 3, leadPeriods: 0, reviewPeriods: 2 } as const;
    const { fillRate } = stockMeasures(level, { kind: 'poisson', mean: 1 });
    const short = Array.from({ length: 60 }, (_, k) => Math.max(0, k - 3) * poissonPmf(k, 2));
    expect(fillRate).toBeCloseTo(1 - short.reduce((a, b) => a + b) / 2, 12);
  });
  it('refuses nonsense by name', () => {
    const poisson = { kind: 'poisson', mean: 1 } as const;
    const review = { kind: 'review', level: 3, leadPeriods: 1, reviewPeriods: 1 } as const;
    const bad = (policy: StockPolicy, demand: LeadTimeDemand, words: RegExp): void => {
      expect(() => stockMeasures(policy, demand)).toThrow(UsageError);
      expect(() => stockMeasures(policy, demand)).toThrow(words);
    };
    bad({ kind: 'baseStock', level: -1 }, poisson, /level must be a whole number/);
    bad({ ...review, level: 2.5 }, poisson, /level must be a whole number/);
    bad({ ...review, leadPeriods: -1 }, poisson, /leadPeriods must be at or above 0/);
    bad({ ...review, reviewPeriods: 0 }, poisson, /reviewPeriods must be above 0/);
    bad({ ...review, reviewPeriods: Number.NaN }, poisson, /reviewPeriods must be above 0/);
    bad({ ...review, reviewPeriods: 1.5 }, { kind: 'empirical', pmf: [0.5, 0.5] }, /whole numbers/);
    bad({ kind: 'reorder', point: 3, quantity: 0 }, poisson, /quantity must be a whole number/);
    bad(review, { kind: 'compound', jobs: -1, sizes: [0, 1] }, /jobs must be a mean/);
    bad(review, { kind: 'compound', jobs: 1, sizes: [0, 0.5] }, /add up to 1/);
    bad(review, { kind: 'compound', jobs: 1, sizes: [] }, /add up to 1/);
    bad(review, { kind: 'compound', jobs: 1, sizes: [2, -1] }, /sizes\[1\]/);
    bad(review, { kind: 'compound', jobs: 2, jobsVariance: 1, sizes: [0, 1] }, /jobsVariance/);
    bad(review, { kind: 'compound', jobs: 1e9, sizes: [0, 1] }, /two million/);
    bad(
      { kind: 'baseStock', level: 1 },
      { kind: 'compound', jobs: 1, sizes: [1] },
      /some job must take a piece/,
    );
  });
});
