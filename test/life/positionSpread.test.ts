import { describe, expect, it } from 'vitest';
import { UsageError } from '../../lib/errors.js';
import { fitLife } from '../../lib/life/estimate/fit.js';
import { positionSpread } from '../../lib/life/estimate/positionSpread/positionSpread.js';
import { spreadLikelihood } from '../../lib/life/estimate/positionSpread/spreadLikelihood.js';
import { spreadRows } from '../../lib/life/estimate/positionSpread/spreadRows.js';
import type { WeibullModel } from '../../lib/life/model.js';
import { type LifeColumns, lifeSample } from '../../lib/life/sample.js';
import type { LifeSample } from '../../lib/life/sampleTypes.js';
import { randomStream } from '../../lib/numeric/random.js';

interface Plant {
  positions: number;
  spread: number;
  days: boolean;
}

/** Lives of shape 3 and scale 900 at the middle position, replaced at 730 days, watched for six years: K11's plant. */
function columns(
  { positions, spread, days }: Plant,
  seed: number,
): Required<Omit<LifeColumns, 'entry' | 'count'>> {
  const random = randomStream(seed, 'test/position spread');
  const [lower, upper, cluster]: number[][] = [[], [], []];
  for (let p = 0; p < positions; p++) {
    const scale = 900 * Math.exp(spread * random.normal());
    for (let t = 0; t < 6 * 365; ) {
      const life = scale * (-Math.log(random.uniform())) ** (1 / 3);
      const stop = Math.min(730, 6 * 365 - t);
      const day = Math.max(1, Math.round(life));
      lower?.push(life > stop ? stop : days ? day - 0.5 : life);
      upper?.push(life > stop ? Infinity : days ? day + 0.5 : life);
      cluster?.push(p);
      t += Math.min(life, stop);
    }
  }
  return { lower: lower as number[], upper: upper as number[], cluster: cluster as number[] };
}

const plant = (of: Plant, seed: number): LifeSample => lifeSample(columns(of, seed));
const apart = (a: number, b: number): number => Math.abs(a - b) / Math.abs(b);

describe('positionSpread', () => {
  it('finds the spread and the shape within positions that lives together hide (K11)', () => {
    const sample = plant({ positions: 600, spread: 0.4, days: true }, 1);
    const got = positionSpread(sample, { kind: 'weibull' });
    // K11: one Weibull for all has shape 2.32 where each position has 3; standard errors here are about 0.06 and 0.1.
    expect(Math.abs(got.pooled.shape - 2.32)).toBeLessThan(0.25);
    expect(Math.abs(got.model.shape - 3)).toBeLessThan(0.4);
    // 4 standard errors to either side, of about 0.02: a twentieth of the spread.
    const wide = positionSpread(sample, { kind: 'weibull', level: 0.99994 });
    expect(wide.low).toBeLessThan(0.4);
    expect(wide.high).toBeGreaterThan(0.4);
    expect(got.high - got.low).toBeLessThan(0.1);
    expect(got.warnings.map(({ code }) => code)).toEqual(['positions-differ']);
  });

  it('bounds hold the truth in nine of ten plants', () => {
    const plants = Array.from({ length: 40 }, (_, seed) =>
      positionSpread(plant({ positions: 60, spread: 0.4, days: false }, 100 + seed), { kind: 'weibull' }),
    );
    expect(plants.every(({ converged }) => converged)).toBe(true);
    const misses = plants.filter(({ low, high }) => low > 0.4 || high < 0.4).length;
    // Binomial (40, 0.1): 0 to 11 at 99.9 %.
    expect(misses).toBeLessThanOrEqual(11);
    const shapes = plants.map(({ model }) => Math.log(model.shape / 3));
    const mean = shapes.reduce((total, x) => total + x, 0) / 40;
    const sd = Math.sqrt(shapes.reduce((total, x) => total + (x - mean) ** 2, 0) / 39);
    // One Weibull for all is off by log(2.32 / 3) = -0.26; the mean's standard error must be an eighth of it at most.
    expect(sd / Math.sqrt(40)).toBeLessThan(0.26 / 8);
    expect(Math.abs(mean)).toBeLessThan((4 * sd) / Math.sqrt(40) + 0.02);
  }, 30_000);

  it('finds none where positions are alike, and 0 within its bounds', () => {
    const tests = Array.from({ length: 30 }, (_, seed) =>
      positionSpread(plant({ positions: 40, spread: 0, days: true }, 300 + seed), { kind: 'weibull' }),
    );
    // Half of the tops lie at 0. A lower bound above 0 is a miss of one side: binomial (30, 0.05) gives 6 at most at 99.9 %, and (30, 0.5) 6 to 24.
    const none = tests.filter(({ spread }) => spread === 0).length;
    expect(none).toBeGreaterThanOrEqual(6);
    expect(none).toBeLessThanOrEqual(24);
    expect(tests.filter(({ low }) => low > 0).length).toBeLessThanOrEqual(6);
    for (const one of tests) {
      if (one.spread !== 0) continue;
      expect(one).toMatchObject({ low: 0, p: 1, model: one.pooled });
      expect(one.high).toBeGreaterThan(0);
    }
  }, 30_000);

  it('does not depend on the unit of age, on the order of rows, or on how positions are named', () => {
    const base = columns({ positions: 30, spread: 0.5, days: true }, 4);
    const want = positionSpread(lifeSample(base), { kind: 'weibull' });
    const scaled = (unit: number): LifeSample =>
      lifeSample({
        lower: Array.from(base.lower, (t) => t * unit).reverse(),
        upper: Array.from(base.upper, (t) => t * unit).reverse(),
        cluster: Array.from(base.cluster, (p) => `P${p}`).reverse(),
      });
    for (const unit of [1, 1e-9, 1e12]) {
      const got = positionSpread(scaled(unit), { kind: 'weibull' });
      expect(apart(got.spread as number, want.spread as number)).toBeLessThan(1e-6);
      expect(apart(got.low, want.low)).toBeLessThan(1e-6);
      expect(apart(got.high, want.high)).toBeLessThan(1e-6);
      expect(apart(got.model.scale, want.model.scale * unit)).toBeLessThan(1e-6);
    }
  });

  it('says that lives without repeats tell nothing, and that lives too much alike give no answer', () => {
    const ages = [100, 200, 300, 400, 500];
    const single = positionSpread(lifeSample({ lower: ages, upper: ages }), { kind: 'weibull' });
    expect(single).toMatchObject({ spread: null, low: 0, high: Infinity, repeated: 0 });
    expect(single.warnings.map(({ code }) => code)).toEqual(['no-repeats']);
    const twins = lifeSample({
      lower: [...ages, ...ages],
      upper: [...ages, ...ages],
      cluster: [0, 1, 2, 3, 4, 0, 1, 2, 3, 4],
    });
    const got = positionSpread(twins, { kind: 'weibull' });
    expect(got).toMatchObject({ spread: null, converged: false });
    expect(got.warnings.map(({ code }) => code)).toEqual(['spread-not-found']);
  });

  it('refuses nonsense and alters nothing', () => {
    const sample = plant({ positions: 20, spread: 0.3, days: false }, 2);
    const before = structuredClone(sample);
    positionSpread(sample, { kind: 'weibull' });
    expect(sample).toEqual(before);
    expect(() => positionSpread(sample, { kind: 'weibull', level: 1 })).toThrow(UsageError);
    expect(() => positionSpread(sample, { kind: 'gamma' as 'weibull' })).toThrow(UsageError);
    expect(() =>
      positionSpread({ ...sample, otherHazard: sample.lower.map(() => 1) }, { kind: 'weibull' }),
    ).toThrow(UsageError);
  });
});

