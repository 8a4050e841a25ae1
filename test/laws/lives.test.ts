/** Laws that every fit, likelihood and curve must keep, over random samples of every kind of row. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  cumulativeHazard,
  density,
  hazard,
  meanLife,
  meanUpTo,
  quantile,
  remainingLife,
  survival,
} from '../../lib/life/distribution/index.js';
import { kaplanMeier } from '../../lib/life/empirical/kaplanMeier.js';
import { whyShapeNotEstimable } from '../../lib/life/estimate/estimable.js';
import { fitLife } from '../../lib/life/estimate/fit.js';
import { weibullDerivatives } from '../../lib/life/estimate/weibull/weibullDerivatives.js';
import {
  logLikelihood,
  prepareRows,
  prepareWeibull,
} from '../../lib/life/estimate/weibull/weibullLikelihood.js';
import { mergeSample } from '../../lib/life/mergeSample.js';
import type { LifeModel, WeibullModel } from '../../lib/life/model.js';
import { lifeSample } from '../../lib/life/sample.js';
import type { LifeSample } from '../../lib/life/sampleTypes.js';
import { differentiate, differentiateTwice } from '../../lib/numeric/differentiate.js';
import { apart } from '../reference/life/samples.js';

interface Row {
  lower: number;
  upper: number;
  entry: number;
  count: number;
}

/** One life of any kind: exact, censored, interval, from 0, with or without late entry. */
const row: fc.Arbitrary<Row> = fc
  .record({
    age: fc.integer({ min: 2, max: 2000 }),
    width: fc.integer({ min: 1, max: 300 }),
    kind: fc.constantFrom('exact', 'censored', 'interval', 'left'),
    late: fc.double({ min: 0, max: 1, noNaN: true }),
    count: fc.integer({ min: 1, max: 3 }),
  })
  .map(({ age, width, kind, late, count }) => {
    const entry = late > 0.6 ? Math.floor(age * (late - 0.6) * 2) : 0;
    if (kind === 'exact') return { lower: age, upper: age, entry, count };
    if (kind === 'censored') return { lower: age, upper: Infinity, entry, count };
    return { lower: kind === 'left' ? 0 : age, upper: age + width, entry, count };
  });

const rows = fc.array(row, { minLength: 6, maxLength: 25 });

function sampleFrom(list: readonly Row[]): LifeSample {
  const column = (f: (r: Row) => number): number[] => list.map(f);
  return lifeSample({
    lower: column((r) => r.lower),
    upper: column((r) => r.upper),
    entry: column((r) => r.entry),
    count: column((r) => r.count),
  });
}

/** The fit, or null where the sample has none: a likelihood that rises without limit is refused, not fitted. */
function weibullOf(sample: LifeSample): (WeibullModel & { logLikelihood: number }) | null {
  try {
    const fit = fitLife(sample, { kind: 'weibull' });
    return { ...(fit.model as WeibullModel), logLikelihood: fit.logLikelihood };
  } catch (error) {
    expect(String(error)).toMatch(/UsageError: fitLife: (the shape cannot be estimated|no best parameters)/);
    return null;
  }
}

/** Two fits of the same data by other ways agree to what flat tops allow. */
const same = (a: WeibullModel | null, b: WeibullModel | null, unit = 1): void => {
  expect(a === null).toBe(b === null);
  if (a === null || b === null) return;
  expect(apart(b.shape, a.shape)).toBeLessThan(1e-7);
  expect(apart(b.scale, a.scale * unit)).toBeLessThan(1e-7);
};

const RUNS = { numRuns: 150, seed: 20_261 };
const weibullModel: fc.Arbitrary<WeibullModel> = fc.record({
  kind: fc.constant('weibull' as const),
  shape: fc.double({ min: 0.3, max: 8, noNaN: true }),
  scale: fc.double({ min: 50, max: 5000, noNaN: true }),
});
const faulty: fc.Arbitrary<WeibullModel> = fc
  .tuple(weibullModel, fc.double({ min: 1e-4, max: 0.5, noNaN: true }))
  .map(([model, share]) => ({ ...model, fault: { share, shape: 0.8, scale: 10 } }));
