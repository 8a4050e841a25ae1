/** What the windows of its lines make of an interval. */
import type { Warning } from '../findings.js';
import type { LinePeriod } from '../fleet/calendar.js';
import type { Fleet } from '../fleet/types.js';
import { addMonths, DAYS_PER_MONTH } from '../numeric/day.js';
import { ageWords, counted, percent } from '../numeric/words.js';
import { carriedOut, type LinePeriods, linesOf } from './carriedOut.js';
import type { Decision } from './decide.js';
import { medianGap } from './dueRule.js';
import { costPerYear, type Weighed } from './weigh.js';

/** From this share on an interval and what the calendar makes of it are told apart. */
const CALENDAR_SHARE = 0.1;
/** Another interval is named where it costs less by this share. */
const WORTH_NAMING = 0.02;

/** An interval that comes round before the next window does. */
export function windowWarning(
  fleet: Fleet,
  { group }: Weighed,
  { interval }: Decision,
  periods: LinePeriods,
): Warning | null {
  if (interval === null) return null;
  const slow = [...new Set(linesOf(fleet, group))].sort().filter((line) => {
    const gap = usualGap(periods.get(line));
    return gap !== null && gap > interval.days;
  });
  if (slow.length === 0) return null;
  return {
    code: 'shorter-than-windows',
    text: `${ageWords(interval.days)} is shorter than the usual gap between the windows of ${counted(slow.length, 'line', 'lines')} (${namesOf(slow)}).`,
    todo: 'Replace at every window there, or add windows.',
  };
}

/** Median gap between the windows of a line, over two rounds of them. */
function usualGap(period: LinePeriod | undefined): number | null {
  if (period === undefined) return null;
  const again = period.windows.map(({ day }) => ({ day: addMonths(day, period.months) }));
  return medianGap([...period.windows, ...again]);
}

/** The calendar replaces well before the interval is over: how often, and whether another would serve better. */
export function calendarWarning(
  fleet: Fleet,
  weighed: Weighed,
  { action, interval }: Decision,
  periods: LinePeriods,
): Warning | null {
  if (interval === null || action !== 'replace') return null;
  const lines = linesOf(fleet, weighed.group);
  const carried = carriedOut(lines, periods, interval.days);
  if (carried === null || 1 - carried.days / interval.days <= CALENDAR_SHARE) return null;
  const better = betterOnCalendar(
    weighed,
    carried.days,
    (days) => carriedOut(lines, periods, days)?.days ?? days,
  );
  return {
    code: 'calendar-changes-interval',
    text: `${ageWords(interval.days)} is carried out about every ${ageWords(carried.days)}: the line stops every ${ageWords(carried.windowDays)}.`,
    todo:
      better === null
        ? 'Count on that age, or add windows: no other interval costs 2 % less in these windows.'
        : `${ageWords(better.days)} would be carried out about every ${ageWords(better.carriedDays)} and cost ${percent(better.saving)} less: take that, or add windows.`,
  };
}

/** A whole number of months that costs at least 2 % less as it would be carried out; the cheapest, or null. */
function betterOnCalendar(
  weighed: Weighed,
  carriedDays: number,
  carriedOutAt: (days: number) => number,
): { days: number; carriedDays: number; saving: number } | null {
  const { makersCap, group, best } = weighed;
  const longest = Math.min(makersCap?.days ?? Infinity, group.supportedAge ?? Infinity, 2 * (best.age ?? 0));
  const now = costPerYear(weighed, carriedDays);
  const known = new Map<number, number>();
  let found: { days: number; carriedDays: number; saving: number } | null = null;
  for (let months = 1; months * DAYS_PER_MONTH <= longest; months++) {
    const days = Math.round(months * DAYS_PER_MONTH);
    const carried = Math.round(carriedOutAt(days));
    const cost = known.get(carried) ?? costPerYear(weighed, carried);
    known.set(carried, cost);
    const saving = 1 - cost / now;
    // Of intervals that are carried out alike the longest is named: it is nearest to what is done.
    if (saving >= WORTH_NAMING && saving >= (found?.saving ?? 0))
      found = { days, carriedDays: carried, saving };
  }
  return found;
}

function namesOf(names: readonly string[]): string {
  const shown = names.slice(0, 3).map((name) => (name === '' ? 'no name' : name));
  return names.length > 3 ? `${shown.join(', ')} ...` : shown.join(', ');
}
