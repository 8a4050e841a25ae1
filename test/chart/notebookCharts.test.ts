/** Charts that the notebooks draw say what their numbers say. */
import { describe, expect, it } from 'vitest';
import {
  expiryCalendar,
  hazardChart,
  hazardSpans,
  lifeTimeline,
  savingDistribution,
  stockProjection,
  survivalChart,
} from '../../lib/chart/index.js';
import { UsageError } from '../../lib/errors.js';
import type { GroupResult } from '../../lib/group/resultTypes.js';
import type { StockAdvice } from '../../lib/stock/types.js';
import { ordinaryPlan } from '../fixtures/plan.js';
import { curveOf, projectionOf, ratesOf, savingsOf, timelinesOf } from '../fixtures/projection.js';

const plan = ordinaryPlan();
const group = plan.groups[0] as GroupResult;
const { dataUntil } = plan.site;
const plain = (text: string): string => text.replace(/\u00a0/g, ' ');
const specText = (chart: { spec: unknown }): string => JSON.stringify(chart.spec);

describe('the shelf of an item ahead', () => {
  const advice = plan.stock[0] as StockAdvice;
  const projection = projectionOf(advice, dataUntil);

  it('names today, the least, the orders and when it would be empty', () => {
    const { finding, description } = stockProjection(projection);
    // 10 usable, 24 on day 42: empty from there on without orders; 40 come in two orders.
    expect(finding).toMatch(/^10 usable today, least /);
    expect(finding).toContain('2 orders of 40 in all, the first by 25 Feb 2026');
    expect(finding).toMatch(/without them the shelf is empty on 11 Apr 2026$/);
    expect(description).toContain('Expires unused: 3 on 25 Dec 2026');
    expect(description).toContain('On order: 10 there 19 Apr 2026');
    expect(description).toContain('Below 0 so many wait');
  });

  it('draws each order from its day to the day it comes, and leaves none out unsaid', () => {
    const chart = stockProjection(projection);
    expect(specText(chart)).toContain('"label":"+30"');
    expect(chart.leftOut).toBeNull();
    const many = Array.from({ length: 9 }, () => ({ ...projection.orders[0] })) as typeof projection.orders;
    const { leftOut } = stockProjection({ ...projection, orders: many });
    expect(leftOut).toBe('The picture shows 6 of 9 orders, the table all of them.');
  });

  it('says of a shelf without orders that it lasts, or when it is empty', () => {
    const enough = { ...projection, orders: [], withoutOrders: projection.days.map(() => 50) };
    expect(stockProjection(enough).finding).toMatch(/nothing to order; the shelf lasts$/);
    const none = { ...projection, orders: [] };
    expect(stockProjection(none).finding).toContain('nothing to order; the shelf is empty on 11 Apr 2026');
  });

  it('has every event in its table, with the shelf after it', () => {
    const { rows } = stockProjection(projection).table;
    expect(rows[0]?.slice(0, 2)).toEqual(['28 Feb 2026', 'today']);
    expect(rows).toHaveLength(1 + projection.events.length);
    expect(rows[1]?.slice(1, 4)).toEqual(['kit', '−24', 'Shutdown']);
  });
});

describe('what expires', () => {
  it('counts pieces and money, and names the first lot and what orders will scrap', () => {
    const { finding, table } = expiryCalendar(plan.stock, dataUntil, 'EUR');
    expect(finding).toBe(
      '4 pieces are expected to expire unused, worth 140 EUR, from 1 of 1 lots; first DIA-1014 on 30 Sep 2026',
    );
    expect(table.rows).toHaveLength(1);
    const scrapping = plan.stock.map((row) => ({
      ...row,
      orders: row.orders.map((order) => ({ ...order, scrap: 2 })),
    }));
    // Two items with two orders each now, two more like them, and one with one: nine orders.
    expect(expiryCalendar(scrapping, dataUntil, 'EUR').finding).toContain(
      'of what is to be ordered 18 more, for smallest orders',
    );
  });

  it('says so where all is used in time, and where no lot has a date', () => {
    const used = plan.stock.map((row) => ({
      ...row,
      lots: row.lots.map((lot) => ({ ...lot, expires: 0 })),
    }));
    expect(expiryCalendar(used, dataUntil, 'EUR').finding).toContain('all pieces are used before');
    const none = plan.stock.map((row) => ({ ...row, lots: [] }));
    expect(expiryCalendar(none, dataUntil, 'EUR').finding).toContain('No lot on the shelf expires');
  });
});

