/** What the work of a list takes of each stop, and stops by their name and day. */
import { itemAt } from '../numeric/columns.js';
import type { OtherWork } from './fleetProblem.js';
import type { Stop } from './stopCalendar.js';
import type { ShutdownTask } from './types.js';

/** What a list takes of each stop for positions that are not placed. */
export function otherWork(
  tasks: readonly ShutdownTask[],
  stops: readonly Stop[],
  placed: ReadonlySet<string>,
): OtherWork[] {
  const index = stopIndex(stops);
  const work = stops.map(() => ({
    fitterHours: 0,
    instrumentHours: 0,
    replacements: 0,
    lines: new Set<string>(),
    pieces: new Map<string, number>(),
  }));
  for (const { position, line, shutdown, start, item, fits, fitterHours, instrumentHours } of tasks) {
    const s = index.get(JSON.stringify([shutdown, start]));
    if (!fits || s === undefined || placed.has(position)) continue;
    const at = itemAt(work, s);
    at.fitterHours += fitterHours;
    at.instrumentHours += instrumentHours;
    at.replacements += 1;
    at.lines.add(line);
    if (item !== null) at.pieces.set(item, (at.pieces.get(item) ?? 0) + 1);
  }
  return work;
}

/** Stops by name and day: two may have one name. */
export function stopIndex(stops: readonly Stop[]): Map<string, number> {
  return new Map(stops.map(({ name, startText }, s) => [JSON.stringify([name, startText]), s]));
}
