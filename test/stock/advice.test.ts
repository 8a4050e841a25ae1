/** What stands beside an order: its sum, its money, what to chase, what expires, what is too late. */
import { describe, expect, it } from 'vitest';
import { forecastDemand } from '../../lib/demand/forecast.js';
import type { ItemDemand } from '../../lib/demand/types.js';
import { negativeBinomialCdf, negativeBinomialQuantile, poissonQuantile } from '../../lib/numeric/special.js';
import { countQuantile, itemNeed } from '../../lib/stock/itemNeed.js';
import { kitRows } from '../../lib/stock/kits.js';
import { netOrders } from '../../lib/stock/netting.js';
import { scrapWarning } from '../../lib/stock/scrap.js';
import { servedAlong } from '../../lib/stock/servedAlong.js';
import { sizeStock } from '../../lib/stock/size.js';
import { orderTotals } from '../../lib/stock/totals.js';
import type { StockAdvice } from '../../lib/stock/types.js';
import { type PlantOptions, plant, TODAY } from '../demand/plant.js';

const SHUTDOWNS = [
  { name: 'Spring 2026', inDays: 10 },
  { name: 'Autumn 2026', inDays: 190 },
  { name: 'Spring 2027', inDays: 375 },
];

/** 40 positions of mixed ages under a plan of 400 days, so that the first shutdown needs some twenty pieces. */
function advice(options: PlantOptions): { row: StockAdvice; rows: StockAdvice[]; demand: ItemDemand } {
  const ages = Array.from({ length: 40 }, (_, i) => 10 * i);
  const { fleet, grouped } = plant([{ shape: 3, scale: 900, share: 0.02, openingsPerYear: 0.1, ages }], {
    shutdowns: SHUTDOWNS,
    ...options,
  });
  const forecast = forecastDemand(fleet, grouped, { name: 'proposed', intervalDays: [400] }, { seed: 1 });
  const rows = sizeStock(fleet, forecast);
  const [row] = rows;
  const [demand] = forecast.items;
  if (row === undefined || demand === undefined) throw new Error('the plant has an item');
  return { row, rows, demand };
}

const numbers = (text: string): number[] =>
  [...text.matchAll(/−?\d+(\.\d+)?/g)].map(([match]) => Number(match.replace('−', '-')));

describe('the sum behind an order', () => {
  it('adds up: usable and delivered, less kits, leaks and expired, is what is left when it comes', () => {
    const { row } = advice({ items: [{ onHand: 30, pack: 5, minOrder: 5 }] });
    expect(row.orders.length).toBeGreaterThan(2);
    for (const { because } of row.orders) {
      const sum = /^(.*) = (−?[\d.]+) on \d+ \w+ \d{4}/.exec(because);
      if (sum === null) throw new Error(`no sum in: ${because}`);
      const [, parts = '', left = ''] = sum;
      const signed = [...parts.matchAll(/(^|[+−] )([\d.]+) (usable|delivered|for|past|owed)/g)];
      const total = signed.reduce(
        (all, [, sign, value]) => all + (sign === '− ' ? -1 : 1) * Number(value),
        0,
      );
      // Each part is said to one decimal.
      expect(Math.abs(total - Number(left.replace('−', '-')))).toBeLessThanOrEqual(
        0.05 * (signed.length + 1) + 1e-9,
      );
      const missing = Number(/(\d+) missing/.exec(because)?.[1]);
      expect(missing).toBeGreaterThan(0);
    }
  });
  it('says in each row what that order is, with its own quantity and date', () => {
    const { row } = advice({ items: [{ onHand: 30, pack: 5, minOrder: 5 }] });
    for (const order of row.orders) {
      expect(numbers(order.action)[0]).toBe(order.quantity);
      expect(order.value).toBe(40 * order.quantity);
      expect(order.firm).toBe(order.orderBy <= '2026-07-03');
    }
    const { now, next12Months } = orderTotals([row], '2026-01-01');
    const within = row.orders.filter(({ orderBy }) => orderBy <= '2027-01-01');
    expect(next12Months.value).toBe(within.reduce((sum, { value }) => sum + (value ?? 0), 0));
    expect(now.orders).toBe(row.orders.filter(({ orderBy }) => orderBy <= '2026-01-01').length);
    expect(
      orderTotals([{ ...row, orders: row.orders.map((each) => ({ ...each, value: null })) }], '2026-01-01')
        .now,
    ).toMatchObject({
      value: 0,
      unpriced: now.orders,
    });
  });
});

