import { describe, expect, it } from 'vitest';
import { UsageError } from '../../lib/errors.js';
import { randomStream } from '../../lib/numeric/random.js';
import { poissonQuantile } from '../../lib/numeric/special.js';
import { allowedQuantity } from '../../lib/stock/grouping.js';
import { type NettingInput, netOrders } from '../../lib/stock/netting.js';

const WEEKLY = 0.5;
const none = (): number => 0;

/** 14 on hand, 8 weeks of lead, packs of 10, 0.5 a week at random, 40 needed in week 20; target 95 %. */
const SHUTDOWN: NettingInput = {
  shelf: [{ quantity: 14, useBy: Infinity }],
  receipts: [],
  planned: [{ moment: 20, quantity: 40, name: 'shutdown' }],
  randomTarget: (from, to) => poissonQuantile(0.95, WEEKLY * (to - from)),
  randomMean: none,
  lead: 8,
  review: 1,
  horizon: 52,
  pack: 10,
  minOrder: 10,
  keeps: Infinity,
};

describe('one shutdown (Silver, Pyke & Thomas 2017, ch. 15)', () => {
  it('orders 40 in week 11 for week 19, and nothing else if nothing leaks', () => {
    const { orders } = netOrders(SHUTDOWN);
    expect(orders.map(({ placed, quantity, due }) => [placed, quantity, due])).toEqual([[11, 40, 19]]);
    expect(orders[0]?.serves).toEqual(['shutdown']);
  });
  it('K6: keeps the shutdown complete where a stationary reorder point never does: 4000 simulated years', () => {
    const random = randomStream(7, 'years');
    const runs = 4000;
    let [plannedShort, unplannedShort, stationaryShort] = [0, 0, 0];
    for (let run = 0; run < runs; run++) {
      const arrivals = Array.from({ length: 52 }, () => poisson(random.uniform(), WEEKLY));
      const phased = year(arrivals, (week, state) => netNow(week, state));
      const stationary = year(arrivals, (_, state) => (state.position <= 17 ? 10 : 0));
      plannedShort += phased.plannedShort;
      unplannedShort += phased.unplannedShort;
      stationaryShort += stationary.plannedShort;
    }
    // The reference run of 4000 years has 0.003, 0.07425 and 1: four standard errors of the difference of two such runs.
    const within = (seen: number, expected: number): void => {
      const error = Math.sqrt((2 * Math.max(expected * (1 - expected), 0.003)) / runs);
      expect(Math.abs(seen / runs - expected)).toBeLessThan(4 * error);
    };
    within(plannedShort, 0.003);
    within(unplannedShort, 0.07425);
    expect(stationaryShort).toBe(runs);
  });
});

interface YearState {
  onHand: number;
  position: number;
  receipts: { moment: number; quantity: number; useBy: number }[];
}

/** One year by weeks: receipts, random demand, the shutdown, review; gives whether each kind ran short. */
function year(
  arrivals: number[],
  order: (week: number, state: YearState) => number,
): { plannedShort: number; unplannedShort: number } {
  const state: YearState = { onHand: 14, position: 14, receipts: [] };
  let [plannedShort, unplannedShort, owed] = [0, 0, 0];
  for (let week = 0; week < 52; week++) {
    for (const receipt of state.receipts) if (receipt.moment === week) state.onHand += receipt.quantity;
    state.receipts = state.receipts.filter(({ moment }) => moment > week);
    const paid = Math.min(owed, state.onHand);
    state.onHand -= paid;
    owed -= paid;
    const asked = arrivals[week] as number;
    if (asked > state.onHand) unplannedShort = 1;
    owed += Math.max(0, asked - state.onHand);
    state.onHand = Math.max(0, state.onHand - asked);
    const kit = week === 20 ? 40 : 0;
    if (kit > state.onHand) plannedShort = 1;
    owed += Math.max(0, kit - state.onHand);
    state.onHand = Math.max(0, state.onHand - kit);
    state.position = state.onHand - owed + state.receipts.reduce((sum, { quantity }) => sum + quantity, 0);
    const quantity = order(week, state);
    if (quantity > 0) state.receipts.push({ moment: week + 8, quantity, useBy: Infinity });
  }
  return { plannedShort, unplannedShort };
}

/** What the netting orders at its first review, seen from a week of the year. */
function netNow(week: number, state: YearState): number {
  const key = JSON.stringify([
    Math.min(week, 20),
    state.onHand,
    state.receipts.map((each) => [each.moment - week, each.quantity]),
  ]);
  const known = NETTED.get(key) ?? nettedAt(week, state);
  NETTED.set(key, known);
  return known;
}