const anyModel: fc.Arbitrary<LifeModel> = fc.oneof(
  weibullModel,
  faulty,
  fc.record({
    kind: fc.constant('exponential' as const),
    scale: fc.double({ min: 1, max: 1e4, noNaN: true }),
  }),
  fc.record({
    kind: fc.constant('lognormal' as const),
    mu: fc.double({ min: 2, max: 8, noNaN: true }),
    sigma: fc.double({ min: 0.1, max: 2, noNaN: true }),
  }),
  fc.record({
    kind: fc.constant('loglogistic' as const),
    shape: fc.double({ min: 1.2, max: 8, noNaN: true }),
    scale: fc.double({ min: 50, max: 5000, noNaN: true }),
  }),
);

describe('fits', () => {
  it('do not depend on the unit of age', () => {
    fc.assert(
      fc.property(rows, fc.constantFrom(1e-9, 1 / 365.25, 24, 1e12), (list, unit) => {
        const scaled = list.map((r) => ({
          ...r,
          lower: r.lower * unit,
          upper: r.upper * unit,
          entry: r.entry * unit,
        }));
        same(weibullOf(sampleFrom(list)), weibullOf(sampleFrom(scaled)), unit);
      }),
      RUNS,
    );
  });

  it('do not depend on the order of rows, on merging, or on how counts are split', () => {
    fc.assert(
      fc.property(rows, (list) => {
        const plain = weibullOf(sampleFrom(list));
        expect(weibullOf(sampleFrom([...list].reverse()))).toEqual(plain);
        same(plain, weibullOf(mergeSample(sampleFrom(list))));
        const split = list.flatMap((r) => Array.from({ length: r.count }, () => ({ ...r, count: 1 })));
        same(plain, weibullOf(sampleFrom(split)));
      }),
      RUNS,
    );
  });

  it('keep the estimate and halve the covariance when every life is doubled', () => {
    fc.assert(
      fc.property(rows, (list) => {
        const twice = sampleFrom(list.map((r) => ({ ...r, count: 2 * r.count })));
        const one = weibullOf(sampleFrom(list));
        same(one, weibullOf(twice));
        if (one === null) return;
        const [single, double] = [sampleFrom(list), twice].map(
          (s) => fitLife(s, { kind: 'weibull' }).covariance,
        );
        single?.forEach((value, i) => {
          expect(Math.abs(2 * (double?.[i] as number) - value)).toBeLessThan(1e-5 * Math.abs(value) + 1e-12);
        });
      }),
      RUNS,
    );
  });

  it('are not moved by a life censored at nearly nothing', () => {
    fc.assert(
      fc.property(rows, (list) => {
        const more = [...list, { lower: 1e-300, upper: Infinity, entry: 0, count: 3 }];
        const plain = weibullOf(sampleFrom(list));
        // Where the shape tends to 0 even an age of 1e-300 counts: such laws fail at once or never.
        fc.pre(plain !== null && plain.shape > 0.1);
        same(plain, weibullOf(sampleFrom(more)));
      }),
      RUNS,
    );
  });

  it('beat every neighbour, and samples called not estimable are refused', () => {
    fc.assert(
      fc.property(rows, (list) => {
        const sample = sampleFrom(list);
        const top = weibullOf(sample);
        if (whyShapeNotEstimable(sample) !== null) expect(top).toBeNull();
        if (top === null) return;
        const value = prepareWeibull(sample);
        for (const [b, e] of [
          [1e-3, 0],
          [-1e-3, 0],
          [0, 1e-3],
          [0, -1e-3],
          [0.2, 0.1],
          [-0.2, 0.3],
        ] as const) {
          expect(value(top.shape * Math.exp(b), top.scale * Math.exp(e))).toBeLessThanOrEqual(
            top.logLikelihood + 1e-9,
          );
        }
      }),
      RUNS,
    );
  });
});