describe('a delivery that must be hurried', () => {
  it('comes in time by an emergency order, with its days and its cost', () => {
    const { row } = advice({ items: [{ onHand: 0, emergencyDays: 4, emergencyExtraCost: 140 }] });
    const [order] = row.orders;
    expect(order).toMatchObject({
      expedite: true,
      dueBy: '2026-01-11',
      hurry: { days: 4, assumed: false, extraCost: 140, shortOnDay: 0 },
    });
    expect(orderTotals([row], '2026-01-01').now.hurry).toBe(140);
  });
  it('is said to be too late where even an emergency order is, and the kit is short by as many', () => {
    const { row, demand } = advice({ items: [{ onHand: 0, emergencyDays: 15 }] });
    const [order] = row.orders;
    expect(order?.dueBy).toBe('2026-01-16');
    expect(order?.hurry?.shortOnDay).toBeGreaterThanOrEqual(demand.planned[0]?.kit ?? Infinity);
    expect(order?.action).toContain('an emergency delivery comes 16 January 2026 at the earliest: borrow');
    expect(row.kits[0]).toMatchObject({ name: 'Spring 2026', short: order?.hurry?.shortOnDay });
  });
  it('takes a quarter of the lead time where no days are given', () => {
    const { row } = advice({ items: [{ onHand: 0, leadTimeDays: 36 }] });
    expect(row.orders[0]?.hurry).toMatchObject({ days: 9, assumed: true, extraCost: null });
  });
});

describe('an order that should have come', () => {
  const late = [{ item: 'P-1', quantity: 40, placed: null, due: TODAY - 4 }];
  it('is chased, with the shutdown that is short without it and the last day for an emergency order', () => {
    const { demand } = advice({ items: [{ onHand: 0 }] });
    const kit = demand.planned[0]?.kit ?? Number.NaN;
    const { row } = advice({ items: [{ onHand: kit - 2, emergencyDays: 4 }], orders: late });
    expect(row.kind).toBe('chase');
    expect(row.chase).toMatchObject({
      quantity: 40,
      due: '2025-12-28',
      needed: { for: 'Spring 2026', day: '2026-01-11' },
      decideBy: '2026-01-07',
    });
    // Two short, and what leaks before may take one more.
    expect(row.chase?.needed?.short).toBeGreaterThanOrEqual(2);
    expect(row.chase?.needed?.short).toBeLessThanOrEqual(3);
    expect(row.action).toMatch(
      /^chase the 40 due 28 December 2025, which have not come: without them [23] are missing for Spring 2026 on/,
    );
    expect(row.kits[0]?.late).toBe(40);
  });
  it('is chased without alarm where nothing is short, and not at all where it is not late', () => {
    const { row } = advice({ items: [{ onHand: 90 }], orders: late });
    expect(row.chase).toMatchObject({ needed: null, decideBy: null });
    const soon = advice({ items: [{ onHand: 90 }], orders: [{ ...late[0], due: TODAY + 4 } as never] });
    expect(soon.row.chase).toBeNull();
    expect(soon.row.kits[0]).toMatchObject({ late: 0, onTheWay: 40 });
  });
});

