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
  /** Standardised columns; one of zeros where there is none, so that there always is a first. */
  x: Float64Array[];
  /** Failures by level, and sums over them of log age and of each column. */
  failures: Float64Array;
  failedAge: number;
  failedX: Float64Array;
  /** Room for the sums of each level: a square, `width` wide, of the columns and two more. */
  sums: Float64Array;
  width: number;
  /** Room for what is worked out of one block of terms at a time. */
  moved: Float64Array;
  z: Float64Array;
  hazard: Float64Array;
}

/** So many terms are worked on at a time: what is kept of them stays in the fastest memory. */
export const BLOCK = 1024;

/** Room for 64 MB of sums; more levels times columns squared are left to the likelihood that sums row by row. */
const MOST_SUMS = 8e6;

/** Null where a row is an interval, whose likelihood is no such sum, and where the sums would take too much room. */
export function hazardRows(rows: RegressionRows): HazardRows | null {
  const { kind, count, level, levels } = rows;
  const columns = rows.x.length;
  const width = Math.max(columns, 1) + 2;
  if (levels * width * width > MOST_SUMS || kind.includes(BETWEEN)) return null;
  const terms = termsOf(rows);
  // The sum over the ages comes with that over each column, so there is one loop to make fast and not two.
  const x = columns > 0 ? terms.x : [new Float64Array(terms.age.length)];
  const given = columns > 0 ? rows.x : x;
  const failed = given.map((column) => failedSums(kind, count, level, rows.lower, column, levels));
  const { failures, age: failedAge } = itemAt(failed, 0);
  const failedX = columnOf(failed, (sum) => sum.x);
  const sums = new Float64Array(levels * width * width);
  const room = (): Float64Array => new Float64Array(BLOCK);
  return {
    levels,
    columns,
    level: terms.level,
    age: terms.age,
    weight: terms.weight,
    x,
    failures,
    failedAge,
    failedX,
    sums,
    width,
    moved: room(),
    z: room(),
    hazard: room(),
  };
}

type Terms = Pick<HazardRows, 'level' | 'age' | 'weight' | 'x'>;

/** Without entries the rows themselves are the terms: an exact failure has its age in lower too. */
function termsOf(rows: RegressionRows): Terms {
  if (rows.late) return withEntries(rows);
  return { level: rows.level, age: rows.lower, weight: rows.count, x: rows.x };
}

/** Each row followed by its entry, where it has one. */
function withEntries(rows: RegressionRows): Terms {
  const { lower, entry, count, level } = rows;
  const entries = entry.reduce((total, begun) => total + (begun === -Infinity ? 0 : 1), 0);
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

/** Failures at each level, and sums over all of them of log age and of a column. */
function failedSums(
  kind: Uint8Array,
  count: Float64Array,
  level: Int32Array,
  age: Float64Array,
  x: Float64Array,
  levels: number,
): { failures: Float64Array; age: number; x: number } {
  const failures = new Float64Array(levels);
  let [totalAge, totalX] = [0, 0];
  for (let i = 0; i < kind.length; i++) {
    if ((kind[i] as number) !== EXACT) continue;
    const weight = count[i] as number;
    failures[level[i] as number] = (failures[level[i] as number] as number) + weight;
    totalAge += weight * (age[i] as number);
    totalX += weight * (x[i] as number);
  }
  return { failures, age: totalAge, x: totalX };
}
