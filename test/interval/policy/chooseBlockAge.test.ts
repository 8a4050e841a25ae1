import { describe, expect, it } from 'vitest';
import { UsageError } from '../../../lib/errors.js';
import { chooseAge } from '../../../lib/interval/chooseAge.js';
import { blockCostRate, chooseBlockAge } from '../../../lib/interval/policy/chooseBlockAge.js';
import { meanLife, survival } from '../../../lib/life/distribution/index.js';
import type { LifeModel } from '../../../lib/life/model.js';

const weibull = (shape: number, scale = 1): LifeModel => ({ kind: 'weibull', shape, scale });

describe('chooseBlockAge', () => {
  it.each([
    ['no wear-out', weibull(1), 10],
    ['a falling leak rate', weibull(0.05), 1e6],
    ['an exponential', { kind: 'exponential', scale: 3 }, 10],
    ['a leak no dearer than a replacement', weibull(4), 1],
    ['a leak cheaper than a replacement', weibull(4), 0.3],
    ['a minimum dearer than running', weibull(3), 2],
    ['no mean life', { kind: 'loglogistic', shape: 0.9, scale: 3 }, 10],
  ] as [string, LifeModel, number][])('runs with %s', (_, model, leak) => {
    const best = chooseBlockAge(model, { replacement: 1, leak });
    expect(best).toMatchObject({ action: 'run', age: null, within2percent: null, within5percent: null });
    expect(best.costRate).toBe(best.costRateRun);
    expect(best.costRateRun).toBeCloseTo(leak / meanLife(model), 12);
  });

  it.each([1.01, 1.5, 6, 20, 50])(
    'shape %d: a dear leak, and where the rate is flat to the left of its minimum',
    (shape) => {
      // So dear a leak that a second one plays no part: M is F, and F is the hazard.
      const leak = 1e9;
      const best = chooseBlockAge(weibull(shape), { replacement: 1, leak });
      const single = (1 / (leak * (shape - 1))) ** (1 / shape);
      // F falls short of the hazard by half of it, a share of 1 / (leak (shape - 1)) or so; M exceeds F by less.
      expect(Math.abs((best.age ?? 0) / single - 1)).toBeLessThan(2 / (leak * (shape - 1)) + 1e-8);
      expect(best.within2percent?.[0]).toBeLessThan(best.age ?? 0);
      expect(best.within2percent?.[1] ?? Infinity).toBeGreaterThan(best.age ?? 0);
    },
  );

  it('shape 50 is nearly a clock: the block comes before it strikes, at either end of the ratios', () => {
    for (const leak of [1.5, 3, 1000]) {
      const { age, costRate } = chooseBlockAge(weibull(50), { replacement: 1, leak });
      const byAge = chooseAge(weibull(50), { replacement: 1, leak });
      expect(age ?? 0).toBeLessThan(0.93);
      expect(costRate / byAge.costRate - 1).toBeGreaterThan(0);
      // At the age of the other policy no more than one leaks: (1 + k F) / (1 + (k - 1) F) is at most 1 + F.
      expect(costRate / byAge.costRate - 1).toBeLessThan(1 - survival(weibull(50), byAge.age ?? 0));
    }
  });

  it('tells local minima apart: the second hump of a shape of 4', () => {
    const { age, costRate, minima } = chooseBlockAge(weibull(4), { replacement: 1, leak: 5 });
    expect(minima.length).toBeGreaterThan(1);
    expect(minima[0]).toEqual({ age, costRate });
    const between = blockCostRate(weibull(4), 1.29, { replacement: 1, leak: 5 });
    for (const minimum of minima) expect(minimum.costRate).toBeLessThan(between);
  });

  it('early leaks of faulty fittings put the block off, and running is within 5 % of a shallow one', () => {
    const faulty: LifeModel = {
      kind: 'weibull',
      shape: 3,
      scale: 900,
      fault: { share: 0.05, shape: 0.8, scale: 10 },
    };
    const costs = { replacement: 1, leak: { early: 12, wear: 10 } };
    const best = chooseBlockAge(faulty, costs);
    const plain = chooseBlockAge(weibull(3, 900), { replacement: 1, leak: 10 });
    expect(best.age ?? 0).toBeGreaterThan(plain.age ?? Infinity);
    const shallow = chooseBlockAge(weibull(1.01), { replacement: 1, leak: 1000 });
    expect(shallow.within5percent?.[1]).toBeNull();
  });

  it('a share of faults of 0 is no fault, and its early cost plays no part', () => {
    const none: LifeModel = { kind: 'weibull', shape: 3, scale: 1, fault: { share: 0, shape: 1, scale: 1 } };
    const costs = { replacement: 1, leak: { early: 1e6, wear: 5 } };
    const plain = chooseBlockAge(weibull(3), { replacement: 1, leak: 5 });
    expect(Math.abs((chooseBlockAge(none, costs).age ?? 0) / (plain.age ?? 1) - 1)).toBeLessThan(1e-9);
  });

  it('openings cost what they cost whatever the interval', () => {
    const opening = { rate: 0.5, cost: 0 };
    const [free, dear] = [0, 7].map((cost) =>
      chooseBlockAge(weibull(3), { replacement: 1, leak: 10, opening: { ...opening, cost } }),
    );
    expect(dear?.age).toBe(free?.age);
    expect((dear?.costRate ?? 0) - (free?.costRate ?? 0)).toBeCloseTo(3.5, 12);
    expect(free?.age ?? 0).toBeGreaterThan(
      chooseBlockAge(weibull(3), { replacement: 1, leak: 10 }).age ?? Infinity,
    );
  });

  it.each([
    { kind: 'lognormal', mu: 6.8, sigma: 0.4 },
    { kind: 'loglogistic', shape: 4, scale: 900 },
    { kind: 'gamma', shape: 3, scale: 300 },
    { kind: 'smallestValue', location: 900, scale: 100 },
    { kind: 'weibull', shape: 2, scale: 500, failureFree: 300 },
  ] as LifeModel[])('serves $kind: no interval on a grid is cheaper', (model) => {
    const costs = { replacement: 1, leak: 10 };
    const best = chooseBlockAge(model, costs);
    expect(best.action).toBe('replace');
    for (let age = 50; age < 2000; age += 150)
      expect(blockCostRate(model, age, costs)).toBeGreaterThanOrEqual(best.costRate * (1 - 1e-9));
  });

  it('where none leaks before a time, the block waits for it', () => {
    const model: LifeModel = { kind: 'weibull', shape: 1, scale: 500, failureFree: 300 };
    const best = chooseBlockAge(model, { replacement: 1, leak: 10 });
    expect(Math.abs((best.age ?? 0) / 300 - 1)).toBeLessThan(1e-9);
    expect(best.costRate).toBeCloseTo(1 / 300, 12);
  });
});

