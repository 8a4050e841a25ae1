/** Long run on a calendar: the ages that windows make of an interval, the renewal balance, and the path as a check. */
import { describe, expect, it } from 'vitest';
import { groupCosts } from '../../lib/cost/groupCost.js';
import { emptyEvents, expectedEvents } from '../../lib/demand/path.js';
import { type LinePeriod, linePeriod } from '../../lib/fleet/calendar.js';
import { adviseIntervals } from '../../lib/interval/advise.js';
import { calendarAges, practicalDays } from '../../lib/interval/calendarAges.js';
import { scheduledDay } from '../../lib/interval/dueRule.js';
import type { IntervalAdvice } from '../../lib/interval/types.js';
import { groupCycle } from '../../lib/interval/weigh.js';
import { sum } from '../../lib/numeric/columns.js';
import { compareCost } from '../../lib/yearly/compare.js';
import { passOn, ratesAtAge, ratesOnCalendar, ringOrder } from '../../lib/yearly/steadyRates.js';
import { exact, RATIO_TEN, type TestGroup, TODAY, testPlant } from '../interval/fixtures.js';

const GROUP: TestGroup = {
  shape: 3,
  scale: 900,
  share: 0.03,
  openingsPerYear: 0.1,
  todayDays: 365,
  ages: Array.from({ length: 40 }, (_, i) => i * 9),
};
/** Every three months: two stops that happen anyway, two made for the replacements. */
const QUARTERLY = [10, 101, 192, 284].map((day, i) => ({
  start: TODAY + day,
  end: TODAY + day + 2,
  stopFor: i % 2 === 0 ? ('anyway' as const) : ('replacements' as const),
}));
const MONEY = { ...RATIO_TEN, resteriliseCost: exact(500), plannedStopHours: exact(2) };

function plant(group: TestGroup = GROUP) {
  return testPlant([group], { shutdowns: QUARTERLY, money: MONEY });
}

const period = linePeriod(plant().fleet, 'A') as LinePeriod;

describe('calendarAges', () => {
  it('makes 6 months of an interval of 8 where the line stops every 3', () => {
    expect(practicalDays(period, 244)).toBeGreaterThan(181);
    expect(practicalDays(period, 244)).toBeLessThan(184);
    expect(practicalDays(period, 274)).toBeCloseTo(273.9, 0);
    expect(practicalDays(period, 30)).toBeCloseTo(91.25, 9);
  });

  it.each([30, 91, 244, 274, 365, 800])(
    'follows the due rule on every day of the period, interval %i days',
    (days) => {
      const ages = calendarAges(period, days);
      expect(ages.periodDays).toBe(365);
      expect(sum(ages.between.map((stretch) => stretch.days))).toBe(365);
      const windows = [0, 1, 2, 3, 4].flatMap((round) =>
        period.windows.map((window) => ({ ...window, day: window.day + 365 * round })),
      );
      const ageAt = (fitted: number): number => (scheduledDay(fitted, days, windows, fitted) ?? 0) - fitted;
      let from = (period.windows[0]?.day ?? 0) + 0.5;
      for (const stretch of ages.between) {
        expect(ageAt(from)).toBe(stretch.oldest);
        expect(ageAt(from + stretch.days - 1)).toBe(stretch.youngest);
        expect(stretch.oldest - stretch.youngest).toBe(stretch.days - 1);
        from += stretch.days;
      }
    },
  );
});

describe('passOn', () => {
  it('adds up what windows hand on, in chains and in rings', () => {
    // 0 -> 1 -> 2 -> 1 (a ring of 1 and 2), 3 -> 3.
    const amounts = Float64Array.of(1, 2, 3, 4);
    const survivals = Float64Array.of(0.5, 0.6, 0.7, 0.8);
    passOn(amounts, survivals, ringOrder([1, 2, 1, 3]));
    const [a = 0, b = 0, c = 0, d = 0] = amounts;
    expect(a).toBe(1);
    expect(b).toBeCloseTo(2 + 0.5 * a + 0.7 * c, 10);
    expect(c).toBeCloseTo(3 + 0.6 * b, 10);
    expect(d).toBeCloseTo(4 + 0.8 * d, 10);
  });
});