/** Orders already worked out, by how the week looks. */
const NETTED = new Map<string, number>();

function nettedAt(week: number, { onHand, receipts }: YearState): number {
  const { orders } = netOrders({
    ...SHUTDOWN,
    shelf: [{ quantity: onHand, useBy: Infinity }],
    receipts: receipts.map((each) => ({ ...each, moment: each.moment - week })),
    planned: week < 20 ? [{ moment: 20 - week, quantity: 40, name: 'shutdown' }] : [],
    horizon: 9,
  });
  return orders
    .filter(({ placed, expedite }) => placed === 0 && !expedite)
    .reduce((sum, { quantity }) => sum + quantity, 0);
}

function poisson(u: number, mean: number): number {
  return u <= Math.exp(-mean) ? 0 : poissonQuantile(Math.min(u, 1 - 1e-15), mean);
}

describe('netting', () => {
  const planned = (moment: number, quantity: number): NettingInput => ({
    ...SHUTDOWN,
    randomTarget: none,
    shelf: [],
    planned: [{ moment, quantity, name: 'kit' }],
  });
  it('counts an open order once', () => {
    const input = planned(20, 40);
    const { orders } = netOrders({ ...input, receipts: [{ moment: 12, quantity: 30, useBy: Infinity }] });
    expect(orders.map(({ quantity }) => quantity)).toEqual([10]);
  });
  it('asks to hurry what is needed before a delivery can come, and does not order it twice', () => {
    const { orders } = netOrders(planned(5, 12));
    expect(orders).toHaveLength(1);
    expect(orders[0]).toMatchObject({ placed: 0, quantity: 20, due: 5, serves: ['kit'], expedite: true });
  });
  it('leaves out what expires before it is needed', () => {
    const fresh = netOrders({ ...planned(20, 10), shelf: [{ quantity: 10, useBy: 20 }] });
    expect(fresh.orders).toEqual([]);
    const stale = netOrders({ ...planned(20, 10), shelf: [{ quantity: 10, useBy: 19 }] });
    expect(stale.orders.map(({ quantity }) => quantity)).toEqual([10]);
    expect(stale.expired.map(({ quantity }) => quantity)).toEqual([10]);
  });
  it('uses first what expires first', () => {
    const { orders, expired } = netOrders({
      ...planned(5, 10),
      shelf: [
        { quantity: 10, useBy: 100 },
        { quantity: 10, useBy: 6 },
      ],
    });
    expect(orders).toEqual([]);
    expect(expired).toEqual([]);
  });
  it('serves what is on back order from the next delivery', () => {
    const { orders } = netOrders({
      ...planned(5, 12),
      receipts: [{ moment: 7, quantity: 30, useBy: Infinity }],
      minOrder: 0,
      pack: 1,
    });
    expect(orders.map(({ quantity, expedite }) => [quantity, expedite])).toEqual([[12, true]]);
  });
  it('holds an order to what can be used before it expires, but never below the smallest allowed', () => {
    const capped = netOrders({ ...planned(20, 40), mostAt: () => 25, keeps: 30 });
    expect(capped.orders[0]?.quantity).toBe(20);
    const least = netOrders({ ...planned(20, 40), mostAt: () => 3, keeps: 30 });
    expect(least.orders[0]?.quantity).toBe(10);
  });
  it('does not touch what it is given', () => {
    const input = { ...SHUTDOWN, shelf: [{ quantity: 14, useBy: 30 }] };
    const before = JSON.stringify(input);
    netOrders(input);
    expect(JSON.stringify(input)).toBe(before);
  });
  it('rounds up to packs and the smallest order', () => {
    expect(allowedQuantity(34, 10, 10)).toBe(40);
    expect(allowedQuantity(40, 10, 10)).toBe(40);
    expect(allowedQuantity(1, 1, 25)).toBe(25);
    expect(allowedQuantity(26, 10, 25)).toBe(30);
  });
  it.each([
    ['lead', -1],
    ['lead', Number.NaN],
    ['review', 0],
    ['pack', 0],
    ['pack', Number.NaN],
    ['minOrder', -5],
    ['horizon', Infinity],
  ] as const)('throws on %s %d', (name, value) => {
    expect(() => netOrders({ ...SHUTDOWN, [name]: value })).toThrow(UsageError);
  });
});
