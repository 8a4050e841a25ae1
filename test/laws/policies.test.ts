/** Laws of the replacement policies, for any costs and lives. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chooseAge, costRate } from '../../lib/interval/chooseAge.js';
import { blockCostRate, chooseBlockAge } from '../../lib/interval/policy/chooseBlockAge.js';
import { chooseDiscountedAge } from '../../lib/interval/policy/chooseDiscountedAge.js';
import { chooseHoldingAge } from '../../lib/interval/policy/chooseHoldingAge.js';
import { chooseRepairAge, repairCostRate } from '../../lib/interval/policy/chooseRepairAge.js';
import { chooseUptimeAge } from '../../lib/interval/policy/chooseUptimeAge.js';
import { survival } from '../../lib/life/distribution/index.js';
import type { LifeModel } from '../../lib/life/model.js';

const options = { seed: 71, numRuns: 15 };
const many = { seed: 72, numRuns: 60 };
const wearing = fc.double({ min: 1.2, max: 8, noNaN: true });
const ratios = fc.double({ min: 2.5, max: 500, noNaN: true });
const factors = fc.double({ min: -6, max: 6, noNaN: true }).map((power) => 10 ** power);
const weibull = (shape: number, scale = 1): LifeModel => ({ kind: 'weibull', shape, scale });

function apart(one: number | null, other: number | null): number {
  if (one === null || other === null) return one === other ? 0 : Infinity;
  return Math.abs(one / other - 1);
}

type Choice = { age: number | null; costRate: number };
/** Each policy as a function of shape, leak over replacement, unit of money and unit of time. */
const POLICIES: [string, (shape: number, ratio: number, money: number, time: number) => Choice][] = [
  [
    'age',
    (shape, ratio, money, time) =>
      chooseAge(weibull(shape, time), {
        replacement: money,
        leak: ratio * money,
        opening: { rate: 0.2 / time, cost: money },
      }),
  ],
  [
    'block',
    (shape, ratio, money, time) =>
      chooseBlockAge(weibull(shape, time), { replacement: money, leak: ratio * money }),
  ],
  [
    'repair',
    (shape, ratio, money, time) =>
      chooseRepairAge(weibull(shape, time), { replacement: money, repair: ratio * money }),
  ],
  [
    'discounted',
    (shape, ratio, money, time) =>
      chooseDiscountedAge(weibull(shape, time), {
        replacement: money,
        leak: ratio * money,
        discountRate: 0.3 / time,
      }),
  ],
];

describe.each(POLICIES)('%s', (_, choose) => {
  it('another unit of money leaves the age and scales the rate', () => {
    fc.assert(
      fc.property(wearing, ratios, factors, (shape, ratio, money) => {
        const [one, other] = [choose(shape, ratio, 1, 1), choose(shape, ratio, money, 1)];
        expect(apart(one.age, other.age)).toBeLessThan(1e-7);
        expect(apart(money * one.costRate, other.costRate)).toBeLessThan(1e-10);
      }),
      options,
    );
  });

  it('another unit of time scales the age and the rate', () => {
    fc.assert(
      fc.property(wearing, ratios, factors, (shape, ratio, time) => {
        const [one, other] = [choose(shape, ratio, 1, 1), choose(shape, ratio, 1, time)];
        expect(apart(one.age === null ? null : one.age * time, other.age)).toBeLessThan(1e-7);
        expect(apart(one.costRate / time, other.costRate)).toBeLessThan(1e-9);
      }),
      options,
    );
  });

  it('without wear-out nothing is replaced early', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.05, max: 1, noNaN: true }), ratios, (shape, ratio) => {
        expect(choose(shape, ratio, 1, 1).age).toBeNull();
      }),
      many,
    );
  });
});

