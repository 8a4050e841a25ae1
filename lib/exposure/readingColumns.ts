/** Readings as columns from elsewhere: a database, a Parquet file, the plant's historian. */
import { UsageError } from '../errors.js';
import type { ReadingTable } from '../fleet/types.js';
import { at } from '../numeric/columns.js';
import { type Day, dayFromText } from '../numeric/day.js';

/** A row each. A counter that was not read is NaN; a counter left out was never read. */
export interface ReadingColumnsGiven {
  /** Tags, or indexes into `positions`. */
  position: readonly string[] | ArrayLike<number>;
  /** YYYY-MM-DD, or days since 1970-01-01. */
  date: readonly string[] | ArrayLike<number>;
  strokes?: ArrayLike<number>;
  steamCycles?: ArrayLike<number>;
  hotCleans?: ArrayLike<number>;
}

const WHERE = 'readingColumns';

/**
 * A table of readings for `exposeLives({ ...fleet, readings })`, without the text of a file in between: rows in any order, nothing set aside
 * here. Numbers in all columns are the fast road.
 * @throws UsageError for columns of different length, tags that are no position, and dates that do not exist
 */
export function readingColumns(
  given: ReadingColumnsGiven,
  positions: readonly { readonly position: string }[],
): ReadingTable {
  const { length } = given.date;
  const { position, strokes, steamCycles, hotCleans } = given;
  for (const [name, column] of Object.entries({ position, strokes, steamCycles, hotCleans })) {
    if (column !== undefined && column.length !== length) {
      throw new UsageError(WHERE, `${name} must have as many rows as date, ${length}.`, column.length);
    }
  }
  const counter = (column: ArrayLike<number> | undefined): Float64Array =>
    column === undefined ? new Float64Array(length).fill(Number.NaN) : Float64Array.from(column);
  return {
    length,
    position: positionColumn(given.position, positions),
    date: dateColumn(given.date),
    strokes: counter(given.strokes),
    steamCycles: counter(given.steamCycles),
    hotCleans: counter(given.hotCleans),
  };
}

function positionColumn(
  given: readonly string[] | ArrayLike<number>,
  positions: readonly { readonly position: string }[],
): Int32Array {
  const places = new Map(positions.map(({ position }, p) => [position, p]));
  const column = new Int32Array(given.length);
  for (let i = 0; i < column.length; i++) {
    const each = given[i] as string | number;
    const place = typeof each === 'number' ? each : places.get(each);
    if (place === undefined || !Number.isInteger(place) || place < 0 || place >= positions.length) {
      throw new UsageError(WHERE, `row ${i + 1} names no position of the fleet.`, each);
    }
    column[i] = place;
  }
  return column;
}

function dateColumn(given: readonly string[] | ArrayLike<number>): Float64Array {
  const column = new Float64Array(given.length);
  const known = new Map<string, Day | null>();
  for (let i = 0; i < column.length; i++) {
    const each = given[i] as string | number;
    if (typeof each === 'number') column[i] = each;
    else {
      const day = known.has(each) ? known.get(each) : dayFromText(each);
      known.set(each, day ?? null);
      if (day === null || day === undefined) {
        throw new UsageError(WHERE, `row ${i + 1}: date must be a day that exists, YYYY-MM-DD.`, each);
      }
      column[i] = day;
    }
    if (!Number.isInteger(at(column, i))) {
      throw new UsageError(WHERE, `row ${i + 1}: date must be whole days since 1970-01-01.`, each);
    }
  }
  return column;
}
