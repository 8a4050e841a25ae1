/** Rows of a regression made ready: columns standardised, logs taken once, identical rows in one. */
import { at, columnOf, floatAt, itemAt, sum } from '../../../numeric/columns.js';
import type { LifeSample } from '../../sampleTypes.js';

/** Kinds of rows. */
export const EXACT = 0;
export const SOUND = 1;
export const BETWEEN = 2;

export interface RegressionRows {
  kind: Uint8Array;
  /** log age - centre; -Infinity at age 0. Lower is cut off at the entry. */
  lower: Float64Array;
  upper: Float64Array;
  entry: Float64Array;
  count: Float64Array;
  /** Which location a row has: 0 in all, or the level of the factor that has its levels here and not as columns. */
  level: Int32Array;
  levels: number;
  /** Standardised columns. */
  x: Float64Array[];
  /** Which spread a row has. */
  group: Int32Array;
  /** Taken off the log ages. */
  centre: number;
}

/** Columns less their mean over their standard deviation, counts as weights; a constant column becomes 0. */
export interface Standardised {
  columns: Float64Array[];
  mean: number[];
  sd: number[];
}

export function standardise(columns: readonly Float64Array[], count: Float64Array): Standardised {
  const total = sum(count);
  const mean: number[] = [];
  const sd: number[] = [];
  const out = columns.map((column) => {
    // From the first value on, so that a far-off zero costs no digits.
    const origin = floatAt(column, 0);
    let shift = 0;
    let varied = false;
    for (let i = 0; i < column.length; i++) {
      const off = floatAt(column, i) - origin;
      shift += floatAt(count, i) * off;
      if (off !== 0) varied = true;
    }
    const middle = shift / total;
    let squares = 0;
    for (let i = 0; i < column.length; i++) {
      squares += floatAt(count, i) * (floatAt(column, i) - origin - middle) ** 2;
    }
    const spread = varied ? Math.sqrt(squares / total) : 0;
    mean.push(origin + middle);
    sd.push(spread === 0 ? 1 : spread);
    const made = new Float64Array(column.length);
    for (let i = 0; i < made.length && spread !== 0; i++) {
      made[i] = (floatAt(column, i) - origin - middle) / spread;
    }
    return made;
  });
  return { columns: out, mean, sd };
}

/** Rows as given, none merged: row i of the sample is row i here. */
export function prepareRegression(
  sample: LifeSample,
  x: Float64Array[],
  group: Int32Array,
  factor: { level: Int32Array; levels: number } = { level: new Int32Array(sample.lower.length), levels: 1 },
): RegressionRows {
  const rows = sample.lower.length;
  const kind = new Uint8Array(rows);
  const lower = new Float64Array(rows);
  const upper = new Float64Array(rows).fill(Infinity);
  const entry = new Float64Array(rows).fill(-Infinity);
  let [total, weight] = [0, 0];
  for (let i = 0; i < rows; i++) {
    const begun = floatAt(sample.entry, i);
    const sound = Math.max(floatAt(sample.lower, i), begun);
    const end = floatAt(sample.upper, i);
    if (begun > 0) entry[i] = Math.log(begun);
    if (end !== Infinity) upper[i] = Math.log(end);
    lower[i] = sound === end ? floatAt(upper, i) : Math.log(sound);
    if (end === Infinity) kind[i] = SOUND;
    else kind[i] = end === floatAt(sample.lower, i) ? EXACT : BETWEEN;
    // The last age that is finite and above 0.
    const last = end === Infinity ? floatAt(sample.lower, i) : end;
    if (!(last > 0)) continue;
    const count = floatAt(sample.count, i);
    total +=
      count * (end !== Infinity ? floatAt(upper, i) : begun > last ? Math.log(last) : floatAt(lower, i));
    weight += count;
  }
  // A log age in the middle of the sample, so that ages in any unit keep their digits.
  const centre = weight > 0 ? total / weight : 0;
  for (let i = 0; i < rows; i++) {
    lower[i] = floatAt(lower, i) - centre;
    upper[i] = floatAt(upper, i) - centre;
    entry[i] = floatAt(entry, i) - centre;
  }
  return { kind, lower, upper, entry, count: sample.count, ...factor, x, group, centre };
}

/** A life last seen sound where its watch began. */
export function tellsNothing(rows: RegressionRows, i: number): boolean {
  return at(rows.kind, i) === SOUND && floatAt(rows.lower, i) <= floatAt(rows.entry, i);
}

/** Some of the rows, each with a count of its own. */
export function rowsAt(rows: RegressionRows, places: ArrayLike<number>, count: Float64Array): RegressionRows {
  const pick = (column: Float64Array): Float64Array => {
    const out = new Float64Array(places.length);
    for (let k = 0; k < out.length; k++) out[k] = floatAt(column, at(places, k));
    return out;
  };
  const whole = (column: Int32Array): Int32Array => {
    const out = new Int32Array(places.length);
    for (let k = 0; k < out.length; k++) out[k] = at(column, at(places, k));
    return out;
  };
  return {
    kind: Uint8Array.from(places, (i) => at(rows.kind, i)),
    lower: pick(rows.lower),
    upper: pick(rows.upper),
    entry: pick(rows.entry),
    count,
    level: whole(rows.level),
    levels: rows.levels,
    x: rows.x.map(pick),
    group: whole(rows.group),
    centre: rows.centre,
  };
}

/** Every so-many-th row. */
export function thinned(rows: RegressionRows, every: number): RegressionRows {
  const places = Int32Array.from({ length: Math.ceil(rows.kind.length / every) }, (_, k) => k * every);
  return rowsAt(
    rows,
    places,
    columnOf(places, (i) => floatAt(rows.count, i)),
  );
}

/** Rough log age of each row, from which the search starts: the middle of an interval, the last age of a sound life. */
export function roughAge(rows: RegressionRows, i: number): number {
  const [lower, upper] = [floatAt(rows.lower, i), floatAt(rows.upper, i)];
  if (at(rows.kind, i) === SOUND) return lower;
  if (lower === -Infinity) return upper - Math.LN2;
  return 0.5 * (lower + upper);
}

/** Value of standardised column j of row i. */
export function xAt(rows: RegressionRows, j: number, i: number): number {
  return floatAt(itemAt(rows.x, j), i);
}
