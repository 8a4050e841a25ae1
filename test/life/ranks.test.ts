import { performance } from 'node:perf_hooks';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { UsageError } from '../../lib/errors.js';
import { quantile } from '../../lib/life/distribution/functions.js';
import { benardRank, failureRanks, medianRank } from '../../lib/life/empirical/ranks.js';
import { fitByRanks, type RankFit, type RankFitOptions } from '../../lib/life/estimate/rankRegression.js';
import type { LognormalModel, WeibullModel } from '../../lib/life/model.js';
import { lifeSample } from '../../lib/life/sample.js';
import type { LifeSample } from '../../lib/life/sampleTypes.js';
import { betaCdf } from '../../lib/numeric/special.js';

type Life = readonly [age: number, failed: boolean, count: number];

const sampleOf = (lives: readonly Life[]): LifeSample =>
  lifeSample({
    lower: lives.map(([age]) => age),
    upper: lives.map(([age, failed]) => (failed ? age : Infinity)),
    count: lives.map(([, , count]) => count),
  });

const LIVES: Life[] = [
  [120, true, 3],
  [200, true, 2],
  [200, false, 4],
  [340, true, 1],
  [410, true, 5],
  [500, false, 6],
  [610, true, 2],
  [700, false, 9],
];
const SPLIT: Life[] = LIVES.flatMap(([age, failed, count]) =>
  Array.from({ length: count }, (): Life => [age, failed, 1]),
);
const EVERY: RankFitOptions[] = (['weibull', 'lognormal'] as const).flatMap((kind) =>
  (['exact', 'benard', 'hazen', 'mean'] as const).flatMap((ranks) =>
    (['age', 'rank'] as const).map((regress) => ({ kind, ranks, regress })),
  ),
);
const weibullOf = ({ model }: RankFit): WeibullModel => model as WeibullModel;
const lognormalOf = ({ model }: RankFit): LognormalModel => model as LognormalModel;

describe('medianRank', () => {
  it('halves the beta distribution of the order statistic, for any order number', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 5000 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (n, share) => {
          const i = 0.5 + share * n;
          expect(betaCdf(medianRank(i, n), i, n + 1 - i)).toBeCloseTo(0.5, 11);
        },
      ),
      { seed: 1, numRuns: 300 },
    );
  });

  it('mirrors: the i-th from below and from above add up to 1', () => {
    for (let i = 1; i <= 13; i++) expect(medianRank(i, 13) + medianRank(14 - i, 13)).toBeCloseTo(1, 14);
  });

  it('is near the approximation, the nearer the more lives', () => {
    const furthest = (n: number): number =>
      Math.max(...Array.from({ length: n }, (_, k) => Math.abs(medianRank(k + 1, n) - benardRank(k + 1, n))));
    expect(furthest(1)).toBe(0);
    for (let n = 2; n <= 60; n++) expect(furthest(n)).toBeLessThan(0.00125);
    expect(furthest(1000)).toBeLessThan(furthest(100) / 5);
  });

  it.each([
    [0, 5],
    [6, 5],
    [Number.NaN, 5],
    [1, Number.NaN],
    [1, Infinity],
    [0.4, 5],
    [5.6, 5],
    [0.5, 0],
  ])('refuses order number %s of %s', (i, n) => {
    expect(() => medianRank(i, n)).toThrow(UsageError);
    expect(() => benardRank(i, n)).toThrow(UsageError);
  });
});

