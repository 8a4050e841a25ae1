/**
 * Rows of a Weibull or exponential regression as terms of its likelihood: a count times the cumulative hazard at an age, negative at an
 * entry, and sums over the failures that never change.
 */
import { byteAt, floatAt, itemAt, wholeAt } from '../../../numeric/columns.js';
import { BETWEEN, EXACT, type RegressionRows } from './rows.js';

export interface HazardRows {
  levels: number;
  columns: number;
  /** First term of each level, and one more for the end: terms are sorted by level. */
  first: Int32Array;
  /** log age - centre, and what the hazard there counts. */
  age: Float64Array;
  weight: Float64Array;
  /** Standardised columns, term by term. */
  x: Float64Array;
  /** Failures by level, and sums over them of log age and of each column. */
  failures: Float64Array;
  failedAge: number;
  failedX: Float64Array;
}

/** Null where a row is an interval, whose likelihood is no such sum. */
export function hazardRows(rows: RegressionRows): HazardRows | null {
  const first = placesOf(rows);
  if (first === null) return null;
  const { levels } = rows;
  const columns = rows.x.length;
  const terms = wholeAt(first, levels);
  const out: HazardRows = {
    levels,
    columns,
    first,
    age: new Float64Array(terms),
    weight: new Float64Array(terms),
    x: new Float64Array(terms * columns),
    failures: new Float64Array(levels),
    failedAge: 0,
    failedX: new Float64Array(columns),
  };
  const next = first.slice();
  for (let i = 0; i < rows.kind.length; i++) {
    const level = wholeAt(rows.level, i);
    const count = floatAt(rows.count, i);
    const exact = byteAt(rows.kind, i) === EXACT;
    const age = exact ? floatAt(rows.upper, i) : floatAt(rows.lower, i);
    const entry = floatAt(rows.entry, i);
    const place = wholeAt(next, level);
    const late = entry !== -Infinity ? place + 1 : place;
    next[level] = late + 1;
    out.age[place] = age;
    out.weight[place] = count;
    if (late > place) {
      out.age[late] = entry;
      out.weight[late] = -count;
    }
    if (exact) {
      out.failures[level] = floatAt(out.failures, level) + count;
      out.failedAge += count * age;
    }
    for (let j = 0; j < columns; j++) {
      const x = floatAt(itemAt(rows.x, j), i);
      out.x[place * columns + j] = x;
      out.x[late * columns + j] = x;
      if (exact) out.failedX[j] = floatAt(out.failedX, j) + count * x;
    }
  }
  return out;
}

/** Where the terms of each level begin; null where a row is an interval. */
function placesOf({ kind, level, levels, entry }: RegressionRows): Int32Array | null {
  const first = new Int32Array(levels + 1);
  for (let i = 0; i < kind.length; i++) {
    if (byteAt(kind, i) === BETWEEN) return null;
    const after = wholeAt(level, i) + 1;
    first[after] = wholeAt(first, after) + (floatAt(entry, i) === -Infinity ? 1 : 2);
  }
  for (let l = 0; l < levels; l++) first[l + 1] = wholeAt(first, l + 1) + wholeAt(first, l);
  return first;
}
