/** The windows in which a line's positions can be replaced, known ones first and repeated ones after them. */
import type { Day } from '../numeric/day.js';
import { addMonths } from '../numeric/day.js';
import type { Fleet, Shutdown } from './types.js';

/** What is put behind the name of a window whose pattern was repeated. */
const REPEATED = ' (repeated)';

/** One window of a line. Work is taken to happen on its first day. */
export interface LineWindow {
  name: string;
  day: Day;
  /** False where the calendar ended and its pattern was repeated. */
  known: boolean;
  /** Whether the stop is made for the replacements or happens anyway. */
  stopFor: Shutdown['stopFor'];
}

/** The known windows of a line, which repeat after a number of whole years. */
export interface LinePeriod {
  windows: LineWindow[];
  months: number;
}

/** Windows of a line after the day of the data, and after how long they repeat; null where the line has none. */
export function linePeriod(fleet: Fleet, line: string): LinePeriod | null {
  const windows = fleet.shutdowns
    .filter((shutdown) => shutdown.start > fleet.site.dataUntil)
    .filter((shutdown) => shutdown.lines.length === 0 || shutdown.lines.includes(line))
    .sort((a, b) => a.start - b.start || (a.name < b.name ? -1 : 1))
    .map(({ name, start, stopFor }): LineWindow => ({ name, day: start, known: true, stopFor }));
  const first = windows[0];
  const last = windows[windows.length - 1];
  if (first === undefined || last === undefined) return null;
  return { windows, months: 12 * Math.max(1, Math.ceil((last.day - first.day + 1) / 365.25)) };
}

/**
 * Windows of one line from the day after the data to `until`, in order. Where the calendar ends earlier, it is
 * repeated whole years later (a plant's shutdowns follow the year). Empty where the line has no window at all:
 * then a position is replaced on the day it is due.
 */
export function lineWindows(fleet: Fleet, line: string, until: Day): LineWindow[] {
  const period = linePeriod(fleet, line);
  if (period === null) return [];
  const first = period.windows[0] as LineWindow;
  const windows = period.windows.filter((window) => window.day <= until);
  for (let round = 1; addMonths(first.day, period.months * round) <= until; round++) {
    for (const window of period.windows) {
      const day = addMonths(window.day, period.months * round);
      if (day <= until) windows.push({ ...window, name: `${window.name}${REPEATED}`, day, known: false });
    }
  }
  return windows;
}

/** The last day of a window, by its name and first day; of a repeated one as long after it as in the window that it repeats. */
export function lastDayOf({ shutdowns }: Fleet, name: string, day: Day): Day {
  const plain = name.endsWith(REPEATED) ? name.slice(0, -REPEATED.length) : name;
  const own = shutdowns.filter((shutdown) => shutdown.name === plain);
  const shutdown = own.find(({ start }) => start === day) ?? own[0];
  return shutdown === undefined ? day : day + (shutdown.end - shutdown.start);
}
