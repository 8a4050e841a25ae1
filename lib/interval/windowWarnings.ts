/** What the windows of its lines make of an interval. */
import type { Warning } from '../findings.js';
import type { LinePeriod } from '../fleet/calendar.js';
import type { Fleet } from '../fleet/types.js';
import { itemAt } from '../numeric/columns.js';
import { addMonths, DAYS_PER_MONTH, type Day } from '../numeric/day.js';
import { ageWords, counted, percent } from '../numeric/words.js';
import { workedAt } from './cap.js';
import { carriedOut, type LinePeriods, linesOf } from './carriedOut.js';
import type { Decision } from './decide.js';
import { medianGap } from './dueRule.js';
import { costPerYear, type Weighed } from './weigh.js';

/** From this share on an interval and what the calendar makes of it are told apart. */
const CALENDAR_SHARE = 0.1;
/** Another interval is named where it costs less by this share. */
const WORTH_NAMING = 0.02;

/** A limit of the maker that the windows cannot hold: some gap between two of them is longer. */
export function limitWarning(fleet: Fleet, weighed: Weighed, periods: LinePeriods): Warning | null {
  const { makersCap } = weighed;
  const broken = linesBeyondLimit(fleet, weighed, periods);
  if (makersCap === null || broken.length === 0) return null;
  const widest = Math.max(...broken.map((line) => widestGap(periods.get(line))));
  return {
    code: 'limit-shorter-than-windows',
    text: `The calendar cannot hold the ${makersCap.text}: up to ${ageWords(widest)} pass between two windows of ${counted(broken.length, 'line', 'lines')} (${namesOf(broken)}), so that diaphragms there get older than the limit even if they are replaced at every window.`,
    todo: `Add windows there, no more than ${ageWords(Math.floor(makersCap.days))} apart, or ask the maker whether the limit can be extended for this duty, and keep the answer on record.`,
  };
}

/** Lines with a gap longer than the limit; of a limit in strokes or cycles, the line of the position that sets it. */
function linesBeyondLimit(fleet: Fleet, { group, makersCap }: Weighed, periods: LinePeriods): string[] {
  if (makersCap === null) return [];
  const lines =
    makersCap.position === null
      ? linesOf(fleet, group)
      : fleet.positions.filter(({ position }) => position === makersCap.position).map(({ line }) => line);
  return [...new Set(lines)].sort().filter((line) => widestGap(periods.get(line)) > makersCap.days);
}

/** An interval that comes round before the next window does. */
export function windowWarning(
  fleet: Fleet,
  weighed: Weighed,
  { interval }: Decision,
  periods: LinePeriods,
): Warning | null {
  if (interval === null) return null;
  const told = linesBeyondLimit(fleet, weighed, periods);
  const slow = [...new Set(linesOf(fleet, weighed.group))].sort().filter((line) => {
    if (told.includes(line)) return false;
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

/** Median gap between the windows of a line. */
function usualGap(period: LinePeriod | undefined): number | null {
  return period === undefined ? null : medianGap(twoRounds(period));
}

/** Longest gap between two windows of a line; 0 without windows, where work is done on the day it is due. */
function widestGap(period: LinePeriod | undefined): number {
  if (period === undefined) return 0;
  const windows = twoRounds(period);
  return Math.max(0, ...windows.slice(1).map(({ day }, i) => day - itemAt(windows, i).day));
}

/** The windows of a line and their first repetition. */
function twoRounds({ windows, months }: LinePeriod): { day: Day }[] {
  return [...windows, ...windows.map(({ day }) => ({ day: addMonths(day, months) }))];
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
  const carriedAt = (days: number): ReturnType<typeof carriedOut> =>
    carriedOut(lines, periods, workedAt(days, weighed.makersCap));
  const carried = carriedAt(interval.days);
  if (carried === null || 1 - carried.days / interval.days <= CALENDAR_SHARE) return null;
  const better = betterOnCalendar(weighed, carried.days, (days) => carriedAt(days)?.days ?? days);
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
  const shown = names.slice(0, 3).map(lineName);
  return names.length > 3 ? `${shown.join(', ')} ...` : shown.join(', ');
}

/** A line as it is called in a sentence. */
export function lineName(line: string): string {
  return line === '' ? 'no name' : line;
}
