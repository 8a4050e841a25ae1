/**
 * The work by the month in which it is due, where no calendar of shutdowns says when it can be done. Without a next
 * window the rule of safety.ts has nothing to compare: such positions go by their interval, and are told so.
 */
import type { Fleet } from '../fleet/types.js';
import { addMonths, type Day, monthOfDay, startOfMonth, textFromDay } from '../numeric/day.js';
import { dateWords, daysWords } from '../numeric/words.js';
import { scheduledDay } from './dueRule.js';
import { isJudged } from './safety.js';
import { intervalWords } from './shutdownReason.js';
import type { ShutdownLoad, ShutdownTask } from './types.js';
import { afterReplacement, overdueOn, type TaskWindow, taskOf, type WorkPosition } from './workList.js';

/** Tasks of the horizon by month of their due day, what is overdue in the first month; with one load per month. */
export function dueList(
  fleet: Fleet,
  places: readonly WorkPosition[],
): { tasks: ShutdownTask[]; loads: ShutdownLoad[] } {
  const until = addMonths(fleet.site.dataUntil, fleet.site.horizonMonths);
  const dated = places.flatMap((place) => dueTasks(fleet.site, place, until));
  dated.sort((a, b) => a.day - b.day || (a.task.position < b.task.position ? -1 : 1));
  const byMonth = new Map<string, { month: Day; tasks: ShutdownTask[] }>();
  for (const { day, task } of dated) {
    const month = byMonth.get(task.shutdown) ?? { month: startOfMonth(day), tasks: [] };
    month.tasks.push(task);
    byMonth.set(task.shutdown, month);
  }
  return {
    tasks: dated.map(({ task }) => task),
    loads: [...byMonth.values()].map(({ month, tasks }) => loadOf(month, tasks)),
  };
}

function dueTasks(site: Fleet['site'], first: WorkPosition, until: Day): { day: Day; task: ShutdownTask }[] {
  const found: { day: Day; task: ShutdownTask }[] = [];
  let place = first;
  let after = site.dataUntil;
  const unjudged = isJudged(site, first.position.criticality) ? NOT_JUDGED : '';
  for (;;) {
    const day = scheduledDay(place.fitted, place.now.intervalDays, [], after, place.ends);
    if (day === null || day > until) return found;
    found.push({ day, task: taskOf(place, windowOf(day), null, `${reasonOf(place, day)}${unjudged}`, null) });
    place = afterReplacement(place, day);
    after = day;
  }
}

/** METHODS 4.4 compares chances to hold until the next window, and here there is none to count to. */
const NOT_JUDGED =
  ' Its chance to hold if left and if replaced is not compared, because its line has no window to hold until.';

/** The month as a window; ages and chances are those of the due day itself. */
function windowOf(day: Day): TaskWindow {
  return { name: `due ${monthOfDay(day)}`, start: day, startText: textFromDay(day) };
}

function reasonOf(place: WorkPosition, day: Day): string {
  const interval = intervalWords(place);
  if (!place.fittedKnown)
    return `${interval}; its fitting day is not on record and was taken from what fits the records.`;
  const overdue = overdueOn(place, day) ?? 0;
  return overdue > 0
    ? `${interval}, passed by ${daysWords(overdue)}.`
    : `${interval}, reached on ${dateWords(textFromDay(day))}.`;
}

function loadOf(month: Day, tasks: readonly ShutdownTask[]): ShutdownLoad {
  const hours = tasks.reduce((sum, task) => sum + task.fitterHours + task.instrumentHours, 0);
  return {
    shutdown: `due ${monthOfDay(month)}`,
    start: textFromDay(month),
    end: textFromDay(addMonths(month, 1) - 1),
    lines: [],
    crewHours: null,
    fitterHours: null,
    instrumentHours: null,
    mostReplacements: null,
    mostLines: null,
    hoursNeeded: hours,
    hoursPlanned: hours,
    hoursAfterStartUp: tasks.reduce((sum, task) => sum + task.afterStartUpHours, 0),
    replacements: tasks.length,
    doNotFit: 0,
    leftInPlace: [],
  };
}
