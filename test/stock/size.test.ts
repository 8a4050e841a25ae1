import { describe, expect, it } from 'vitest';
import { forecastDemand } from '../../lib/demand/forecast.js';
import { dayFromText } from '../../lib/numeric/day.js';
import { sizeStock } from '../../lib/stock/size.js';
import type { StockAdvice } from '../../lib/stock/types.js';
import { type PlantOptions, plant, TODAY } from '../demand/plant.js';

const SHUTDOWNS = [
  { name: 'spring shutdown', inDays: 80 },
  { name: 'autumn shutdown', inDays: 260 },
];

/** Advice for 40 positions of one kind, of mixed ages, under a plan of 400 days. */
function advice(
  options: PlantOptions,
  more: { openingsPerYear?: number; ages?: number[] } = {},
): StockAdvice[] {
  const ages = more.ages ?? Array.from({ length: 40 }, (_, i) => 10 * i);
  const { fleet, grouped } = plant(
    [{ shape: 3, scale: 900, share: 0.02, openingsPerYear: more.openingsPerYear ?? 0.1, ages }],
    { shutdowns: SHUTDOWNS, ...options },
  );
  const forecast = forecastDemand(fleet, grouped, { name: 'proposed', intervalDays: [400] }, { seed: 1 });
  return sizeStock(fleet, forecast);
}

function first(rows: StockAdvice[]): StockAdvice {
  const row = rows[0];
  if (row === undefined) throw new Error('one row per item is expected');
  return row;
}

const codes = (row: StockAdvice): string[] => row.warnings.map(({ code }) => code);

describe('what to do about an item', () => {
  it('orders for the next shutdown, ahead of it by the lead time and its spread', () => {
    const row = first(advice({ items: [{ onHand: 10, leadTimeDays: 30, leadTimeSdDays: 5 }] }));
    expect(row.kind).toBe('order later');
    expect(row.action).toMatch(/^order \d+ by \d+ February 2026 for the spring shutdown$/);
    const [order] = row.orders;
    expect(order?.expedite).toBe(false);
    // 98 of 100 deliveries of 30 days (spread 5) come within 41: the kit is due 11 days and up to a review before it is needed.
    const due = dayFromText(order?.dueBy ?? '') ?? Number.NaN;
    expect(TODAY + 80 - due).toBeGreaterThanOrEqual(10);
    expect(TODAY + 80 - due).toBeLessThanOrEqual(19);
  });
  it('hurries what the lead time no longer reaches', () => {
    const row = first(advice({ items: [{ onHand: 0, leadTimeDays: 120, leadTimeSdDays: 0 }] }));
    expect(row.kind).toBe('order now');
    expect(row.action).toMatch(
      /^order \d+ at once and hurry the delivery: needed by 22 March 2026 for the spring shutdown/,
    );
  });
  it('uses first what expires first, and says so with the date', () => {
    const row = first(
      advice({
        items: [{ onHand: 150, shelfLifeMonths: 48 }],
        lots: [{ item: 'P-1', lot: 'old', quantity: 60, cured: null, useBy: TODAY + 85 }],
      }),
    );
    expect(row.kind).toBe('use first');
    expect(row.expiring.useBy).toBe('2026-03-27');
    expect(row.action).toMatch(
      /^use the 60 that expire by 27 March 2026 first; \d+ of them will expire even so; enough for \d+ months: do not order/,
    );
    expect(row.expiring.quantity).toBeLessThanOrEqual(60);
    expect(row.lots).toMatchObject([
      { lot: 'old', quantity: 60, useBy: '2026-03-27', expires: row.expiring.quantity },
    ]);
  });
  it('does not order where there is enough', () => {
    const row = first(advice({ items: [{ onHand: 400 }] }));
    expect(row.kind).toBe('do not order');
    expect(row.action).toMatch(/^enough for (over 10 years|\d+ months): do not order$/);
    expect(row.orders).toEqual([]);
  });
  it('has no orders and no reorder point for an item that nothing uses', () => {
    const rows = advice({ items: [{ onHand: 400 }, { item: 'P-9', material: 'NBR', onHand: 7 }] });
    expect(rows[1]).toMatchObject({ item: 'P-9', kind: 'do not order', reorderPoint: 0, orders: [] });
    expect(rows[1]?.action).toBe('nothing needed: do not order');
  });
  it('names what is needed and missing from items.csv', () => {
    const row = advice({ items: [{ item: 'P-9', material: 'NBR' }] })[1];
    expect(row).toMatchObject({ item: 'EPDM DN 25', kind: 'no data' });
    expect(row?.action).toMatch(
      /^no part number: about \d+ a year are needed, the next \d+ for the spring shutdown on 22 March 2026$/,
    );
  });
  it('has no rows at all where items.csv is missing', () => {
    const { fleet, grouped } = plant([{ shape: 3, scale: 900, ages: [1] }]);
    fleet.filesRead = ['positions.csv', 'lives.csv'];
    const forecast = forecastDemand(fleet, grouped, { name: 'today', intervalDays: [null] }, { seed: 1 });
    expect(sizeStock(fleet, forecast)).toEqual([]);
  });
  it('counts what is on order once', () => {
    const none = first(advice({ items: [{ onHand: 10, leadTimeDays: 30 }] }));
    const some = first(
      advice({
        items: [{ onHand: 10, leadTimeDays: 30 }],
        orders: [{ item: 'P-1', quantity: 20, placed: null, due: TODAY + 20 }],
      }),
    );
    const total = (row: StockAdvice): number => row.orders.reduce((sum, { quantity }) => sum + quantity, 0);
    expect(some.onOrder).toBe(20);
    expect(total(none) - total(some)).toBeGreaterThanOrEqual(15);
    expect(total(none) - total(some)).toBeLessThanOrEqual(25);
  });
  it('orders whole packs and at least the smallest order', () => {
    const row = first(advice({ items: [{ onHand: 0, pack: 5, minOrder: 20 }] }));
    for (const { quantity } of row.orders) {
      expect(quantity % 5).toBe(0);
      expect(quantity).toBeGreaterThanOrEqual(20);
    }
  });
});

