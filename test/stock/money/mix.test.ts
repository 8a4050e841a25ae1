import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { itemAt } from '../../../lib/numeric/columns.js';
import { randomStream } from '../../../lib/numeric/random.js';
import { upperHull } from '../../../lib/stock/itemCurve.js';
import { allMixSteps, firstMoney, type MixItem, mixFor, mixItems } from '../../../lib/stock/money/mix.js';
import { keptPoints, type MoneyItem, targetLevel } from '../../../lib/stock/money/moneyItems.js';
import { type ItemInput, moneyItem } from './items.js';

const leaksOf = (items: readonly MoneyItem[]): number =>
  items.reduce((total, { leaksPerYear }) => total + leaksPerYear, 0);

interface Whole {
  cost: number;
  served: number;
  /** Whether every item that comes first has its level. */
  keeps: boolean;
}

/** Every mix there is: each level of each item. */
function everyMix(items: readonly MixItem[]): Whole[] {
  let mixes: Whole[] = [{ cost: 0, served: 0, keeps: true }];
  for (const { points, first } of items) {
    mixes = mixes.flatMap((mix) =>
      points.map(({ level, cost, served }) => ({
        cost: mix.cost + cost,
        served: mix.served + served,
        keeps: mix.keeps && level >= first,
      })),
    );
  }
  return mixes;
}

function drawn(seed: number, some: Partial<ItemInput> = {}): MoneyItem[] {
  const random = randomStream(seed, 'mix');
  return Array.from({ length: 3 }, (_, i) =>
    moneyItem({
      item: `item ${i}`,
      price: 5 + random.below(60),
      leaks: 0.3 + 8 * random.uniform(),
      openings: random.uniform() < 0.5 ? 0 : 3 * random.uniform(),
      pack: 1 + random.below(4),
      minOrder: 1 + random.below(5),
      leadDays: 10 + random.below(60),
      criticality: i === 0 ? 'high' : 'normal',
      ...some,
    }),
  );
}

/** The levels up to a leak in fifty, so that every mix can be tried. */
function short(items: readonly MixItem[]): MixItem[] {
  return items.map(({ name, points, first }) => {
    const last = points.at(-1)?.served ?? 0;
    const kept = points.filter(({ served, level }) => level <= first || served < 0.99 * last);
    return { name, points: kept, first };
  });
}

