/** Minimal repair, discounting, availability and holding: what is an answer, and what is refused. */
import { describe, expect, it } from 'vitest';
import { UsageError } from '../../../lib/errors.js';
import { chooseAge, costRate } from '../../../lib/interval/chooseAge.js';
import { chooseDiscountedAge, discountedCost } from '../../../lib/interval/policy/chooseDiscountedAge.js';
import { chooseHoldingAge } from '../../../lib/interval/policy/chooseHoldingAge.js';
import { chooseRepairAge, repairCostRate } from '../../../lib/interval/policy/chooseRepairAge.js';
import { availability, chooseUptimeAge } from '../../../lib/interval/policy/chooseUptimeAge.js';
import type { LifeModel } from '../../../lib/life/model.js';

const wearing: LifeModel = { kind: 'weibull', shape: 3, scale: 900 };
const steady: LifeModel = { kind: 'exponential', scale: 900 };
const NONSENSE = [0, -1, Number.NaN, Infinity];

describe('chooseRepairAge', () => {
  const costs = { replacement: 1, repair: 0.4 };

  it('says what running comes to where nothing wears out', () => {
    expect(chooseRepairAge(steady, costs)).toEqual({
      action: 'run',
      age: null,
      costRate: 0.4 / 900,
      costRateRun: 0.4 / 900,
      minima: [],
    });
    expect(chooseRepairAge({ kind: 'weibull', shape: 0.7, scale: 900 }, costs)).toMatchObject({
      action: 'run',
      costRate: 0,
    });
    expect(chooseRepairAge(wearing, costs).costRateRun).toBeNull();
  });

  it('with a leak rate that falls in the end, running is cheapest by the letter, and the minimum is told', () => {
    const { action, minima } = chooseRepairAge(
      { kind: 'lognormal', mu: 6.8, sigma: 0.4 },
      { replacement: 1, repair: 2 },
    );
    expect(action).toBe('run');
    expect(minima).toHaveLength(1);
  });

  it('gamma: level in the end, so that a dear repair has an age and a cheap one none that matters', () => {
    const gamma: LifeModel = { kind: 'gamma', shape: 3, scale: 300 };
    const dear = chooseRepairAge(gamma, { replacement: 1, repair: 5 });
    expect(dear.action).toBe('replace');
    expect(dear.costRateRun).toBeCloseTo(5 / 300, 14);
    for (let age = 20; age < 20_000; age *= 1.1)
      expect(repairCostRate(gamma, age, { replacement: 1, repair: 5 })).toBeGreaterThanOrEqual(
        dear.costRate * (1 - 1e-12),
      );
    expect(chooseRepairAge(gamma, { replacement: 1, repair: 0.001 }).action).toBe('run');
  });

  it('waits for the end of a failure-free time', () => {
    const model: LifeModel = { kind: 'weibull', shape: 1, scale: 500, failureFree: 300 };
    const best = chooseRepairAge(model, { replacement: 1, repair: 50 });
    expect(Math.abs((best.age ?? 0) / 300 - 1)).toBeLessThan(1e-9);
  });

  it.each([0.01, 1, 100])('shapes 1.001 to 50, a repair of %d: the slope vanishes', (repair) => {
    for (const shape of [1.001, 1.1, 2, 10, 50]) {
      const best = chooseRepairAge({ kind: 'weibull', shape, scale: 1e9 }, { replacement: 1, repair });
      const hazard = ((best.age ?? 0) / 1e9) ** shape;
      expect(Math.abs((shape - 1) * hazard * repair - 1)).toBeLessThan(1e-10);
    }
  });

  it('refuses nonsense', () => {
    for (const value of NONSENSE) {
      expect(() => chooseRepairAge(wearing, { replacement: value, repair: 1 })).toThrow(UsageError);
      expect(() => chooseRepairAge(wearing, { replacement: 1, repair: value })).toThrow(/cost of a repair/);
      expect(() => repairCostRate(wearing, value, costs)).toThrow(UsageError);
    }
    // exp(-8) of this law fail at once.
    expect(() => chooseRepairAge({ kind: 'smallestValue', location: 8, scale: 1 }, costs)).toThrow(
      /fails at once/,
    );
  });
});

