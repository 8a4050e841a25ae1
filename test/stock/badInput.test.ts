/** Absurd and broken stores: an answer or a sentence, never NaN, never an endless run. */
import { describe, expect, it } from 'vitest';
import { forecastDemand } from '../../lib/demand/forecast.js';
import type { ItemDemand } from '../../lib/demand/types.js';
import { fleetOf } from '../../lib/fleet/read.js';
import { sizeStock } from '../../lib/stock/size.js';
import type { StockAdvice } from '../../lib/stock/types.js';
import { type PlantOptions, plant, TODAY } from '../demand/plant.js';

const exactly = (likely: number) => ({ low: likely, likely, high: likely });

interface Change extends PlantOptions {
  ages?: number[];
  openingsPerYear?: number;
  /** Multiplies leaks and openings. */
  times?: number;
  orderCost?: number;
}

function rowsOf({
  ages,
  openingsPerYear = 0.1,
  times = 1,
  orderCost = 85,
  ...options
}: Change): StockAdvice[] {
  const { fleet, grouped } = plant(
    [{ shape: 3, scale: 900, openingsPerYear, ages: ages ?? Array.from({ length: 40 }, (_, i) => 10 * i) }],
    { shutdowns: [{ name: 'Spring 2026', inDays: 80 }], ...options },
  );
  fleet.site.money = {
    ...fleet.site.money,
    orderCost: exactly(orderCost),
    holdingRatePerYear: exactly(0.25),
  };
  const forecast = forecastDemand(fleet, grouped, { name: 'proposed', intervalDays: [400] }, { seed: 1 });
  return sizeStock(fleet, { ...forecast, items: forecast.items.map((each) => scaled(each, times)) });
}

function scaled(demand: ItemDemand, times: number): ItemDemand {
  return {
    ...demand,
    randomPerStep: demand.randomPerStep.map((each) => each * times),
    randomVariancePerStep: demand.randomVariancePerStep.map((each) => each * times),
    leaksPerYear: demand.leaksPerYear * times,
    openingsPerYear: demand.openingsPerYear * times,
  };
}

/** Every number is finite, every share a share, every order of whole packs and at least the smallest. */
function sound(rows: readonly StockAdvice[]): void {
  expect(JSON.stringify(rows)).not.toMatch(/NaN|Infinity/);
  for (const row of rows) {
    const { measures } = row.policy ?? {};
    for (const rate of [
      row.served,
      measures?.fillRate ?? 1,
      measures?.readyRate ?? 1,
      measures?.cycleService ?? 1,
    ]) {
      expect(rate).toBeGreaterThanOrEqual(0);
      expect(rate).toBeLessThanOrEqual(1);
    }
    for (const value of [row.reorderPoint, row.orderQuantity, row.leaksFindingShelfEmptyPerYear]) {
      expect(Number.isFinite(value)).toBe(true);
    }
    for (const { quantity } of row.orders) {
      expect(quantity % row.pack).toBe(0);
      expect(quantity).toBeGreaterThanOrEqual(Math.min(row.minOrder, quantity + row.pack));
      expect(quantity).toBeGreaterThan(0);
    }
  }
}

