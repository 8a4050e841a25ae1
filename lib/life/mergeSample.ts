/**
 * Identical lives in one row. Ages are whole days, so that a million lives become a few thousand rows, and fitting costs by
 * distinct ages. Rows are told apart by a hash of their bits first, so that only the distinct ones are put in order.
 */
import { at, floatAt } from '../numeric/columns.js';
import { countDays } from './countDays.js';
import { otherHazardOf, ownClusters } from './sample.js';
import type { LifeSample } from './sampleTypes.js';

/** A sample larger than this is looked at so far before all of it is merged for a fit. */
const LOOK = 65_536;
/** Where more of the rows looked at than this share are distinct, merging costs more than it saves. */
const MOSTLY_DISTINCT = 0.5;

/**
 * The same sample with identical rows (lower, upper, entry, other hazard) in one, in ascending order, so that the result does not
 * depend on the order of rows. Positions are lost: use it for fits, and the sample itself for position-robust bounds.
 */
export function mergeSample(sample: LifeSample): LifeSample {
  const counted = isLarge(sample) ? countDays(sample) : null;
  if (counted !== null) return counted;
  const distinct = distinctRows(sample, false);
  return inOrder(typeof distinct === 'string' ? sample : distinct);
}

/** As mergeSample for a fit: a large sample in which few rows repeat (ages to the second, say) is left as it is. */
export function mergeForFit(sample: LifeSample): LifeSample {
  const known = merged.get(sample);
  if (known !== undefined) return known;
  const result = (isLarge(sample) ? countDays(sample) : null) ?? mergeUnlessDistinct(sample);
  for (const each of [sample, result]) merged.set(each, result);
  return result;
}

function mergeUnlessDistinct(sample: LifeSample): LifeSample {
  const distinct = distinctRows(sample, isLarge(sample));
  if (distinct === 'mostly distinct') return sample;
  return inOrder(distinct === 'broken counts' ? sample : distinct);
}

/** The rows to count on: those of a sample, or its merged ones where it is large. */
export function condensed(sample: LifeSample): LifeSample {
  return isLarge(sample) ? mergeForFit(sample) : sample;
}

/** Whether a sample is too large for what is done row by row with a look-up each. */
export function isLarge(sample: LifeSample): boolean {
  return sample.lower.length > LOOK;
}

/** Samples that were merged, and what came of it: nothing alters a sample, and fit and bounds both ask. */
const merged = new WeakMap<LifeSample, LifeSample>();

/** Why rows were not merged by their hashes. */
type Unmerged = 'broken counts' | 'mostly distinct';

/**
 * The distinct rows in order of appearance. Not where a count is broken, whose sum would hang on the order of rows; nor, if
 * `mayStop`, where the first rows of a large sample hardly repeat.
 */
function distinctRows(sample: LifeSample, mayStop: boolean): LifeSample | Unmerged {
  const { lower, upper, entry, count, otherHazard } = sample;
  const bits = bitsOf(sample);
  const { lower: lowerBits, upper: upperBits, entry: entryBits } = bits;
  let table = new Int32Array(1024).fill(-1);
  let found = roomFor(512);
  let { lower: seenLower, upper: seenUpper, entry: seenEntry, other: seenOther, count: seenCount } = found;
  let mask = table.length - 1;
  let length = 0;
  for (let i = 0; i < lower.length; i++) {
    const lives = floatAt(count, i);
    if (Math.floor(lives) !== lives) return 'broken counts';
    if (mayStop && i === LOOK && length > MOSTLY_DISTINCT * LOOK) return 'mostly distinct';
    const a = floatAt(lower, i);
    const u = floatAt(upper, i);
    const e = floatAt(entry, i);
    let slot = hashOf(lowerBits, upperBits, entryBits, i) & mask;
    let place = table[slot] as number;
    while (
      place >= 0 &&
      !(
        seenLower[place] === a &&
        seenUpper[place] === u &&
        seenEntry[place] === e &&
        (otherHazard === undefined || seenOther[place] === otherHazard[i])
      )
    ) {
      slot = (slot + 1) & mask;
      place = table[slot] as number;
    }
    if (place >= 0) {
      seenCount[place] = (seenCount[place] as number) + lives;
      continue;
    }
    if (length === found.lower.length) {
      found = doubled(found);
      ({ lower: seenLower, upper: seenUpper, entry: seenEntry, other: seenOther, count: seenCount } = found);
    }
    table[slot] = length;
    found.row[length] = i;
    found.lower[length] = a;
    found.upper[length] = u;
    found.entry[length] = e;
    found.other[length] = otherHazardOf(sample, i);
    found.count[length++] = lives;
    if (2 * length > table.length) {
      table = widened(table, bits, found.row.subarray(0, length));
      mask = table.length - 1;
    }
  }
  return takeRows(sample, found.row.subarray(0, length), found.count);
}

/** Distinct rows found so far, side by side in memory, and where each appeared first. */
interface Found {
  row: Int32Array;
  lower: Float64Array;
  upper: Float64Array;
  entry: Float64Array;
  other: Float64Array;
  count: Float64Array;
}

function roomFor(rows: number): Found {
  const column = (): Float64Array => new Float64Array(rows);
  const [lower, upper, entry, other, count] = [column(), column(), column(), column(), column()];
  return { row: new Int32Array(rows), lower, upper, entry, other, count };
}