describe('chooseDiscountedAge', () => {
  const costs = { replacement: 1, leak: 10, discountRate: 1e-4 };

  it('agrees with a closed form: an exponential replaced at T', () => {
    // Per cycle: E exp(-r Z) paid at the end. Rate r, leak rate m: present cost = paid / (1 - E exp(-r Z)).
    const [T, r, m] = [200, 1e-3, 1 / 900];
    const left = Math.exp(-(r + m) * T);
    const leaked = (m / (m + r)) * (1 - left);
    const expected = (left + 10 * leaked) / (1 - left - leaked);
    expect(discountedCost(steady, T, { ...costs, discountRate: r }) / expected).toBeCloseTo(1, 12);
  });

  it('a heavy discount puts the replacement off', () => {
    const plain = chooseAge(wearing, { replacement: 1, leak: 10 });
    const heavy = chooseDiscountedAge(wearing, { ...costs, discountRate: 0.01 });
    expect(heavy.age ?? Infinity).toBeGreaterThan(plain.age ?? Infinity);
    expect(heavy.presentCost).toBeLessThan(heavy.presentCostRun);
    expect(heavy.costRate).toBeCloseTo(0.01 * heavy.presentCost, 14);
  });

  it('runs without wear-out or with a leak no dearer than a replacement', () => {
    expect(chooseDiscountedAge(steady, costs).action).toBe('run');
    expect(chooseDiscountedAge(wearing, { ...costs, leak: 1 })).toMatchObject({ action: 'run', age: null });
  });

  it('hands back the costs that it was given, openings too', () => {
    const chosen = chooseDiscountedAge(wearing, { ...costs, opening: { rate: 0.001, cost: 3 } });
    expect(chosen.costs).toEqual({ replacement: 1, earlyLeak: 10, wearLeak: 10, opening: 3 });
  });

  it('refuses nonsense', () => {
    for (const value of NONSENSE) {
      expect(() => chooseDiscountedAge(wearing, { ...costs, discountRate: value })).toThrow(/discount rate/);
      expect(() => chooseDiscountedAge(wearing, { ...costs, leak: value })).toThrow(UsageError);
    }
    expect(() => discountedCost(wearing, 0, costs)).toThrow(UsageError);
  });
});

describe('chooseUptimeAge', () => {
  it('runs where a leak holds up no longer than a replacement', () => {
    expect(chooseUptimeAge(wearing, { replacement: 0.2, leak: 0.2 })).toMatchObject({
      action: 'run',
      age: null,
    });
  });

  it('a position that never leaks early is down once an interval', () => {
    const sure: LifeModel = { kind: 'weibull', shape: 3, scale: 1, failureFree: 100 };
    expect(availability(sure, 90, { replacement: 10, leak: 20 })).toBeCloseTo(0.9, 12);
  });

  it('refuses nonsense', () => {
    for (const value of NONSENSE)
      expect(() => chooseUptimeAge(wearing, { replacement: 0.1, leak: value })).toThrow(UsageError);
    expect(() => availability(wearing, -1, { replacement: 0.1, leak: 1 })).toThrow(UsageError);
  });
});

describe('chooseHoldingAge', () => {
  it('finds no age where more than that share fails at once, and the failure-free time where none may fail', () => {
    const atOnce: LifeModel = { kind: 'smallestValue', location: 3, scale: 1 };
    expect(chooseHoldingAge(atOnce, { target: 0.99 }).age).toBeNull();
    expect(chooseHoldingAge(wearing, { target: 1 }).age).toBeNull();
    const after: LifeModel = { kind: 'weibull', shape: 2, scale: 500, failureFree: 300 };
    expect(chooseHoldingAge(after, { target: 1 }).age).toBe(300);
  });

  it('keeps its digits for targets next to 0', () => {
    expect(chooseHoldingAge(steady, { target: 1e-300 }).age).toBeCloseTo(900 * 300 * Math.LN10, 6);
  });

  it('with wear-out and sound fittings a fresh one is always the safer', () => {
    const { overWindow } = chooseHoldingAge(wearing, { target: 0.99, window: 180 });
    expect(overWindow).toMatchObject({ freshMeets: true, replaceFrom: 0 });
    expect(overWindow?.ages).toHaveLength(1);
    expect(overWindow?.ages[0]?.[0]).toBe(0);
  });

  it('without wear-out no age is better or worse, and with a falling leak rate old ones are kept', () => {
    const same = chooseHoldingAge(steady, { target: 0.8, window: 180 }).overWindow;
    expect(same).toMatchObject({ ages: [[0, null]], replaceFrom: null });
    const falling: LifeModel = { kind: 'weibull', shape: 0.5, scale: 900 };
    const kept = chooseHoldingAge(falling, { target: 0.9, window: 180 }).overWindow;
    expect(kept?.replaceFrom).toBeNull();
    expect(kept?.ages[0]?.[1]).toBeNull();
    expect(kept?.ages[0]?.[0]).toBeGreaterThan(0);
  });

  it('no age meets a target beyond reach', () => {
    expect(chooseHoldingAge(steady, { target: 0.9, window: 180 }).overWindow?.ages).toEqual([]);
  });

  it('refuses nonsense', () => {
    for (const target of [0, -0.1, 1.01, Number.NaN])
      expect(() => chooseHoldingAge(wearing, { target })).toThrow(/target/);
    for (const window of NONSENSE)
      expect(() => chooseHoldingAge(wearing, { target: 0.9, window })).toThrow(/window/);
  });
});

it('a law without a mean costs nothing per day in the long run, and is no NaN', () => {
  const endless: LifeModel = { kind: 'loglogistic', shape: 0.9, scale: 900 };
  const chosen = chooseAge(endless, { replacement: 1, leak: 10 });
  expect(chosen).toMatchObject({ action: 'run', costRate: 0, costRateRun: 0 });
  expect(costRate(endless, Infinity, { replacement: 1, leak: 10 })).toBe(0);
});