describe('lots', () => {
  it('are listed with what takes them, also those that will be used up', () => {
    const lots = [
      { item: 'P-1', lot: 'L-1', quantity: 5, cured: null, useBy: TODAY + 30 },
      { item: 'P-1', lot: 'L-2', quantity: 80, cured: null, useBy: TODAY + 60 },
    ];
    const { row } = advice({ items: [{ onHand: 85, shelfLifeMonths: 48 }], lots });
    expect(row.lots.map(({ lot, quantity, useBy }) => [lot, quantity, useBy])).toEqual([
      ['L-1', 5, '2026-01-31'],
      ['L-2', 80, '2026-03-02'],
    ]);
    expect(row.lots[0]).toMatchObject({ expires: 0, for: ['Spring 2026'] });
    expect(row.lots[1]?.expires).toBeGreaterThan(30);
    expect(row.expiring).toEqual({ quantity: row.lots[1]?.expires, useBy: '2026-03-02' });
  });
});

describe('an order that will expire in part', () => {
  const need = itemNeed({ ...advice({ items: [{}] }).demand, leaksPerYear: 2, downtimePerHour: 100 });
  const input = { quantity: 25, scrap: 12, price: 50, currency: 'EUR', keepsDays: 730.5 };
  it('is weighed against waiting: 4 leaks of 5 days at 100 an hour are dearer than 600 of scrap', () => {
    const hurry = { days: 5, assumed: false, extraCost: 200 };
    const { text, todo } = scrapWarning({ ...input, hurry }, need);
    // 4 leaks x (5 x 24 x 100 + 200) = 48 800.
    expect(text).toContain('About 12 of these 25 are likely to expire unused, worth 600 EUR.');
    expect(text).toContain('49\u00a0000 EUR');
    expect(todo).toMatch(/^Going short costs more/);
  });
  it('is advised against where the scrap is dearer', () => {
    const cheap = itemNeed({ ...advice({ items: [{}] }).demand, leaksPerYear: 0.1, downtimePerHour: 1 });
    const { todo } = scrapWarning({ ...input, hurry: { days: 5, assumed: false, extraCost: 50 } }, cheap);
    expect(todo).toMatch(/^The scrap costs more/);
    const unpriced = scrapWarning(
      { ...input, price: null, hurry: { days: 5, assumed: true, extraCost: null } },
      need,
    );
    expect(unpriced.todo).toMatch(/^Ask for a smaller pack/);
  });
  it('says so at the order itself', () => {
    const { row } = advice({ items: [{ onHand: 0, minOrder: 500, shelfLifeMonths: 12, price: 10 }] });
    const order = row.orders.find(({ scrap }) => scrap > 0);
    expect(order?.warnings.map(({ code }) => code)).toEqual(['minimum-order-expires']);
    expect(row.warnings.map(({ code }) => code)).toContain('minimum-order-expires');
  });
});

describe('kits', () => {
  it('are one list: those of the orders, with what there is for them', () => {
    const { rows, demand } = advice({ items: [{ onHand: 12 }] });
    const kits = kitRows([demand], rows);
    expect(kits.map(({ start, layOut }) => [start, layOut])).toEqual(
      demand.planned
        .filter(({ kit, ifNothingLeaks }) => kit > 0 || ifNothingLeaks > 0)
        .map(({ day, kit }) => [expect.stringMatching(/^\d{4}-\d\d-\d\d$/) && dayText(day), kit]),
    );
    for (const kit of kits) {
      const there = (kit.onShelf ?? 0) + (kit.onTheWay ?? 0) + (kit.late ?? 0) + (kit.toOrder ?? 0);
      expect(there + (kit.short ?? 0)).toBeGreaterThanOrEqual(kit.layOut - 0.06);
    }
    expect(kitRows([demand], [])[0]).toMatchObject({ onShelf: null, short: null, orderBy: null });
  });
});

function dayText(day: number): string {
  return new Date(day * 86_400_000).toISOString().slice(0, 10);
}