describe('one item', () => {
  it.each<[string, Change]>([
    ['lead time 0', { items: [{ leadTimeDays: 0, leadTimeSdDays: 0 }] }],
    ['lead time 0 with a spread', { items: [{ leadTimeDays: 0, leadTimeSdDays: 10 }] }],
    ['lead time of ten years', { items: [{ leadTimeDays: 3650, leadTimeSdDays: 3650 }] }],
    ['lead time beyond the shelf life', { items: [{ leadTimeDays: 400, shelfLifeMonths: 6, minOrder: 50 }] }],
    ['shelf life of a day', { items: [{ shelfLifeMonths: 0.03 }] }],
    ['no price', { items: [{ price: null }] }],
    ['price 0', { items: [{ price: 0 }] }],
    ['orders that cost nothing', { items: [{}], orderCost: 0 }],
    ['orders that cost a billion', { items: [{}], orderCost: 1e9 }],
    ['price breaks beyond all need', { items: [{ priceBreaks: [{ from: 1e6, price: 1e-3 }] }] }],
    ['target 0', { items: [{}], served: 0 }],
    ['target 1', { items: [{}], served: 1 }],
    ['a smallest order of a million', { items: [{ minOrder: 1e6, pack: 1 }] }],
    ['a pack of ten thousand', { items: [{ pack: 1e4 }] }],
    ['no demand at all', { items: [{}], ages: [], openingsPerYear: 0 }],
    ['a stock of a million', { items: [{ onHand: 1e6 }] }],
    ['review every year', { items: [{}], reviewDays: 366 }],
    [
      'only expired lots',
      {
        items: [{ onHand: 20, shelfLifeMonths: 48 }],
        lots: [{ item: 'P-1', lot: 'x', quantity: 20, cured: null, useBy: TODAY - 900 }],
      },
    ],
    [
      'an order ten years overdue',
      { items: [{}], orders: [{ item: 'P-1', quantity: 5, placed: null, due: TODAY - 3650 }] },
    ],
  ])('%s', (_, change) => sound(rowsOf(change)));

  it.each<[string, Change, string, RegExp]>([
    [
      'a lead time beyond the shelf life',
      { items: [{ leadTimeDays: 400, shelfLifeMonths: 6 }] },
      'lead-beyond-shelf-life',
      /an order is placed before what it replaces expires/,
    ],
    ['a target of 100 %', { items: [{}], served: 1 }, 'target-lowered', /99\.9 % is used/],
    [
      'expired lots',
      {
        items: [{ onHand: 20, shelfLifeMonths: 48 }],
        lots: [{ item: 'P-1', lot: 'x', quantity: 20, cured: null, useBy: TODAY - 900 }],
      },
      'expired-stock',
      /20 on the shelf are past use-by and not counted/,
    ],
    [
      'an overdue order',
      { items: [{}], orders: [{ item: 'P-1', quantity: 5, placed: null, due: TODAY - 3650 }] },
      'order-overdue',
      /5 on order were due by 2016-01-04/,
    ],
    [
      'pieces without a use-by date',
      { items: [{ onHand: 7, shelfLifeMonths: 48 }] },
      'no-use-by',
      /7 on hand have no use-by date: taken to be as fresh as a delivery of today/,
    ],
    ['no lead time', { items: [{ leadTimeDays: null }] }, 'lead-time-assumed', /60 days assumed/],
  ])('%s is said, with what to do', (_, change, code, text) => {
    const [row] = rowsOf(change);
    const warning = row?.warnings.find((each) => each.code === code);
    expect(warning?.text).toMatch(text);
    expect(warning?.todo).not.toBe('');
  });
  it('deliveries that come on the day they are ordered are ordered once, and there when needed', () => {
    const { fleet, grouped } = plant([{ shape: 3, scale: 900, openingsPerYear: 2, ages: [1, 2, 3, 4] }], {
      items: [{ leadTimeDays: 0, leadTimeSdDays: 0 }],
    });
    const forecast = forecastDemand(fleet, grouped, { name: 'proposed', intervalDays: [null] }, { seed: 1 });
    const [row] = sizeStock(fleet, forecast);
    const used = (forecast.items[0]?.randomPerStep ?? []).reduce((sum, each) => sum + each, 0);
    const ordered = row?.orders.reduce((sum, { quantity }) => sum + quantity, 0) ?? 0;
    expect(ordered).toBeGreaterThanOrEqual(used);
    expect(ordered).toBeLessThan(used + 5);
    expect(row?.served).toBeGreaterThan(0.95);
  });

  it('a mean of 1e5 a lead time neither overflows nor takes long', () => {
    const rows = rowsOf({ items: [{}], times: 120_000 });
    sound(rows);
    expect(rows[0]?.reorderPoint).toBeGreaterThan(1e5);
    expect(rows[0]?.policy?.measures.fillRate).toBeGreaterThanOrEqual(0.95 - 1e-9);
  });
  it('a single leak in a million years is no reason to order more than one', () => {
    const rows = rowsOf({ items: [{}], times: 1e-9, shutdowns: [], ages: [1] });
    sound(rows);
    expect(rows[0]?.reorderPoint).toBe(0);
  });
  it('nothing used for years: the rate is not 0, and a warning asks', () => {
    const monthly = {
      item: 'S-1',
      first: 2016 * 12,
      used: new Array(120).fill(0),
      planned: new Array(120).fill(0),
    };
    const rows = rowsOf({
      items: [{}, { item: 'S-1', material: 'NBR', onHand: 3 }],
      monthlyUse: [{ ...monthly, given: 120, ahead: [] }],
    });
    sound(rows);
    expect(rows[1]?.warnings.map(({ code }) => code)).toContain('recorded-use-silent');
    expect(rows[1]?.policy?.measures.ordersPerYear).toBeGreaterThan(0);
  });
});

describe('the files', () => {
  const read = (items: string) =>
    fleetOf({
      files: new Map(
        Object.entries({
          'positions.csv': 'position,size\nV-1,25\n',
          'lives.csv': 'position,material,fitted,removed,reason\nV-1,EPDM,2024-01-01,,\n',
          'site.json': '{"data_until":"2026-01-15"}',
          'items.csv': items,
        }).map(([name, text]) => [name, new TextEncoder().encode(text)]),
      ),
      hash: '',
      unread: [],
    });
  const codes = (items: string) => read(items).findings.problems.map(({ code, done }) => `${code}: ${done}`);

  it('pack 0, negative stock and lead time 0 are used as if not given, and said', () => {
    const fleet = read('item,material,size,pack,on_hand,lead_time_days,min_order\nP-1,EPDM,25,0,-3,0,-1\n');
    expect(fleet.items[0]).toMatchObject({ pack: 1, onHand: 0, leadTimeDays: null, minOrder: 1 });
    const found = fleet.findings.problems.filter(({ file }) => file === 'items.csv');
    expect(found.map(({ column, done }) => [column, done])).toEqual(
      expect.arrayContaining(
        ['pack', 'on_hand', 'lead_time_days', 'min_order'].map((name) => [name, 'mended']),
      ),
    );
  });
  it('an item in use that is not listed, and one listed that nothing uses, are asked about', () => {
    expect(codes('item,material,size\nP-9,NBR,25\n')).toEqual(
      expect.arrayContaining(['material-without-item: used', 'item-not-in-use: used']),
    );
  });
  it('of two items for one material and size the second is set aside, or kept as a substitute', () => {
    const two = read('item,material,size\nP-1,EPDM,25\nP-2,EPDM,25\n');
    expect(two.items.map(({ item }) => item)).toEqual(['P-1']);
    expect(two.findings.problems.map(({ code }) => code)).toContain('item-material-size-twice');
    const both = read('item,material,size,approved_substitute\nP-1,EPDM,25,P-2\nP-2,EPDM,25,\n');
    expect(both.items.map(({ item }) => item)).toEqual(['P-1', 'P-2']);
  });
});
