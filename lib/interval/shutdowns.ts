/** Which positions are replaced at which shutdown, within the hours of the crew. */

import { groupCosts } from '../cost/groupCost.js';
import type { GroupCost } from '../cost/types.js';
import { type LineWindow, lineWindows } from '../fleet/calendar.js';
import type { Criticality, Fleet, Shutdown } from '../fleet/types.js';
import type { GroupedFleet } from '../group/types.js';
import { addMonths, type Day, textFromDay } from '../numeric/day.js';
import { dueList } from './dueList.js';
import { LATE_SHARE, scheduledDay } from './dueRule.js';
import { reasonOf } from './shutdownReason.js';
import { shutdownWarnings } from './shutdownWarnings.js';
import type { IntervalAdvice, ShutdownLoad, ShutdownPlan, ShutdownTask } from './types.js';
import {
  afterReplacement,
  costOfWaiting,
  NO_LATER_WINDOW_DAYS,
  overdueOn,
  type TaskWindow,
  taskOf,
  type WorkPosition,
  workGroups,
  workPositions,
} from './workList.js';

const RANK: Readonly<Record<Criticality, number>> = { safety: 0, high: 1, normal: 2, low: 3 };
/** The calendar is repeated this many months past its end, only to see whether a later window would do. */
const LOOK_AHEAD_MONTHS = 60;
/** A stop of the calendar with what is asked of it. */
interface Stop extends TaskWindow {
  shutdown: Shutdown;
  candidates: Candidate[];
}

interface Candidate {
  index: number;
  /** Names of the stops at which it did not fit before. */
  carriedFrom: string[];
}

/** A line's windows for the due rule, and which known stop each of them is. */
interface LineCalendar {
  windows: LineWindow[];
  stopOn: ReadonlyMap<Day, Stop>;
}

/**
 * Work list of every known shutdown: each position at the window at which its interval makes it due (dueRule.ts), then
 * again within the known calendar. Crew hours go to the highest criticality first, then to what is dearest to leave
 * until the next window; what does not fit is listed with `fits: false` and asks again at the line's next window.
 * Positions on a line without a known window are listed by the month in which they are due.
 */
export function planShutdowns(
  fleet: Fleet,
  grouped: GroupedFleet,
  intervals: readonly IntervalAdvice[],
  costs: readonly GroupCost[] = groupCosts(fleet, grouped),
): ShutdownPlan {
  const places = workPositions(fleet, grouped, workGroups(fleet, grouped, intervals, costs));
  const stops = knownStops(fleet);
  const calendars = calendarsOf(fleet, stops, places);
  const overdueNow = countOverdue(fleet, places);
  const unserved = places.filter(({ position }) => calendars.get(position.line) === undefined);
  const listed = dueList(fleet, unserved);
  const { tasks, goneAfter } = runCalendar(fleet, stops, calendars, places);
  return {
    tasks: [...tasks, ...listed.tasks],
    loads: [...stops.map((stop) => loadOf(stop, tasks)), ...listed.loads],
    overdueNow,
    backlogGoneAfter: overdueNow > 0 ? goneAfter : null,
    warnings: shutdownWarnings(fleet, stops.length > 0, unserved, tasks),
  };
}

function knownStops(fleet: Fleet): Stop[] {
  return fleet.shutdowns
    .filter((shutdown) => shutdown.start > fleet.site.dataUntil)
    .sort((a, b) => a.start - b.start || (a.name < b.name ? -1 : 1))
    .map((shutdown) => ({
      name: shutdown.name,
      start: shutdown.start,
      startText: textFromDay(shutdown.start),
      shutdown,
      candidates: [],
    }));
}

/** Calendars of the lines that have a known window. */
function calendarsOf(
  fleet: Fleet,
  stops: readonly Stop[],
  places: readonly WorkPosition[],
): Map<string, LineCalendar> {
  const calendars = new Map<string, LineCalendar>();
  const last = stops[stops.length - 1];
  if (last === undefined) return calendars;
  const until = addMonths(last.start, LOOK_AHEAD_MONTHS);
  for (const line of new Set(places.map(({ position }) => position.line))) {
    const windows = lineWindows(fleet, line, until);
    if (windows.length === 0) continue;
    const own = stops.filter(({ shutdown }) => shutdown.lines.length === 0 || shutdown.lines.includes(line));
    // Two stops of one line on one day are one window; the first by name takes the work.
    calendars.set(line, { windows, stopOn: new Map(own.reverse().map((stop) => [stop.start, stop])) });
  }
  return calendars;
}

