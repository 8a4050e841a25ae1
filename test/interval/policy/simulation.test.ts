/**
 * Each cost rate against a plain simulation of what happens to one position: lives, faulty fittings and openings drawn one after
 * the other, no formula of the library used. A formula passes within 4 standard errors of the mean of a run whose standard error
 * is at most an eighth of the effect that it must find; seeds were fixed beforehand.
 */
import { describe, expect, it } from 'vitest';
import { costRate } from '../../../lib/interval/chooseAge.js';
import { blockCostRate } from '../../../lib/interval/policy/chooseBlockAge.js';
import { discountedCost } from '../../../lib/interval/policy/chooseDiscountedAge.js';
import { repairCostRate } from '../../../lib/interval/policy/chooseRepairAge.js';
import { availability } from '../../../lib/interval/policy/chooseUptimeAge.js';
import { type RandomStream, randomStream } from '../../../lib/numeric/random.js';

const model = {
  kind: 'weibull' as const,
  shape: 2.5,
  scale: 700,
  fault: { share: 0.08, shape: 0.8, scale: 12 },
};
const sound = { kind: 'weibull' as const, shape: model.shape, scale: model.scale };
const opening = { rate: 0.0006, cost: 2 };
const costs = { replacement: 1, leak: { early: 4, wear: 9 }, opening };

type End = 'early' | 'wear' | 'opened' | 'replaced';
const COST: Record<End, number> = { early: 4, wear: 9, opened: 2, replaced: 1 };

/** How one diaphragm ends if nobody replaces it, and when. */
function ending(random: RandomStream): { at: number; end: End } {
  const inverse = (shape: number, scale: number): number =>
    scale * (-Math.log(random.uniform())) ** (1 / shape);
  const wear = inverse(model.shape, model.scale);
  const early =
    random.uniform() < model.fault.share ? inverse(model.fault.shape, model.fault.scale) : Infinity;
  const opened = -Math.log(random.uniform()) / opening.rate;
  const at = Math.min(wear, early, opened);
  return { at, end: at === wear ? 'wear' : at === early ? 'early' : 'opened' };
}

/** One cycle up to an age. */
function cycle(random: RandomStream, age: number): { at: number; end: End } {
  const life = ending(random);
  return life.at < age ? life : { at: age, end: 'replaced' };
}

interface Estimate {
  mean: number;
  error: number;
}

function meanOfRuns(count: number, run: () => number): Estimate {
  let [total, squares] = [0, 0];
  for (let i = 0; i < count; i++) {
    const value = run();
    total += value;
    squares += value * value;
  }
  const mean = total / count;
  return { mean, error: Math.sqrt((squares / count - mean * mean) / count) };
}

/** Ratio of two means over cycles, with the error of its linearisation. */
function ratioOfCycles(count: number, run: () => { up: number; down: number }): Estimate {
  const cycles = Array.from({ length: count }, run);
  const [down, up] = cycles.reduce(([a, b], each) => [a + each.down, b + each.up], [0, 0] as [
    number,
    number,
  ]);
  const mean = down / up;
  const squares = cycles.reduce((sum, each) => sum + (each.down - mean * each.up) ** 2, 0);
  return { mean, error: Math.sqrt(squares) / up };
}

function expectFound({ mean, error }: Estimate, formula: number, without: readonly number[]): void {
  for (const other of without) expect(Math.abs(other - formula)).toBeGreaterThan(8 * error);
  expect(Math.abs(mean - formula)).toBeLessThan(4 * error);
}

describe('a plain simulation finds', () => {
  it('the rate of age replacement', () => {
    const random = randomStream(41, 'age');
    const found = ratioOfCycles(200_000, () => {
      const { at, end } = cycle(random, 350);
      return { up: at, down: COST[end] };
    });
    expectFound(found, costRate(model, 350, costs), [
      costRate(sound, 350, { ...costs, leak: 9 }),
      costRate(model, 350, { ...costs, leak: 9 }),
      costRate(model, 350, { replacement: 1, leak: costs.leak }),
    ]);
  });

  it('the rate of block replacement', () => {
    const random = randomStream(42, 'block');
    const T = 500;
    const found = meanOfRuns(150_000, () => {
      let cost = 1;
      let time = 0;
      for (;;) {
        const { at, end } = ending(random);
        time += at;
        if (time > T) return cost / T;
        cost += COST[end];
      }
    });
    expectFound(found, blockCostRate(model, T, costs), [
      costRate(model, T, costs),
      blockCostRate(sound, T, { ...costs, leak: 9 }),
      blockCostRate(model, T, { ...costs, leak: 9 }),
      blockCostRate(model, T, { replacement: 1, leak: costs.leak }),
    ]);
  });

  it('the rate with minimal repair', () => {
    const random = randomStream(43, 'repair');
    const [T, repair] = [1200, 3];
    const found = meanOfRuns(60_000, () => {
      let cost = 1;
      let age = 0;
      for (;;) {
        // The next leak of a diaphragm that has reached this age.
        const reached = (age / sound.scale) ** sound.shape - Math.log(random.uniform());
        age = sound.scale * reached ** (1 / sound.shape);
        if (age > T) return cost / T;
        cost += repair;
      }
    });
    expectFound(found, repairCostRate(sound, T, { replacement: 1, repair }), [
      costRate(sound, T, { replacement: 1, leak: repair }),
      blockCostRate(sound, T, { replacement: 1, leak: repair }),
    ]);
  });

  it('the discounted cost of all that is to come', () => {
    const random = randomStream(44, 'discounted');
    const [age, rate] = [350, 0.001];
    const found = meanOfRuns(15_000, () => {
      let [time, cost] = [0, 0];
      // What comes after is worth exp(-25) of it.
      while (time < 25 / rate) {
        const { at, end } = cycle(random, age);
        time += at;
        cost += COST[end] * Math.exp(-rate * time);
      }
      return cost;
    });
    const discounted = { ...costs, discountRate: rate };
    expectFound(found, discountedCost(model, age, discounted), [
      costRate(model, age, costs) / rate,
      discountedCost(sound, age, { ...discounted, leak: 9 }),
      discountedCost(model, age, { ...discounted, leak: 9 }),
      discountedCost(model, age, { ...discounted, opening: { rate: 0, cost: 0 } }),
    ]);
  });

  it('the availability', () => {
    const random = randomStream(45, 'uptime');
    const hours: Record<End, number> = { early: 16, wear: 30, opened: 6, replaced: 3 };
    const found = ratioOfCycles(200_000, () => {
      const { at, end } = cycle(random, 350);
      return { up: at, down: hours[end] / 24 };
    });
    const down = {
      replacement: 3 / 24,
      leak: { early: 16 / 24, wear: 30 / 24 },
      opening: { rate: opening.rate, down: 6 / 24 },
    };
    const perUp = (share: number): number => 1 / share - 1;
    expectFound(found, perUp(availability(model, 350, down)), [
      perUp(availability(model, 350, { ...down, leak: 30 / 24 })),
      perUp(availability(model, 350, { replacement: 3 / 24, leak: down.leak })),
    ]);
  });
});
