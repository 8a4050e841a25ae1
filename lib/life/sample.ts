/** The door for life samples: checks columns once, so that every estimator behind it may trust them. */
import { UsageError } from '../errors.js';
import { floatAt } from '../numeric/columns.js';
import type { LifeSample } from './sampleTypes.js';

/** Columns as a caller has them; equal lengths, in any one unit of age. */
export interface LifeColumns {
  lower: ArrayLike<number>;
  upper: ArrayLike<number>;
  /** Age at which each life came under watch; 0 by default. */
  entry?: ArrayLike<number>;
  /** How many identical lives a row stands for; 1 by default. */
  count?: ArrayLike<number>;
  /** Which position a life belongs to, as a number or a text; each life its own by default. */
  cluster?: ArrayLike<number | string>;
}

/**
 * Builds a life sample from columns, which are copied. Meaning of a row: see LifeSample.
 * @throws UsageError naming the row (from 1) for ages that are not numbers or negative, a lower age that is not finite, an
 * exact age of 0, lower above upper, upper at or below entry, counts that are not whole numbers from 1, unequal lengths
 * and a sample without rows.
 */
export function lifeSample(columns: LifeColumns): LifeSample {
  const rows = columns.lower.length;
  requireLengths(columns, rows);
  const lower = numbers('lower', columns.lower);
  const upper = numbers('upper', columns.upper);
  const entry = columns.entry === undefined ? new Float64Array(rows) : numbers('entry', columns.entry);
  const count =
    columns.count === undefined ? new Float64Array(rows).fill(1) : numbers('count', columns.count);
  for (let i = 0; i < rows; i++) {
    if (isRow(floatAt(lower, i), floatAt(upper, i), floatAt(entry, i), floatAt(count, i))) continue;
    refuseRow(i, floatAt(lower, i), floatAt(upper, i), floatAt(entry, i), floatAt(count, i));
  }
  return { lower, upper, entry, count, cluster: clusterCodes(columns.cluster, rows) };
}

/** Hazard of what else may have ended life i; 0 where it is known to have failed, or to have not. */
export function otherHazardOf({ otherHazard }: LifeSample, i: number): number {
  return otherHazard === undefined ? 0 : floatAt(otherHazard, i);
}

/** Whether any position has two lives, so that lives are not independent of each other. */
export function hasClusters(sample: LifeSample): boolean {
  const { cluster: clusters, count } = sample;
  const lives = new Map<number, number>();
  for (let i = 0; i < clusters.length; i++) {
    const cluster = clusters[i] as number;
    if (cluster < 0) continue;
    const total = (lives.get(cluster) ?? 0) + floatAt(count, i);
    if (total > 1 && lives.has(cluster)) return true;
    if (floatAt(count, i) > 1) return true;
    lives.set(cluster, total);
  }
  return false;
}

/** Cluster codes that say "each life its own": negative, so that the lives of one row are apart from each other too. */
export function ownClusters(rows: number): Int32Array {
  const codes = new Int32Array(rows);
  for (let i = 0; i < rows; i++) codes[i] = -1 - i;
  return codes;
}

/** A life counts as a failure unless it was still sound when last seen. */
export function isFailure(sample: LifeSample, i: number): boolean {
  return floatAt(sample.upper, i) !== Infinity;
}

/** Whether any life failed. */
export function hasFailures({ upper, count }: LifeSample): boolean {
  for (let i = 0; i < upper.length; i++) {
    if (floatAt(upper, i) !== Infinity && floatAt(count, i) > 0) return true;
  }
  return false;
}

/** Failures in the sample, weights included. */
export function failureCount(sample: LifeSample): number {
  const { upper, count } = sample;
  let total = 0;
  for (let i = 0; i < upper.length; i++) if (floatAt(upper, i) !== Infinity) total += floatAt(count, i);
  return total;
}

function requireLengths(columns: LifeColumns, rows: number): void {
  if (rows === 0) throw new UsageError('lifeSample', 'a sample needs at least one life.');
  for (const name of ['upper', 'entry', 'count', 'cluster'] as const) {
    const column = columns[name];
    if (column !== undefined && column.length !== rows) {
      throw new UsageError('lifeSample', `column ${name} must be as long as lower (${rows}).`, column.length);
    }
  }
}

/** Copies a column; text and null would turn into numbers in a typed array, so they are refused here. */
function numbers(name: string, column: ArrayLike<number>): Float64Array {
  if (column instanceof Float64Array && !column.some(Number.isNaN)) return column.slice();
  const copy = new Float64Array(column.length);
  for (let i = 0; i < column.length; i++) {
    const value: unknown = column[i];
    if (typeof value !== 'number' || Number.isNaN(value)) {
      throw new UsageError('lifeSample', `row ${i + 1}: ${name} must be a number.`, value);
    }
    copy[i] = value;
  }
  return copy;
}

/** All that a row must hold, at once: refuseRow says which rule is broken. */
function isRow(lower: number, upper: number, entry: number, count: number): boolean {
  return (
    lower >= 0 &&
    lower < Infinity &&
    entry >= 0 &&
    upper > entry &&
    upper >= lower &&
    count >= 1 &&
    Math.floor(count) === count &&
    count < Infinity
  );
}

function refuseRow(i: number, lower: number, upper: number, entry: number, count: number): never {
  const fail = (rule: string, value: unknown): never => {
    throw new UsageError('lifeSample', `row ${i + 1}: ${rule}`, value);
  };
  if (!(lower >= 0)) fail('lower must not be negative.', lower);
  if (lower === Infinity)
    fail('lower must be finite; a life still sound has its age in lower and Infinity in upper.', lower);
  if (!(entry >= 0) || entry === Infinity) fail('entry must be a finite age at or above 0.', entry);
  if (lower > upper) fail('lower must not be above upper.', `${lower} and ${upper}`);
  if (upper === 0) {
    fail(
      'a failure at exactly age 0 has no place on the age axis. Days are intervals: give a failure on the fitting day as lower 0, upper 1, and one d days after fitting as lower d - 0.5, upper d + 0.5.',
      upper,
    );
  }
  if (upper <= entry)
    fail('the life ended at or before its entry, so it was never watched.', `upper ${upper}, entry ${entry}`);
  return fail('count must be a whole number from 1.', count);
}

function clusterCodes(cluster: LifeColumns['cluster'], rows: number): Int32Array {
  if (cluster === undefined) return ownClusters(rows);
  const codes = new Map<number | string, number>();
  return Int32Array.from({ length: rows }, (_, i) => {
    const name = cluster[i] as number | string;
    if (typeof name !== 'string' && !Number.isFinite(name)) {
      throw new UsageError('lifeSample', `row ${i + 1}: cluster must be a number or a text.`, name);
    }
    const code = codes.get(name) ?? codes.size;
    codes.set(name, code);
    return code;
  });
}