describe('rates on a calendar', () => {
  const { grouped } = plant();
  const cycle = groupCycle(grouped.groups[0] as (typeof grouped.groups)[number]);

  it('balance: what is fitted is what leaked, was opened or was due, and the windows add up', () => {
    const rates = ratesOnCalendar(cycle, calendarAges(period, 244));
    const [fitted = 0, leaks = 0, scheduled = 0, opened = 0] = [
      rates.fitted[0],
      rates.leaks[0],
      rates.scheduled[0],
      rates.opened[0],
    ];
    expect(fitted / (leaks + scheduled + opened)).toBeCloseTo(1, 6);
    expect(sum(rates.byWindow.map((column) => column[0] ?? 0)) / 365).toBeCloseTo(scheduled, 9);
  });

  it('come to those of one age where windows are close together', () => {
    const daily: LinePeriod = {
      months: 12,
      windows: Array.from({ length: 365 }, (_, i) => ({
        name: 'w',
        day: TODAY + 1 + i,
        known: true,
        stopFor: 'anyway',
      })),
    };
    const near = ratesOnCalendar(cycle, calendarAges(daily, 300));
    // The rule waits up to 5 % longer where the next window still keeps to that.
    const exactly = ratesAtAge(cycle, 315);
    expect((near.fitted[0] ?? 0) / (exactly.fitted[0] ?? 1)).toBeCloseTo(1, 3);
    expect((near.leaks[0] ?? 0) / (exactly.leaks[0] ?? 1)).toBeCloseTo(1, 2);
  });

  it.each([120, 244, 365, 500])(
    'are what the path comes to in the years 6 to 25, interval %i days',
    (days) => {
      const { fleet, grouped: plantOf } = plant();
      const rates = ratesOnCalendar(cycle, calendarAges(period, days));
      const policy = { name: 'today' as const, intervalDays: [days] };
      const [events = emptyEvents([], 0)[0]] = expectedEvents(fleet, plantOf, policy, 300);
      const perYear = (column?: Float64Array): number => sum(column?.subarray(60) ?? []) / 20;
      const year = 365.25 * 40;
      expect(Math.abs(perYear(events?.leaks) / (year * (rates.leaks[0] ?? 0)) - 1)).toBeLessThan(0.01);
      expect(Math.abs(perYear(events?.planned) / (year * (rates.scheduled[0] ?? 0)) - 1)).toBeLessThan(0.01);
    },
  );
});

describe('yearly cost on a calendar', () => {
  function compare(days: number | null) {
    const { fleet, grouped } = plant();
    const costs = groupCosts(fleet, grouped);
    const set = adviseIntervals(fleet, grouped, costs).map(
      (each): IntervalAdvice => ({ ...each, days, workDays: days }),
    );
    return compareCost(fleet, grouped, costs, set, { seed: 1 });
  }

  it('tells one story: first year, five years and long run', () => {
    const { saving, today, proposed } = compare(244);
    const fiveYears = sum(today.years.map(({ cost }, y) => cost - (proposed.years[y]?.cost ?? 0))) / 5;
    expect(Math.abs(fiveYears / saving.perYear - 1)).toBeLessThan(0.1);
    const replaced = sum(proposed.years.slice(1).map(({ replacements }) => replacements)) / 4;
    expect(Math.abs(replaced / proposed.replacementsPerYear - 1)).toBeLessThan(0.03);
    // Carried out every 6 months: far more is replaced than every 8 months would ask for.
    expect(proposed.replacementsPerYear).toBeGreaterThan(40 * 2);
    for (const { replacements, scheduled, leaks, opened } of proposed.years) {
      expect(scheduled + leaks + opened).toBeCloseTo(replacements, 9);
    }
  });

  it('pays each stop once, whole, and never more stops than the calendar holds', () => {
    const whole = 500 + 2 * 100;
    const { today, proposed } = compare(91);
    // One line, two stops a year made for the replacements, and something to replace in each.
    expect(proposed.stopsPerYear).toBeGreaterThan(1.99);
    expect(proposed.stopsPerYear).toBeLessThanOrEqual(2);
    expect(proposed.plannedStop).toBeCloseTo(whole * proposed.stopsPerYear, 6);
    expect(today.plannedStop).toBeLessThanOrEqual(2 * whole);
    const { proposed: never } = compare(null);
    expect(never.plannedStop).toBe(0);
  });
});
