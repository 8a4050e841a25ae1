/** When a position is replaced, given its interval and the windows of its line. One rule for plan, demand and cost. */
import { at } from '../numeric/columns.js';
import type { Day } from '../numeric/day.js';

/** Intervals a plan follows, by index of the group; null = run until it leaks. */
export interface ReplacementPolicy {
  name: 'proposed' | 'today';
  intervalDays: (number | null)[];
  /** By group: whether the interval is counted in use, not in days in place (interval/byUse.ts); false where left out. */
  byUse?: boolean[];
}

/** A replacement may be late by this share of its interval before a window is taken instead of the next one. */
export const LATE_SHARE = 0.05;

/**
 * The day on which a diaphragm fitted on `fitted` is replaced on schedule: the first window after which waiting for
 * the next one would make it later than its interval (plus 5 %). Windows on or before `after` do not count. Without
 * windows: the day it is due, at the earliest the day after `after`. Null = never (run), or not within the windows
 * given. From the day `ends` on the position is out of service: nothing is replaced then, nor what would be late only
 * after it.
 */
export function scheduledDay(
  fitted: Day,
  intervalDays: number | null,
  windows: readonly { day: Day }[],
  after: Day,
  ends: Day | null = null,
): Day | null {
  if (intervalDays === null) return null;
  const day = dayInTurn(fitted, intervalDays, windows, after);
  if (day === null || ends === null) return day;
  const latest = windows.length === 0 ? day : fitted + intervalDays * (1 + LATE_SHARE);
  return day < ends && latest < ends ? day : null;
}

function dayInTurn(
  fitted: Day,
  intervalDays: number,
  windows: readonly { day: Day }[],
  after: Day,
): Day | null {
  if (windows.length === 0) return Math.max(fitted + intervalDays, after + 1);
  const latest = fitted + intervalDays * (1 + LATE_SHARE);
  for (let i = 0; i < windows.length; i++) {
    const window = windows[i] as { day: Day };
    if (window.day <= after || window.day <= fitted) continue;
    const next = windows[i + 1];
    if (next === undefined ? window.day >= fitted + intervalDays * (1 - LATE_SHARE) : next.day > latest) {
      return window.day;
    }
  }
  return null;
}

/** Median gap between windows in days, or null where there are fewer than two. */
export function medianGap(windows: readonly { day: Day }[]): number | null {
  if (windows.length < 2) return null;
  const gaps = windows.slice(1).map((window, i) => window.day - (windows[i] as { day: Day }).day);
  gaps.sort((a, b) => a - b);
  const middle = gaps.length / 2;
  return gaps.length % 2 === 1 ? at(gaps, Math.floor(middle)) : (at(gaps, middle - 1) + at(gaps, middle)) / 2;
}
