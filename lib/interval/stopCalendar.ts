/** The known stops of a plant, the windows of each line, and what is asked of each stop. */
import { type LineWindow, lineWindows } from '../fleet/calendar.js';
import type { Fleet, Shutdown } from '../fleet/types.js';
import { addMonths, type Day, textFromDay } from '../numeric/day.js';
import { scheduledDay } from './dueRule.js';
import { joined, sameDay } from './sameDay.js';
import { inService, type TaskWindow, type WorkPosition } from './workList.js';

/** The calendar is repeated this many months past its end, only to see whether a later window would do. */
const LOOK_AHEAD_MONTHS = 60;

/** A stop of the calendar with what is asked of it. */
export interface Stop extends TaskWindow {
  shutdown: Shutdown;
  /** The shutdowns that it stands for: several where they start on one day on the same lines. */
  parts: readonly Shutdown[];
  candidates: Candidate[];
}

/** A position that asks to be replaced at a stop. */
export interface Candidate {
  index: number;
  /** Day on which the diaphragm was fitted that asks: one fitted since has settled it. */
  fitted: Day;
  /** Names of the stops at which it did not fit before, and at which it was better left. */
  carriedFrom: string[];
  leftAt: string[];
  /** True where its interval does not ask yet, but the chance to hold is too low for its target. */
  forTarget: boolean;
}

/** A line's windows for the due rule, and which known stop each of them is. */
export interface LineCalendar {
  windows: LineWindow[];
  stopOn: ReadonlyMap<Day, Stop>;
}

export type Calendars = ReadonlyMap<string, LineCalendar>;

/** Stops after the day of the data, in order of date; shutdowns of the same lines on one day are one stop. */
export function knownStops(fleet: Fleet): Stop[] {
  const ahead = fleet.shutdowns
    .filter((shutdown) => shutdown.start > fleet.site.dataUntil)
    .sort((a, b) => a.start - b.start || (a.name < b.name ? -1 : 1));
  return sameDay(ahead).map((parts) => {
    const shutdown = joined(parts);
    const { name, start } = shutdown;
    return { name, start, startText: textFromDay(start), shutdown, parts, candidates: [] };
  });
}

/** Calendars of the lines that have a known window. */
export function calendarsOf(
  fleet: Fleet,
  stops: readonly Stop[],
  places: readonly WorkPosition[],
): Map<string, LineCalendar> {
  const calendars = new Map<string, LineCalendar>();
  const last = stops[stops.length - 1];
  if (last === undefined) return calendars;
  const until = addMonths(last.start, LOOK_AHEAD_MONTHS);
  for (const line of new Set(places.map(({ position }) => position.line))) {
    const windows = onePerDay(lineWindows(fleet, line, until));
    if (windows.length === 0) continue;
    const own = stops.filter((stop) => covers(stop, line));
    // Two stops of one line on one day that cover other lines too are one window of it; the first by name takes the work.
    calendars.set(line, { windows, stopOn: new Map(own.reverse().map((stop) => [stop.start, stop])) });
  }
  return calendars;
}

/** Two windows on one day are one: the line stops anyway if one of them says so; else the first by name. */
function onePerDay(windows: readonly LineWindow[]): LineWindow[] {
  const byDay = new Map<Day, LineWindow>();
  for (const window of windows) {
    const other = byDay.get(window.day);
    if (other === undefined) byDay.set(window.day, window);
    else if (window.stopFor === 'anyway' && other.stopFor !== 'anyway')
      byDay.set(window.day, { ...other, stopFor: 'anyway' });
  }
  return [...byDay.values()];
}

function covers({ shutdown }: Stop, line: string): boolean {
  return shutdown.lines.length === 0 || shutdown.lines.includes(line);
}

/** The line's next window after a stop, known or repeated; null where there is none. */
export function nextWindow(stop: Stop, line: string, calendars: Calendars): Day | null {
  return calendars.get(line)?.windows.find((window) => window.day > stop.start)?.day ?? null;
}

/** Puts a position on the list of the known stop at which it is next due, if there is one. */
export function schedule(
  index: number,
  state: readonly WorkPosition[],
  calendars: Calendars,
  after: Day,
): void {
  const place = state[index] as WorkPosition;
  const calendar = calendars.get(place.position.line);
  if (calendar === undefined) return;
  const day = scheduledDay(place.fitted, place.now.intervalDays, calendar.windows, after, place.ends);
  if (day === null) return;
  const asks = { index, fitted: place.fitted, carriedFrom: [], leftAt: [], forTarget: false };
  calendar.stopOn.get(day)?.candidates.push(asks);
}

/** A position that did not fit, or was better left, asks again at its line's next known stop while it is in service. */
export function carry(candidate: Candidate, stop: Stop, place: WorkPosition, calendars: Calendars): void {
  const { line } = place.position;
  const next = nextWindow(stop, line, calendars);
  if (next !== null && inService(place, next))
    calendars.get(line)?.stopOn.get(next)?.candidates.push(candidate);
}

/** What still asks at a stop: each position once, and only for the diaphragm that is in it. */
export function openCandidates({ candidates }: Stop, state: readonly WorkPosition[]): Candidate[] {
  const open = new Map<number, Candidate>();
  for (const candidate of candidates) {
    if ((state[candidate.index] as WorkPosition).fitted !== candidate.fitted) continue;
    const other = open.get(candidate.index);
    if (other === undefined || candidate.carriedFrom.length + candidate.leftAt.length > 0)
      open.set(candidate.index, candidate);
  }
  return [...open.values()];
}
