/** What a work list cannot promise. */
import type { Warning } from '../findings.js';
import type { Fleet, Shutdown } from '../fleet/types.js';
import { count, hoursText, hoursWords, listed, money } from '../numeric/words.js';
import { isJudged } from './safety.js';
import { joined, sameDay } from './sameDay.js';
import { shortfallWords } from './shortfall.js';
import type { ShutdownLoad, ShutdownOptimum, ShutdownTask } from './types.js';
import { lineName } from './windowWarnings.js';
import type { WorkPosition } from './workList.js';

const MOST_NAMES = 5;
/** An hour is named that saves at least this share of what the dearest one saves. */
const WORTH_NAMING = 0.05;

/** Warnings of a work list; `unserved` are the positions on lines without a known window. */
export function shutdownWarnings(
  fleet: Fleet,
  hasCalendar: boolean,
  unserved: readonly WorkPosition[],
  tasks: readonly ShutdownTask[],
  loads: readonly ShutdownLoad[],
  optimum: ShutdownOptimum | null = null,
): Warning[] {
  return [
    hasCalendar ? windowWarning(unserved) : NO_CALENDAR,
    sameDayWarning(fleet),
    notJudgedWarning(fleet, unserved),
    noTargetWarning(fleet),
    hoursWarning(fleet),
    tooFewHoursWarning(tasks, loads),
    shortWarning(tasks),
    tooLargeWarning(fleet, tasks),
    leftWarning(loads),
    bindingWarning(fleet, optimum),
  ].filter((warning): warning is Warning => warning !== null);
}

const NO_CALENDAR: Warning = {
  code: 'no-calendar',
  text: 'No calendar of shutdowns: the work is a due list by month, and no crew hours are checked.',
  todo: 'Give shutdowns.csv with the windows to come.',
};

function windowWarning(unserved: readonly WorkPosition[]): Warning | null {
  const due = unserved.filter(({ now }) => now.intervalDays !== null);
  if (due.length === 0) return null;
  const lines = [...new Set(due.map(({ position }) => position.line))].sort();
  const are = due.length === 1 ? 'is' : 'are';
  return {
    code: 'lines-without-window',
    text: `${count(due.length, 'position')} on lines without a window (${listed(lines.map(lineName), MOST_NAMES)}) ${are} listed by the month of the due day.`,
    todo: 'Name these lines in shutdowns.csv, or leave its lines empty for a stop of the whole plant.',
  };
}

/** Shutdowns of one line on one day: those of the same lines are planned as one; else the hours of all but the first are not used for it. */
function sameDayWarning({ site, shutdowns }: Fleet): Warning | null {
  const ahead = shutdowns
    .filter(({ start }) => start > site.dataUntil)
    .sort((a, b) => a.start - b.start || (a.name < b.name ? -1 : 1));
  const groups = sameDay(ahead);
  const joins = groups.filter((parts) => parts.length > 1).map((parts) => joined(parts).name);
  const firsts = groups.map((parts) => joined(parts));
  const pairs = firsts.flatMap((each, i) => {
    const first = firsts.slice(0, i).find((other) => other.start === each.start && share(other, each));
    return first === undefined ? [] : [`${first.name} and ${each.name}`];
  });
  if (joins.length + pairs.length === 0) return null;
  const words = [
    ...(joins.length === 0
      ? []
      : [
          `planned as one, with the hours of both: ${listed(joins, MOST_NAMES)}, for their lines are the same.`,
        ]),
    ...(pairs.length === 0
      ? []
      : [
          `${listed(pairs, MOST_NAMES)}: on lines that both cover, only the first takes work; the hours of the other are not used there.`,
        ]),
  ];
  return {
    code: 'two-windows-on-one-day',
    text: `Shutdowns of one line that start on one day: ${words.join(' Not joined: ')}`,
    todo:
      pairs.length === 0
        ? 'Nothing, if both crews are there; else correct the dates or the lines in shutdowns.csv.'
        : 'Join them in one row of shutdowns.csv with the hours of both, or give each lines of its own.',
  };
}