describe('spreadLikelihood', () => {
  /** One position by 60 001 even steps of u, row by row, in logarithms. */
  const slow = (rows: [number, number, number][], { shape, scale }: WeibullModel, spread: number): number => {
    const h = (t: number, u: number): number => (t / (scale * Math.exp(u))) ** shape;
    const row = ([lower, upper]: [number, number, number], u: number): number => {
      if (upper === Infinity) return -h(lower, u);
      if (upper === lower) return Math.log((shape * h(upper, u)) / upper) - h(upper, u);
      return Math.log(-Math.expm1(h(lower, u) - h(upper, u))) - h(lower, u);
    };
    const logMean = (f: (u: number) => number): number => {
      const width = (24 * spread) / 60_000;
      const at = Array.from({ length: 60_001 }, (_, k) => -12 * spread + k * width);
      const logs = at.map((u) => f(u) - 0.5 * (u / spread) ** 2);
      const top = logs.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY);
      const total = logs.reduce((sum, value) => sum + Math.exp(value - top), 0);
      return top + Math.log((total * width) / (spread * Math.sqrt(2 * Math.PI)));
    };
    const all = (u: number): number => rows.reduce((sum, each) => sum + row(each, u), 0);
    return logMean(all) - logMean((u) => rows.reduce((sum, [, , entry]) => sum - h(entry, u), 0));
  };

  const POSITIONS: [string, [number, number, number][]][] = [
    ['one censored life', [[700, Infinity, 0]]],
    [
      'lives of every kind',
      [
        [700, Infinity, 200],
        [420, 420, 0],
        [300.5, 301.5, 0],
        [500, 900, 0],
      ],
    ],
    [
      'ten failures',
      Array.from({ length: 10 }, (_, i): [number, number, number] => [300 + 37 * i, 300 + 37 * i, 0]),
    ],
    [
      'wide intervals',
      [
        [0, 400, 0],
        [100, 2000, 50],
        [1500, Infinity, 1200],
      ],
    ],
  ];

  it.each(POSITIONS)('is the integral over positions: %s', (_, rows) => {
    const sample = lifeSample({
      lower: rows.map(([lower]) => lower),
      upper: rows.map(([, upper]) => upper),
      entry: rows.map(([, , entry]) => entry),
      cluster: rows.map(() => 'A'),
    });
    const value = spreadLikelihood(spreadRows(sample));
    for (const [shape, spread] of [
      [3, 0.4],
      [0.7, 0.05],
      [3, 1.5],
      [12, 0.8],
      [50, 0.3],
    ] as const) {
      const model: WeibullModel = { kind: 'weibull', shape, scale: 600 };
      const want = slow(rows, model, spread);
      expect(Math.abs(value(Math.log(shape), Math.log(600), spread) - want)).toBeLessThan(1e-7);
      expect(value(Math.log(shape), Math.log(600), -spread)).toBe(
        value(Math.log(shape), Math.log(600), spread),
      );
    }
  });

  it('without a spread is the plain likelihood', () => {
    const sample = plant({ positions: 20, spread: 0.3, days: true }, 2);
    const fit = fitLife(sample, { kind: 'weibull' });
    const { shape, scale } = fit.model as WeibullModel;
    const value = spreadLikelihood(spreadRows(sample));
    expect(Math.abs(value(Math.log(shape), Math.log(scale), 0) - fit.logLikelihood)).toBeLessThan(1e-6);
    expect(Math.abs(value(Math.log(shape), Math.log(scale), 1e-5) - fit.logLikelihood)).toBeLessThan(1e-6);
  });
});
