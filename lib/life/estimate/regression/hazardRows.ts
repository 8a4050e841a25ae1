/**
 * Rows of a Weibull or exponential regression as terms of its likelihood: a count times the cumulative hazard at an age, negative at an
 * entry, and sums over the failures that never change.
 */
import { columnOf, itemAt } from '../../../numeric/columns.js';
import { BETWEEN, EXACT, type RegressionRows } from './rows.js';

export interface HazardRows {
  levels: number;
  columns: number;
  /** Of each term: its level, log age - centre, and what the hazard there counts. */
  level: Int32Array;
  age: Float64Array;
  weight: Float64Array;
  /** Standardised columns. */
  x: Float64Array[];
  /** Failures by level, and sums over them of log age and of each column. */
  failures: Float64Array;
  failedAge: number;
  failedX: Float64Array;
  /** Room for the sums of each level: a square as wide as the columns and two more. */
  sums: Float64Array;
  /** Room for what is worked out of one block of terms at a time. */
  z: Float64Array;
  hazard: Float64Array;
}

/** So many terms are worked on at a time: what is kept of them stays in the fastest memory. */
export const BLOCK = 1024;

/** Room for 64 MB of sums; more levels times columns squared are left to the likelihood that sums row by row. */
const MOST_SUMS = 8e6;

/** Null where a row is an interval, whose likelihood is no such sum, and where the sums would take too much room. */
export function hazardRows(rows: RegressionRows): HazardRows | null {
  const columns = rows.x.length;
  const room = rows.levels * (columns + 2) ** 2;
  if (room > MOST_SUMS || rows.kind.includes(BETWEEN)) return null;
  const { entries, ...failed } = failuresOf(rows);
  // Without entries the rows themselves are the terms: an exact failure has its age in lower too.
  const terms = entries === 0 ? { ...rows, age: rows.lower, weight: rows.count } : withEntries(rows, entries);
  return {
    ...failed,
    levels: rows.levels,
    columns,
    level: terms.level,
    age: terms.age,
    weight: terms.weight,
    x: terms.x,
    sums: new Float64Array(room),
    z: new Float64Array(BLOCK),
    hazard: new Float64Array(BLOCK),
  };
}

/** Each row followed by its entry, where it has one. */
function withEntries(
  rows: RegressionRows,
  entries: number,
): Pick<HazardRows, 'level' | 'age' | 'weight' | 'x'> {
  const { lower, entry, count, level } = rows;
  const size = lower.length + entries;
  const [age, weight, levels] = [new Float64Array(size), new Float64Array(size), new Int32Array(size)];
  const x = rows.x.map(() => new Float64Array(size));
  let place = 0;
  const add = (i: number, at: number, lives: number): void => {
    age[place] = at;
    weight[place] = lives;
    levels[place] = level[i] as number;
    for (let j = 0; j < x.length; j++) itemAt(x, j)[place] = itemAt(rows.x, j)[i] as number;
    place += 1;
  };
  for (let i = 0; i < lower.length; i++) {
    const [begun, lives] = [entry[i] as number, count[i] as number];
    add(i, lower[i] as number, lives);
    if (begun !== -Infinity) add(i, begun, -lives);
  }
  return { level: levels, age, weight, x };
}

function failuresOf(
  rows: RegressionRows,
): Pick<HazardRows, 'failures' | 'failedAge' | 'failedX'> & { entries: number } {
  const { kind, count, upper, level, entry } = rows;
  const failures = new Float64Array(rows.levels);
  let failedAge = 0;
  let entries = 0;
  for (let i = 0; i < kind.length; i++) {
    if ((entry[i] as number) !== -Infinity) entries += 1;
    if ((kind[i] as number) !== EXACT) continue;
    const weight = count[i] as number;
    failures[level[i] as number] = (failures[level[i] as number] as number) + weight;
    failedAge += weight * (upper[i] as number);
  }
  return { failures, failedAge, failedX: columnOf(rows.x, (column) => failedSum(rows, column)), entries };
}

function failedSum({ kind, count }: RegressionRows, column: Float64Array): number {
  let total = 0;
  for (let i = 0; i < kind.length; i++) {
    if ((kind[i] as number) === EXACT) total += (count[i] as number) * (column[i] as number);
  }
  return total;
}