describe('chooseBlockAge refuses nonsense', () => {
  it.each([0, -1, Number.NaN, Infinity])('costs of %d', (cost) => {
    expect(() => chooseBlockAge(weibull(3), { replacement: cost, leak: 10 })).toThrow(UsageError);
    expect(() => chooseBlockAge(weibull(3), { replacement: 1, leak: cost })).toThrow(/chooseBlockAge/);
    expect(() => chooseBlockAge(weibull(3), { replacement: 1, leak: { early: 1, wear: cost } })).toThrow(
      UsageError,
    );
  });
  it('openings, models and ages', () => {
    const costs = { replacement: 1, leak: 10 };
    expect(() => chooseBlockAge(weibull(3), { ...costs, opening: { rate: -1, cost: 1 } })).toThrow(
      UsageError,
    );
    expect(() => chooseBlockAge(weibull(0), costs)).toThrow(UsageError);
    expect(() => chooseBlockAge({ kind: 'weibull', shape: 0.5, scale: 1, failureFree: 1 }, costs)).toThrow(
      UsageError,
    );
    expect(() => blockCostRate(weibull(3), 0, costs)).toThrow(UsageError);
    expect(() => blockCostRate(weibull(3), Number.NaN, costs)).toThrow(UsageError);
    expect(blockCostRate(weibull(3), Infinity, costs)).toBeCloseTo(10 / meanLife(weibull(3)), 12);
  });
});