describe('what is missing or odd is said', () => {
  it('assumes a lead time of 60 days and a spread of a quarter', () => {
    expect(codes(first(advice({ items: [{ leadTimeDays: null, leadTimeSdDays: null }] })))).toEqual([
      'lead-time-assumed',
      'lead-spread-assumed',
      'shelf-life-assumed',
    ]);
  });
  it('leaves expired pieces out of what is usable', () => {
    const row = first(
      advice({
        items: [{ onHand: 30, shelfLifeMonths: 48 }],
        lots: [{ item: 'P-1', lot: 'x', quantity: 30, cured: null, useBy: TODAY - 1 }],
      }),
    );
    expect([row.onHand, row.usable]).toEqual([30, 0]);
    expect(codes(row)).toContain('expired-stock');
  });
  it('reads the use-by of a lot from its cure date and the shelf life', () => {
    const cured = TODAY - 3000;
    const lots = [{ item: 'P-1', lot: 'x', quantity: 30, cured, useBy: null }];
    expect(first(advice({ items: [{ onHand: 30, shelfLifeMonths: 48 }], lots })).usable).toBe(0);
    expect(first(advice({ items: [{ onHand: 30, shelfLifeMonths: null }], lots })).usable).toBe(30);
  });
  it('takes overdue orders as coming within the review period', () => {
    const row = first(
      advice({ items: [{}], orders: [{ item: 'P-1', quantity: 50, placed: null, due: TODAY - 40 }] }),
    );
    expect(row.onOrder).toBe(50);
    expect(codes(row)).toContain('order-overdue');
  });
  it('lowers a target of 100 % and says so; 0 keeps no stock for leaks', () => {
    const all = first(advice({ items: [{}], served: 1 }));
    expect(codes(all)).toContain('target-lowered');
    expect(all.servedTarget).toBe(0.999);
    const none = first(advice({ items: [{}], served: 0 }));
    expect(none.reorderPoint).toBe(0);
  });
  it('warns where the lead time is longer than the shelf life', () => {
    const row = first(advice({ items: [{ leadTimeDays: 400, shelfLifeMonths: 6 }] }));
    expect(codes(row)).toContain('lead-beyond-shelf-life');
  });
  it('warns where the smallest order is likely to expire', () => {
    const row = first(
      advice(
        { items: [{ minOrder: 500, shelfLifeMonths: 24, price: 10 }] },
        { ages: [10, 20], openingsPerYear: 0 },
      ),
    );
    expect(codes(row)).toContain('minimum-order-expires');
  });
  it('plans two part numbers of one diaphragm on the first and uses up the second', () => {
    const rows = advice({ items: [{ item: 'A' }, { item: 'B', onHand: 9 }] });
    expect(rows[1]).toMatchObject({ item: 'B', kind: 'use first', orders: [] });
    expect(rows[1]?.action).toBe(
      'use the 9 on the shelf before ordering A, which has the same material and size',
    );
    expect(codes(rows[1] as StockAdvice)).toContain('two-items-for-one-diaphragm');
  });
  it('takes the oldest lots as used up where lots.csv has more than items.csv', () => {
    const lots = [
      { item: 'P-1', lot: 'old', quantity: 30, cured: null, useBy: TODAY + 10 },
      { item: 'P-1', lot: 'new', quantity: 30, cured: null, useBy: TODAY + 900 },
    ];
    const row = first(advice({ items: [{ onHand: 30, shelfLifeMonths: 48 }], lots }));
    expect(row.usable).toBe(30);
    expect(row.expiring.quantity).toBe(0);
    expect(codes(row)).toContain('lots-above-on-hand');
  });
  it('holds up with no lead time, no price, no demand and a review every day', () => {
    const rows = advice(
      { items: [{ leadTimeDays: 0, leadTimeSdDays: 0, price: null }], reviewDays: 1 },
      { ages: [], openingsPerYear: 0 },
    );
    expect(rows).toHaveLength(1);
    expect(JSON.stringify(rows)).not.toContain('NaN');
    const busy = first(
      advice({ items: [{ leadTimeDays: 0, leadTimeSdDays: null, price: null }], reviewDays: 1 }),
    );
    expect(busy.value).toBeNull();
    expect(busy.orders.length).toBeGreaterThan(0);
  });
});

