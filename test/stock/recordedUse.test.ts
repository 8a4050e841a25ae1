/** Items known by their monthly use: their orders, and the check beside the positions' model. */
import { describe, expect, it } from 'vitest';
import { forecastDemand } from '../../lib/demand/forecast.js';
import type { MonthlyUse } from '../../lib/fleet/types.js';
import { withUseCheck } from '../../lib/stock/recordedUse.js';
import { sizeStock } from '../../lib/stock/size.js';
import type { StockAdvice } from '../../lib/stock/types.js';
import { type PlantOptions, plant } from '../demand/plant.js';

/** Months from January 2023 to December 2025, the day of the data being 1 January 2026. */
function use(item: string, used: number[], change: Partial<MonthlyUse> = {}): MonthlyUse {
  const planned = new Array<number>(used.length).fill(0);
  return { item, first: 2026 * 12 - used.length, used, planned, given: used.length, ahead: [], ...change };
}

function rowsOf(options: PlantOptions): { rows: StockAdvice[]; forecast: ReturnType<typeof forecastDemand> } {
  const { fleet, grouped } = plant(
    [{ shape: 3, scale: 900, openingsPerYear: 0.1, ages: Array.from({ length: 40 }, (_, i) => 10 * i) }],
    options,
  );
  const forecast = forecastDemand(fleet, grouped, { name: 'today', intervalDays: [400] }, { seed: 1 });
  return { rows: sizeStock(fleet, forecast), forecast };
}

const OTHER = { item: 'S-1', material: 'NBR', size: 25 };
const EVERY_THIRD = Array.from({ length: 36 }, (_, t) => (t % 3 === 2 ? 3 : 0));
const row = (rows: StockAdvice[], item: string): StockAdvice =>
  rows.find((each) => each.item === item) as StockAdvice;

