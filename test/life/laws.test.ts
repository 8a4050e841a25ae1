/** Laws that every life distribution keeps, and how the wider families hold the narrower ones. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  conditionalSurvival,
  cumulativeHazard,
  density,
  hazard,
  lifeVariance,
  logSurvival,
  meanLife,
  meanUpTo,
  quantile,
  remainingLife,
  survival,
} from '../../lib/life/distribution/index.js';
import type { LifeModel } from '../../lib/life/model.js';
import { integrate } from '../../lib/numeric/quadrature.js';
import { logGamma } from '../../lib/numeric/special.js';
import { apart } from '../reference/life/samples.js';

const RUNS = { numRuns: 150, seed: 20_263 };
const from = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true });
const ageUnit = from(50, 5000);
const gamma = fc.record({
  kind: fc.constant('gamma' as const),
  shape: from(0.3, 3000),
  scale: from(0.1, 500),
});
const general = fc.record({
  kind: fc.constant('generalisedGamma' as const),
  mu: from(2, 8),
  sigma: from(0.05, 0.6),
  q: fc.oneof(from(-0.8, 3), from(-0.02, 0.02), fc.constant(0)),
});
const smallest = fc
  .tuple(ageUnit, from(0.02, 0.5))
  .map(([location, part]) => ({ kind: 'smallestValue' as const, location, scale: part * location }));
const delayed = fc.record({
  kind: fc.constant('weibull' as const),
  shape: from(0.5, 8),
  scale: ageUnit,
  failureFree: from(0, 2000),
});
const older = fc.oneof(
  fc.record({ kind: fc.constant('weibull' as const), shape: from(0.3, 8), scale: ageUnit }),
  fc.record({ kind: fc.constant('exponential' as const), scale: ageUnit }),
  fc.record({ kind: fc.constant('lognormal' as const), mu: from(2, 8), sigma: from(0.1, 0.8) }),
  fc.record({ kind: fc.constant('loglogistic' as const), shape: from(3, 9), scale: ageUnit }),
);
const anyModel: fc.Arbitrary<LifeModel> = fc.oneof(gamma, general, smallest, delayed, older);
const chance = from(0.001, 0.99);

/** The same lives, counted in another unit of age. */
function scaled(model: LifeModel, by: number): LifeModel {
  if (model.kind === 'mixture' || model.kind === 'competing') throw new Error('not among these');
  if ('mu' in model) return { ...model, mu: model.mu + Math.log(by) };
  if (model.kind === 'smallestValue')
    return { ...model, location: model.location * by, scale: model.scale * by };
  const more = model.kind === 'weibull' ? { failureFree: (model.failureFree ?? 0) * by } : {};
  return { ...model, scale: model.scale * by, ...more };
}

const holds = <T>(arbitrary: fc.Arbitrary<T>, law: (model: T, p: number) => void): void =>
  fc.assert(fc.property(arbitrary, chance, law), RUNS);

describe('every law', () => {
  it('has a quantile that undoes survival', () => {
    holds(anyModel, (model, p) => {
      fc.pre(1 - p < survival(model, 0));
      expect(apart(survival(model, quantile(model, p)), 1 - p)).toBeLessThan(1e-10);
    });
  });

  it('moves with the unit of age', () => {
    holds(anyModel, (model, p) => {
      const t = quantile(model, p);
      const other = scaled(model, 24);
      expect(apart(logSurvival(other, 24 * t), logSurvival(model, t))).toBeLessThan(1e-9);
      expect(apart(lifeVariance(other), 576 * lifeVariance(model))).toBeLessThan(1e-9);
      expect(apart(24 * density(other, 24 * t), density(model, t))).toBeLessThan(1e-9);
    });
  });

  it('has a density that is the slope of its cumulative hazard, times survival', () => {
    holds(anyModel, (model, p) => {
      const t = quantile(model, p);
      fc.pre(t > 0 && t > 1.001 * (model.kind === 'weibull' ? (model.failureFree ?? 0) : 0));
      expect(apart(density(model, t), hazard(model, t) * survival(model, t))).toBeLessThan(1e-9);
      const h = 1e-5 * t;
      const slope = (cumulativeHazard(model, t + h) - cumulativeHazard(model, t - h)) / (2 * h);
      expect(apart(slope, hazard(model, t))).toBeLessThan(1e-4);
    });
  });

  it('has a mean life that is the mean so far plus what is left', () => {
    holds(anyModel, (model, p) => {
      const t = quantile(model, p);
      const parts = meanUpTo(model, t) + survival(model, t) * remainingLife(model, t);
      expect(apart(parts, meanLife(model))).toBeLessThan(1e-9);
    });
  });

  it('has the variance that quadrature over survival gives', () => {
    holds(anyModel, (model) => {
      const mean = meanLife(model);
      const tail = (x: number): number => 2 * Math.exp(2 * x + logSurvival(model, Math.exp(x)));
      // Tails that fall slower than age to the power of -3 would have to be followed without end.
      fc.pre(!(model.kind === 'generalisedGamma' && model.sigma * model.q < -1 / 3));
      const shares = [1e-12, 1e-9, 1e-6, 1e-4, 0.01, 0.1, 0.5, 0.9, 0.99, 0.999, 1 - 1e-6, 1 - 1e-12];
      const points = shares.map((p) => Math.log(quantile(model, p)));
      const end = Math.log(mean) + 60;
      const square = integrate(tail, Math.log(mean) - 40, end, { points, relative: 1e-13 }).value;
      expect(Math.abs(square - mean * mean - lifeVariance(model))).toBeLessThan(1e-10 * square);
    });
  });

  it('has a conditional survival that multiplies up', () => {
    holds(anyModel, (model, p) => {
      const [given, t] = [quantile(model, 0.5 * p), quantile(model, p)];
      const product = conditionalSurvival(model, t, given) * survival(model, given);
      expect(apart(product, survival(model, t))).toBeLessThan(1e-12);
      expect(conditionalSurvival(model, given, t)).toBe(1);
    });
  });
});