describe('served along the orders', () => {
  const { demand } = advice({ items: [{}] });
  const need = itemNeed(demand);
  it('is 0 on an empty shelf that nothing comes to, 1 on a full one, and never falls as the shelf grows', () => {
    const cover = (usable: number) => [{ from: 0, at: 20, span: 7, usable }];
    expect(servedAlong(cover(0), need, 0)).toBe(0);
    expect(servedAlong(cover(1000), need, 0)).toBeCloseTo(1, 12);
    let before = 0;
    for (let usable = 1; usable < 12; usable++) {
      const served = servedAlong(cover(usable), need, 0);
      expect(served).toBeGreaterThanOrEqual(before);
      before = served;
    }
    expect(servedAlong([], need, 0)).toBe(1);
  });
  it('counts the weeks before the first delivery can come', () => {
    // No schedule: leaks and openings alone.
    const served = (onHand: number): number => {
      const ages = Array.from({ length: 40 }, (_, i) => 10 * i);
      const { fleet, grouped } = plant([{ shape: 3, scale: 900, openingsPerYear: 0.1, ages }], {
        items: [{ onHand, leadTimeDays: 200, leadTimeSdDays: 0 }],
      });
      const forecast = forecastDemand(fleet, grouped, { name: 'today', intervalDays: [null] }, { seed: 1 });
      const [row] = sizeStock(fleet, forecast);
      const first = itemNeed(forecast.items[0] ?? null);
      // What is asked for in the first 200 days, as a share of two years.
      const early = first.randomMean(0, 200) / first.randomMean(0, 730);
      if (onHand === 0) expect(1 - (row?.served ?? 1)).toBeGreaterThan(0.95 * early);
      return row?.served ?? Number.NaN;
    };
    expect(served(0)).toBeLessThan(0.9);
    expect(served(40)).toBeGreaterThan(0.95);
  });
  it('has the cover of each review', () => {
    const { cover } = netOrders({
      shelf: [{ quantity: 9, useBy: Infinity }],
      receipts: [],
      planned: [],
      randomTarget: () => 0,
      randomMean: () => 0,
      lead: 10,
      review: 7,
      horizon: 30,
      pack: 1,
      minOrder: 1,
      keeps: Infinity,
    });
    expect(cover.map(({ from, at, usable }) => [from, at, usable])).toEqual([
      [0, 3.5, 9],
      [0, 8.5, 9],
      [0, 13.5, 9],
      [7, 20.5, 9],
      [14, 27.5, 9],
    ]);
  });
});

describe('counts of small means', () => {
  it('have the quantiles of the incomplete beta and gamma functions', () => {
    for (const mean of [0.001, 0.3, 2, 11, 39, 180, 599, 5000]) {
      for (const spread of [1, 1.05, 1.7, 6]) {
        for (const p of [0.1, 0.5, 0.9, 0.95, 0.97, 0.999]) {
          const variance = mean * spread;
          const exact = spread > 1 ? negativeBinomialQuantile(p, mean, variance) : poissonQuantile(p, mean);
          expect(countQuantile(p, mean, variance)).toBe(exact);
        }
      }
    }
  });
  it('have the chance of at least so many', () => {
    const need = itemNeed({ ...advice({ items: [{}] }).demand });
    const mean = need.randomMean(10, 80);
    const at = (pieces: number): number => need.randomAtLeast(pieces, 10, 80, 12);
    expect(at(0)).toBe(1);
    const variance = varianceFrom(at, 60) - mean * mean;
    for (const k of [1, 2, 5]) expect(at(k)).toBeCloseTo(1 - negativeBinomialCdf(k - 1, mean, variance), 6);
  });
});

/** Mean of the square by the chances of at least k. */
function varianceFrom(atLeast: (k: number) => number, most: number): number {
  let square = 0;
  for (let k = 1; k <= most; k++) square += (2 * k - 1) * atLeast(k);
  return square;
}