describe('the mix against every mix there is', () => {
  it.each([1, 2, 3, 4, 5, 6, 7, 8])('plant %d, under budgets', (seed) => {
    const plain = drawn(seed, { criticality: 'normal' });
    const items = short(mixItems(plain));
    const leaks = leaksOf(plain);
    const every = everyMix(items);
    const step = largestStep(items);
    for (const budget of [0, 20, 60, 130, 240, 400, 700, 2000]) {
      const found = mixFor(items, leaks, { budget });
      const best = Math.max(...every.filter(({ cost }) => cost <= budget).map(({ served }) => served));
      expect(found.money).toBeLessThanOrEqual(budget * (1 + 1e-12));
      expect(found.leaksServedPerYear).toBeLessThanOrEqual(best + 1e-9);
      expect(found.bestPossible).toBeGreaterThanOrEqual(best - 1e-9);
      expect(best - found.leaksServedPerYear).toBeLessThanOrEqual(step.served + 1e-9);
    }
  });

  it.each([1, 2, 3, 4, 5, 6, 7, 8])('plant %d, for shares of leaks', (seed) => {
    const plain = drawn(seed);
    const items = short(mixItems(plain));
    const leaks = leaksOf(plain);
    const every = everyMix(items).filter(({ keeps }) => keeps);
    const most = Math.max(...every.map(({ served }) => served));
    for (const share of [0.3, 0.7, 0.9, 0.97]) {
      const target = (share * most) / leaks;
      const found = mixFor(items, leaks, { target });
      const reach = every.filter(({ served }) => served >= share * most - 1e-9);
      const least = Math.min(...reach.map(({ cost }) => cost));
      expect(found.leaksServedPerYear).toBeGreaterThanOrEqual(share * most - 1e-9);
      expect(found.money).toBeGreaterThanOrEqual(least - 1e-9);
      expect(found.bestPossible).toBeLessThanOrEqual(least + 1e-9);
      expect(found.money - least).toBeLessThanOrEqual(largestStep(items).cost + 1e-9);
    }
  });

  it.each([1, 2, 3, 4, 5, 6, 7, 8])(
    'plant %d, for shares of leaks with every item at its own target',
    (seed) => {
      const plain = drawn(seed);
      plain.forEach((item, i) => {
        item.target = itemAt([0.95, 0.6, 0.85], i);
      });
      const items = short(mixItems(plain, 'all'));
      const leaks = leaksOf(plain);
      const atTarget = everyMix(items).filter(({ keeps }) => keeps);
      const most = Math.max(...atTarget.map(({ served }) => served));
      for (const share of [0.3, 0.9, 0.97]) {
        const found = mixFor(items, leaks, { target: (share * most) / leaks });
        const reach = atTarget.filter(({ served }) => served >= share * most - 1e-9);
        const least = Math.min(...reach.map(({ cost }) => cost));
        plain.forEach((item, i) => {
          expect(item.served(itemAt(found.levels, i), item.lot)).toBeGreaterThanOrEqual(item.target - 1e-12);
        });
        expect(found.leaksServedPerYear).toBeGreaterThanOrEqual(share * most - 1e-9);
        expect(found.bestPossible).toBeLessThanOrEqual(least + 1e-9);
        expect(found.money).toBeGreaterThanOrEqual(least - 1e-9);
        expect(found.money - least).toBeLessThanOrEqual(largestStep(items).cost + 1e-9);
      }
    },
  );

  it.each([1, 2, 3, 4, 5, 6, 7, 8])('plant %d: the best of all where the money ends on a step', (seed) => {
    const plain = drawn(seed);
    const items = short(mixItems(plain));
    const leaks = leaksOf(plain);
    const every = everyMix(items).filter(({ keeps }) => keeps);
    let [money, checked] = [0, 0];
    for (const { cost } of allMixSteps(items, leaks)) {
      money += cost;
      if (money < firstMoney(items) - 1e-9) continue;
      const best = Math.max(...every.filter((mix) => mix.cost <= money + 1e-9).map(({ served }) => served));
      expect(mixFor(items, leaks, { budget: money }).leaksServedPerYear).toBeCloseTo(best, 8);
      checked += 1;
    }
    expect(checked).toBeGreaterThan(3);
  });
});

function largestStep(items: readonly MixItem[]): { cost: number; served: number } {
  const steps = items.flatMap(({ points }) => {
    const hull = upperHull(points);
    return hull.slice(1).map(({ cost, served }, i) => {
      return { cost: cost - itemAt(hull, i).cost, served: served - itemAt(hull, i).served };
    });
  });
  return {
    cost: Math.max(...steps.map(({ cost }) => cost)),
    served: Math.max(...steps.map(({ served }) => served)),
  };
}