/** Whether two shutdowns cover a line in common. */
function share(a: Shutdown, b: Shutdown): boolean {
  return a.lines.length === 0 || b.lines.length === 0 || a.lines.some((line) => b.lines.includes(line));
}

/** Positions to which the survival rule would apply and that have no window to hold until. */
function notJudgedWarning({ site }: Fleet, unserved: readonly WorkPosition[]): Warning | null {
  const due = unserved.filter(({ position }) => isJudged(site, position.criticality));
  if (due.length === 0) return null;
  const lines = [...new Set(due.map(({ position }) => position.line))].sort();
  return {
    code: 'survival-not-judged',
    text: `${count(due.length, 'position', 'positions')} of safety criticality or with a survival target ${due.length === 1 ? 'is' : 'are'} on lines without a window (${listed(lines.map(lineName), MOST_NAMES)}): whether a fresh diaphragm or the one in place is more likely to hold is not compared there, and no target is checked. They go by their interval alone.`,
    todo: 'Give the windows of these lines in shutdowns.csv; until then look at each of these positions before it is opened.',
  };
}

/** Safety positions for which the plant says nowhere how likely to hold is likely enough. */
function noTargetWarning({ site, positions }: Fleet): Warning | null {
  if (site.targets.survival.safety !== null) return null;
  const safety = positions.filter(
    ({ criticality, outOfServiceSince }) =>
      criticality === 'safety' && (outOfServiceSince === null || outOfServiceSince > site.dataUntil),
  );
  if (safety.length === 0) return null;
  return {
    code: 'safety-without-target',
    text: `${count(safety.length, 'position')} of safety criticality ${safety.length === 1 ? 'has' : 'have'} no survival target: of leaving and replacing, what is more likely to hold until the next window is taken, and whether that is likely enough is not judged.`,
    todo: 'Give targets.survival.safety in site.json: the chance to hold from one shutdown to the next that you ask for.',
  };
}

function hoursWarning({ site, shutdowns }: Fleet): Warning | null {
  if (site.money.fittingHours !== null || shutdowns.every(({ crewHours }) => crewHours === null)) return null;
  return {
    code: 'hours-not-known',
    text: 'The hours of a replacement are not given, so that everything seems to fit into the crew hours.',
    todo: 'Give fitting_hours and retighten_hours in site.json.',
  };
}

/** Shutdowns with fewer hours than the shortest task that is listed there: nothing can be done in them. */
function tooFewHoursWarning(tasks: readonly ShutdownTask[], loads: readonly ShutdownLoad[]): Warning | null {
  const least = new Map<string, number>();
  for (const { shutdown, start, fitterHours, instrumentHours } of tasks) {
    const key = JSON.stringify([shutdown, start]);
    least.set(key, Math.min(least.get(key) ?? Infinity, fitterHours + instrumentHours));
  }
  const few = loads.filter(
    ({ shutdown, start, crewHours, doNotFit, replacements }) =>
      replacements === 0 &&
      doNotFit > 0 &&
      (crewHours ?? Infinity) < (least.get(JSON.stringify([shutdown, start])) ?? 0),
  );
  if (few.length === 0) return null;
  const words = few.map(({ shutdown, crewHours }) => `${shutdown} (${hoursText(crewHours ?? 0)} h)`);
  const shortest = Math.min(
    ...few.map(({ shutdown, start }) => least.get(JSON.stringify([shutdown, start])) ?? 0),
  );
  return {
    code: 'crew-hours-below-one-task',
    text: `Fewer crew hours than one replacement takes (${hoursText(shortest)} h or more): nothing can be done at ${listed(words, MOST_NAMES)}.`,
    todo: 'Correct crew_hours in shutdowns.csv: hours of the whole crew over the whole shutdown, or empty for no limit.',
  };
}

