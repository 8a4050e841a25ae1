/**
 * Lives that are not there (METHODS 1.5): every position in service on the day of the extract holds one diaphragm. Where
 * none is listed it was fitted when the last one was removed, because a removed diaphragm is always replaced.
 */
import { at, floatAt } from '../numeric/columns.js';
import type { Day } from '../numeric/day.js';
import { localDay } from '../numeric/localWords.js';
import { fault } from './cell.js';
import { type DraftLives, endOf, GONE, inTable, isRunning, PAST, reasonOf } from './draftLives.js';
import type { RowBook } from './rowBook.js';
import type { Position } from './types.js';

/** A life in place that was not listed. */
export interface BuiltLife {
  position: number;
  material: number;
  size: number;
  /** NaN where a row that was set aside makes the day doubtful, or nothing is on record. */
  fitted: number;
}

export interface Place {
  /** Number of the position. */
  index: number;
  position: Position;
  /** Data row in positions.csv. */
  row: number;
  dataUntil: Day;
  /** False where the plant wants no life built: it is said that the position has none. */
  build: boolean;
}

/**
 * The life in place of one position where its rows list none; null where one is listed, the position is not in
 * service, or no material is known. A last removal with reason retired takes the position out of service that day.
 */
export function buildRunningLife(
  draft: DraftLives,
  rows: Int32Array,
  place: Place,
  materialNumber: (name: string) => number,
  books: { lives: RowBook; positions: RowBook },
): BuiltLife | null {
  if (!inService(place) || rows.some((i) => inTable(draft, i) && isRunning(draft, i))) return null;
  const last = lastRemoval(draft, rows);
  const doubt = lastDoubt(draft, rows);
  const removed = last === null ? -Infinity : floatAt(draft.removed, last);
  if (last !== null && reasonOf(draft, last) === 'retired' && doubt < removed) {
    retire(place, removed, books.positions);
    return null;
  }
  if (!place.build) {
    books.positions.ask(place.row, 'position', place.position.position, NONE_BUILT);
    return null;
  }
  const material = lastMaterial(draft, rows, last) ?? nextMaterial(place.position, materialNumber);
  if (material === null) {
    books.positions.ask(place.row, 'position', place.position.position, NOTHING_ON_RECORD);
    return null;
  }
  const fitted = last === null || doubt >= removed ? Number.NaN : removed;
  books.lives.mend(null, 'position', place.position.position, lifeBuilt(fitted, last !== null));
  const size = last === null ? place.position.size : floatAt(draft.size, last);
  return { position: place.index, material, size, fitted };
}

function inService({ position, dataUntil }: Place): boolean {
  const { inServiceSince, outOfServiceSince } = position;
  return (inServiceSince ?? -Infinity) <= dataUntil && (outOfServiceSince ?? Infinity) > dataUntil;
}

/** The row with the latest removal among those whose removal happened. */
function lastRemoval(draft: DraftLives, rows: Int32Array): number | null {
  let last: number | null = null;
  for (const i of rows) {
    if (isRunning(draft, i) || !(inTable(draft, i) || at(draft.state, i) === PAST)) continue;
    if (last === null || floatAt(draft.removed, i) >= floatAt(draft.removed, last)) last = i;
  }
  return last;
}

/** The latest day that a doubtful row speaks of; Infinity where one has no end. */
function lastDoubt(draft: DraftLives, rows: Int32Array): number {
  let latest = -Infinity;
  for (const i of rows) if (at(draft.state, i) === GONE) latest = Math.max(latest, doubtfulDay(draft, i));
  return latest;
}

/** A life left open was followed by another, so it is its fitting that is on record. */
function doubtfulDay(draft: DraftLives, i: number): number {
  const fitted = floatAt(draft.fitted, i);
  return isRunning(draft, i) && !Number.isNaN(fitted) ? fitted : endOf(draft, i);
}

function lastMaterial(draft: DraftLives, rows: Int32Array, last: number | null): number | null {
  if (last !== null) return at(draft.material, last);
  const known = Array.from(rows).filter((i) => at(draft.material, i) >= 0);
  const latest = known[known.length - 1];
  return latest === undefined ? null : at(draft.material, latest);
}

function nextMaterial({ materialNext }: Position, materialNumber: (name: string) => number): number | null {
  return materialNext === null ? null : materialNumber(materialNext);
}

function retire({ position, row }: Place, removed: Day, book: RowBook): void {
  position.outOfServiceSince = removed;
  const text = `Its last diaphragm was removed as retired on ${localDay(removed)} and none was fitted since; the position counts as out of service from that day.`;
  const todo = 'Give out_of_service_since, or the life that is in place.';
  book.mend(row, 'out_of_service_since', position.position, fault('retired-without-date', text, todo));
}

function lifeBuilt(fitted: number, removedOnce: boolean) {
  if (!Number.isNaN(fitted)) {
    const text = `No diaphragm is listed as in place; one is taken to have been fitted when the last was removed, on ${localDay(fitted)}.`;
    return fault(
      'life-built',
      text,
      'List it, with its fitting date and no removal, or take the position out of service.',
    );
  }
  const why = removedOnce
    ? 'rows that were set aside make its fitting day doubtful'
    : 'no removal is on record';
  const text = `No diaphragm is listed as in place; one of unknown age is taken to be, because ${why}.`;
  return fault('life-built', text, 'List it, with its fitting date and no removal.');
}

const NONE_BUILT = fault(
  'position-without-life',
  'No diaphragm is listed as in place and site.json wants none built, so it cannot be planned.',
  'List the diaphragm in place.',
);
const NOTHING_ON_RECORD = fault(
  'position-without-life',
  'No life of this position can be used and material_next is empty, so it cannot be planned.',
  'List the diaphragm in place, or give material_next.',
);
