/** The lives in the fits with their group and how each is read: what leaks are counted from, one row a life. */
import { at, floatAt } from '../../numeric/columns.js';
import type { CellFit } from '../fitCell.js';
import { CONDITION, FAILED, type History } from '../history.js';

export interface FollowedLives {
  length: number;
  /** Row of Fleet.lives. */
  life: Int32Array;
  /** Index into GroupedFleet.groups. */
  group: Int32Array;
  /** Age at which the records begin to watch it, days. */
  entry: Float64Array;
  /** Leaked in (lower, upper]; both are the age at which it was last known sound where it did not. Days, at or above entry. */
  lower: Float64Array;
  upper: Float64Array;
  /** 1 where the records name a leak: removals of unknown reason are none, those for condition as their group reads them. */
  leak: Uint8Array;
}

/** `fits` in the order of the groups. */
export function followedLives(history: History, fits: readonly CellFit[]): FollowedLives {
  const rows = fits.reduce((total, { cell }) => total + cell.rows.length, 0);
  const followed: FollowedLives = {
    length: rows,
    life: new Int32Array(rows),
    group: new Int32Array(rows),
    entry: new Float64Array(rows),
    lower: new Float64Array(rows),
    upper: new Float64Array(rows),
    leak: new Uint8Array(rows),
  };
  let next = 0;
  fits.forEach(({ cell, reading }, g) => {
    for (const row of cell.rows) {
      const kind = at(history.kind, row);
      const leaked = kind === FAILED || (kind === CONDITION && reading.condition === 'leak');
      const entry = floatAt(history.entry, row);
      followed.life[next] = at(history.life, row);
      followed.group[next] = g;
      followed.entry[next] = entry;
      followed.lower[next] = leaked
        ? Math.max(floatAt(history.lower, row), entry)
        : floatAt(history.age, row);
      followed.upper[next] = leaked ? floatAt(history.upper, row) : floatAt(history.age, row);
      followed.leak[next] = leaked ? 1 : 0;
      next++;
    }
  });
  return followed;
}
