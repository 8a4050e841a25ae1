/** What wears the diaphragms of each group, as the plan reports it. */
import { ageAtCount } from '../../exposure/ageAtCount.js';
import type { DailyRate } from '../../exposure/rates.js';
import type { Fleet } from '../../fleet/types.js';
import type { Wear, WearClock, WornPosition } from '../../group/wear/types.js';
import { onClockWords } from '../../group/wear/wearWords.js';
import { itemAt } from '../../numeric/columns.js';
import { type Day, textFromDay } from '../../numeric/day.js';
import { amount, percent, range } from '../../numeric/words.js';
import type { DueDate } from '../dueDates.js';
import type { IntervalAdvice } from '../types.js';
import type { ClockedPosition, WearGroup, WearInterval, WearReport } from './types.js';

/** Beyond a hundred years a counter hardly moves: there is no day to name. */
const LONGEST_DAYS = 36_525;

/** Where the clock is told and is not days, the interval of each group in counts, and what that is in days at each position by its own rate. */
export function wearReport(fleet: Fleet, intervals: readonly IntervalAdvice[], wear: Wear): WearReport {
  const { exposures, notes, effects, clocks, worn, heat } = wear;
  const found = new Map(worn.map((each) => [each.group, each]));
  return {
    exposures,
    notes,
    effects,
    ...(heat === undefined ? {} : { heat }),
    groups: clocks.map((clock, g): WearGroup => {
      const own = found.get(g);
      const advice = itemAt(intervals, g);
      const count = advice.onClock?.count ?? null;
      if (own === undefined || count === null) return { ...clock, interval: null };
      const positions = own.positions.map((each) => clocked(fleet, each, count)).sort(byDue);
      return { ...clock, interval: withWords(clock, positions, count, advice) };
    }),
  };
}

/** The count beside the due dates of positions whose interval goes by it; one that is kept in days as practised stays by days. */
export function withClockDue(dueDates: readonly DueDate[], wear: WearReport): DueDate[] {
  const found = new Map<string, NonNullable<DueDate['byClock']>>();
  for (const { clock, interval } of wear.groups) {
    if (interval?.basis !== 'least cost') continue;
    for (const { position, due, dueRange } of interval.positions) {
      found.set(position, { clock, count: interval.count, due, range: dueRange });
    }
  }
  return dueDates.map((row) => {
    const byClock = found.get(row.position);
    return byClock === undefined ? row : { ...row, byClock };
  });
}

function clocked(
  { site, positions }: Fleet,
  { position, count, rate }: WornPosition,
  interval: number,
): ClockedPosition {
  const { position: name, line } = itemAt(positions, position);
  const whole = rate === null ? null : ageAtCount(rate, interval);
  const due = count === null || rate === null ? null : dueDays(site.dataUntil, rate, interval - count);
  return {
    position: name,
    line,
    count,
    perDay: rate?.perDay ?? null,
    source: rate?.source ?? null,
    days: whole?.age ?? null,
    daysRange: whole === null ? null : [whole.low, finite(whole.high)],
    due: due === null ? null : textFromDay(due.middle),
    dueRange: due === null ? null : [textFromDay(due.low), due.high === null ? null : textFromDay(due.high)],
  };
}

/** What is left of the count, at the position's own rate; where it was passed before, the day on which it was. */
function dueDays(
  dataUntil: Day,
  rate: DailyRate,
  left: number,
): { middle: Day; low: Day; high: Day | null } | null {
  const found = ageAtCount(rate, Math.abs(left));
  if (found === null || found.age > LONGEST_DAYS) return null;
  const day = (days: number): Day => dataUntil + Math.floor(left < 0 ? -days : days);
  if (left < 0) return { middle: day(found.age), low: day(found.age), high: day(found.age) };
  return {
    middle: day(found.age),
    low: day(found.low),
    high: found.high > LONGEST_DAYS ? null : day(found.high),
  };
}

function finite(value: number): number | null {
  return value === Infinity ? null : value;
}

function withWords(
  clock: WearClock,
  positions: ClockedPosition[],
  interval: number,
  { action, cappedBy, onClock, days: intervalDays }: IntervalAdvice,
): WearInterval | null {
  const known = positions.flatMap(({ days }) => (days === null ? [] : [days]));
  const [low, median, high] = [0.1, 0.5, 0.9].map((p) => quantileOf(known, p));
  if (low == null || median == null || high == null) return null;
  const byCost = action === 'replace';
  const within2percent = byCost ? (onClock?.within2percent ?? null) : null;
  const span =
    within2percent === null ? '' : ` (within 2 %: ${range(...within2percent, (each) => amount(each))})`;
  const answer = byCost
    ? `Replace after ${onClockWords(interval, clock.clock)}, the least cost by the law on this clock${span}`
    : `Kept in days as practised, which comes to ${onClockWords(interval, clock.clock)} at this use`;
  const held = cappedBy === null ? '' : `; held by ${cappedBy}`;
  const spread = `${amount(Math.round(median))} days at the middle position, ${range(low, high, (days) => amount(Math.round(days)))} from the hardest used tenth to the least used`;
  const given = positions.filter(({ source }) => source === 'given').length;
  const rates =
    given === 0
      ? ''
      : ` The rate of ${percent(given / positions.length)} of the positions is that of positions.csv, not read.`;
  return {
    count: interval,
    within2percent,
    basis: byCost ? 'least cost' : 'as in days',
    cappedBy,
    days: { low, median, high },
    intervalDays,
    positions,
    text: `${answer}${held}: ${byCost ? spread : `that count takes ${spread}`}.${rates}`,
  };
}

/** Null of an empty list. */
function quantileOf(values: readonly number[], p: number): number | null {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(p * sorted.length))] ?? null;
}

/** Soonest first, without a date last; then by position. */
function byDue(a: ClockedPosition, b: ClockedPosition): number {
  const [dayA, dayB] = [a.due ?? '9', b.due ?? '9'];
  if (dayA !== dayB) return dayA < dayB ? -1 : 1;
  return a.position < b.position ? -1 : 1;
}
