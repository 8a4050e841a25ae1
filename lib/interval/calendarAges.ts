/** What a calendar of windows makes of an interval: the ages at which diaphragms are in fact replaced on schedule. */
import type { LinePeriod, LineWindow } from '../fleet/calendar.js';
import { itemAt } from '../numeric/columns.js';
import { addMonths, type Day } from '../numeric/day.js';
import { LATE_SHARE, scheduledDay } from './dueRule.js';

/** A stretch of the period: what is fitted in it is replaced in one window, at ages from `youngest` to `oldest`. */
interface Between {
  /** Index of the window, in the period. */
  window: number;
  days: number;
  youngest: number;
  oldest: number;
}

export interface CalendarAges {
  /** Days after which the windows repeat. */
  periodDays: number;
  windows: readonly LineWindow[];
  /** For a diaphragm fitted in each window: the window of its replacement (in the period) and its age there, days. */
  next: readonly { window: number; age: number }[];
  /** For one fitted between windows, after a leak or an opening. */
  between: readonly Between[];
}

/** Follows the rule of dueRule.ts round one period of a line's windows. */
export function calendarAges(period: LinePeriod, intervalDays: number): CalendarAges {
  const { windows, months } = period;
  const first = itemAt(windows, 0).day;
  const periodDays = addMonths(first, months) - first;
  const targetOf = targets(period, periodDays, intervalDays);
  return {
    periodDays,
    windows,
    next: windows.map(({ day }) => targetOf(day)),
    between: stretches(first, periodDays, targetOf),
  };
}

/**
 * The interval as it is carried out: mean age at replacement, days, of diaphragms that come through until the window. Wherever
 * they are fitted first, they end in a round of windows that they stay in; some windows may be in none.
 */
export function practicalDays(period: LinePeriod, intervalDays: number): number {
  const { windows, months } = period;
  const first = itemAt(windows, 0).day;
  const targetOf = targets(period, addMonths(first, months) - first, intervalDays);
  const next = windows.map(({ day }) => targetOf(day));
  return windows.reduce((sum, _, from) => sum + meanOfRound(next, from), 0) / windows.length;
}

/** Mean age in the round that begins in a window, sooner or later. */
function meanOfRound(next: CalendarAges['next'], from: number): number {
  let window = from;
  for (let step = 0; step < next.length; step++) window = itemAt(next, window).window;
  const inRound = window;
  let [ages, steps] = [0, 0];
  do {
    ages += itemAt(next, window).age;
    steps++;
    window = itemAt(next, window).window;
  } while (window !== inRound);
  return ages / steps;
}

type Target = (fitted: Day) => { window: number; age: number };

/** The window of the period in which a diaphragm is replaced, and its age there, by the day of fitting. */
function targets({ windows }: LinePeriod, periodDays: number, intervalDays: number): Target {
  const rounds = Math.ceil((intervalDays * (1 + LATE_SHARE)) / periodDays) + 3;
  const ahead = Array.from({ length: rounds * windows.length }, (_, i) => ({
    day: itemAt(windows, i % windows.length).day + periodDays * Math.floor(i / windows.length),
  }));
  return (fitted) => {
    const day = scheduledDay(fitted, intervalDays, ahead, fitted) ?? fitted + intervalDays;
    const index = ahead.findIndex((window) => window.day === day);
    return { window: index % windows.length, age: day - fitted };
  };
}

function stretches(first: Day, periodDays: number, targetOf: Target): Between[] {
  const found: Between[] = [];
  for (let day = first; day < first + periodDays; day++) {
    // What is fitted during a day is half a day old at its end.
    const { window, age } = targetOf(day + 0.5);
    const last = found[found.length - 1];
    if (last !== undefined && last.window === window && age < last.youngest) {
      last.youngest = age;
      last.days += 1;
    } else found.push({ window, days: 1, youngest: age, oldest: age });
  }
  return found;
}