describe('families', () => {
  const same = (a: LifeModel, b: LifeModel, tolerance: number): void => {
    for (const p of [1e-15, 1e-3, 0.3, 0.9, 1 - 1e-9]) {
      const t = quantile(b, p);
      expect(apart(cumulativeHazard(a, t), cumulativeHazard(b, t))).toBeLessThan(tolerance);
      expect(apart(quantile(a, p), t)).toBeLessThan(tolerance);
      expect(apart(hazard(a, t), hazard(b, t))).toBeLessThan(tolerance);
    }
    expect(apart(meanLife(a), meanLife(b))).toBeLessThan(tolerance);
    expect(apart(lifeVariance(a), lifeVariance(b))).toBeLessThan(tolerance);
  };

  it.each([0.2, 0.5, 1, 2])('generalised gamma with q 1 and sigma %d is a Weibull', (sigma) => {
    const general = { kind: 'generalisedGamma', mu: 6, sigma, q: 1 } as const;
    same(general, { kind: 'weibull', shape: 1 / sigma, scale: Math.exp(6) }, 1e-11);
  });

  it.each([0, 1e-14, 1e-12, -1e-12])('generalised gamma with q %d is a lognormal', (q) => {
    const general = { kind: 'generalisedGamma', mu: 6, sigma: 0.5, q } as const;
    same(general, { kind: 'lognormal', mu: 6, sigma: 0.5 }, 1e-9);
  });

  it.each([0.01, 0.1, 0.7, 3])('generalised gamma with q = sigma = %d is a gamma', (q) => {
    const shape = q ** -2;
    const general = { kind: 'generalisedGamma', mu: Math.log(900), sigma: q, q } as const;
    same(general, { kind: 'gamma', shape, scale: 900 / shape }, 1e-10);
  });

  it('gamma with shape 1 is exponential, with whole shape a sum of stages', () => {
    same({ kind: 'gamma', shape: 1, scale: 70 }, { kind: 'exponential', scale: 70 }, 1e-12);
    const three = { kind: 'gamma', shape: 3, scale: 1 } as const;
    for (const t of [0.5, 4, 700]) {
      expect(apart(logSurvival(three, t), Math.log(1 + t + (t * t) / 2) - t)).toBeLessThan(1e-12);
    }
    expect(apart(cumulativeHazard(three, 1e-80), 1e-240 / 6)).toBeLessThan(1e-12);
    expect(apart(logSurvival(three, 2000), Math.log(1 + 2000 + 2e6) - 2000)).toBeLessThan(1e-13);
  });

  it('a failure-free time of 0 changes nothing', () => {
    const plain = { kind: 'weibull', shape: 2.5, scale: 700 } as const;
    same({ ...plain, failureFree: 0 }, plain, 1e-15);
  });

  it('means and variances have their closed forms', () => {
    const gap = { kind: 'weibull', shape: 2, scale: 100, failureFree: 50 } as const;
    expect(apart(meanLife(gap), 50 + 100 * Math.exp(logGamma(1.5)))).toBeLessThan(1e-13);
    expect(apart(lifeVariance(gap), 1e4 * (1 - Math.PI / 4))).toBeLessThan(1e-12);
    const smallest = { kind: 'smallestValue', location: 1000, scale: 20 } as const;
    expect(apart(meanLife(smallest), 1000 - 20 * 0.5772156649015329)).toBeLessThan(1e-12);
    expect(apart(lifeVariance(smallest), (400 * Math.PI ** 2) / 6)).toBeLessThan(1e-11);
    expect(lifeVariance({ kind: 'loglogistic', shape: 2, scale: 1 })).toBe(Infinity);
    expect(meanLife({ kind: 'generalisedGamma', mu: 0, sigma: 1, q: -1 })).toBe(Infinity);
    // Inverse Weibull of shape 1: survival 1 - exp(-1 / t).
    const inverse = { kind: 'generalisedGamma', mu: 0, sigma: 1, q: -1 } as const;
    const upTo = integrate((t) => -Math.expm1(-1 / t), 0, 9, { points: [0.1, 1], relative: 1e-13 }).value;
    expect(apart(meanUpTo(inverse, 9), upTo)).toBeLessThan(1e-11);
  });

  it('smallest values below age 0 have failed at age 0', () => {
    const model = { kind: 'smallestValue', location: 300, scale: 100 } as const;
    const atOnce = -Math.expm1(-Math.exp(-3));
    expect(apart(1 - survival(model, 0), atOnce)).toBeLessThan(1e-13);
    expect(quantile(model, 0.99 * atOnce)).toBe(0);
    expect(quantile(model, 1.01 * atOnce)).toBeGreaterThan(0);
  });
});