describe('failureRanks', () => {
  it('without censored lives are the whole order numbers', () => {
    const ages = [9, 2, 7, 4];
    const { age, order, rank, lives } = failureRanks(lifeSample({ lower: ages, upper: ages }));
    expect(Array.from(age)).toEqual([2, 4, 7, 9]);
    expect(Array.from(order)).toEqual([1, 2, 3, 4]);
    expect(rank[0]).toBeCloseTo(1 - 0.5 ** 0.25, 15);
    expect(lives).toBe(4);
  });

  it('puts tied failures at the mean of their order numbers', () => {
    const { order, failed } = failureRanks(
      sampleOf([
        [5, true, 3],
        [8, true, 1],
        [9, true, 2],
      ]),
    );
    expect(Array.from(order)).toEqual([2, 4, 5.5]);
    expect(Array.from(failed)).toEqual([3, 1, 2]);
  });

  it('shares out lives censored before a failure, not those censored after it', () => {
    const early = failureRanks(
      sampleOf([
        [1, false, 1],
        [5, true, 1],
      ]),
    );
    expect(early.order[0]).toBe(1.5);
    expect(
      failureRanks(
        sampleOf([
          [5, false, 1],
          [5, true, 1],
        ]),
      ).order[0],
    ).toBe(1);
  });

  it('does not depend on how rows are split, merged or ordered', () => {
    expect(failureRanks(sampleOf(SPLIT))).toEqual(failureRanks(sampleOf(LIVES)));
    expect(failureRanks(sampleOf([...SPLIT].reverse()))).toEqual(failureRanks(sampleOf(LIVES)));
  });

  it('all censored: no points', () => {
    expect(failureRanks(sampleOf([[5, false, 3]]))).toMatchObject({ lives: 3, rank: new Float64Array(0) });
  });

  it('one failure of one life, and all failures at one age, are at one half', () => {
    expect(failureRanks(sampleOf([[5, true, 1]])).rank[0]).toBe(0.5);
    expect(failureRanks(sampleOf([[5, true, 40]]), 'benard').rank[0]).toBeCloseTo(0.5, 15);
  });

  it.each<[string, LifeSample, RegExp]>([
    [
      'intervals',
      lifeSample({ lower: [1, 3], upper: [1, 4] }),
      /row 2 failed inside an interval.*turnbull.*fitLife/,
    ],
    ['ages known from above only', lifeSample({ lower: [0], upper: [4] }), /row 1 failed inside an interval/],
    [
      'delayed entry',
      lifeSample({ lower: [1, 3], upper: [1, 3], entry: [0, 2] }),
      /row 2 came under watch late.*kaplanMeier.*fitLife/,
    ],
    ['unknown causes', { ...sampleOf([[4, true, 1]]), otherHazard: Float64Array.of(0.1) }, /unknown cause/],
  ])('refuses %s, also for a line', (_, sample, message) => {
    expect(() => failureRanks(sample)).toThrow(UsageError);
    expect(() => failureRanks(sample)).toThrow(message);
    expect(() => fitByRanks(sample, { kind: 'weibull' })).toThrow(message);
    expect(() => failureRanks(sampleOf(LIVES), 'none' as 'exact')).toThrow(/exact, benard, hazen or mean/);
  });
});

