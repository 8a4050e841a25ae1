/** Rows of a regression made ready: columns standardised, logs taken once, identical rows in one. */
import { at, byteAt, floatAt, itemAt, sum } from '../../../numeric/columns.js';
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
  /** Whether a row has an entry. */
  late: boolean;
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
  /** Of many rows those of some of them, which serve as well: all comes back to the columns as given. */
  mean: number[];
  sd: number[];
  /** Sums of squares of the columns, and their largest values without sign. */
  squares: number[];
  reach: number[];
}

/** A mean square above this says that the rows looked at miss what is far off. */
const MOST_SQUARE = 100;

export function standardise(columns: readonly Float64Array[], count: Float64Array): Standardised {
  const out: Standardised = { columns: [], mean: [], sd: [], squares: [], reach: [] };
  for (const column of columns) {
    const every = stride(column.length);
    let one = standardiseOne(column, count, momentsOf(column, count, every));
    const looksWrong = one.sd === 0 || !(one.squares < MOST_SQUARE * one.lives);
    if (looksWrong && every > 1) one = standardiseOne(column, count, momentsOf(column, count, 1));
    out.columns.push(one.column);
    out.mean.push(one.mean);
    out.sd.push(one.sd === 0 ? 1 : one.sd);
    out.squares.push(one.squares);
    out.reach.push(one.reach);
  }
  return out;
}

interface Moments {
  /** Squares are counted from here on. */
  origin: number;
  mean: number;
  sd: number;
}

function standardiseOne(
  column: Float64Array,
  count: Float64Array,
  { origin, mean, sd }: Moments,
): { column: Float64Array; mean: number; sd: number; squares: number; lives: number; reach: number } {
  // From the first value on, so that a far-off zero costs no digits.
  const middle = mean - origin;
  const out = new Float64Array(column.length);
  let [squares, lives, reach] = [0, 0, 0];
  for (let i = 0; i < out.length && sd !== 0; i++) {
    const value = ((column[i] as number) - origin - middle) / sd;
    out[i] = value;
    const square = value * value;
    squares += (count[i] as number) * square;
    if (square > reach) reach = square;
    lives += count[i] as number;
  }
  return { column: out, mean, sd, squares, lives, reach: Math.sqrt(reach) };
}

/** Squares about the first value keep too few digits where they are so much more than those about the mean. */
const FAR_OFF = 1e4;

function momentsOf(column: Float64Array, count: Float64Array, every: number): Moments {
  const origin = column[0] as number;
  let [total, shift, squares] = [0, 0, 0];
  for (let i = 0; i < column.length; i += every) {
    const off = (column[i] as number) - origin;
    const part = (count[i] as number) * off;
    total += count[i] as number;
    shift += part;
    squares += part * off;
  }
  const mean = origin + shift / total;
  const variance = (squares - (shift * shift) / total) / total;
  const told = variance * total * FAR_OFF > squares && squares < Infinity;
  return { origin, mean, sd: told ? Math.sqrt(variance) : spreadOf(column, count, origin, mean) };
}

/** Over all rows, in units of the largest distance from the mean, so that squares neither vanish nor overflow. */
function spreadOf(column: Float64Array, count: Float64Array, origin: number, mean: number): number {
  const distance = column.map((x) => x - origin - (mean - origin));
  const most = column.every((x) => x === origin) ? 0 : distance.reduce((a, x) => Math.max(a, Math.abs(x)), 0);
  let squares = 0;
  for (let i = 0; i < distance.length && most > 0; i++) {
    squares += floatAt(count, i) * (floatAt(distance, i) / most) ** 2;
  }
  return most * Math.sqrt(squares / sum(count));
}

/** What a sample says without covariates: columns of the rows, and sums over them. */
export interface Ages
  extends Pick<RegressionRows, 'kind' | 'lower' | 'upper' | 'entry' | 'late' | 'count' | 'centre'> {
  failures: number;
  lives: number;
  /** Sum of the log ages of exact failures. */
  exactLogs: number;
  /** Rows that tell nothing. */
  silent: number;
  /** Rows of a position that may have other lives. */
  placed: number;
}

/** With more rows than this, a start or a middle is taken from about 1000 of them. */
export const MANY_ROWS = 20_000;
const ROWS_TO_LOOK = 1000;

/** And from so many of each level, so that the spread within levels is told. */
const ROWS_OF_LEVEL = 25;

/** Every how many rows to look for a rough answer: at all of them where they are few. */
export function stride(rows: number, levels = 1): number {
  if (rows < MANY_ROWS) return 1;
  return Math.ceil(rows / Math.max(ROWS_TO_LOOK, ROWS_OF_LEVEL * levels));
}