describe('an item that no position needs', () => {
  it('has orders, a reorder point and a rule from its monthly use, and says by which method', () => {
    const found = row(rowsOf({ items: [{}, OTHER], monthlyUse: [use('S-1', EVERY_THIRD)] }).rows, 'S-1');
    expect(found.recordedUse).toMatchObject({
      from: '2023-01',
      until: '2025-12',
      months: 36,
      pieces: 36,
      perYear: 12,
      purpose: 'forecast',
      class: 'intermittent',
    });
    expect(found.recordedUse?.perMonth).toBeGreaterThan(0.8);
    expect(found.recordedUse?.perMonth).toBeLessThan(1.2);
    expect(found.reorderPoint).toBeGreaterThan(0);
    expect(found.policy).not.toBeNull();
    // 24 months at one a month, an empty shelf: all of it is ordered within the horizon, and safety beside it.
    const pieces = found.orders.reduce((sum, { quantity }) => sum + quantity, 0);
    expect(pieces).toBeGreaterThan(20);
    expect(pieces).toBeLessThan(40);
    expect(found.orders[0]?.action).toMatch(/^order \d+ at once for use as recorded$/);
    expect(found.orders[0]?.because).toContain('needed for use as recorded until');
    expect(found.kind).toBe('order now');
  });
  it('has more on the shelf where use is lumpier, at the same mean', () => {
    const lumpy = Array.from({ length: 36 }, (_, t) => (t % 12 === 0 ? 12 : 0));
    const options = (used: number[]) => ({ items: [{}, OTHER], monthlyUse: [use('S-1', used)] });
    const even = row(rowsOf(options(EVERY_THIRD)).rows, 'S-1');
    const uneven = row(rowsOf(options(lumpy)).rows, 'S-1');
    expect(uneven.reorderPoint).toBeGreaterThan(even.reorderPoint);
  });
  it('planned months are ordered for by date; planned use that is on record and not to come is asked about', () => {
    const planned = EVERY_THIRD.map((each) => (each > 0 ? 2 : 0));
    const without = row(
      rowsOf({ items: [{}, OTHER], monthlyUse: [use('S-1', EVERY_THIRD, { planned })] }).rows,
      'S-1',
    );
    expect(without.warnings.map(({ code }) => code)).toContain('planned-use-missing');
    expect(without.recordedUse?.perMonth).toBeLessThan(0.5);
    const ahead = [{ month: 2026 * 12 + 5, pieces: 20 }];
    const found = row(
      rowsOf({ items: [{}, OTHER], monthlyUse: [use('S-1', EVERY_THIRD, { planned, ahead })] }).rows,
      'S-1',
    );
    expect(found.warnings.map(({ code }) => code)).not.toContain('planned-use-missing');
    expect(found.kits).toMatchObject([{ name: 'work planned for June 2026', day: '2026-06-01', short: 0 }]);
  });
  it('a record that ended, and one without any use, are said', () => {
    const old = use('S-1', EVERY_THIRD, { first: 2025 * 12 - 36 });
    expect(
      row(rowsOf({ items: [{}, OTHER], monthlyUse: [old] }).rows, 'S-1').warnings.map(({ code }) => code),
    ).toContain('recorded-use-old');
    const none = row(
      rowsOf({ items: [{}, OTHER], monthlyUse: [use('S-1', new Array(36).fill(0))] }).rows,
      'S-1',
    );
    expect(none.warnings.map(({ code }) => code)).toContain('recorded-use-silent');
    expect(JSON.stringify(none)).not.toMatch(/NaN/);
  });
  it('a list of months with use alone is not read as use more often: its first month is left out', () => {
    const listed = Array.from({ length: 34 }, (_, t) => (t % 3 === 0 ? 3 : 0));
    const monthly = (given: number) =>
      rowsOf({ items: [{}, OTHER], monthlyUse: [use('S-1', listed, { given })] });
    const alone = row(monthly(12).rows, 'S-1').recordedUse?.perMonth ?? 0;
    const all = row(monthly(34).rows, 'S-1').recordedUse?.perMonth ?? 0;
    expect(Math.abs(alone - 1)).toBeLessThan(0.06);
    expect(all).toBeGreaterThan(1.15);
  });
  it('says which months were filled with 0', () => {
    const found = row(
      rowsOf({ items: [{}, OTHER], monthlyUse: [use('S-1', EVERY_THIRD, { given: 30 })] }).rows,
      'S-1',
    );
    expect(found.recordedUse?.words).toContain('6 months between them are not given and count as 0');
  });
});

describe('an item that positions need as well', () => {
  const checked = (perMonth: number): StockAdvice => {
    const monthly = use('P-1', new Array(36).fill(perMonth));
    const { rows, forecast } = rowsOf({ items: [{}], monthlyUse: [monthly] });
    const without = rowsOf({ items: [{}] }).rows;
    // Orders rest on the positions: the same with the record as without.
    expect(rows[0]?.orders).toEqual(without[0]?.orders);
    return row(withUseCheck(rows, forecast.months, forecast.items), 'P-1');
  };
  it('its record is a check: it agrees, or a warning says what to look for', () => {
    const agrees = checked(3);
    expect(agrees.recordedUse?.purpose).toBe('check');
    const perYear = agrees.recordedUse?.modelledPerYear ?? Number.NaN;
    // 40 positions at 400 days and some openings: about 40 a year.
    expect(perYear).toBeGreaterThan(30);
    expect(perYear).toBeLessThan(50);
    const [low, high] = agrees.recordedUse?.modelledRange ?? [0, 0];
    expect(low).toBeLessThan(perYear);
    expect(high).toBeGreaterThan(perYear);
    expect(agrees.warnings.map(({ code }) => code)).not.toContain('recorded-use-differs');
    const more = checked(9).warnings.find(({ code }) => code === 'recorded-use-differs');
    expect(more?.text).toContain('Stores used 108 a year from January 2023 to December 2025');
    expect(more?.todo).toContain('positions that are not in positions.csv');
    expect(checked(1).warnings.find(({ code }) => code === 'recorded-use-differs')?.todo).toContain(
      'out of service',
    );
  });
});
