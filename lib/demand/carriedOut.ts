/** The replacements of a work list by position: the days on which each is carried out, crew hours considered. */
import type { LineWindow } from '../fleet/calendar.js';
import type { Fleet } from '../fleet/types.js';
import { scheduledDay } from '../interval/dueRule.js';
import type { ShutdownTask } from '../interval/types.js';
import type { Day } from '../numeric/day.js';
import { dayFromText } from '../numeric/day.js';

/** What a work list says about one position. */
export interface CarriedOut {
  /** Days of the replacements that fit, in order. */
  days: Day[];
  /** Day of the last shutdown at which it was due and did not fit, where it has not been replaced since; else null. */
  waitsSince: Day | null;
}

/** One entry per position of the fleet, in its order; positions that are not on the list have no days. */
export function carriedOut(fleet: Fleet, tasks: readonly ShutdownTask[]): CarriedOut[] {
  const entries = fleet.positions.map((): CarriedOut => ({ days: [], waitsSince: null }));
  const byTag = new Map(fleet.positions.map(({ position }, i) => [position, entries[i] as CarriedOut]));
  const dated = tasks
    .map(({ position, start, fits }) => ({ entry: byTag.get(position), day: dayFromText(start), fits }))
    .sort((a, b) => (a.day ?? 0) - (b.day ?? 0));
  for (const { entry, day, fits } of dated) {
    if (entry === undefined || day === null) continue;
    if (fits) entry.days.push(day);
    entry.waitsSince = fits ? null : day;
  }
  return entries;
}

/**
 * When a position is replaced next after `after`: as the list says; where it still waits at the end of the list, at the
 * line's next window, unless it is out of service from `ends` on; null where the list does not say.
 */
export function nextCarriedOut(
  { days, waitsSince }: CarriedOut,
  windows: readonly LineWindow[],
  after: Day,
  ends: Day | null = null,
): Day | null {
  const listed = days.find((day) => day > after);
  if (listed !== undefined) return listed;
  const waited = waitsSince === null ? undefined : windows.find(({ day }) => day > waitsSince);
  return waited === undefined || (ends !== null && waited.day >= ends) ? null : waited.day;
}

/** Positions by the day of a replacement and the day of the one that follows it. */
export type Chains = Map<Day, Map<Day | null, number>>;

/** When what is fitted in a window is replaced next (moment, null = not within reach), and for which share of it. */
export interface NextWindow {
  moment: number | null;
  share: number;
}

/** Adds the replacements of one position; what follows the last one goes by the due rule, unless it still waits. */
export function addChain(
  chains: Chains,
  listed: CarriedOut,
  windows: readonly LineWindow[],
  intervalDays: number | null,
  ends: Day | null = null,
): void {
  for (const day of listed.days) {
    const next =
      nextCarriedOut(listed, windows, day, ends) ?? scheduledDay(day, intervalDays, windows, day, ends);
    const known = chains.get(day) ?? new Map<Day | null, number>();
    chains.set(day, known.set(next, (known.get(next) ?? 0) + 1));
  }
}

/** The chains as moments from a day and shares of each window. */
export function sharesOf(chains: Chains, today: Day): Map<number, NextWindow[]> {
  return new Map(
    [...chains].map(([day, next]) => {
      const all = [...next.values()].reduce((sum, count) => sum + count, 0);
      const shares = [...next].map(([then, count]) => ({
        moment: then === null ? null : then - today,
        share: count / all,
      }));
      return [day - today, shares];
    }),
  );
}
