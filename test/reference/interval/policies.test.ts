/**
 * Replacement policies against published.json (computed outside with 40 digits and more) and, by another road, policies.json
 * (policies.py). Tolerances are those of the method where none is said: 1e-8 for what rests on the renewal function, 1e-9 else.
 */
import { describe, expect, it } from 'vitest';
import { chooseAge, costRate } from '../../../lib/interval/chooseAge.js';
import { blockCostRate, chooseBlockAge } from '../../../lib/interval/policy/chooseBlockAge.js';
import { chooseDiscountedAge, discountedCost } from '../../../lib/interval/policy/chooseDiscountedAge.js';
import { chooseHoldingAge } from '../../../lib/interval/policy/chooseHoldingAge.js';
import { chooseRepairAge, repairCostRate } from '../../../lib/interval/policy/chooseRepairAge.js';
import { availability, chooseUptimeAge } from '../../../lib/interval/policy/chooseUptimeAge.js';
import type { LifeModel } from '../../../lib/life/model.js';
import values from './policies.json' with { type: 'json' };
import cases from './published.json' with { type: 'json' };

function apart(value: number | null | undefined, expected: number): number {
  return Math.abs((value ?? Number.NaN) / expected - 1);
}

const weibull = (shape: number, scale = 1): LifeModel => ({ kind: 'weibull', shape, scale });

describe('age replacement', () => {
  it('E1: optimum, cost rate and saving of 25 Weibull cases', () => {
    expect(cases.E1.expected.rows).toHaveLength(25);
    for (const row of cases.E1.expected.rows) {
      const best = chooseAge(weibull(row.shape), { replacement: 1, leak: row.ratio });
      expect(apart(best.age, row.optimalAge)).toBeLessThan(1e-9);
      expect(apart(best.costRate, row.costRate)).toBeLessThan(1e-9);
      expect(apart(best.costRateRun, row.costRateRunToFailure)).toBeLessThan(1e-9);
      // A saving of 0.16 % is a small difference: to 1e-9 of the rates themselves.
      expect(Math.abs(1 - best.costRate / best.costRateRun - row.savingFraction)).toBeLessThan(1e-9);
    }
  });

  it('K1: what replacing at 365 d costs, and running, where the schedule hides the wear-out', () => {
    const costs = { replacement: 1, leak: 10 };
    expect(apart(costRate(weibull(3, 900), 365, costs), cases.K1.values.costRateAt365)).toBeLessThan(1e-11);
    expect(apart(costRate(weibull(3, 900), Infinity, costs), cases.K1.values.costRateRun)).toBeLessThan(
      1e-11,
    );
  });
});

describe('block replacement', () => {
  it.each(cases.E6.expected.rows)('E6: shape $shape, ratio $ratio', (row) => {
    const best = chooseBlockAge(weibull(row.shape), { replacement: 1, leak: row.ratio });
    expect(apart(best.costRateRun, row.runToFailureCostRate)).toBeLessThan(1e-9);
    expect(best.action).toBe(row.betterThanRunToFailure ? 'replace' : 'run');
    if (row.betterThanRunToFailure) {
      expect(apart(best.age, row.optimalInterval ?? 0)).toBeLessThan(1e-8);
      expect(apart(best.costRate, row.costRate ?? 0)).toBeLessThan(1e-9);
    } else {
      expect(best.age).toBeNull();
      expect(best.costRate).toBe(best.costRateRun);
    }
    // Stationary points alternate, minimum first: ours are every other one, as far as both searched.
    const listed = row.localOptima.filter((age, i) => i % 2 === 0 && age <= (best.searchedTo ?? 0));
    const found = best.minima.slice(0, listed.length);
    expect(found).toHaveLength(listed.length);
    found.forEach(({ age }, i) => {
      expect(apart(age, listed[i] ?? 0)).toBeLessThan(1e-7);
    });
  });

  it('E6 again by the power series: the first minimum and its rate', () => {
    expect(values.block).toHaveLength(25);
    for (const { shape, ratio, first, rate } of values.block) {
      const [minimum] = chooseBlockAge(weibull(shape), { replacement: 1, leak: ratio }).minima;
      if (first === null || rate === null) expect(minimum).toBeUndefined();
      else {
        expect(apart(minimum?.age, first)).toBeLessThan(1e-8);
        expect(apart(minimum?.costRate, rate)).toBeLessThan(1e-9);
      }
    }
  });

  it('E9: the cost curves of both policies', () => {
    const costs = { replacement: 1, leak: 5 };
    expect(cases.E9.expected.rows).toHaveLength(8);
    for (const row of cases.E9.expected.rows) {
      expect(apart(costRate(weibull(2), row.T, costs), row.costRate)).toBeLessThan(1e-10);
      expect(apart(blockCostRate(weibull(2), row.T, costs), row.blockCostRate)).toBeLessThan(1e-9);
    }
  });

  it('with faulty fittings, dear early leaks and openings', () => {
    for (const { T, rate } of values.blockWithFaults) {
      expect(apart(blockCostRate(faulty, T, faultyCosts), rate)).toBeLessThan(1e-8);
    }
  });
});