/** Logs taken once. Row i of the sample is row i here. */
export function prepareAges(sample: LifeSample): Ages {
  const rows = sample.lower.length;
  const centre = centreOf(sample, stride(rows));
  const kind = new Uint8Array(rows);
  const lower = new Float64Array(rows);
  const upper = new Float64Array(rows).fill(Infinity);
  const entry = new Float64Array(rows).fill(-Infinity);
  let [failures, lives, exactLogs, silent, placed] = [0, 0, 0, 0, 0];
  let late = false;
  for (let i = 0; i < rows; i++) {
    const begun = sample.entry[i] as number;
    const seen = sample.lower[i] as number;
    const end = sample.upper[i] as number;
    const count = sample.count[i] as number;
    const sound = Math.max(seen, begun);
    lives += count;
    if ((sample.cluster[i] as number) >= 0) placed++;
    if (begun > 0) {
      entry[i] = Math.log(begun) - centre;
      late = true;
    }
    const log = Math.log(end === Infinity ? sound : end);
    lower[i] = (sound === end || end === Infinity ? log : Math.log(sound)) - centre;
    if (end !== Infinity) {
      upper[i] = log - centre;
      failures += count;
      kind[i] = end === seen ? EXACT : BETWEEN;
      if (end === seen) exactLogs += count * log;
    } else {
      kind[i] = SOUND;
      if (sound <= begun) silent++;
    }
  }
  const { count } = sample;
  return { kind, lower, upper, entry, late, count, centre, failures, lives, exactLogs, silent, placed };
}

/** A log age in the middle of the sample, so that ages in any unit keep their digits. */
function centreOf({ lower, upper, entry, count }: LifeSample, every: number): number {
  let [total, weight] = [0, 0];
  for (let i = 0; i < lower.length; i += every) {
    const end = floatAt(upper, i);
    const log = Math.log(end === Infinity ? Math.max(floatAt(lower, i), floatAt(entry, i)) : end);
    if (log === -Infinity) continue;
    total += floatAt(count, i) * log;
    weight += floatAt(count, i);
  }
  return weight > 0 ? total / weight : 0;
}

/** Rows as given, none merged: row i of the sample is row i here. */
export function prepareRegression(
  sample: LifeSample,
  x: Float64Array[],
  group: Int32Array,
  factor: { level: Int32Array; levels: number } = { level: new Int32Array(sample.lower.length), levels: 1 },
): RegressionRows {
  const { kind, lower, upper, entry, late, count, centre } = prepareAges(sample);
  return { kind, lower, upper, entry, late, count, centre, ...factor, x, group };
}

/** A life last seen sound where its watch began. */
export function tellsNothing(rows: RegressionRows, i: number): boolean {
  return byteAt(rows.kind, i) === SOUND && floatAt(rows.lower, i) <= floatAt(rows.entry, i);
}

/** Some of the rows, each with a count of its own. */
export function rowsAt(rows: RegressionRows, places: Uint32Array, count: Float64Array): RegressionRows {
  const floats = (column: Float64Array): Float64Array => floatsAt(column, places);
  const kind = new Uint8Array(places.length);
  for (let k = 0; k < kind.length; k++) kind[k] = byteAt(rows.kind, at(places, k));
  return {
    kind,
    lower: floats(rows.lower),
    upper: floats(rows.upper),
    entry: floats(rows.entry),
    late: rows.late,
    count,
    level: wholesAt(rows.level, places),
    levels: rows.levels,
    x: rows.x.map(floats),
    group: wholesAt(rows.group, places),
    centre: rows.centre,
  };
}

/** One function for each kind of column: one for all would be slow for all. */
function floatsAt(column: Float64Array, places: Uint32Array): Float64Array {
  const out = new Float64Array(places.length);
  for (let k = 0; k < out.length; k++) out[k] = column[places[k] as number] as number;
  return out;
}

function wholesAt(column: Int32Array, places: Uint32Array): Int32Array {
  const out = new Int32Array(places.length);
  for (let k = 0; k < out.length; k++) out[k] = column[places[k] as number] as number;
  return out;
}

/** Every so-many-th row. */
export function thinned(rows: RegressionRows, every: number): RegressionRows {
  const places = new Uint32Array(Math.ceil(rows.kind.length / every));
  const count = new Float64Array(places.length);
  for (let k = 0; k < places.length; k++) {
    places[k] = k * every;
    count[k] = floatAt(rows.count, k * every);
  }
  return rowsAt(rows, places, count);
}

/** Rough log age of each row, from which the search starts: the middle of an interval, the last age of a sound life. */
export function roughAge(rows: RegressionRows, i: number): number {
  const [lower, upper] = [floatAt(rows.lower, i), floatAt(rows.upper, i)];
  if (byteAt(rows.kind, i) === SOUND) return lower;
  if (lower === -Infinity) return upper - Math.LN2;
  return 0.5 * (lower + upper);
}

/** Value of standardised column j of row i. */
export function xAt(rows: RegressionRows, j: number, i: number): number {
  return floatAt(itemAt(rows.x, j), i);
}