describe('between policies', () => {
  it('block is at least as dear as age replacement at their best, and never dearer than running', () => {
    fc.assert(
      fc.property(wearing, fc.double({ min: 1.01, max: 500, noNaN: true }), (shape, leak) => {
        const costs = { replacement: 1, leak };
        const [age, block] = [chooseAge(weibull(shape), costs), chooseBlockAge(weibull(shape), costs)];
        expect(block.costRate).toBeGreaterThanOrEqual(age.costRate * (1 - 1e-9));
        expect(block.costRate).toBeLessThanOrEqual(block.costRateRun);
      }),
      options,
    );
  });

  it('no block interval is cheaper than the best, and the spans end where the rate is 2 and 5 % more', () => {
    fc.assert(
      fc.property(wearing, ratios, (shape, leak) => {
        const costs = { replacement: 1, leak };
        const best = chooseBlockAge(weibull(shape), costs);
        for (const age of [0.2, 0.5, 0.8, 1.3, 2.4])
          expect(blockCostRate(weibull(shape), age, costs)).toBeGreaterThanOrEqual(
            best.costRate * (1 - 1e-9),
          );
        for (const [span, share] of [
          [best.within2percent, 0.02],
          [best.within5percent, 0.05],
        ] as const) {
          for (const end of span ?? [])
            if (end !== null)
              expect(
                apart(blockCostRate(weibull(shape), end, costs), best.costRate * (1 + share)),
              ).toBeLessThan(1e-7);
        }
      }),
      { ...options, numRuns: 8 },
    );
  });

  it('with wear-out a repair that leaves the age makes more leaks than one that renews, at equal cost', () => {
    // The leak rate at an age since renewal is never above that at the time since the block: M is at most H.
    fc.assert(
      fc.property(wearing, ratios, fc.double({ min: 0.1, max: 2, noNaN: true }), (shape, leak, T) => {
        const renewed = blockCostRate(weibull(shape), T, { replacement: 1, leak });
        const repaired = repairCostRate(weibull(shape), T, { replacement: 1, repair: leak });
        expect(renewed).toBeLessThanOrEqual(repaired * (1 + 1e-8));
      }),
      { ...options, numRuns: 40 },
    );
  });

  it('minimal repair at its best costs shape / (shape - 1) replacements per interval', () => {
    fc.assert(
      fc.property(wearing, ratios, (shape, repair) => {
        const { age, costRate: rate } = chooseRepairAge(weibull(shape), { replacement: 1, repair });
        expect(apart(rate * (age ?? 0), shape / (shape - 1))).toBeLessThan(1e-11);
      }),
      many,
    );
  });

  it('as the discount rate goes to 0, the steady payment and the age go to those without', () => {
    fc.assert(
      fc.property(wearing, ratios, (shape, leak) => {
        const costs = { replacement: 1, leak, opening: { rate: 0.1, cost: 0.5 } };
        const plain = chooseAge(weibull(shape), costs);
        const nearly = chooseDiscountedAge(weibull(shape), { ...costs, discountRate: 1e-7 });
        expect(apart(nearly.costRate, plain.costRate)).toBeLessThan(1e-6);
        expect(apart(nearly.age, plain.age)).toBeLessThan(1e-5);
      }),
      many,
    );
  });

  it('least downtime is least cost with times for costs', () => {
    fc.assert(
      fc.property(wearing, ratios, (shape, leak) => {
        const times = { replacement: 0.01, leak: 0.01 * leak };
        const [up, cost] = [chooseUptimeAge(weibull(shape), times), chooseAge(weibull(shape), times)];
        expect(up.age).toBe(cost.age);
        expect(
          apart(up.down / up.availability, costRate(weibull(shape), cost.age ?? Infinity, times)),
        ).toBeLessThan(1e-12);
        expect(up.down + up.availability).toBeCloseTo(1, 14);
      }),
      many,
    );
  });

  it('the age of a survival target holds with that chance, and a higher target asks for a lower age', () => {
    fc.assert(
      fc.property(wearing, fc.double({ min: 0.01, max: 0.99, noNaN: true }), (shape, target) => {
        const model: LifeModel = {
          kind: 'weibull',
          shape,
          scale: 900,
          fault: { share: 0.04, shape: 0.8, scale: 10 },
        };
        const age = chooseHoldingAge(model, { target }).age ?? 0;
        expect(apart(survival(model, age), target)).toBeLessThan(1e-9);
        expect(chooseHoldingAge(model, { target: target + 0.005 }).age ?? 0).toBeLessThan(age);
      }),
      many,
    );
  });
});