function shortWarning(tasks: readonly ShutdownTask[]): Warning | null {
  const words = shortfallWords(tasks);
  if (words === null) return null;
  const onlyHours = tasks.every(({ shortOf }) => shortOf === null || shortOf === 'crew hours');
  return {
    code: 'crew-hours-short',
    text: `Replacements that do not fit into ${onlyHours ? 'the crew hours' : 'the hours and limits of the shutdowns'}: ${words}.`,
    todo: 'Add hours or a window, or take the list in the order given.',
  };
}

/** Positions whose own hours no coming window of their line has. */
function tooLargeWarning({ shutdowns, site }: Fleet, tasks: readonly ShutdownTask[]): Warning | null {
  const coming = shutdowns.filter(({ start }) => start > site.dataUntil);
  const tooLarge = new Map<string, ShutdownTask>();
  for (const task of tasks) {
    if (task.fits || tooLarge.has(task.position)) continue;
    const own = coming.filter(({ lines }) => lines.length === 0 || lines.includes(task.line));
    if (own.every((shutdown) => !holds(shutdown, task))) tooLarge.set(task.position, task);
  }
  if (tooLarge.size === 0) return null;
  const most = Math.max(...[...tooLarge.values()].map((task) => task.fitterHours + task.instrumentHours));
  return {
    code: 'task-larger-than-windows',
    text: `${count(tooLarge.size, 'position')} (${listed([...tooLarge.keys()], MOST_NAMES)}) ${tooLarge.size === 1 ? 'takes' : 'take'} more hours than any window of ${tooLarge.size === 1 ? 'its line' : 'their lines'} has (up to ${hoursWords(most)}): no order of work makes ${tooLarge.size === 1 ? 'it' : 'them'} fit.`,
    todo: 'Give such a window more hours, or correct the hours in site.json and shutdowns.csv.',
  };
}

/** Whether a shutdown has the hours of one task, were it the only one. */
function holds({ crewHours, fitterHours, instrumentHours }: Shutdown, task: ShutdownTask): boolean {
  return (
    task.fitterHours + task.instrumentHours <= (crewHours ?? Infinity) &&
    task.fitterHours <= (fitterHours ?? Infinity) &&
    task.instrumentHours <= (instrumentHours ?? Infinity)
  );
}

/** What binds the positions that are placed by cost, and what another hour is worth. */
function bindingWarning({ site }: Fleet, optimum: ShutdownOptimum | null): Warning | null {
  const priced = (optimum?.limits ?? [])
    .flatMap(({ shutdown, limit, savingPerHour }) =>
      savingPerHour === null || !limit.endsWith('hours') ? [] : [{ shutdown, savingPerHour }],
    )
    .sort((a, b) => b.savingPerHour - a.savingPerHour);
  const most = priced[0]?.savingPerHour ?? 0;
  if (most <= 0) return null;
  const named = priced.filter(({ savingPerHour }) => savingPerHour >= WORTH_NAMING * most);
  const words = named.map(
    ({ shutdown, savingPerHour }) => `${money(savingPerHour, site.currency)} at ${shutdown}`,
  );
  return {
    code: 'crew-hours-bind',
    text: `Crew hours decide which positions are replaced when: one more hour would save about ${listed(words, MOST_NAMES)}.`,
    todo: 'Add hours where an hour costs less than that, first at the shutdown named first.',
  };
}

function leftWarning(loads: readonly ShutdownLoad[]): Warning | null {
  const left = loads.filter(({ leftInPlace }) => leftInPlace.length > 0);
  if (left.length === 0) return null;
  const words = left.map(({ shutdown, leftInPlace }) => `${leftInPlace.length} at ${shutdown}`);
  return {
    code: 'left-in-place',
    text: `Due and better left, because a fresh diaphragm is more likely to leak before the next window: ${listed(words, MOST_NAMES)}.`,
    todo: 'Leave them there, and find out why fresh ones leak: fitting, leak test before start-up, re-tightening.',
  };
}
