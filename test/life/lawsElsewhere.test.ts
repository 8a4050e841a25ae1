/** The wider life laws where other rooms use them: lives at random, renewals, the age of least cost, and what is refused. */
import { describe, expect, it } from 'vitest';
import { UsageError } from '../../lib/errors.js';
import { type ChooseAgeCosts, chooseAge, costRate } from '../../lib/interval/chooseAge.js';
import {
  conditionalSurvival,
  density,
  drawLives,
  hazard,
  lifeVariance,
  meanLife,
  meanUpTo,
  quantile,
  remainingLife,
  survival,
} from '../../lib/life/distribution/index.js';
import { fitLife } from '../../lib/life/estimate/fit.js';
import type { LifeKind, LifeModel } from '../../lib/life/model.js';
import { renewalCount } from '../../lib/life/renewal.js';
import { lifeSample } from '../../lib/life/sample.js';
import { integrate } from '../../lib/numeric/quadrature.js';
import { randomStream } from '../../lib/numeric/random.js';
import { logGamma } from '../../lib/numeric/special.js';
import { apart } from '../reference/life/samples.js';

const MODELS: LifeModel[] = [
  { kind: 'gamma', shape: 6, scale: 150 },
  { kind: 'generalisedGamma', mu: 6.8, sigma: 0.3, q: 2 },
  { kind: 'generalisedGamma', mu: 6.8, sigma: 0.3, q: -0.5 },
  { kind: 'smallestValue', location: 1000, scale: 250 },
  { kind: 'weibull', shape: 2.5, scale: 700, failureFree: 300 },
];

describe.each(MODELS)('$kind', (model) => {
  it('gives lives at random with its mean and share alive, within 4 standard errors', () => {
    const count = 40_000;
    const lives = drawLives(model, count, randomStream(20_264, 'lives'));
    const mean = lives.reduce((total, life) => total + life, 0) / count;
    expect(Math.abs(mean - meanLife(model))).toBeLessThan(4 * Math.sqrt(lifeVariance(model) / count));
    const old = drawLives(model, count, randomStream(20_264, 'old'), { survivedTo: 600 });
    const share = conditionalSurvival(model, 900, 600);
    const alive = old.filter((life) => life > 900).length / count;
    expect(Math.min(...old)).toBeGreaterThanOrEqual(600);
    expect(Math.abs(alive - share)).toBeLessThan(4 * Math.sqrt((share * (1 - share)) / count));
  });

  it('has renewals as lives laid end to end give them, within 4 standard errors', () => {
    const [count, t] = [20_000, 2500];
    const lives = drawLives(model, 12 * count, randomStream(20_265, 'renewals'));
    let [total, squares] = [0, 0];
    for (let i = 0, next = 0; i < count && next < lives.length - 50; i++) {
      let renewals = -1;
      for (let age = 0; age <= t; renewals++) age += lives[next++] as number;
      total += renewals;
      squares += renewals ** 2;
    }
    const mean = total / count;
    const error = Math.sqrt((squares / count - mean * mean) / count);
    expect(Math.abs(renewalCount(model, t) - mean)).toBeLessThan(4 * error);
  });

  it.each([
    { replacement: 1, leak: 10 },
    { replacement: 1, leak: 3, opening: { rate: 0.0005, cost: 0.5 } },
  ] as ChooseAgeCosts[])('has an age of least cost: no age on a fine grid is cheaper (%#)', (costs) => {
    const chosen = chooseAge(model, costs);
    for (let age = 20; age < 3000; age += 7) {
      expect(costRate(model, age, costs)).toBeGreaterThanOrEqual(chosen.costRate * (1 - 1e-12));
    }
  });

  it('costs what its mean life up to an age says', () => {
    for (const age of [200, 302, 500, 900]) {
      const s = survival(model, age);
      const rate = (s + 10 * (1 - s)) / meanUpTo(model, age);
      expect(apart(costRate(model, age, { replacement: 1, leak: 10 }), rate)).toBeLessThan(1e-9);
    }
  });
});

describe('renewals', () => {
  it('of stages in a row have a closed form', () => {
    const two = { kind: 'gamma', shape: 2, scale: 100 } as const;
    for (const x of [0.01, 1, 3, 20]) {
      const exact = x / 2 - 0.25 + 0.25 * Math.exp(-2 * x);
      expect(apart(renewalCount(two, 100 * x), exact)).toBeLessThan(1e-8);
    }
  });

  it('after a failure-free time are sums of delayed stages', () => {
    const model = { kind: 'weibull', shape: 1, scale: 100, failureFree: 300 } as const;
    for (const t of [250, 350, 950, 3000]) {
      let exact = 0;
      for (let n = 1; 300 * n < t; n++)
        exact += 1 - survival({ kind: 'gamma', shape: n, scale: 100 }, t - 300 * n);
      expect(Math.abs(renewalCount(model, t) - exact)).toBeLessThan(1e-8 * (1 + exact));
    }
  });

  it('after a failure-free time are, up to three of them, one life and two', () => {
    for (const shape of [1.2, 1.5, 2.5]) {
      const model = { kind: 'weibull', shape, scale: 100, failureFree: 300 } as const;
      const failed = (t: number): number => 1 - survival(model, t);
      const wear = (x: number): number => Math.exp(-((x / 100) ** shape));
      // Over the chance of the first life, which has no corner.
      const first = (u: number): number => 300 + 100 * (-Math.log1p(-u)) ** (1 / shape);
      const both = integrate((u) => failed(700 - first(u)), 0, 1 - wear(100), { relative: 1e-12 }).value;
      expect(apart(renewalCount(model, 700), failed(700) + both)).toBeLessThan(1e-8);
    }
  });

  it('after a failure-free time are refused where the failure rate begins without limit', () => {
    const model = { kind: 'weibull', shape: 0.8, scale: 100, failureFree: 300 } as const;
    expect(() => renewalCount(model, 700)).toThrow(/needs a shape at or above 1/);
  });
});

