/** A sample sorted by position, as the likelihood with a spread between positions needs it: one pattern for all positions alike. */
import { at, floatAt } from '../../../numeric/columns.js';
import { isFailure } from '../../sample.js';
import type { LifeSample } from '../../sampleTypes.js';
import { largestAge } from '../weibull/prepareRows.js';

/** Columns by pattern; the columns by row of pattern p run from first[p] to first[p + 1] - 1. */
export interface SpreadRows {
  /** Ages are counted in this unit. */
  unit: number;
  /** How many positions have the pattern. */
  positions: Float64Array;
  /** Exact failures of one such position, and the sum of their log ages. */
  exact: Float64Array;
  logExact: Float64Array;
  /** Where each pattern begins among the rows, ending with their number. */
  first: Int32Array;
  /** log(age / unit): age reached for sure, end of an interval failure (else -Infinity), entry (-Infinity where from new). */
  logReached: Float64Array;
  logUpper: Float64Array;
  logEntry: Float64Array;
  /** Lives of the row. */
  count: Float64Array;
  /** Whether any life came under watch late. */
  anyEntry: boolean;
  /** Positions with two lives or more that tell something. */
  repeated: number;
}

interface Pattern {
  rows: { row: number; count: number }[];
  positions: number;
}

/** Precondition: a life with its cluster below 0 is its own position. */
export function spreadRows(sample: LifeSample): SpreadRows {
  const patterns = patternsOf(sample);
  const unit = largestAge(sample);
  const rows = patterns.flatMap((pattern) => pattern.rows);
  const log = (age: number): number => Math.log(age / unit);
  const entry = (i: number): number => floatAt(sample.entry, i);
  const isExact = (i: number): boolean =>
    isFailure(sample, i) && floatAt(sample.lower, i) === floatAt(sample.upper, i);
  const column = (value: (row: number) => number): Float64Array =>
    Float64Array.from(rows, ({ row }) => value(row));
  const sums = (value: (row: number) => number): Float64Array =>
    Float64Array.from(patterns, (pattern) =>
      pattern.rows.reduce((total, { row, count }) => total + count * value(row), 0),
    );
  const first = new Int32Array(patterns.length + 1);
  patterns.forEach((pattern, p) => {
    first[p + 1] = at(first, p) + pattern.rows.length;
  });
  return {
    unit,
    positions: Float64Array.from(patterns, ({ positions }) => positions),
    exact: sums((i) => (isExact(i) ? 1 : 0)),
    logExact: sums((i) => (isExact(i) ? log(floatAt(sample.upper, i)) : 0)),
    first,
    logReached: column((i) => log(Math.max(floatAt(sample.lower, i), entry(i)))),
    logUpper: column((i) =>
      isFailure(sample, i) && !isExact(i) ? log(floatAt(sample.upper, i)) : Number.NEGATIVE_INFINITY,
    ),
    logEntry: column((i) => log(entry(i))),
    count: Float64Array.from(rows, ({ count }) => count),
    anyEntry: sample.entry.some((age) => age > 0),
    repeated: patterns.reduce((total, pattern) => total + (livesOf(pattern) > 1 ? pattern.positions : 0), 0),
  };
}

function livesOf({ rows }: Pattern): number {
  return rows.reduce((total, { count }) => total + count, 0);
}

/** Positions with the same lives in one; a row of no position is as many positions as it has lives. */
function patternsOf(sample: LifeSample): Pattern[] {
  const byPosition = new Map<number, Pattern['rows']>();
  const known = new Map<string, Pattern>();
  const add = (rows: Pattern['rows'], positions: number): void => {
    const key = rows
      .map(
        ({ row, count }) =>
          `${at(sample.lower, row)} ${at(sample.upper, row)} ${at(sample.entry, row)} ${count}`,
      )
      .sort()
      .join(' ');
    const same = known.get(key);
    if (same === undefined) known.set(key, { rows, positions });
    else same.positions += positions;
  };
  for (let row = 0; row < sample.lower.length; row++) {
    const [code, count] = [at(sample.cluster, row), floatAt(sample.count, row)];
    if (count === 0) continue;
    if (code < 0) {
      add([{ row, count: 1 }], count);
      continue;
    }
    const rows = byPosition.get(code) ?? [];
    rows.push({ row, count });
    byPosition.set(code, rows);
  }
  for (const rows of byPosition.values()) add(rows, 1);
  return [...known.values()];
}