describe('likelihood', () => {
  it('prepared, it is the sum over rows, with and without faults', () => {
    fc.assert(
      fc.property(rows, fc.oneof(weibullModel, faulty), (list, model) => {
        const sample = sampleFrom(list);
        const plain = logLikelihood(sample, model);
        const fast = prepareWeibull(sample, model.fault)(model.shape, model.scale);
        if (!Number.isFinite(plain)) return;
        expect(Math.abs(fast - plain)).toBeLessThan(1e-9 * (1 + Math.abs(plain)));
      }),
      RUNS,
    );
  });

  it('has the slopes that differences give', () => {
    fc.assert(
      fc.property(rows, fc.oneof(weibullModel, faulty), (list, model) => {
        const prepared = prepareRows(sampleFrom(list), model.fault);
        const value = prepareWeibull(sampleFrom(list), model.fault);
        const f = ([b, e]: readonly number[]): number => value(Math.exp(b as number), Math.exp(e as number));
        const here = [Math.log(model.shape), Math.log(model.scale)];
        const size = Math.abs(f(here)) + 1;
        fc.pre(size < 1e4);
        const { gradient, hessian } = weibullDerivatives(prepared, model.shape, model.scale);
        const steps = [1e-3, 1e-3];
        differentiate(f, here, steps).forEach((slope, i) => {
          expect(Math.abs(slope - (gradient[i] as number))).toBeLessThan(1e-6 * (size + Math.abs(slope)));
        });
        const second = differentiateTwice(f, here, [0, 1], [2e-3, 2e-3]);
        [second[0], second[1], second[3]].forEach((bend, i) => {
          expect(Math.abs((bend as number) - (hessian[i] as number))).toBeLessThan(
            1e-4 * (size + Math.abs(bend as number)),
          );
        });
      }),
      RUNS,
    );
  });
});

describe('distributions', () => {
  it('age by share failed and back, tiny shares included', () => {
    fc.assert(
      fc.property(anyModel, fc.constantFrom(1e-17, 1e-9, 1e-3, 0.1, 0.5, 0.9, 1 - 1e-9), (model, p) => {
        const t = quantile(model, p);
        expect(apart(cumulativeHazard(model, t), -Math.log1p(-p))).toBeLessThan(1e-9);
      }),
      RUNS,
    );
  });

  it('density is hazard times survival, and the slope of the cumulative hazard', () => {
    fc.assert(
      fc.property(anyModel, fc.double({ min: 0.01, max: 0.99, noNaN: true }), (model, p) => {
        const t = quantile(model, p);
        expect(apart(density(model, t), hazard(model, t) * survival(model, t))).toBeLessThan(1e-10);
        const h = 1e-4 * t;
        const slope = (cumulativeHazard(model, t + h) - cumulativeHazard(model, t - h)) / (2 * h);
        expect(apart(slope, hazard(model, t))).toBeLessThan(1e-4);
      }),
      RUNS,
    );
  });

  it('mean life is the mean so far plus the mean left of those that got there', () => {
    fc.assert(
      fc.property(anyModel, fc.double({ min: 0.001, max: 0.98, noNaN: true }), (model, p) => {
        const t = quantile(model, p);
        const parts = meanUpTo(model, t) + survival(model, t) * remainingLife(model, t);
        expect(apart(parts, meanLife(model))).toBeLessThan(1e-8);
      }),
      RUNS,
    );
  });
});

it('the product limit of uncensored lives is the share still alive', () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 1, max: 50 }), { minLength: 5, maxLength: 40 }), (ages) => {
      const curve = kaplanMeier(lifeSample({ lower: ages, upper: ages }));
      curve.age.forEach((age, i) => {
        const alive = ages.filter((t) => t > age).length / ages.length;
        expect(Math.abs((curve.survival[i] as number) - alive)).toBeLessThan(1e-12);
      });
    }),
    RUNS,
  );
});