/** Walks through the stops in order of date and fills each. */
function runCalendar(
  fleet: Fleet,
  stops: readonly Stop[],
  calendars: ReadonlyMap<string, LineCalendar>,
  places: readonly WorkPosition[],
): { tasks: ShutdownTask[]; goneAfter: string | null } {
  const state = [...places];
  const tasks: ShutdownTask[] = [];
  let goneAfter: string | null = null;
  for (const index of state.keys()) schedule(index, state, calendars, fleet.site.dataUntil);
  for (const stop of stops) {
    for (const choice of fill(stop, state, calendars)) {
      const place = state[choice.index] as WorkPosition;
      tasks.push(
        taskOf(
          place,
          stop,
          choice.fits,
          reasonOf(place, stop, { ...choice, crewHours: stop.shutdown.crewHours }),
        ),
      );
      if (choice.fits) {
        state[choice.index] = afterReplacement(place, stop.start);
        schedule(choice.index, state, calendars, stop.start);
      } else carry(choice, stop, place, calendars);
    }
    if (goneAfter === null && !state.some((place) => isLate(place, stop.start))) goneAfter = stop.name;
  }
  return { tasks, goneAfter };
}

/** Puts a position on the list of the known stop at which it is next due, if there is one. */
function schedule(
  index: number,
  state: readonly WorkPosition[],
  calendars: ReadonlyMap<string, LineCalendar>,
  after: Day,
): void {
  const place = state[index] as WorkPosition;
  const calendar = calendars.get(place.position.line);
  if (calendar === undefined) return;
  const day = scheduledDay(place.fitted, place.now.intervalDays, calendar.windows, after);
  if (day !== null) calendar.stopOn.get(day)?.candidates.push({ index, carriedFrom: [] });
}

/** A position that did not fit asks again at its line's next known stop. */
function carry(
  { index, carriedFrom }: Choice,
  stop: Stop,
  { position }: WorkPosition,
  calendars: ReadonlyMap<string, LineCalendar>,
): void {
  const next = nextWindow(stop, position.line, calendars);
  if (next === null) return;
  calendars
    .get(position.line)
    ?.stopOn.get(next)
    ?.candidates.push({ index, carriedFrom: [...carriedFrom, stop.name] });
}

interface Choice extends Candidate {
  fits: boolean;
  waiting: number;
  nextWindow: Day | null;
}

/** Candidates of a stop in order of rank, each with whether it fits into what is left of the crew's hours. */
function fill(
  stop: Stop,
  state: readonly WorkPosition[],
  calendars: ReadonlyMap<string, LineCalendar>,
): Choice[] {
  const ranked = stop.candidates
    .map((candidate) => {
      const place = state[candidate.index] as WorkPosition;
      const next = nextWindow(stop, place.position.line, calendars);
      const waiting = costOfWaiting(place, stop.start, next ?? stop.start + NO_LATER_WINDOW_DAYS);
      return { ...candidate, place, waiting, nextWindow: next, overdue: overdueOn(place, stop.start) ?? 0 };
    })
    .sort(
      (a, b) =>
        RANK[a.place.position.criticality] - RANK[b.place.position.criticality] ||
        b.waiting - a.waiting ||
        b.overdue - a.overdue ||
        a.index - b.index,
    );
  let left = stop.shutdown.crewHours ?? Infinity;
  return ranked.map(({ index, carriedFrom, place, waiting, nextWindow: next }) => {
    const hours = place.fitterHours + place.instrumentHours;
    // A sum of hours may miss the limit by rounding only.
    const fits = hours <= left + 1e-9;
    if (fits) left -= hours;
    return { index, carriedFrom, fits, waiting, nextWindow: next };
  });
}

/** The line's next window after a stop, known or repeated. */
function nextWindow(stop: Stop, line: string, calendars: ReadonlyMap<string, LineCalendar>): Day | null {
  return calendars.get(line)?.windows.find((window) => window.day > stop.start)?.day ?? null;
}

/** Past its interval by more than the due rule allows for. */
function isLate(place: WorkPosition, day: Day): boolean {
  const overdue = overdueOn(place, day);
  return overdue !== null && overdue > LATE_SHARE * (place.now.intervalDays ?? 0);
}

/** Expected number of positions past their interval on the day of the data. */
function countOverdue(fleet: Fleet, places: readonly WorkPosition[]): number {
  let count = 0;
  for (const { now, ages, fitted, fittedKnown } of places) {
    const interval = now.intervalDays;
    if (interval === null) continue;
    if (fittedKnown) count += fleet.site.dataUntil - fitted > interval ? 1 : 0;
    else count += ages.reduce((sum, { age, chance }) => sum + (age > interval ? chance : 0), 0);
  }
  return Math.round(count);
}

function loadOf(stop: Stop, tasks: readonly ShutdownTask[]): ShutdownLoad {
  const own = tasks.filter((task) => task.shutdown === stop.name && task.start === stop.startText);
  const hours = (list: readonly ShutdownTask[]): number =>
    list.reduce((sum, task) => sum + task.fitterHours + task.instrumentHours, 0);
  const fitting = own.filter((task) => task.fits);
  return {
    shutdown: stop.name,
    start: stop.startText,
    end: textFromDay(stop.shutdown.end),
    lines: stop.shutdown.lines,
    crewHours: stop.shutdown.crewHours,
    hoursNeeded: hours(own),
    hoursPlanned: hours(fitting),
    replacements: fitting.length,
    doNotFit: own.length - fitting.length,
  };
}
