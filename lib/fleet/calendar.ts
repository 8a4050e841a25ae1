/** The windows in which a line's positions can be replaced, known ones first and repeated ones after them. */
import type { Day } from '../numeric/day.js';
import { addMonths } from '../numeric/day.js';
import type { Fleet } from './types.js';

/** One window of a line. Work is taken to happen on its first day. */
export interface LineWindow {
  name: string;
  day: Day;
  /** False where the calendar ended and its pattern was repeated. */
  known: boolean;
}

/**
 * Windows of one line from the day after the data to `until`, in order. Where the calendar ends earlier, it is
 * repeated whole years later (a plant's shutdowns follow the year). Empty where the line has no window at all:
 * then a position is replaced on the day it is due.
 */
export function lineWindows(fleet: Fleet, line: string, until: Day): LineWindow[] {
  const known = fleet.shutdowns
    .filter((shutdown) => shutdown.start > fleet.site.dataUntil)
    .filter((shutdown) => shutdown.lines.length === 0 || shutdown.lines.includes(line))
    .sort((a, b) => a.start - b.start || (a.name < b.name ? -1 : 1))
    .map((shutdown): LineWindow => ({ name: shutdown.name, day: shutdown.start, known: true }));
  const first = known[0];
  const last = known[known.length - 1];
  if (first === undefined || last === undefined) return [];
  const years = Math.max(1, Math.ceil((last.day - first.day + 1) / 365.25));
  const windows = known.filter((window) => window.day <= until);
  for (let round = 1; addMonths(first.day, 12 * years * round) <= until; round++) {
    for (const window of known) {
      const day = addMonths(window.day, 12 * years * round);
      if (day <= until) windows.push({ name: `${window.name} (repeated)`, day, known: false });
    }
  }
  return windows;
}
