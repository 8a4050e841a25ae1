/** Shutdowns of the same lines that start on one day: planned as one with the hours of all, and told apart again in the lists. */
import type { Shutdown } from '../fleet/types.js';
import { itemAt } from '../numeric/columns.js';
import { textFromDay } from '../numeric/day.js';
import { ROUNDING } from './fleetPlan/limitRows.js';
import type { StopWork } from './stopLoad.js';
import type { ShutdownTask } from './types.js';

/** Shutdowns that start on one day and name the same lines, together; the order of the first ones is kept. */
export function sameDay(shutdowns: readonly Shutdown[]): Shutdown[][] {
  const groups = new Map<string, Shutdown[]>();
  for (const shutdown of shutdowns) {
    const key = JSON.stringify([shutdown.start, ...[...new Set(shutdown.lines)].sort()]);
    groups.set(key, [...(groups.get(key) ?? []), shutdown]);
  }
  return [...groups.values()];
}

/**
 * All of them as one: hours and replacements are added, because all crews are there (no limit of one is no limit of all); of the
 * lines that may be down the larger number holds, because a line may be down for both; what one must do is done, and what one must
 * not touch is not touched.
 */
export function joined(parts: readonly Shutdown[]): Shutdown {
  const first = itemAt(parts, 0);
  if (parts.length === 1) return first;
  const all = (value: (part: Shutdown) => number | null, of: (values: number[]) => number): number | null => {
    const values = parts.map(value);
    return values.some((each) => each === null) ? null : of(values as number[]);
  };
  const total = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0);
  return {
    ...first,
    name: parts.map(({ name }) => name).join(' and '),
    end: Math.max(...parts.map(({ end }) => end)),
    crewHours: all(({ crewHours }) => crewHours, total),
    fitterHours: all(({ fitterHours }) => fitterHours, total),
    instrumentHours: all(({ instrumentHours }) => instrumentHours, total),
    mostReplacements: all(({ mostReplacements }) => mostReplacements, total),
    mostLines: all(
      ({ mostLines }) => mostLines,
      (values) => Math.max(...values),
    ),
    must: [...new Set(parts.flatMap(({ must }) => must))],
    notOn: [...new Set(parts.flatMap(({ notOn }) => notOn))],
    stopFor: parts.some(({ stopFor }) => stopFor === 'anyway') ? 'anyway' : 'replacements',
  };
}

/** The work of a stop by its shutdowns: each task goes to the first that has room for it, else to the one with most left; each is counted once. */
export function byShutdown(work: StopWork): StopWork[] {
  const { stop, tasks, leftInPlace, clear } = work;
  if (stop.parts.length < 2) return [work];
  const lists = stop.parts.map((): ShutdownTask[] => []);
  const left = stop.parts.map(roomOf);
  for (const task of tasks) {
    const part = task.fits ? partFor(task, stop.parts, left) : 0;
    const room = itemAt(left, part);
    if (task.fits) {
      room.crew -= task.fitterHours + task.instrumentHours;
      room.fitter -= task.fitterHours;
      room.instrument -= task.instrumentHours;
      room.replacements -= 1;
    }
    itemAt(lists, part).push({ ...task, shutdown: itemAt(stop.parts, part).name });
  }
  return stop.parts.map((shutdown, i) => ({
    stop: {
      ...stop,
      name: shutdown.name,
      startText: textFromDay(shutdown.start),
      shutdown,
      parts: [shutdown],
    },
    tasks: itemAt(lists, i),
    leftInPlace: i === 0 ? leftInPlace : [],
    clear: clear && i === stop.parts.length - 1,
  }));
}

interface Room {
  crew: number;
  fitter: number;
  instrument: number;
  replacements: number;
}

function roomOf({ crewHours, fitterHours, instrumentHours, mostReplacements }: Shutdown): Room {
  return {
    crew: crewHours ?? Infinity,
    fitter: fitterHours ?? Infinity,
    instrument: instrumentHours ?? Infinity,
    replacements: mostReplacements ?? Infinity,
  };
}

function partFor(task: ShutdownTask, parts: readonly Shutdown[], left: readonly Room[]): number {
  const { fitterHours, instrumentHours, position } = task;
  const spare = left.map(({ crew, fitter, instrument, replacements }) =>
    Math.min(
      crew - fitterHours - instrumentHours,
      fitter - fitterHours,
      instrument - instrumentHours,
      replacements - 1,
    ),
  );
  const hasRoom = (i: number): boolean => itemAt(spare, i) >= -ROUNDING;
  const asked = parts.findIndex(({ must }, i) => must.includes(position) && hasRoom(i));
  if (asked >= 0) return asked;
  const first = spare.findIndex((_, i) => hasRoom(i));
  return first >= 0 ? first : spare.indexOf(Math.max(...spare));
}
