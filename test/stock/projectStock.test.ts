import { describe, expect, it } from 'vitest';
import { forecastDemand } from '../../lib/demand/forecast.js';
import { UsageError } from '../../lib/errors.js';
import { sum } from '../../lib/numeric/columns.js';
import { textFromDay } from '../../lib/numeric/day.js';
import { itemNeed } from '../../lib/stock/itemNeed.js';
import { projectStock, type StockProjection } from '../../lib/stock/projectStock.js';
import { sizeStock } from '../../lib/stock/size.js';
import type { StockAdvice } from '../../lib/stock/types.js';
import { type PlantOptions, plant, TODAY } from '../demand/plant.js';

const SHUTDOWNS = [
  { name: 'spring shutdown', inDays: 80 },
  { name: 'autumn shutdown', inDays: 260 },
];
const AGES = Array.from({ length: 40 }, (_, i) => 10 * i);

function project(options: PlantOptions): { course: StockProjection; used: (days: number) => number } {
  const group = { shape: 3, scale: 900, share: 0.02, openingsPerYear: 0.5, ages: AGES };
  const { fleet, grouped } = plant([group], { shutdowns: SHUTDOWNS, ...options });
  const forecast = forecastDemand(fleet, grouped, { name: 'proposed', intervalDays: [400] }, { seed: 1 });
  const [advice] = sizeStock(fleet, forecast);
  const [demand] = forecast.items;
  const used = (days: number): number => itemNeed(demand ?? null).randomMean(0, days);
  return { course: projectStock(fleet, forecast, advice as StockAdvice), used };
}

const last = (values: readonly number[]): number => values[values.length - 1] ?? Number.NaN;

describe('the shelf ahead', () => {
  it('ends at what there is, plus all that comes, less all that goes', () => {
    const { course, used } = project({
      items: [{ onHand: 10, leadTimeDays: 30, leadTimeSdDays: 5 }],
      orders: [{ item: 'P-1', quantity: 7, placed: TODAY - 10, due: TODAY + 20 }],
    });
    const events = sum(course.events.map(({ quantity }) => quantity));
    expect(course.events.map(({ kind }) => kind)).toContain('ordered here');
    expect(course.events.filter(({ kind }) => kind === 'on order')).toMatchObject([
      { day: textFromDay(TODAY + 20), quantity: 7 },
    ]);
    expect(last(course.expected)).toBeCloseTo(10 + events - used(last(course.days)), 6);
    const ordered = sum(course.orders.map(({ quantity }) => quantity));
    expect(last(course.expected) - last(course.withoutOrders)).toBeCloseTo(ordered, 6);
  });

  it('takes pieces off the day after their last good one, and says which lot', () => {
    const { course, used } = project({
      items: [{ onHand: 90, shelfLifeMonths: 48 }],
      lots: [{ item: 'P-1', lot: 'old', quantity: 60, cured: null, useBy: TODAY + 40 }],
    });
    const expired = course.events.filter(({ kind }) => kind === 'expired');
    expect(expired).toMatchObject([{ day: textFromDay(TODAY + 40), name: 'old' }]);
    // Nothing but leaks and openings takes of it in 40 days: the first kit is due later.
    expect(expired[0]?.quantity).toBeCloseTo(-(60 - used(40)), 4);
    const [before, after] = [40, 41].map((day) => course.expected[course.days.indexOf(day)] ?? Number.NaN);
    expect((before ?? 0) - (after ?? 0)).toBeCloseTo(60 - used(40) + (used(41) - used(40)), 4);
  });

  it('has a range round it that opens with time, and counts the first year', () => {
    const { course, used } = project({ items: [{ onHand: 200 }] });
    const width = (i: number): number => (course.high[i] ?? 0) - (course.low[i] ?? 0);
    expect(width(0)).toBe(0);
    course.days.forEach((day, i) => {
      expect(course.low[i], `day ${day}`).toBeLessThanOrEqual((course.expected[i] ?? 0) + 1);
      expect(course.high[i], `day ${day}`).toBeGreaterThanOrEqual((course.expected[i] ?? 0) - 1);
    });
    expect(width(course.days.length - 1)).toBeGreaterThan(width(8));
    const { kits, random, low, high } = course.firstYear;
    expect(random).toBeCloseTo(used(365), 0);
    expect(low).toBeLessThan(random);
    expect(high).toBeGreaterThan(random);
    const taken = course.events.filter(({ kind }) => kind === 'kit');
    expect(taken.map(({ name }) => name).slice(0, 2)).toEqual(['spring shutdown', 'autumn shutdown']);
    expect(kits).toBeCloseTo(-sum(taken.slice(0, 2).map(({ quantity }) => quantity)), 9);
  });

  it('rises and falls in order of the day, weeks apart at most', () => {
    const { course } = project({ items: [{ onHand: 10, leadTimeDays: 30 }] });
    course.days.slice(1).forEach((day, i) => {
      expect(day).toBeGreaterThan(course.days[i] ?? Infinity);
      expect(day - (course.days[i] ?? 0)).toBeLessThanOrEqual(7);
    });
    const days = course.events.map(({ day }) => day);
    expect([...days].sort()).toEqual(days);
  });

  it('refuses an item that stores does not list', () => {
    const { fleet, grouped } = plant([{ shape: 3, scale: 900, ages: AGES }], { items: [] });
    const forecast = forecastDemand(fleet, grouped, { name: 'proposed', intervalDays: [400] }, { seed: 1 });
    const advice = { item: 'P-404' } as StockAdvice;
    expect(() => projectStock(fleet, forecast, advice)).toThrow(UsageError);
  });
});