describe('fifty chances of the saving', () => {
  it('counts the dots on either side of 0', () => {
    const values = Array.from({ length: 100 }, (_, i) => i - 19.5);
    const chart = savingDistribution(values, 'EUR');
    expect(chart.finding).toContain('chance that the proposal is cheaper than today: 80 %');
    expect(specText(chart)).toContain('proposal cheaper: 40 of 50');
    expect(specText(chart)).toContain('today as cheap or cheaper: 10 of 50');
    const dots = specText(chart).match(/\{"saving":[^}]*"y":/g) ?? [];
    expect(dots).toHaveLength(50);
  });

  it('names the middle and nine in ten', () => {
    const { finding } = savingDistribution(savingsOf(100_000), 'EUR');
    expect(plain(finding)).toMatch(/^Middle value 100 000 EUR a year, nine in ten −4\d \d00 to 24\d 000;/);
  });

  it('says so where nothing changes, and asks for a draw', () => {
    expect(savingDistribution([0, 0], 'EUR').finding).toContain('the proposal is what is done today');
    expect(() => savingDistribution([], 'EUR')).toThrow(UsageError);
  });
});

describe('still tight by age', () => {
  it('gives records and plan at twelve months, each with its bounds', () => {
    const { finding, description } = survivalChart(group, curveOf(group));
    expect(finding).toMatch(
      /^410 lives, 31 leaks; tight after 12 months: 9\d % \(\d+ % to \d+ %\) by the records, 9\d % \(\d+ % to \d+ %\) as planned on; 90 % bounds$/,
    );
    expect(description).toContain('Tight after 6 months');
    expect(description).toMatch(/The records support statements up to \d+(\.5)? months\.$/);
  });

  it('says that nothing is on record where no life was watched, and that none leaked where none did', () => {
    expect(survivalChart(group, null).finding).toContain('not on record');
    const none = { ...curveOf(group), age: new Float64Array(0), survival: new Float64Array(0) };
    expect(survivalChart(group, none).finding).toContain('all, with no leak by the records');
  });

  it('says from which age on the step line counts', () => {
    expect(survivalChart(group, { ...curveOf(group), start: 95 }).leftOut).toContain('before 3 months');
    expect(survivalChart(group, curveOf(group)).leftOut).toBeNull();
  });
});

describe('leaks by age', () => {
  it('gives rates with bounds per hundred a year, and leaves thin spans to the table', () => {
    const { description, table, leftOut } = hazardChart(group, ratesOf(group));
    // 31 leaks over 100 000 days are 11.3 per 100 years.
    expect(description).toContain('0 to 1 months 11 (5.7 to 21) from 6.2 leaks');
    expect(leftOut).toContain('under 3 years of life');
    expect(table.rows).toHaveLength(5);
    expect(hazardChart(group, ratesOf(group).slice(0, 4)).leftOut).toBeNull();
  });

  it('has spans that begin at 0, rise and hold the oldest life', () => {
    for (const oldest of [0.5, 20, 400, 3000, 40_000]) {
      const spans = hazardSpans(oldest);
      expect(spans[0]).toBe(0);
      expect(spans[spans.length - 1]).toBeGreaterThanOrEqual(oldest);
      expect([...spans].sort((a, b) => a - b)).toEqual(spans);
      expect(new Set(spans).size).toBe(spans.length);
    }
  });
});

describe('positions by calendar', () => {
  const names = Array.from({ length: 30 }, (_, i) => `V-${String(i + 1).padStart(3, '0')}`);

  it('counts who leaked once and again, and names the worst', () => {
    const { finding, description, table, leftOut } = lifeTimeline(timelinesOf(names), 'Thirty positions');
    // Ten leak twice, two of these a third time; four others leak once.
    expect(finding).toBe(
      'Of 30 positions 14 leaked at least once and 10 more than once; most in V-001, 3 leaks',
    );
    expect(description).toContain('V-001 3 leaks in 6 diaphragms; V-016 3 leaks');
    expect(table.rows[0]?.slice(0, 4)).toEqual(['V-001', 'A', 6, 3]);
    expect(leftOut).toContain('the 24 positions with most leaks of 30');
    expect(leftOut).toContain('1 diaphragm whose day of fitting is not known is left out');
  });

  it('draws the diaphragms of a position as one bar above two thousand, says so, and keeps every leak', () => {
    const marks = (lives: number): number[] => {
      const { spec } = lifeTimeline(timelinesOf(names.slice(0, 10), lives), 'Ten positions');
      const text = JSON.stringify(spec);
      return [(text.match(/"until":/g) ?? []).length, (text.match(/"day":\d/g) ?? []).length];
    };
    const [few, many] = [marks(20), marks(201)];
    expect(few[0]).toBe(200);
    expect(many[0]).toBe(10);
    expect(many[1]).toBe(few[1]);
    const { leftOut } = lifeTimeline(timelinesOf(names.slice(0, 10), 201), 'Ten positions');
    expect(leftOut).toContain('With over 2000 diaphragms');
  });

  it('says so where no life has a day', () => {
    expect(lifeTimeline([], 'None').finding).toBe('No life has a day of fitting');
  });
});
