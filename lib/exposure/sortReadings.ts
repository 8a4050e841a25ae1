/** Rows in order of position and day, sorted once. */
import { at, floatAt, wholeAt } from '../numeric/columns.js';

/** Rows of position p are `order[start[p]]` to `order[start[p + 1] - 1]`, in order of their key. */
export interface SortedRows {
  start: Int32Array;
  /** Null where the rows are in that order already. */
  order: Int32Array | null;
}

/** Room for the place of a row within its position, below a whole day. */
const PLACES = 2 ** 26;

/**
 * Counting sort by position, then by day within each where needed; rows of one day keep their order. Preconditions: positions from 0 to
 * `positions` - 1, days whole numbers.
 */
export function sortReadings(position: Int32Array, day: Float64Array, positions: number): SortedRows {
  const start = new Int32Array(positions + 1);
  let sorted = true;
  for (let i = 0; i < position.length; i++) {
    const p = wholeAt(position, i);
    start[p + 1] = wholeAt(start, p + 1) + 1;
    if (i === 0 || !sorted) continue;
    const before = wholeAt(position, i - 1);
    sorted = before < p || (before === p && floatAt(day, i - 1) <= floatAt(day, i));
  }
  for (let p = 0; p < positions; p++) start[p + 1] = wholeAt(start, p + 1) + wholeAt(start, p);
  return { start, order: sorted ? null : ordered(position, day, start) };
}

function ordered(position: Int32Array, day: Float64Array, start: Int32Array): Int32Array {
  const order = new Int32Array(position.length);
  const next = start.slice();
  for (let i = 0; i < position.length; i++) {
    const p = wholeAt(position, i);
    const place = wholeAt(next, p);
    order[place] = i;
    next[p] = place + 1;
  }
  for (let p = 0; p + 1 < start.length; p++) sortByDay(order.subarray(at(start, p), at(start, p + 1)), day);
  return order;
}

/** Sorts the rows of one position in place: numbers made of day and place sort without a call back. */
function sortByDay(rows: Int32Array, day: Float64Array): void {
  let k = 1;
  while (k < rows.length && floatAt(day, wholeAt(rows, k - 1)) <= floatAt(day, wholeAt(rows, k))) k += 1;
  if (k >= rows.length) return;
  const keys = new Float64Array(rows.length);
  for (let i = 0; i < rows.length; i++) keys[i] = floatAt(day, wholeAt(rows, i)) * PLACES + i;
  keys.sort();
  const before = rows.slice();
  for (let i = 0; i < rows.length; i++) {
    const key = floatAt(keys, i);
    rows[i] = wholeAt(before, key - Math.floor(key / PLACES) * PLACES);
  }
}
