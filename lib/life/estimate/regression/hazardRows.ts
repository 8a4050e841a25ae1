/**
 * Rows of a Weibull or exponential regression as terms of its likelihood: a count times the cumulative hazard at an age, negative at an
 * entry, and sums over the failures that never change.
 */
import { columnOf, itemAt, wholeAt } from '../../../numeric/columns.js';
import { BETWEEN, EXACT, type RegressionRows } from './rows.js';

export interface HazardRows {
  levels: number;
  columns: number;
  /** First term of each level, and one more for the end: terms are sorted by level. */
  first: Int32Array;
  /** log age - centre, and what the hazard there counts. */
  age: Float64Array;
  weight: Float64Array;
  /** Standardised columns. */
  x: Float64Array[];
  /** Failures by level, and sums over them of log age and of each column. */
  failures: Float64Array;
  failedAge: number;
  failedX: Float64Array;
  /** Room for what is worked out of one level at a time: as long as the longest. */
  z: Float64Array;
  hazard: Float64Array;
  three: Float64Array;
}

/** Null where a row is an interval, whose likelihood is no such sum. */
export function hazardRows(rows: RegressionRows): HazardRows | null {
  const first = placesOf(rows);
  if (first === null) return null;
  const place = first.slice();
  const terms = wholeAt(first, rows.levels);
  const out: HazardRows = {
    ...failuresOf(rows),
    levels: rows.levels,
    columns: rows.x.length,
    first,
    age: new Float64Array(terms),
    weight: new Float64Array(terms),
    x: rows.x.map(() => new Float64Array(terms)),
    ...roomFor(first),
  };
  fillAges(rows, place, out);
  rows.x.forEach((column, j) => {
    place.set(first);
    fillColumn(rows, column, place, itemAt(out.x, j));
  });
  return out;
}

function fillAges(rows: RegressionRows, next: Int32Array, { age, weight }: HazardRows): void {
  const { kind, upper, lower, entry, level, count } = rows;
  for (let i = 0; i < kind.length; i++) {
    const place = next[level[i] as number] as number;
    age[place] = (kind[i] as number) === EXACT ? (upper[i] as number) : (lower[i] as number);
    weight[place] = count[i] as number;
    next[level[i] as number] = place + 1;
    if ((entry[i] as number) === -Infinity) continue;
    age[place + 1] = entry[i] as number;
    weight[place + 1] = -(count[i] as number);
    next[level[i] as number] = place + 2;
  }
}

function fillColumn(
  { level, entry }: RegressionRows,
  column: Float64Array,
  next: Int32Array,
  out: Float64Array,
): void {
  for (let i = 0; i < level.length; i++) {
    const l = level[i] as number;
    const place = next[l] as number;
    const late = (entry[i] as number) === -Infinity ? place : place + 1;
    out[place] = column[i] as number;
    out[late] = column[i] as number;
    next[l] = late + 1;
  }
}

function failuresOf(rows: RegressionRows): Pick<HazardRows, 'failures' | 'failedAge' | 'failedX'> {
  const { kind, count, upper, level } = rows;
  const failures = new Float64Array(rows.levels);
  let failedAge = 0;
  for (let i = 0; i < kind.length; i++) {
    if ((kind[i] as number) !== EXACT) continue;
    const weight = count[i] as number;
    failures[level[i] as number] = (failures[level[i] as number] as number) + weight;
    failedAge += weight * (upper[i] as number);
  }
  return { failures, failedAge, failedX: columnOf(rows.x, (column) => failedSum(rows, column)) };
}

function failedSum({ kind, count }: RegressionRows, column: Float64Array): number {
  let total = 0;
  for (let i = 0; i < kind.length; i++) {
    if ((kind[i] as number) === EXACT) total += (count[i] as number) * (column[i] as number);
  }
  return total;
}

function roomFor(first: Int32Array): Pick<HazardRows, 'z' | 'hazard' | 'three'> {
  let longest = 0;
  for (let l = 1; l < first.length; l++)
    longest = Math.max(longest, wholeAt(first, l) - wholeAt(first, l - 1));
  return { z: new Float64Array(longest), hazard: new Float64Array(longest), three: new Float64Array(3) };
}

/** Where the terms of each level begin; null where a row is an interval. */
function placesOf({ kind, level, levels, entry }: RegressionRows): Int32Array | null {
  const first = new Int32Array(levels + 1);
  for (let i = 0; i < kind.length; i++) {
    if ((kind[i] as number) === BETWEEN) return null;
    const after = (level[i] as number) + 1;
    first[after] = (first[after] as number) + ((entry[i] as number) === -Infinity ? 1 : 2);
  }
  for (let l = 0; l < levels; l++) first[l + 1] = (first[l + 1] as number) + (first[l] as number);
  return first;
}