describe('numbers of an item', () => {
  it('meet the target of the highest criticality among its positions', () => {
    const { fleet, grouped } = plant(
      [
        { shape: 3, scale: 900, openingsPerYear: 0.2, ages: [10, 20, 30], criticality: 'low' },
        { shape: 3, scale: 900, openingsPerYear: 0.2, ages: [10, 20, 30], criticality: 'high' },
      ],
      { items: [{ onHand: 3 }] },
    );
    fleet.site.targets.served = { low: 0.5, normal: 0.6, high: 0.97, safety: 0.99 };
    const forecast = forecastDemand(
      fleet,
      grouped,
      { name: 'today', intervalDays: [null, null] },
      { seed: 1 },
    );
    const row = first(sizeStock(fleet, forecast));
    expect(row.servedTarget).toBe(0.97);
    expect(row.served).toBeGreaterThanOrEqual(0.97);
    const leaks = forecast.items[0]?.leaksPerYear ?? 0;
    expect(row.leaksFindingShelfEmptyPerYear).toBeCloseTo(leaks * (1 - row.served), 12);
  });
  it('hold more for openings that come in jobs', () => {
    const jobs = Array.from({ length: 12 }, (_, j) => j).flatMap((j) =>
      Array.from({ length: 5 }, (_, v) => ({ position: v, day: TODAY - 100 * (j + 1) })),
    );
    const single = first(advice({ items: [{}] }, { openingsPerYear: 0.5 }));
    const many = first(advice({ items: [{}], opened: jobs }, { openingsPerYear: 0.5 }));
    expect(many.reorderPoint).toBeGreaterThan(single.reorderPoint);
  });
});
