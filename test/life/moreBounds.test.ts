import { quantileSorted } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { UsageError } from '../../lib/errors.js';
import {
  type BoundedQuantity,
  type BoundsOptions,
  lifeBounds,
} from '../../lib/life/estimate/bounds/bounds.js';
import { fitLife } from '../../lib/life/estimate/fit.js';
import type { LifeFit } from '../../lib/life/estimate/fitTypes.js';
import { lifeSample } from '../../lib/life/sample.js';
import { randomStream } from '../../lib/numeric/random.js';
import { gammaQuantile, normalCdf, normalQuantile } from '../../lib/numeric/special.js';

const ages = [120, 250, 260, 300, 410, 470, 520, 600, 640, 700, 720, 810];
const sample = lifeSample({ lower: ages, upper: ages.map((t, i) => (i % 4 === 3 ? Infinity : t)) });
const apart = (a: number, b: number): number => Math.abs(a - b) / Math.abs(b);

const QUANTITIES: BoundedQuantity[] = [
  'shape',
  'scale',
  'mean',
  { quantile: 0.1 },
  { survival: 300 },
  { conditionalSurvival: [300, 200] },
];
const METHODS: Omit<BoundsOptions, 'of'>[] = [
  { method: 'normal' },
  { method: 'likelihood' },
  { method: 'posterior' },
  { method: 'bootstrap', draws: 40 },
  { method: 'bootstrap', draws: 40, ends: 'bca' },
  { method: 'bootstrap', draws: 40, resample: 'model' },
  { method: 'bootstrap', draws: 40, resample: 'model', ends: 'bca' },
];

describe.each(METHODS)('%o', (options) => {
  it.each(QUANTITIES)('one side at 0.95 is an end of both sides at 0.9: %o', (of) => {
    const quick = options.method === 'normal' || options.method === 'likelihood';
    for (const kind of quick ? (['weibull', 'lognormal', 'loglogistic'] as const) : (['weibull'] as const)) {
      const fit = fitLife(sample, { kind });
      const both = lifeBounds(fit, { ...options, of });
      const lower = lifeBounds(fit, { ...options, of, level: 0.95, side: 'lower' });
      const upper = lifeBounds(fit, { ...options, of, level: 0.95, side: 'upper' });
      expect(both.low).toBeLessThan(both.high);
      expect(apart(lower.low, both.low)).toBeLessThan(1e-9);
      expect(apart(upper.high, both.high)).toBeLessThan(1e-9);
      expect(upper.low).toBe(0);
      expect(lower.high).toBe(typeof of === 'object' && !('quantile' in of) ? 1 : Infinity);
    }
  });
});

