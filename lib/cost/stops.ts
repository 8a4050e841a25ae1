/** Who pays for the line stop (METHODS 4.5): it is paid once per line and stop, and shared by what is done in it. */
import type { Fleet, Spread } from '../fleet/types.js';
import { REASONS } from '../fleet/types.js';
import { at, floatAt } from '../numeric/columns.js';
import type { Day } from '../numeric/day.js';
import { addSpreads, multiplySpreads, NOTHING, scaleSpread } from './spread.js';

/** Scheduled removals on one line within so many days of the first belong to one stop. */
export const STOP_DAYS = 3;

const SCHEDULED = REASONS.indexOf('scheduled');

export interface StopPractice {
  /** Median number of replacements per past stop, by line. */
  byLine: ReadonlyMap<string, number>;
  /** The same over all lines, for a line without a past stop; null where the plant has none. */
  plant: number | null;
}

/** Median number of scheduled replacements done per past stop, from the history. */
export function stopPractice(fleet: Fleet): StopPractice {
  const byLine = new Map<string, number>();
  const all: number[] = [];
  for (const [line, days] of scheduledDaysByLine(fleet)) {
    const sizes = stopSizes(days);
    byLine.set(line, median(sizes));
    all.push(...sizes);
  }
  return { byLine, plant: all.length === 0 ? null : median(all) };
}

/**
 * Share of a line's coming stops that are made for the replacements. The others happen anyway and cost a replacement
 * nothing. 0 where the calendar has no stop for the line.
 */
export function shareMadeForReplacements(fleet: Fleet, line: string): number {
  const coming = fleet.shutdowns.filter(
    ({ start, lines }) => start > fleet.site.dataUntil && (lines.length === 0 || lines.includes(line)),
  );
  const made = coming.filter((shutdown) => shutdown.stopFor === 'replacements');
  return coming.length === 0 ? 0 : made.length / coming.length;
}

/** What one stop of a line costs as a whole: its hours of downtime and re-sterilising. */
export function wholeStop(fleet: Fleet, downtimePerHour: Spread | null): Spread {
  const { resteriliseCost, plannedStopHours } = fleet.site.money;
  const downtime =
    plannedStopHours !== null && downtimePerHour !== null
      ? multiplySpreads(plannedStopHours, downtimePerHour)
      : NOTHING;
  return addSpreads(resteriliseCost ?? NOTHING, downtime);
}

/** One replacement's share of a whole stop. */
export function sharedStop(whole: Spread, replacementsPerStop: number): Spread {
  return scaleSpread(whole, 1 / Math.max(1, replacementsPerStop));
}

function scheduledDaysByLine({ lives, positions }: Fleet): Map<string, Day[]> {
  const byLine = new Map<string, Day[]>();
  for (let i = 0; i < lives.length; i++) {
    const removed = floatAt(lives.removed, i);
    if (at(lives.reason, i) !== SCHEDULED || Number.isNaN(removed)) continue;
    const line = positions[at(lives.position, i)]?.line ?? '';
    const days = byLine.get(line);
    if (days === undefined) byLine.set(line, [removed]);
    else days.push(removed);
  }
  return byLine;
}

/** Sizes of the stops in a list of removal days: a stop lasts STOP_DAYS from its first removal. */
function stopSizes(days: readonly Day[]): number[] {
  const sorted = [...days].sort((a, b) => a - b);
  const sizes: number[] = [];
  let first = -Infinity;
  for (const day of sorted) {
    if (day - first > STOP_DAYS) {
      first = day;
      sizes.push(1);
    } else sizes[sizes.length - 1] = at(sizes, sizes.length - 1) + 1;
  }
  return sizes;
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = Math.floor(sorted.length / 2);
  return sorted.length % 2 === 1 ? at(sorted, middle) : (at(sorted, middle - 1) + at(sorted, middle)) / 2;
}