describe('fitByRanks', () => {
  it.each(EVERY)('finds the law whose quantiles are the ages: %o', (options) => {
    const law: WeibullModel | LognormalModel =
      options.kind === 'weibull'
        ? { kind: 'weibull', shape: 2.7, scale: 930 }
        : { kind: 'lognormal', mu: 6.4, sigma: 0.37 };
    const positions = {
      exact: medianRank,
      benard: benardRank,
      hazen: (i: number, n: number) => (i - 0.5) / n,
      mean: (i: number, n: number) => i / (n + 1),
    };
    const position = positions[options.ranks ?? 'exact'];
    const ages = Array.from({ length: 12 }, (_, k) => quantile(law, position(k + 1, 12)));
    const { model, r2 } = fitByRanks(lifeSample({ lower: ages, upper: ages }), options);
    for (const [name, value] of Object.entries(law)) {
      if (typeof value !== 'number') continue;
      const got = (model as unknown as Record<string, number>)[name] as number;
      expect(got / value).toBeCloseTo(1, 11);
    }
    expect(r2).toBeCloseTo(1, 12);
  });

  it('by default regresses age on exact ranks, which gives the steeper line', () => {
    const fit = fitByRanks(sampleOf(LIVES), { kind: 'weibull' });
    const rank = fitByRanks(sampleOf(LIVES), { kind: 'weibull', regress: 'rank' });
    expect(fit).toMatchObject({ ranks: 'exact', regress: 'age', failures: 13, lives: 32, warnings: [] });
    expect(weibullOf(rank).shape / weibullOf(fit).shape).toBeCloseTo(fit.r2, 12);
  });

  it.each(EVERY)('scales with the unit of age, and not with how rows are split: %o', (options) => {
    const fit = fitByRanks(sampleOf(LIVES), options);
    expect(fitByRanks(sampleOf(SPLIT), options)).toEqual(fit);
    const hours = fitByRanks(sampleOf(LIVES.map(([age, failed, n]): Life => [24 * age, failed, n])), options);
    expect(hours.r2).toBeCloseTo(fit.r2, 13);
    if (options.kind === 'weibull') {
      expect(weibullOf(hours).shape).toBeCloseTo(weibullOf(fit).shape, 12);
      expect(weibullOf(hours).scale / weibullOf(fit).scale).toBeCloseTo(24, 11);
    } else {
      expect(lognormalOf(hours).sigma).toBeCloseTo(lognormalOf(fit).sigma, 12);
      expect(lognormalOf(hours).mu - lognormalOf(fit).mu).toBeCloseTo(Math.log(24), 12);
    }
  });

  it.each<[string, Life[], RegExp]>([
    ['no failures', [[5, false, 9]], /two ages or more, but there are no failures; use fitLife/],
    [
      'one failure',
      [
        [5, true, 1],
        [9, false, 4],
      ],
      /but there is one failure only/,
    ],
    [
      'one age',
      [
        [5, true, 7],
        [9, false, 4],
      ],
      /but all failures are at one age/,
    ],
    [
      'ages of one logarithm',
      [
        [1e15, true, 1],
        [1e15 + 0.125, true, 1],
      ],
      /but all failures are at one age/,
    ],
    [
      'a line without end',
      [
        [1e-300, true, 1],
        [1e300, true, 1],
        [1e300, false, 1e6],
      ],
      /so flat/,
    ],
  ])('refuses %s with the reason', (_, lives, message) => {
    expect(() => fitByRanks(sampleOf(lives), { kind: 'weibull' })).toThrow(UsageError);
    expect(() => fitByRanks(sampleOf(lives), { kind: 'weibull' })).toThrow(message);
  });

  it('refuses options that are none', () => {
    const sample = sampleOf(LIVES);
    expect(() => fitByRanks(sample, { kind: 'loglogistic' as 'weibull' })).toThrow(/weibull or lognormal/);
    expect(() => fitByRanks(sample, { kind: 'weibull', regress: 'x' as 'age' })).toThrow(/age or rank/);
    expect(() => fitByRanks(sample, { kind: 'weibull', ranks: 'x' as 'exact' })).toThrow(
      /fitByRanks: ranks must be exact, benard, hazen or mean/,
    );
  });

  it('goes through two points, and warns of few failures', () => {
    const fit = fitByRanks(
      sampleOf([
        [100, true, 1],
        [300, true, 1],
      ]),
      { kind: 'weibull' },
    );
    expect(fit.r2).toBeCloseTo(1, 14);
    expect(fit.warnings.map(({ code }) => code)).toEqual(['few-failures']);
  });

  it('takes a million merged lives in well under a second', () => {
    const lives = Array.from({ length: 500 }, (_, k): Life => [k + 1, k % 3 > 0, 2000]);
    const sample = sampleOf(lives);
    const begin = performance.now();
    const fit = fitByRanks(sample, { kind: 'weibull' });
    expect(performance.now() - begin).toBeLessThan(500);
    expect(fit.lives).toBe(1e6);
    expect(fit.points.rank.every((p, k, all) => p > (all[k - 1] ?? 0) && p < 1)).toBe(true);
  });
});