describe('conditional survival', () => {
  const fits = (['weibull', 'lognormal', 'loglogistic', 'exponential'] as const).map((kind) =>
    fitLife(sample, { kind }),
  );
  const early = fitLife(sample, { kind: 'weibull', fault: { share: 0.05, shape: 0.8, scale: 10 } });

  it.each([...fits, early])('from age 0 it is survival: $kind', (fit) => {
    for (const options of METHODS.slice(0, 4)) {
      const plain = lifeBounds(fit, { ...options, of: { survival: 300 } });
      const given = lifeBounds(fit, { ...options, of: { conditionalSurvival: [0, 300] } });
      for (const end of ['estimate', 'low', 'high'] as const)
        expect(apart(given[end], plain[end])).toBeLessThan(1e-8);
    }
  });

  it('of an exponential it follows from the scale alone, at any age', () => {
    const fit = fitLife(sample, { kind: 'exponential' });
    for (const options of METHODS) {
      const scale = lifeBounds(fit, { ...options, of: 'scale' });
      const lasts = lifeBounds(fit, { ...options, of: { conditionalSurvival: [450, 100] } });
      expect(apart(lasts.low, Math.exp(-100 / scale.low))).toBeLessThan(1e-8);
      expect(apart(lasts.high, Math.exp(-100 / scale.high))).toBeLessThan(1e-8);
    }
  });

  it.each(['lognormal', 'loglogistic'] as const)(
    'posterior of a %s: above what age 0 gives, below 1',
    (kind) => {
      const fit = fitLife(sample, { kind });
      const got = lifeBounds(fit, { of: { conditionalSurvival: [300, 200] }, method: 'posterior' });
      const fresh = lifeBounds(fit, { of: { survival: 500 }, method: 'posterior' });
      for (const end of ['low', 'estimate', 'high'] as const) expect(got[end]).toBeGreaterThan(fresh[end]);
      expect(got.high).toBeLessThan(1);
      // Flat beside the likelihood the posterior is close to the profile.
      const profile = lifeBounds(fit, { of: { conditionalSurvival: [300, 200] }, method: 'likelihood' });
      expect(Math.abs(got.low - profile.low)).toBeLessThan(0.06);
      expect(Math.abs(got.high - profile.high)).toBeLessThan(0.06);
    },
  );

  it('keeps its digits for a minute more, and for sharp laws in any unit', () => {
    for (const unit of [1e-9, 1, 1e12]) {
      const lower = ages.map((t) => unit * 500 * (t / 500) ** 0.05);
      const fit = fitLife(lifeSample({ lower, upper: lower }), { kind: 'weibull' });
      const { low, high, estimate } = lifeBounds(fit, {
        of: { conditionalSurvival: [490 * unit, 1e-7 * unit] },
      });
      expect(low).toBeLessThanOrEqual(estimate);
      expect(high).toBeGreaterThanOrEqual(estimate);
      expect(1 - low).toBeGreaterThan(1e-10);
      expect(1 - low).toBeLessThan(1e-7);
    }
  });

  it('warns beyond the data, without failures gives the lower bound, refuses nonsense', () => {
    const of = { conditionalSurvival: [700, 200] } as const;
    const fit = fits[0] as LifeFit;
    expect(lifeBounds(fit, { of }).warnings.map(({ code }) => code)).toContain('beyond-data');
    const sound = lifeSample({ lower: [500], upper: [Infinity], count: [20] });
    const none = fitLife(sound, { kind: 'weibull', shape: 2 });
    const { low: scale } = lifeBounds(none, { of: 'scale', side: 'lower' });
    const lasts = lifeBounds(none, { of: { conditionalSurvival: [300, 100] }, side: 'lower' });
    expect(apart(lasts.low, Math.exp((300 ** 2 - 400 ** 2) / scale ** 2))).toBeLessThan(1e-9);
    for (const pair of [
      [-1, 5],
      [5, 0],
      [Number.NaN, 5],
      [5, Infinity],
    ] as const) {
      expect(() => lifeBounds(fit, { of: { conditionalSurvival: pair } })).toThrow(UsageError);
    }
  });
});

it('the mean of a log-logistic that may have none', () => {
  const wide = ages.map((t) => 500 * (t / 500) ** 5);
  const heavy = fitLife(lifeSample({ lower: wide, upper: wide }), { kind: 'loglogistic' });
  expect(heavy.model).toMatchObject({ kind: 'loglogistic' });
  expect(() => lifeBounds(heavy, { of: 'mean', method: 'likelihood' })).toThrow('no finite mean');
  const light = ages.map((t) => 500 * (t / 500) ** 2);
  const fit = fitLife(lifeSample({ lower: light, upper: light }), { kind: 'loglogistic' });
  for (const method of ['likelihood', 'posterior'] as const) {
    const { low, estimate, high } = lifeBounds(fit, { of: 'mean', method });
    expect(low).toBeLessThan(estimate);
    expect(high).toBeGreaterThan(estimate);
  }
});