describe('high criticality and safety come first', () => {
  const items = [
    moneyItem({ item: 'dear and critical', price: 500, leaks: 0.5, criticality: 'safety', target: 0.99 }),
    moneyItem({ item: 'cheap and busy', price: 10, leaks: 20 }),
  ];
  const forMix = mixItems(items);
  it('gets its target before anything else', () => {
    const level = targetLevel(items[0] as MoneyItem);
    expect((items[0] as MoneyItem).served(level, 1)).toBeGreaterThanOrEqual(0.99);
    expect((items[0] as MoneyItem).served(level - 1, 1)).toBeLessThan(0.99);
    expect(firstMoney(forMix)).toBe(500 * level);
    expect(mixFor(forMix, 20.5, { budget: 500 * level }).levels).toEqual([level, 0]);
    expect(mixFor(forMix, 20.5, { budget: 500 * level + 60 }).levels).toEqual([level, 6]);
  });
  it('a budget below that buys of it what it can, and small change buys the rest', () => {
    expect(mixFor(forMix, 20.5, { budget: 540 }).levels).toEqual([1, 4]);
  });
  it('without a budget a dear item of low criticality is not left empty either', () => {
    const low = [
      moneyItem({ item: 'dear and low', price: 900, leaks: 0.4, criticality: 'low', target: 0.9 }),
      moneyItem({ item: 'cheap and busy', price: 10, leaks: 20 }),
    ];
    const level = targetLevel(low[0] as MoneyItem);
    expect(level).toBeGreaterThan(0);
    expect(mixFor(mixItems(low), 20.4, { target: 0.95 }).levels[0]).toBe(0);
    expect(mixFor(mixItems(low, 'all'), 20.4, { target: 0.95 }).levels[0]).toBe(level);
    const none = mixItems([{ ...(low[0] as MoneyItem), target: 0 }], 'all');
    expect(none.map(({ first }) => first)).toEqual([0]);
  });
  it('the same items without it put the money where most leaks are', () => {
    const plain = items.map((item) => ({ ...item, criticality: 'normal' as const }));
    expect(mixFor(mixItems(plain), 20.5, { budget: 60 }).levels).toEqual([0, 6]);
  });
});

describe('laws of the mix', () => {
  const input = fc.record({
    price: fc.integer({ min: 1, max: 900 }),
    leaks: fc.double({ min: 0.01, max: 15, noNaN: true }),
    pack: fc.integer({ min: 1, max: 12 }),
    leadDays: fc.integer({ min: 1, max: 150 }),
    criticality: fc.constantFrom('low', 'normal', 'high', 'safety') as fc.Arbitrary<
      'low' | 'normal' | 'high' | 'safety'
    >,
  });
  const plants = fc.array(input, { minLength: 1, maxLength: 5 });
  const itemsOf = (inputs: ItemInput[]) => inputs.map((one, i) => moneyItem({ ...one, item: `item ${i}` }));

  it('more money never serves less along the steps, nor by what is possible', () => {
    fc.assert(
      fc.property(plants, fc.double({ min: 0, max: 5000, noNaN: true }), (inputs, budget) => {
        const items = itemsOf(inputs);
        const [forMix, leaks] = [mixItems(items), leaksOf(items)];
        const at = (money: number) => mixFor(forMix, leaks, { budget: money });
        const found = at(budget);
        for (const { served, cost } of found.steps) {
          expect(served).toBeGreaterThan(0);
          expect(cost).toBeGreaterThan(0);
        }
        const first = firstMoney(forMix);
        if (budget >= first) {
          expect(at(budget * 1.3 + 10).bestPossible).toBeGreaterThanOrEqual(found.bestPossible - 1e-9);
        }
        expect(found.leaksServedPerYear).toBeLessThanOrEqual(found.bestPossible + 1e-9);
      }),
      { seed: 11, numRuns: 60 },
    );
  });

  it('all prices times a number: the same levels for that many times the money', () => {
    fc.assert(
      fc.property(plants, fc.double({ min: 0, max: 3000, noNaN: true }), (inputs, budget) => {
        const items = itemsOf(inputs);
        const dear = itemsOf(inputs.map((one) => ({ ...one, price: 4 * (one.price ?? 1) })));
        const found = mixFor(mixItems(items), leaksOf(items), { budget });
        const scaled = mixFor(mixItems(dear), leaksOf(dear), { budget: 4 * budget });
        expect(scaled.levels).toEqual(found.levels);
        expect(scaled.money).toBeCloseTo(4 * found.money, 6);
      }),
      { seed: 12, numRuns: 60 },
    );
  });

  it('an item without demand gets nothing, at any price', () => {
    const idle = moneyItem({ item: 'idle', leaks: 0, price: 1e-3, criticality: 'safety' });
    expect(keptPoints(idle)).toEqual([{ level: 0, cost: 0, served: 0 }]);
    const found = mixFor(mixItems([idle, moneyItem()]), 6, { budget: 1e6 });
    expect(found.levels[0]).toBe(0);
    expect(found.levels[1]).toBeGreaterThan(3);
  });
});
