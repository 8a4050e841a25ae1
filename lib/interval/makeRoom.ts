/**
 * Positions that go by the due rule alone, brought forward where a stop is short: each to the last earlier window of its line that has room
 * left, those first that lose the fewest days of their interval.
 */
import type { Shutdown } from '../fleet/types.js';
import { itemAt } from '../numeric/columns.js';
import type { ShortOf } from './capacity.js';
import { ROUNDING } from './fleetPlan/limitRows.js';
import type { Calendars, Stop } from './stopCalendar.js';
import type { StopWork } from './stopLoad.js';
import type { ShutdownTask } from './types.js';
import type { WorkPosition } from './workList.js';

/** Stop at which a position is done earlier than its interval asks, by the stop that has no room; both by their place in the list. */
export interface Earlier {
  stop: number;
  insteadOf: number;
}

/** What more room at a stop would make fit: pieces and closed positions need something else. */
const BY_ROOM: readonly (ShortOf | null)[] = [
  'crew hours',
  'fitter hours',
  'instrument hours',
  'replacements',
];

interface Amounts {
  crew: number;
  fitter: number;
  instrument: number;
  replacements: number;
}

/** Positions to bring forward, by index; `movable` are those that may be. Empty where no stop is short, or none has room before. */
export function makeRoom(
  work: readonly StopWork[],
  places: readonly WorkPosition[],
  movable: ReadonlySet<number>,
  calendars: Calendars,
): Map<number, Earlier> {
  const index = new Map(places.map(({ position }, p) => [position.position, p]));
  const left = work.map(roomLeft);
  const moved = new Map<number, Earlier>();
  for (const [s, { tasks }] of work.entries()) {
    const short = tasks.filter(({ shortOf }) => BY_ROOM.includes(shortOf));
    if (short.length === 0) continue;
    const lack = short.reduce(plus, negative(itemAt(left, s)));
    const moves = tasks
      .flatMap((task) => {
        const p = index.get(task.position);
        if (p === undefined || !movable.has(p) || moved.has(p) || task.shortOf === 'closed') return [];
        if (itemAt(work, s).stop.shutdown.must.includes(task.position)) return [];
        return [{ p, task }];
      })
      .flatMap(({ p, task }) => {
        const to = earlierStop(work, s, task, itemAt(places, p), left, calendars);
        return to < 0 ? [] : [{ p, task, to }];
      })
      .sort((a, b) => b.to - a.to || Number(a.task.fits) - Number(b.task.fits) || a.p - b.p);
    for (const { p, task, to } of moves) {
      if (!isLacking(lack)) break;
      if (!holds(itemAt(left, to), task)) continue;
      left[to] = minus(itemAt(left, to), task);
      Object.assign(lack, minus(lack, task));
      moved.set(p, { stop: to, insteadOf: s });
    }
  }
  return moved;
}

/** The last window of its line before a stop at which a task would fit, after what was fitted there; -1 where there is none. */
function earlierStop(
  work: readonly StopWork[],
  s: number,
  task: ShutdownTask,
  place: WorkPosition,
  left: readonly Amounts[],
  calendars: Calendars,
): number {
  const calendar = calendars.get(task.line);
  for (let t = s - 1; t >= 0; t--) {
    const { stop, tasks } = itemAt(work, t);
    if (stop.start <= place.fitted || tasks.some(({ position, fits }) => fits && position === task.position))
      return -1;
    if (calendar?.stopOn.get(stop.start) !== stop || isClosedTo(stop, task)) continue;
    if (itemAt(work, s).stop.start === stop.start) continue;
    const window = calendar.windows.find(({ day }) => day === stop.start);
    const isOpen = tasks.some(({ line, fits }) => fits && line === task.line);
    const mayOpen = window?.stopFor === 'anyway' && stop.shutdown.mostLines === null;
    if ((isOpen || mayOpen) && holds(itemAt(left, t), task)) return t;
  }
  return -1;
}

function isClosedTo({ shutdown }: Stop, { position, line }: ShutdownTask): boolean {
  return shutdown.notOn.includes(position) || shutdown.notOn.includes(line);
}

function roomLeft({ stop, tasks }: StopWork): Amounts {
  return tasks.filter(({ fits }) => fits).reduce(minus, limitsOf(stop.shutdown));
}

function limitsOf({ crewHours, fitterHours, instrumentHours, mostReplacements }: Shutdown): Amounts {
  return {
    crew: crewHours ?? Infinity,
    fitter: fitterHours ?? Infinity,
    instrument: instrumentHours ?? Infinity,
    replacements: mostReplacements ?? Infinity,
  };
}

function minus(from: Amounts, { fitterHours, instrumentHours }: ShutdownTask): Amounts {
  return {
    crew: from.crew - fitterHours - instrumentHours,
    fitter: from.fitter - fitterHours,
    instrument: from.instrument - instrumentHours,
    replacements: from.replacements - 1,
  };
}

function plus(to: Amounts, { fitterHours, instrumentHours }: ShutdownTask): Amounts {
  return {
    crew: to.crew + fitterHours + instrumentHours,
    fitter: to.fitter + fitterHours,
    instrument: to.instrument + instrumentHours,
    replacements: to.replacements + 1,
  };
}

function negative({ crew, fitter, instrument, replacements }: Amounts): Amounts {
  return { crew: -crew, fitter: -fitter, instrument: -instrument, replacements: -replacements };
}

/** Whether any amount is still asked for. */
function isLacking({ crew, fitter, instrument, replacements }: Amounts): boolean {
  return Math.max(crew, fitter, instrument, replacements) > ROUNDING;
}

function holds(left: Amounts, task: ShutdownTask): boolean {
  const { crew, fitter, instrument, replacements } = minus(left, task);
  return Math.min(crew, fitter, instrument, replacements) >= -ROUNDING;
}
