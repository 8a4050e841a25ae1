/** Identical rows of a regression in one. */
import { at, columnOf, floatAt, itemAt } from '../../../numeric/columns.js';
import { type RegressionRows, rowsAt, tellsNothing } from './rows.js';

/** Sorting more rows than this takes longer than the search that it is for. */
const MOST_TO_SORT = 20_000;

/** Whether merging pays is tried on a hundredth of the rows: not where more than this share of them are different. */
const LEAST_TO_TRY = 1000;
const WORTHLESS = 0.98;

/**
 * Identical rows in one; rows that tell nothing are left out. They come in ascending order, so that the result does not depend on the
 * order of rows. `silent`: how many rows tell nothing, where that is known. More than 20 000 different ones stay in the order
 * of their first (unmerged where the first hundredth are nearly all different), and their sums may differ in the last digit.
 */
export function mergeRegression(rows: RegressionRows, silent = 1): RegressionRows {
  if (silent === 0 && rows.kind.length > MOST_TO_SORT && !isWorth(rows)) return rows;
  const telling = tellingRows(rows);
  if (telling.length <= MOST_TO_SORT) return sorted(rows, telling);
  if (telling.length < rows.kind.length) {
    const count = columnOf(telling, (i) => floatAt(rows.count, i));
    return mergeRegression(rowsAt(rows, telling, count), 0);
  }
  const merged = hashed(rows, telling);
  return merged.kind.length <= MOST_TO_SORT ? sorted(merged, merged.kind.keys()) : merged;
}

function isWorth(rows: RegressionRows): boolean {
  const tried = Math.max(LEAST_TO_TRY, Math.ceil(rows.kind.length / 100));
  // Rows of different ages are different, and ages alone are compared in no time.
  if (new Set(rows.lower.subarray(0, tried)).size > WORTHLESS * tried) return false;
  const places = Uint32Array.from({ length: tried }, (_, i) => i);
  const some = rowsAt(rows, places, new Float64Array(tried));
  return hashed(some, places).kind.length <= WORTHLESS * tried;
}

function tellingRows(rows: RegressionRows): Uint32Array {
  const out = new Uint32Array(rows.kind.length);
  let n = 0;
  for (let i = 0; i < out.length; i++) if (!tellsNothing(rows, i)) out[n++] = i;
  return out.subarray(0, n);
}

/** The most telling first: ages, then columns. */
function keysOf(rows: RegressionRows): Float64Array[] {
  const levels = rows.levels === 1 ? [] : [new Float64Array(rows.level)];
  return [
    rows.upper,
    rows.lower,
    ...levels,
    ...rows.x,
    rows.entry,
    new Float64Array(rows.group),
    new Float64Array(rows.kind),
  ];
}

function sorted(rows: RegressionRows, places: Iterable<number>): RegressionRows {
  const keys = keysOf(rows);
  const compare = (i: number, j: number): number => {
    for (const key of keys) {
      const a = floatAt(key, i);
      const b = floatAt(key, j);
      if (a !== b) return a < b ? -1 : 1;
    }
    return 0;
  };
  // By count last, so that sums come out the same to the last digit.
  const order = Uint32Array.from(places).sort(
    (i, j) => compare(i, j) || floatAt(rows.count, i) - floatAt(rows.count, j),
  );
  const first: number[] = [];
  const count: number[] = [];
  for (const i of order) {
    const last = first.length - 1;
    if (last >= 0 && compare(at(first, last), i) === 0)
      count[last] = at(count, last) + floatAt(rows.count, i);
    else {
      first.push(i);
      count.push(floatAt(rows.count, i));
    }
  }
  return rowsAt(rows, Uint32Array.from(first), Float64Array.from(count));
}

/** One pass through a table of open addresses, by the bits of what makes rows alike. */
function hashed(rows: RegressionRows, places: Uint32Array): RegressionRows {
  const keys = keysOf(rows);
  const hashes = hashesOf(keys, rows.kind.length);
  const mask = 2 ** Math.ceil(Math.log2(2 * places.length)) - 1;
  const table = new Int32Array(mask + 1).fill(-1);
  const first = new Int32Array(places.length);
  const count = new Float64Array(places.length);
  let groups = 0;
  for (const i of places) {
    let slot = at(hashes, i) & mask;
    while (at(table, slot) >= 0 && !alike(keys, at(first, at(table, slot)), i)) slot = (slot + 1) & mask;
    if (at(table, slot) < 0) {
      table[slot] = groups;
      first[groups++] = i;
    }
    const group = at(table, slot);
    count[group] = floatAt(count, group) + floatAt(rows.count, i);
  }
  return rowsAt(rows, Uint32Array.from(first.subarray(0, groups)), count.slice(0, groups));
}

function alike(keys: readonly Float64Array[], i: number, j: number): boolean {
  for (let k = 0; k < keys.length; k++) {
    if (floatAt(itemAt(keys, k), i) !== floatAt(itemAt(keys, k), j)) return false;
  }
  return true;
}

/** Multiplied and folded, key after key, as in FNV (from memory). Zeros of both signs are alike, so they are made one. */
function hashesOf(keys: readonly Float64Array[], rows: number): Int32Array {
  const out = new Int32Array(rows).fill(0x811c9dc5 | 0);
  for (const key of keys) {
    const bits = new Int32Array(key.map((x) => x + 0).buffer);
    for (let i = 0; i < rows; i++) {
      let hash = Math.imul(at(out, i) ^ at(bits, 2 * i), 0x01000193);
      hash = Math.imul(hash ^ at(bits, 2 * i + 1), 0x01000193);
      out[i] = hash ^ (hash >>> 15);
    }
  }
  return out;
}
