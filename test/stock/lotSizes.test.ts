import { describe, expect, it } from 'vitest';
import { randomStream } from '../../lib/numeric/random.js';
import { type LotSizeCosts, lotSizes } from '../../lib/stock/lotSizes.js';

/** Every plan of orders: all multiples of the pack in every period, at every stock. */
function least(needs: number[], costs: LotSizeCosts, most: number): number {
  const { orderCost, holdingCostPerPeriod, pack = 1, minOrder = 0, onHand = 0, mostIn, price } = costs;
  const known = new Map<string, number>();
  const best = (t: number, stock: number): number => {
    if (t === needs.length) return 0;
    const name = `${t}/${stock}`;
    const before = known.get(name);
    if (before !== undefined) return before;
    let cost = Infinity;
    for (let order = 0; order <= most; order += pack) {
      if (order > 0 && order < minOrder) continue;
      const left = stock + order - (needs[t] as number);
      if (left < -1e-9) continue;
      // More than the limit only where that much is short at once.
      if (order > (mostIn?.(t) ?? Infinity) && left >= pack) continue;
      const pieces = order * (price?.filter(({ from }) => from <= order).at(-1)?.price ?? 0);
      const placed = order > 0 ? orderCost + pieces : 0;
      cost = Math.min(cost, placed + holdingCostPerPeriod * left + best(t + 1, left));
    }
    known.set(name, cost);
    return cost;
  };
  return best(0, onHand);
}

describe('lots for known needs (Wagner & Whitin 1958)', () => {
  it('by hand: 10, 10 and 40 at 50 an order, 1 a piece and period', () => {
    expect(lotSizes([10, 10, 40], { orderCost: 50, holdingCostPerPeriod: 1 })).toEqual({
      orders: [20, 0, 40],
      left: [10, 0, 0],
      orderingCost: 100,
      holdingCost: 10,
      purchaseCost: 0,
      totalCost: 110,
    });
  });
  it.each([
    { pack: 1, minOrder: 0 },
    { pack: 3, minOrder: 0 },
    { pack: 1, minOrder: 5 },
    { pack: 2, minOrder: 5 },
    { pack: 4, minOrder: 7 },
  ])('costs what trying every plan costs: packs of $pack, at least $minOrder', (allowed) => {
    const random = randomStream(3, 'lots');
    for (let run = 0; run < 40; run++) {
      const needs = Array.from({ length: 5 }, () => (random.uniform() < 0.4 ? 0 : random.below(5)));
      const costs = {
        orderCost: random.below(12),
        holdingCostPerPeriod: random.below(4) / 2,
        onHand: random.below(4),
        ...allowed,
      };
      const found = lotSizes(needs, costs);
      expect(found.totalCost).toBeCloseTo(least(needs, costs, 24), 9);
      expect(Math.min(...found.left)).toBeGreaterThanOrEqual(0);
      for (const order of found.orders) {
        expect(order % allowed.pack).toBe(0);
        if (order > 0) expect(order).toBeGreaterThanOrEqual(allowed.minOrder);
      }
    }
  });
  it.each([
    { pack: 1, minOrder: 0 },
    { pack: 2, minOrder: 0 },
    { pack: 1, minOrder: 4 },
    { pack: 3, minOrder: 4 },
  ])('with price breaks: packs of $pack, at least $minOrder', (allowed) => {
    const random = randomStream(5, 'breaks');
    for (let run = 0; run < 40; run++) {
      const needs = Array.from({ length: 5 }, () => (random.uniform() < 0.3 ? 0 : random.below(5)));
      const costs = {
        orderCost: random.below(8),
        holdingCostPerPeriod: random.below(4) / 4,
        price: [
          { from: 1, price: 5 },
          { from: 6, price: 4 },
          { from: 11, price: 3 },
        ].slice(0, 1 + random.below(3)),
        ...allowed,
      };
      const found = lotSizes(needs, costs);
      expect(found.totalCost).toBeCloseTo(least(needs, costs, 24), 9);
      expect(Math.min(...found.left)).toBeGreaterThanOrEqual(0);
    }
  });
  it.each([1, 2, 3])('with pieces that keep %s periods: no order is larger than what they use', (keeps) => {
    const random = randomStream(6, 'use by');
    for (let run = 0; run < 60; run++) {
      const needs = Array.from({ length: 6 }, () => (random.uniform() < 0.3 ? 0 : random.below(5)));
      const mostIn = (t: number): number => needs.slice(t, t + keeps).reduce((sum, each) => sum + each, 0);
      const costs = { orderCost: random.below(12), holdingCostPerPeriod: random.below(4) / 2, mostIn };
      const found = lotSizes(needs, costs);
      expect(found.totalCost).toBeCloseTo(least(needs, costs, 24), 9);
      found.orders.forEach((order, t) => {
        expect(order).toBeLessThanOrEqual(mostIn(t));
      });
    }
  });
  it('free orders come one by one, dear ones once; 120 months with a least order are no trouble', () => {
    expect(lotSizes([3, 4, 5], { orderCost: 0, holdingCostPerPeriod: 1 }).orders).toEqual([3, 4, 5]);
    expect(lotSizes([3, 4, 5], { orderCost: 1e9, holdingCostPerPeriod: 1 }).orders).toEqual([12, 0, 0]);
    const random = randomStream(4, 'months');
    const needs = Array.from({ length: 120 }, () => random.below(1000));
    const costs = { orderCost: 5000, holdingCostPerPeriod: 1, pack: 10, minOrder: 700 };
    const found = lotSizes(needs, costs);
    expect(found.totalCost).toBeLessThan(120 * 5000);
    expect(found.totalCost).toBeGreaterThan(0);
  });
  it('nothing needed, nothing ordered; broken needs are covered by whole packs', () => {
    expect(lotSizes([], { orderCost: 1, holdingCostPerPeriod: 1 }).totalCost).toBe(0);
    expect(lotSizes([0, 0], { orderCost: 1, holdingCostPerPeriod: 1 }).orders).toEqual([0, 0]);
    expect(lotSizes([2], { orderCost: 1, holdingCostPerPeriod: 1, onHand: 5 }).left).toEqual([3]);
    expect(lotSizes([0.4, 0.4, 0.4], { orderCost: 9, holdingCostPerPeriod: 1 }).orders).toEqual([2, 0, 0]);
  });
  it.each([
    [[1, -1], {}, /needs\[1\]/],
    [[Number.NaN], {}, /needs\[0\]/],
    [[1], { pack: 0 }, /pack must be above 0/],
    [[1], { onHand: -2 }, /onHand must be at or above 0/],
    [[1], { orderCost: -1 }, /orderCost/],
    [[1], { minOrder: Infinity }, /minOrder/],
    [[1], { price: [] }, /at least one step/],
    [
      [1],
      {
        price: [
          { from: 5, price: 1 },
          { from: 5, price: 2 },
        ],
      },
      /breaks must rise/,
    ],
  ])('refuses %j with %j', (needs, change, words) => {
    const costs = { orderCost: 1, holdingCostPerPeriod: 1, ...change };
    expect(() => lotSizes(needs, costs)).toThrow(words);
  });
});
