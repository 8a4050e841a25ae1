/**
 * The windows after the end of the calendar: what would be asked of each if work there had to fit too. The plan takes their hours as
 * without limit, so that what it says of ages past the calendar is too hopeful where they would be overfull.
 */
import type { LineWindow } from '../fleet/calendar.js';
import type { Shutdown } from '../fleet/types.js';
import { itemAt } from '../numeric/columns.js';
import type { Day } from '../numeric/day.js';
import { scheduledDay } from './dueRule.js';
import { MOST_WINDOWS } from './fleetPlan/checkProblem.js';
import { ROUNDING } from './fleetPlan/limitRows.js';
import type { FleetWork, OtherWork } from './fleetProblem.js';

/** The calendar's first repetition, as full as the plan would make it. */
export interface BeyondCalendar {
  /** Repeated windows in which something would be replaced. */
  windows: number;
  /** Those that would take more hours than the windows that they repeat have left by other work. */
  overfull: number;
  /** Of the fullest of these, by its share: hours asked for, and hours that there are; null where none is overfull. */
  mostHours: number | null;
  hours: number | null;
}

/** A repeated window: the stop that it repeats, and what is booked in it. */
interface Repeated {
  stop: number;
  fitter: number;
  instrument: number;
}

/**
 * Goes on from the plan: each position again at the last repeated window before it would be late. Hours are booked in full, as in the
 * known windows; what other work takes is taken to be as in the window that is repeated. Only the first repetition is looked at.
 */
export function beyondCalendar(
  work: FleetWork,
  stopsOf: ReadonlyMap<number, readonly number[]>,
): BeyondCalendar {
  const booked = new Map<string, Repeated>();
  const repeats = new Map<string, Map<Day, number>>();
  for (const p of work.free) {
    const { position, fitterHours, instrumentHours } = itemAt(work.places, p);
    const ofLine = repeats.get(position.line) ?? firstRepeat(work, position.line);
    repeats.set(position.line, ofLine);
    for (const day of daysAfter(work, p, stopsOf.get(p) ?? [])) {
      const stop = ofLine.get(day);
      if (stop === undefined || stop < 0) continue;
      const key = `${stop}@${day}`;
      const at = booked.get(key) ?? { stop, fitter: 0, instrument: 0 };
      at.fitter += fitterHours;
      at.instrument += instrumentHours;
      booked.set(key, at);
    }
  }
  return fullest(work, [...booked.values()]);
}

/** The first repetition of a line's windows, by day: the stop that each repeats, by its place in the list. */
function firstRepeat({ calendars, stops }: FleetWork, line: string): Map<Day, number> {
  const { windows = [], stopOn = new Map() } = calendars.get(line) ?? {};
  const known = windows.filter((window) => window.known);
  const repeated = windows.filter((window) => !window.known).slice(0, known.length);
  return new Map(
    repeated.map(({ day }, i) => [day, stops.indexOf(stopOn.get(itemAt(known, i).day))] as const),
  );
}

/** Days on which a position is replaced after what is planned for it, by the due rule. */
function daysAfter({ places, stops, calendars }: FleetWork, p: number, own: readonly number[]): Day[] {
  const { position, fitted, now, ends } = itemAt(places, p);
  const windows: readonly LineWindow[] = calendars.get(position.line)?.windows ?? [];
  const planned = windows.filter(({ known }) => known).slice(0, MOST_WINDOWS);
  const end = planned[planned.length - 1]?.day ?? 0;
  const days: Day[] = [];
  let last = own.reduce((latest, s) => Math.max(latest, itemAt(stops, s).start), fitted);
  let after = Math.max(end, last);
  for (let round = 0; round < windows.length; round++) {
    const day = scheduledDay(last, now.intervalDays, windows, after, ends);
    if (day === null) break;
    days.push(day);
    [last, after] = [day, day];
  }
  return days;
}

function fullest({ stops, other }: FleetWork, booked: readonly Repeated[]): BeyondCalendar {
  let [overfull, share] = [0, 0];
  let [mostHours, hours]: [number | null, number | null] = [null, null];
  for (const at of booked) {
    const { asked, left } = tightest(at, itemAt(stops, at.stop).shutdown, itemAt(other, at.stop));
    if (asked <= left + ROUNDING) continue;
    overfull++;
    if (asked / left > share) [share, mostHours, hours] = [asked / left, asked, left];
  }
  return { windows: booked.length, overfull, mostHours, hours };
}

/** Of all crafts together and each craft, the one with most asked for what there is. */
function tightest(
  { fitter, instrument }: Repeated,
  { crewHours, fitterHours, instrumentHours }: Shutdown,
  other: OtherWork,
): { asked: number; left: number } {
  const limits = [
    { asked: fitter + instrument, of: crewHours, taken: other.fitterHours + other.instrumentHours },
    { asked: fitter, of: fitterHours, taken: other.fitterHours },
    { asked: instrument, of: instrumentHours, taken: other.instrumentHours },
  ];
  let found = { asked: 0, left: Infinity };
  for (const { asked, of, taken } of limits) {
    if (of === null || asked === 0) continue;
    const left = Math.max(0, of - taken);
    if (asked / left > found.asked / found.left) found = { asked, left };
  }
  return found;
}