function doubled(found: Found): Found {
  const wide = roomFor(2 * found.row.length);
  wide.row.set(found.row);
  for (const name of ['lower', 'upper', 'entry', 'other', 'count'] as const) wide[name].set(found[name]);
  return wide;
}

function widened(table: Int32Array, bits: Bits, rows: Int32Array): Int32Array<ArrayBuffer> {
  const wide = new Int32Array(4 * table.length).fill(-1);
  for (let place = 0; place < rows.length; place++) {
    let slot = hashOf(bits.lower, bits.upper, bits.entry, at(rows, place)) & (wide.length - 1);
    while (at(wide, slot) >= 0) slot = (slot + 1) & (wide.length - 1);
    wide[slot] = place;
  }
  return wide;
}

/**
 * Each number of a column as two halves of its bits; null for entries that are all 0. Other hazards are left to the comparison: lives of
 * one age have one.
 */
interface Bits {
  lower: Int32Array;
  upper: Int32Array;
  entry: Int32Array | null;
}

function bitsOf({ lower, upper, entry }: LifeSample): Bits {
  const bits = (column: Float64Array): Int32Array =>
    new Int32Array(column.buffer, column.byteOffset, 2 * column.length);
  return { lower: bits(lower), upper: bits(upper), entry: hasEntries(entry) ? bits(entry) : null };
}

/**
 * A sum of products by odd numbers (multilinear hashing: Lemire & Kaser 2014, from memory), then the upper bits mixed down:
 * whole days differ in those alone.
 */
function hashOf(lower: Int32Array, upper: Int32Array, entry: Int32Array | null, i: number): number {
  const low = 2 * i;
  const high = low + 1;
  let sum = Math.imul(lower[low] as number, 0x85ebca6b);
  sum = (sum + Math.imul(lower[high] as number, 0xc2b2ae35)) | 0;
  sum = (sum + Math.imul(upper[low] as number, 0x27d4eb2f)) | 0;
  sum = (sum + Math.imul(upper[high] as number, 0x165667b1)) | 0;
  if (entry !== null) {
    sum = (sum + Math.imul(entry[low] as number, 0x9e3779b1)) | 0;
    sum = (sum + Math.imul(entry[high] as number, 0x2c1b3c6d)) | 0;
  }
  const mixed = Math.imul(sum ^ (sum >>> 15), 0x297a2d39);
  return mixed ^ (mixed >>> 16);
}

function sameRow(sample: LifeSample, i: number, j: number): boolean {
  return (
    floatAt(sample.lower, i) === floatAt(sample.lower, j) &&
    floatAt(sample.upper, i) === floatAt(sample.upper, j) &&
    floatAt(sample.entry, i) === floatAt(sample.entry, j) &&
    otherHazardOf(sample, i) === otherHazardOf(sample, j)
  );
}

/** Whether any life was watched from later on than its beginning. */
export function hasEntries(entry: Float64Array): boolean {
  for (let i = 0; i < entry.length; i++) if (floatAt(entry, i) > 0) return true;
  return false;
}

/** Rows of a sample by their places, with counts of their own. */
function takeRows(sample: LifeSample, rows: Int32Array | Uint32Array, count: Float64Array): LifeSample {
  const take = (column: Float64Array): Float64Array => {
    const taken = new Float64Array(rows.length);
    for (let k = 0; k < taken.length; k++) taken[k] = floatAt(column, at(rows, k));
    return taken;
  };
  return {
    lower: take(sample.lower),
    upper: take(sample.upper),
    entry: take(sample.entry),
    count: count.slice(0, rows.length),
    cluster: ownClusters(rows.length),
    otherHazard: sample.otherHazard && take(sample.otherHazard),
  };
}

/** Rows in ascending order, identical ones in one. */
function inOrder(sample: LifeSample): LifeSample {
  const order = sortedRows(sample);
  const kept = new Uint32Array(order.length);
  const count = new Float64Array(order.length);
  let length = 0;
  for (const i of order) {
    const same = length > 0 && sameRow(sample, at(kept, length - 1), i);
    if (!same) kept[length++] = i;
    count[length - 1] = floatAt(count, length - 1) + floatAt(sample.count, i);
  }
  return takeRows(sample, kept.subarray(0, length), count);
}

function sortedRows(sample: LifeSample): Uint32Array {
  const order = new Uint32Array(sample.lower.length);
  for (let i = 0; i < order.length; i++) order[i] = i;
  return order.sort(
    (i, j) => compareRows(sample, i, j) || floatAt(sample.count, i) - floatAt(sample.count, j),
  );
}

function compareRows(sample: LifeSample, i: number, j: number): number {
  const byLower = floatAt(sample.lower, i) - floatAt(sample.lower, j);
  if (byLower !== 0) return byLower;
  const upperI = floatAt(sample.upper, i);
  const upperJ = floatAt(sample.upper, j);
  if (upperI !== upperJ) return upperI < upperJ ? -1 : 1;
  const byEntry = floatAt(sample.entry, i) - floatAt(sample.entry, j);
  return byEntry || otherHazardOf(sample, i) - otherHazardOf(sample, j);
}
