/** A Weibull fitted again and again to the same lives in other numbers, as resampling does: logarithms are taken once. */
import { floatAt } from '../../../numeric/columns.js';
import type { WeibullModel } from '../../model.js';
import { isFailure } from '../../sample.js';
import type { LifeSample } from '../../sampleTypes.js';
import type { PreparedRows } from './prepareRows.js';
import { profileWeibull } from './profileWeibull.js';

/** The best model for these numbers of lives per row; null where this road finds none, estimable or not. */
export type Refit = (count: Float64Array) => WeibullModel | null;

/**
 * Fits from numbers of lives per row of a sample, each from a shape near. Null for samples with other rows than failures at a known age
 * and sound lives, all watched from new.
 */
export function weibullRefits(sample: LifeSample, shape: number): Refit | null {
  if (!isPlain(sample)) return null;
  const rows = sample.lower.length;
  const unit = sample.lower.reduce((most, age) => Math.max(most, age), 0);
  const log = sample.lower.map((age) => Math.log(age / unit));
  const room = { logAge: new Float64Array(rows), weight: new Float64Array(rows) };
  const failed = { logAge: new Float64Array(rows), count: new Float64Array(rows) };
  return (count) => {
    let [lives, failures] = [0, 0];
    let [first, last] = [Infinity, -Infinity];
    for (let i = 0; i < rows; i++) {
      const c = floatAt(count, i);
      const x = floatAt(log, i);
      if (c === 0 || x === -Infinity) continue;
      room.logAge[lives] = x;
      room.weight[lives++] = c;
      if (x > last) last = x;
      if (!isFailure(sample, i)) continue;
      failed.logAge[failures] = x;
      failed.count[failures++] = c;
      if (x < first) first = x;
    }
    // All failures at one age and no life older: the shape has no best value (estimable.ts).
    if (failures === 0 || last <= first) return null;
    const top = profileWeibull(rowsOf(unit, room, lives, failed, failures), Math.log(shape));
    return top === null ? null : { kind: 'weibull', shape: top.shape, scale: top.scale };
  };
}

function isPlain(sample: LifeSample): boolean {
  if (sample.otherHazard !== undefined) return false;
  for (let i = 0; i < sample.lower.length; i++) {
    if (floatAt(sample.entry, i) !== 0) return false;
    if (isFailure(sample, i) && floatAt(sample.upper, i) !== floatAt(sample.lower, i)) return false;
  }
  return true;
}

function rowsOf(
  unit: number,
  room: { logAge: Float64Array; weight: Float64Array },
  lives: number,
  failed: { logAge: Float64Array; count: Float64Array },
  failures: number,
): PreparedRows {
  const count = failed.count.subarray(0, failures);
  return {
    unit,
    logAge: room.logAge.subarray(0, lives),
    weight: room.weight.subarray(0, lives),
    constant: 0,
    exact: { logAge: failed.logAge.subarray(0, failures), count, early: NONE, q: NONE },
    interval: { logLower: NONE, logUpper: NONE, count: NONE, early: NONE, q: NONE },
    mixed: false,
  };
}

const NONE = new Float64Array(0);