describe('extreme parameters and ages', () => {
  const shapes = [1e-5, 1e-3, 0.4, 30, 1e9, 1e15];
  const skews = [-100, -1, -1e-7, 1e-7, 100];
  it.each([
    ...shapes.map((shape) => ({ kind: 'gamma', shape, scale: 1 })),
    ...skews.map((q) => ({ kind: 'generalisedGamma', mu: 6, sigma: 0.3, q })),
    { kind: 'smallestValue', location: 1e-3, scale: 1e3 },
    { kind: 'smallestValue', location: 1e3, scale: 1e-3 },
    { kind: 'weibull', shape: 200, scale: 1, failureFree: 1e6 },
  ] as LifeModel[])('%j gives numbers, and survival that falls from 1 to 0', (model) => {
    let before = 1;
    for (const t of [0, 1e-300, 1e-10, 1, 400, 500, 1e5, 1e9, 1.001e9, 1e15, 1e300, Infinity]) {
      const s = survival(model, t);
      expect(s).toBeLessThanOrEqual(before);
      expect(density(model, t)).toBeGreaterThanOrEqual(0);
      expect(hazard(model, t)).toBeGreaterThanOrEqual(0);
      expect(meanUpTo(model, t)).toBeGreaterThanOrEqual(0);
      before = s;
    }
    expect(before).toBe(0);
    for (const p of [1e-300, 1e-15, 0.5, 1 - 1e-15]) expect(quantile(model, p)).toBeGreaterThanOrEqual(0);
  });

  it('an x too small for a number keeps its log', () => {
    // Survival of the mirrored law is P(a, u) = u^a / Gamma(a + 1) where u is next to nothing.
    const model = { kind: 'generalisedGamma', mu: 0, sigma: 0.3, q: -100 } as const;
    const w = Math.log(1e5) / 0.3;
    const log = 1e-4 * (-100 * w + Math.log(1e-4)) - logGamma(1 + 1e-4);
    expect(apart(survival(model, 1e5), Math.exp(log))).toBeLessThan(1e-12);
  });

  it('the failure rate of a gamma ends at 1 / scale', () => {
    expect(hazard({ kind: 'gamma', shape: 5, scale: 20 }, Infinity)).toBeCloseTo(0.05, 14);
    expect(() => remainingLife({ kind: 'gamma', shape: 5, scale: 20 }, Infinity)).toThrow(/no life reaches/);
  });
});

describe('nonsense is refused', () => {
  it.each([
    { kind: 'gamma', shape: 0, scale: 1 },
    { kind: 'gamma', shape: 2, scale: -1 },
    { kind: 'gamma', shape: Number.NaN, scale: 1 },
    { kind: 'gamma', shape: 2, scale: Infinity },
    { kind: 'generalisedGamma', mu: Infinity, sigma: 1, q: 0 },
    { kind: 'generalisedGamma', mu: 0, sigma: 0, q: 0 },
    { kind: 'generalisedGamma', mu: 0, sigma: 1, q: Number.NaN },
    { kind: 'smallestValue', location: 0, scale: 1 },
    { kind: 'smallestValue', location: 10, scale: 0 },
    { kind: 'weibull', shape: 2, scale: 10, failureFree: -1 },
    { kind: 'weibull', shape: 2, scale: 10, failureFree: Number.NaN },
    { kind: 'weibull', shape: 2, scale: 10, failureFree: 5, fault: { share: 0.1, shape: 1, scale: 1 } },
  ] as LifeModel[])('%j', (model) => {
    expect(() => survival(model, 1)).toThrow(UsageError);
    expect(() => lifeVariance(model)).toThrow(UsageError);
    expect(() => renewalCount(model, 1)).toThrow(UsageError);
    expect(() => chooseAge(model, { replacement: 1, leak: 5 })).toThrow(UsageError);
  });

  it('an age given that no life reaches, or below 0', () => {
    const model = { kind: 'gamma', shape: 2, scale: 1 } as const;
    expect(() => conditionalSurvival(model, Infinity, Infinity)).toThrow(/no life reaches/);
    expect(() => conditionalSurvival(model, 1, -1)).toThrow(UsageError);
    expect(conditionalSurvival(model, 1e5 + 1, 1e5)).toBeCloseTo(Math.exp(-1) * (1 + 1e-5), 8);
  });

  it('a fit of a law that is not fitted', () => {
    const sample = lifeSample({ lower: [1, 2, 3], upper: [1, 2, 3] });
    for (const kind of ['mixture', 'competing', 'normal'] as LifeKind[]) {
      expect(() => fitLife(sample, { kind: kind as 'weibull' })).toThrow(
        /kind must be one of weibull, expon/,
      );
    }
  });
});
