/** Intervals as they are carried out in the windows of a group's lines. */
import { type LinePeriod, linePeriod } from '../fleet/calendar.js';
import type { Fleet } from '../fleet/types.js';
import type { Group } from '../group/types.js';
import { itemAt } from '../numeric/columns.js';
import { DAYS_PER_MONTH } from '../numeric/day.js';
import { practicalDays } from './calendarAges.js';
import type { IntervalAdvice } from './types.js';

/** Windows by line; lines without windows are absent. */
export type LinePeriods = ReadonlyMap<string, LinePeriod>;

export function linePeriods(fleet: Fleet): LinePeriods {
  const periods = new Map<string, LinePeriod>();
  for (const line of new Set(fleet.positions.map((position) => position.line))) {
    const period = linePeriod(fleet, line);
    if (period !== null) periods.set(line, period);
  }
  return periods;
}

/** Lines of a group's positions, one entry for each position. */
export function linesOf(fleet: Fleet, { positions }: Group): string[] {
  return positions.map((position) => itemAt(fleet.positions, position).line);
}

/** Mean over a group's positions on lines with windows; null where there are none. */
export function carriedOut(
  lines: readonly string[],
  periods: LinePeriods,
  days: number,
): IntervalAdvice['inPractice'] {
  const found = new Map<LinePeriod, { days: number; windowDays: number }>();
  const each = lines.flatMap((line) => {
    const period = periods.get(line);
    if (period === undefined) return [];
    const known = found.get(period) ?? {
      days: practicalDays(period, days),
      windowDays: (period.months * DAYS_PER_MONTH) / period.windows.length,
    };
    found.set(period, known);
    return [known];
  });
  if (each.length === 0) return null;
  return {
    days: each.reduce((total, one) => total + one.days, 0) / each.length,
    windowDays: each.reduce((total, one) => total + one.windowDays, 0) / each.length,
  };
}