const faulty: LifeModel = {
  kind: 'weibull',
  shape: 3,
  scale: 900,
  fault: { share: 0.05, shape: 2, scale: 15 },
};
const faultyCosts = { replacement: 1, leak: { early: 4, wear: 10 }, opening: { rate: 0.0006, cost: 2 } };

describe('minimal repair', () => {
  it('E3: closed form of the Weibull', () => {
    expect(cases.E3.expected.rows).toHaveLength(25);
    for (const row of cases.E3.expected.rows) {
      const best = chooseRepairAge(weibull(row.shape), { replacement: 1, repair: row.repairToReplacement });
      expect(apart(best.age, row.optimalInterval)).toBeLessThan(1e-12);
      expect(apart(best.costRate, row.costRate)).toBeLessThan(1e-12);
    }
  });

  it('E3 by the numeric road too: a failure-free time next to none, and two like modes', () => {
    for (const row of cases.E3.expected.rows) {
      const costs = { replacement: 1, repair: row.repairToReplacement };
      const after = chooseRepairAge(
        { kind: 'weibull', shape: row.shape, scale: 1, failureFree: 1e-13 },
        costs,
      );
      expect(apart(after.age, row.optimalInterval)).toBeLessThan(1e-10);
      const half = weibull(row.shape, 2 ** (1 / row.shape));
      const both = chooseRepairAge({ kind: 'competing', modes: [half, half] }, costs);
      expect(apart(both.age, row.optimalInterval)).toBeLessThan(1e-10);
    }
  });

  it('other laws: the minimum of the cost rate', () => {
    const models: Record<string, LifeModel> = {
      lognormal: { kind: 'lognormal', mu: 6.8, sigma: 0.4 },
      loglogistic: { kind: 'loglogistic', shape: 4, scale: 900 },
      faults: { kind: 'weibull', shape: 3, scale: 900, fault: { share: 0.03, shape: 0.8, scale: 10 } },
    };
    for (const { kind, repair, age, rate } of values.repair) {
      const model = models[kind] as LifeModel;
      const { minima } = chooseRepairAge(model, { replacement: 1, repair });
      // A search by values finds a flat minimum to about 1e-7 only; its rate is good to 1e-12.
      const nearest = minima.find((minimum) => apart(minimum.age, age) < 1e-5);
      expect(apart(nearest?.costRate, rate)).toBeLessThan(1e-11);
      expect(apart(repairCostRate(model, age, { replacement: 1, repair }), rate)).toBeLessThan(1e-12);
    }
  });
});

describe('other aims of an age', () => {
  it('discounted cost with faulty fittings and openings', () => {
    for (const { rate, at, best, bestCost, run } of values.discounted) {
      const costs = { ...faultyCosts, discountRate: rate };
      for (const { T, cost } of at) expect(apart(discountedCost(faulty, T, costs), cost)).toBeLessThan(1e-10);
      const chosen = chooseDiscountedAge(faulty, costs);
      // The place by values alone, 1e-7 at best.
      expect(apart(chosen.age, best)).toBeLessThan(1e-6);
      expect(apart(chosen.presentCost, bestCost)).toBeLessThan(1e-10);
      expect(apart(chosen.presentCostRun, run)).toBeLessThan(1e-10);
    }
  });

  it('availability, hours down on ages in days', () => {
    const down = { replacement: 3 / 24, leak: 20 / 24 };
    const chosen = chooseUptimeAge(weibull(3, 900), down);
    expect(apart(chosen.age, values.uptime.age)).toBeLessThan(1e-6);
    expect(apart(chosen.availability, values.uptime.availability)).toBeLessThan(1e-12);
    expect(apart(chosen.availabilityRun, values.uptime.run)).toBeLessThan(1e-12);
    expect(apart(availability(weibull(3, 900), chosen.age ?? 0, down), chosen.availability)).toBeLessThan(
      1e-14,
    );
  });

  it('K10: the chance to hold over a window, which a fresh diaphragm misses', () => {
    const { inputs, survivalNew, agesMeetingTarget, firstAgeWhereChangingHelps } = cases.K10.values;
    const model: LifeModel = {
      kind: 'weibull',
      shape: 3,
      scale: 900,
      fault: { share: inputs.faultShare, shape: 0.8, scale: 10 },
    };
    const { age, overWindow } = chooseHoldingAge(model, {
      target: inputs.target,
      window: inputs.windowDays,
    });
    const [[from, to] = [0, 0]] = overWindow?.ages ?? [];
    expect(apart(age, values.holding.longest)).toBeLessThan(1e-9);
    expect(apart(overWindow?.fresh, survivalNew)).toBeLessThan(1e-12);
    expect(overWindow?.freshMeets).toBe(false);
    expect(overWindow?.ages).toHaveLength(1);
    expect([Math.ceil(from), Math.floor(to ?? 0)]).toEqual(agesMeetingTarget);
    expect(Math.ceil(overWindow?.replaceFrom ?? 0)).toBe(firstAgeWhereChangingHelps);
    expect(apart(from, values.holding.from)).toBeLessThan(1e-9);
    expect(apart(to, values.holding.to)).toBeLessThan(1e-9);
    expect(apart(overWindow?.replaceFrom, values.holding.replaceFrom)).toBeLessThan(1e-9);
  });
});
