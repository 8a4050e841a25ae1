/** Who pays for the line stop (METHODS 4.5): it is paid once per line and stop, and shared by what is done in it. */
import { type LineWindow, linePeriod } from '../fleet/calendar.js';
import type { Fleet, Money, Shutdown } from '../fleet/types.js';
import { REASONS } from '../fleet/types.js';
import { at, floatAt } from '../numeric/columns.js';
import { addMonths, type Day } from '../numeric/day.js';
import { type Amount, addAmounts, exactly, fromSetting, multiplyAmounts, scaleAmount } from './amount.js';

/** Scheduled removals on one line belong to one stop until more than so many days pass without one. */
export const STOP_DAYS = 3;

const SCHEDULED = REASONS.indexOf('scheduled');

/** How a line's replacements share its stops, as the history shows it. */
export interface LinePractice {
  /** Median number of replacements per past stop. */
  replacementsPerStop: number;
  /** Share of its replacements that are done in stops made for them. The others happen anyway and cost nothing. */
  madeShare: number;
}

export interface StopPractice {
  ofLine(line: string): LinePractice;
}

/**
 * Stops of the past by line: a window of the calendar where it reaches back so far, else removals with at most
 * STOP_DAYS between them. A past replacement counts as done in a stop made for it where the window nearest to it is
 * one: the calendar is taken back whole years, as it is repeated whole years ahead. A line without a past stop takes
 * the median of the plant and the share of its coming windows.
 */
export function stopPractice(fleet: Fleet): StopPractice {
  const days = scheduledDaysByLine(fleet);
  const sizes = new Map(
    [...days].map(([line, removed]) => [line, stopSizes(removed, pastWindows(fleet, line))]),
  );
  const all = [...sizes.values()].flat();
  const plant = all.length === 0 ? 1 : median(all);
  const known = new Map<string, LinePractice>();
  const practiceOf = (line: string): LinePractice => ({
    replacementsPerStop: sizes.has(line) ? median(sizes.get(line) ?? []) : plant,
    madeShare: madeShare(fleet, line, days.get(line) ?? []),
  });
  return {
    ofLine: (line) => {
      const practice = known.get(line) ?? practiceOf(line);
      known.set(line, practice);
      return practice;
    },
  };
}

/** True where some coming stop of the line is made for the replacements. */
export function isMadeForReplacements(fleet: Fleet, line: string): boolean {
  return linePeriod(fleet, line)?.windows.some(({ stopFor }) => stopFor === 'replacements') ?? false;
}

/** What one stop of a line costs as a whole: its hours of downtime and re-sterilising. */
export function wholeStop({ site: { money } }: Fleet, line: string): Amount {
  const hours = fromSetting('planned_stop_hours', money.plannedStopHours);
  return addAmounts(
    fromSetting('resterilise_cost', money.resteriliseCost),
    multiplyAmounts(hours, lineDowntime(money, line)),
  );
}

/** Downtime of a line per hour: its own amount, else the amount for lines not named, else nothing. */
export function lineDowntime({ downtimePerHour }: Money, line: string): Amount {
  const own = downtimePerHour?.get(line) ?? downtimePerHour?.get('');
  return own === undefined ? exactly(0) : fromSetting('downtime_per_hour', own);
}

/** One replacement's share of a whole stop. */
export function sharedStop(whole: Amount, replacementsPerStop: number): Amount {
  return scaleAmount(whole, 1 / Math.max(1, replacementsPerStop));
}

/** Days of scheduled removals by line, sorted. */
function scheduledDaysByLine({ lives, positions, site }: Fleet): Map<string, Day[]> {
  const byLine = new Map<string, Day[]>();
  for (let i = 0; i < lives.length; i++) {
    const removed = floatAt(lives.removed, i);
    if (at(lives.reason, i) !== SCHEDULED || !(removed <= site.dataUntil)) continue;
    const line = positions[at(lives.position, i)]?.line ?? '';
    const days = byLine.get(line);
    if (days === undefined) byLine.set(line, [removed]);
    else days.push(removed);
  }
  for (const days of byLine.values()) days.sort((a, b) => a - b);
  return byLine;
}

/** Windows of a line up to the day of the data. */
function pastWindows({ shutdowns, site }: Fleet, line: string): Shutdown[] {
  return shutdowns.filter(
    ({ start, lines }) => start <= site.dataUntil && (lines.length === 0 || lines.includes(line)),
  );
}

/** Sizes of the stops in a list of removal days. */
function stopSizes(days: readonly Day[], windows: readonly Shutdown[]): number[] {
  const sizes: number[] = [];
  let lastDay = -Infinity;
  let lastWindow = -1;
  for (const day of days) {
    const window = windows.findIndex(({ start, end }) => day >= start && day <= end);
    const sameStop = window >= 0 ? window === lastWindow : lastWindow < 0 && day - lastDay <= STOP_DAYS;
    if (sameStop && sizes.length > 0) sizes[sizes.length - 1] = at(sizes, sizes.length - 1) + 1;
    else sizes.push(1);
    lastDay = day;
    lastWindow = window;
  }
  return sizes;
}

function madeShare(fleet: Fleet, line: string, days: readonly Day[]): number {
  const period = linePeriod(fleet, line);
  if (period === null) return 0;
  const isMade = ({ stopFor }: Pick<LineWindow, 'stopFor'>): boolean => stopFor === 'replacements';
  if (days.length === 0) return period.windows.filter(isMade).length / period.windows.length;
  const past = windowsBack(fleet, line, period, at(days, 0));
  return days.filter((day) => isMade(nearest(past, day))).length / days.length;
}

type PastWindow = Pick<LineWindow, 'day' | 'stopFor'>;

/** Known past windows, and the coming ones taken back whole years before the first of them; in order. */
function windowsBack(
  fleet: Fleet,
  line: string,
  { windows, months }: NonNullable<ReturnType<typeof linePeriod>>,
  until: Day,
): PastWindow[] {
  const past = pastWindows(fleet, line).map(({ start, stopFor }): PastWindow => ({ day: start, stopFor }));
  const firstKnown = past.reduce((first, { day }) => Math.min(first, day), Infinity);
  const found = [...past, ...windows];
  for (let round = 1; ; round++) {
    const earlier = windows.map(({ day, stopFor }) => ({ day: addMonths(day, -months * round), stopFor }));
    found.push(...earlier.filter(({ day }) => day < firstKnown));
    if ((earlier[0]?.day ?? until) <= until) return found.sort((a, b) => a.day - b.day);
  }
}

function nearest(windows: readonly PastWindow[], day: Day): PastWindow {
  return windows.reduce((best, window) =>
    Math.abs(window.day - day) < Math.abs(best.day - day) ? window : best,
  );
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = Math.floor(sorted.length / 2);
  return sorted.length % 2 === 1 ? at(sorted, middle) : (at(sorted, middle - 1) + at(sorted, middle)) / 2;
}