describe('bootstrap', () => {
  /** An exponential scale needs no search: time over failures. */
  const scaleOf = (rows: readonly number[]): number => {
    const time = rows.reduce((total, i) => total + (ages[i] as number), 0);
    return time / rows.filter((i) => i % 4 !== 3).length;
  };

  it('BCa ends of the same resamples by the formulas, one by one', () => {
    const fit = fitLife(sample, { kind: 'exponential' });
    const random = randomStream(9, 'life/bootstrap');
    const all = ages.map((_, i) => i);
    const values = Array.from({ length: 200 }, () => Math.log(scaleOf(all.map(() => random.below(12))))).sort(
      (x, y) => x - y,
    );
    const estimate = Math.log(scaleOf(all));
    const z0 = normalQuantile(values.filter((v) => v < estimate).length / 200);
    const left = all.map((k) => Math.log(scaleOf(all.filter((i) => i !== k))));
    const mean = left.reduce((total, v) => total + v, 0) / 12;
    const sums = [2, 3].map((power) => left.reduce((total, v) => total + (mean - v) ** power, 0)) as [
      number,
      number,
    ];
    const a = sums[1] / (6 * sums[0] ** 1.5);
    expect(Math.abs(a)).toBeGreaterThan(0.02);
    const got = lifeBounds(fit, { of: 'scale', method: 'bootstrap', ends: 'bca', draws: 200, seed: 9 });
    for (const [end, tail] of [
      [got.low, 0.05],
      [got.high, 0.95],
    ] as const) {
      const z = z0 + normalQuantile(tail);
      const rank = 201 * normalCdf(z0 + z / (1 - a * z));
      const [k, share] = [Math.floor(rank), (r: number) => normalQuantile(r / 201)];
      const part = (share(rank) - share(k)) / (share(k + 1) - share(k));
      const want = (values[k - 1] as number) + part * ((values[k] as number) - (values[k - 1] as number));
      expect(Math.abs(Math.log(end) - want)).toBeLessThan(1e-10);
    }
  });

  it('leaves out whole positions for the acceleration, and rows of several lives one life at a time', () => {
    const clustered = lifeSample({
      lower: sample.lower,
      upper: sample.upper,
      cluster: ages.map((_, i) => i % 6),
    });
    const options = { of: 'scale', method: 'bootstrap', ends: 'bca', draws: 100 } as const;
    const byPosition = lifeBounds(fitLife(clustered, { kind: 'exponential' }), options);
    const byLife = lifeBounds(fitLife(clustered, { kind: 'exponential' }), { ...options, robust: false });
    expect([byPosition.robust, byLife.robust]).toEqual([true, false]);
    expect(byPosition.low).not.toBe(byLife.low);
    const single = lifeSample({ lower: [...ages, ...ages], upper: [...sample.upper, ...sample.upper] });
    const merged = lifeSample({ lower: ages, upper: sample.upper, count: ages.map(() => 2) });
    // The same lives in another order of draws: only the bootstrap values differ, by chance.
    const [one, two] = [single, merged].map((s) =>
      lifeBounds(fitLife(s, { kind: 'exponential' }), { ...options, draws: 4000 }),
    );
    expect(apart(one?.low as number, two?.low as number)).toBeLessThan(0.03);
    expect(apart(one?.high as number, two?.high as number)).toBeLessThan(0.03);
  });

  it('from the model: a complete exponential sample has gamma ends', () => {
    const complete = lifeSample({ lower: ages, upper: ages });
    const fit = fitLife(complete, { kind: 'exponential' });
    const got = lifeBounds(fit, {
      of: 'scale',
      method: 'bootstrap',
      resample: 'model',
      draws: 4000,
      seed: 2,
    });
    for (const [end, p] of [
      [got.low, 0.05],
      [got.high, 0.95],
    ] as const) {
      const want = got.estimate * gammaQuantile(p, 12, 1 / 12);
      // Standard error of a 5 % point of 4000: 0.0034 / density, which is about 0.012 of the scale above and 0.007 below.
      expect(Math.abs(end - want) / got.estimate).toBeLessThan(p < 0.5 ? 0.028 : 0.048);
    }
  });

  it('from the model respects the closing day, and says that it takes lives as independent', () => {
    const clustered = lifeSample({
      lower: sample.lower,
      upper: sample.upper,
      cluster: ages.map((_, i) => i % 6),
    });
    const fit = fitLife(clustered, { kind: 'weibull' });
    const redraw = { closing: ages.map((t, i) => (i % 4 === 3 ? t : 1000)) };
    const options = { of: 'scale', method: 'bootstrap', resample: 'model', draws: 100 } as const;
    const got = lifeBounds(fit, { ...options, redraw });
    expect(got.robust).toBe(false);
    expect(got.warnings.map(({ code }) => code)).toContain('bootstrap-not-robust');
    expect(got.high).not.toBe(lifeBounds(fit, options).high);
    expect(() => lifeBounds(fit, { ...options, redraw: { closing: [1] } })).toThrow('lifeBounds: closing');
  });

  it('percentiles are as they were, and nonsense is refused', () => {
    const fit = fitLife(sample, { kind: 'exponential' });
    const random = randomStream(1, 'life/bootstrap');
    const values = Array.from({ length: 100 }, () =>
      Math.log(scaleOf(ages.map(() => random.below(12)))),
    ).sort((x, y) => x - y);
    const got = lifeBounds(fit, { of: 'scale', method: 'bootstrap', draws: 100 });
    expect(apart(got.low, Math.exp(quantileSorted(values, 0.05)))).toBeLessThan(1e-10);
    const bad = (options: object) => () => lifeBounds(fit, { of: 'scale', method: 'bootstrap', ...options });
    expect(bad({ ends: 'other' })).toThrow(UsageError);
    expect(bad({ resample: 'other' })).toThrow(UsageError);
    expect(bad({ draws: 10.5 })).toThrow(UsageError);
  });
});
