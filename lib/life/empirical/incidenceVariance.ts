/** Variance of a cumulative incidence: the sum over lives of the square of what each life moves it by. */
import { at, floatAt } from '../../numeric/columns.js';
import { countUpTo } from '../../numeric/sorted.js';
import { isFailure } from '../sample.js';
import type { LifeSample } from '../sampleTypes.js';
import type { RiskTable } from './atRisk.js';

/** Which ages of a risk table each life was watched at: from[i] to to[i] - 1; rows in the order of either. */
export interface Watch {
  from: Int32Array;
  to: Int32Array;
  byFrom: Uint32Array;
  byTo: Uint32Array;
}

/** Rows that were watched at no failure age are left out of both orders. */
export function watchOf(sample: LifeSample, { age, start }: RiskTable): Watch {
  const rows = sample.lower.length;
  const from = new Int32Array(rows);
  const to = new Int32Array(rows);
  for (let i = 0; i < rows; i++) {
    from[i] = countUpTo(age, Math.max(start, floatAt(sample.entry, i)));
    to[i] = countUpTo(age, floatAt(sample.lower, i));
  }
  const watched = Uint32Array.from(from.keys()).filter((i) => at(from, i) < at(to, i));
  return {
    from,
    to,
    byFrom: inOrder(watched, from, age.length),
    byTo: inOrder(watched, to, age.length),
  };
}

/** Rows by their value from 0 to `most`, by counting: linear in the rows. */
function inOrder(rows: Uint32Array, value: Int32Array, most: number): Uint32Array {
  const place = new Uint32Array(most + 2);
  for (const i of rows) place[at(value, i) + 1] = at(place, at(value, i) + 1) + 1;
  for (let k = 1; k < place.length; k++) place[k] = at(place, k) + at(place, k - 1);
  const order = new Uint32Array(rows.length);
  for (const i of rows) {
    const own = at(value, i);
    order[at(place, own)] = i;
    place[own] = at(place, own) + 1;
  }
  return order;
}

/** One mode: its failures and incidence at each age of the table. */
export interface ModeCurve {
  table: RiskTable;
  own: Float64Array;
  incidence: Float64Array;
  watch: Watch;
}

/**
 * At age t, with incidence C and a life watched over the ages r in (entry, its end or t], d of n failing at r, e of them by
 * the mode, the life moves the incidence by the sum over r of
 *
 *     S(r-) [by the mode at r - e / n] / n  -  [C(t) - C(r)] [failed at r - d / n] / (n - d).
 *
 * For a life over by t that is a + b C(t), and for one still watched P(t) + u - v C(t), where a, b, u and v belong to the life. So
 * running sums of their squares and products serve all lives at once: rows plus ages, not rows times ages.
 */
export function incidenceVariance(
  sample: LifeSample,
  mode: ArrayLike<number>,
  number: number,
  { table, own, incidence, watch }: ModeCurve,
): Float64Array {
  const paths = pathsOf(table, own, incidence);
  const ended = noSums();
  const watched = noSums();
  const variance = new Float64Array(own.length);
  let [entering, ending] = [0, 0];
  for (let k = 0; k < variance.length; k++) {
    for (; entering < watch.byFrom.length && at(watch.from, at(watch.byFrom, entering)) === k; entering++) {
      addWatched(watched, paths, k, floatAt(sample.count, at(watch.byFrom, entering)));
    }
    for (; ending < watch.byTo.length && at(watch.to, at(watch.byTo, ending)) === k + 1; ending++) {
      const i = at(watch.byTo, ending);
      const [from, count] = [at(watch.from, i), floatAt(sample.count, i)];
      addWatched(watched, paths, from, -count);
      const failed = isFailure(sample, i);
      addEnded(ended, paths, { from, k, failed, byMode: failed && at(mode, i) === number, count });
    }
    if (floatAt(own, k) > 0) variance[k] = varianceAt(ended, watched, paths, k);
  }
  return variance;
}

/** Running sums of what the ages before the k-th add, and what a failure at the k-th adds by itself. */
interface Paths {
  /** Sum of d / [n (n - d)]. */
  hazard: Float64Array;
  /** Sum of S(r-) e / n² + C(r) d / [n (n - d)]. */
  both: Float64Array;
  incidence: Float64Array;
  /** S(r-) / n. */
  jump: Float64Array;
  /** 1 / (n - d), and 0 where none is left: later ages no longer move the incidence. */
  loss: Float64Array;
}

/** With fractional weights, what is left of those at risk by less than this share is rounding. */
const NONE_LEFT = 1e-9;

function pathsOf({ age, failed, atRisk }: RiskTable, own: Float64Array, incidence: Float64Array): Paths {
  const size = age.length;
  const hazard = new Float64Array(size + 1);
  const both = new Float64Array(size + 1);
  const jump = new Float64Array(size);
  const loss = new Float64Array(size);
  let survival = 1;
  for (let k = 0; k < size; k++) {
    const [d, n] = [floatAt(failed, k), floatAt(atRisk, k)];
    const left = n - d;
    jump[k] = survival / n;
    loss[k] = left > NONE_LEFT * n ? 1 / left : 0;
    const rise = (d / n) * floatAt(loss, k);
    hazard[k + 1] = floatAt(hazard, k) + rise;
    const direct = (floatAt(jump, k) * floatAt(own, k)) / n;
    both[k + 1] = floatAt(both, k) + direct + floatAt(incidence, k) * rise;
    survival *= left / n;
  }
  return { hazard, both, incidence, jump, loss };
}

/** Sums over lives of 1, x, y, x², x y and y². */
interface Sums {
  one: number;
  x: number;
  y: number;
  xx: number;
  xy: number;
  yy: number;
}

function noSums(): Sums {
  return { one: 0, x: 0, y: 0, xx: 0, xy: 0, yy: 0 };
}

function add(sums: Sums, x: number, y: number, count: number): void {
  sums.one += count;
  sums.x += count * x;
  sums.y += count * y;
  sums.xx += count * x * x;
  sums.xy += count * x * y;
  sums.yy += count * y * y;
}

/** A life under watch from the k-th age on: u and -v. */
function addWatched(sums: Sums, { both, hazard }: Paths, k: number, count: number): void {
  add(sums, floatAt(both, k), -floatAt(hazard, k), count);
}

/** A life that was last watched at the k-th age, and failed at it or not. */
interface Ended {
  from: number;
  k: number;
  failed: boolean;
  byMode: boolean;
  count: number;
}

/** A life that is over: a and b. */
function addEnded(sums: Sums, paths: Paths, { from, k, failed, byMode, count }: Ended): void {
  const loss = failed ? floatAt(paths.loss, k) : 0;
  const own = byMode ? floatAt(paths.jump, k) : 0;
  const both = floatAt(paths.both, k + 1) - floatAt(paths.both, from);
  const hazard = floatAt(paths.hazard, k + 1) - floatAt(paths.hazard, from);
  add(sums, own - both + floatAt(paths.incidence, k) * loss, hazard - loss, count);
}

function varianceAt(ended: Sums, watched: Sums, { incidence, hazard, both }: Paths, k: number): number {
  const c = floatAt(incidence, k);
  const p = c * floatAt(hazard, k + 1) - floatAt(both, k + 1);
  return Math.max(0, squares(ended, 0, c) + squares(watched, p, c));
}

/** Sum of (p + x + c y)². */
function squares({ one, x, y, xx, xy, yy }: Sums, p: number, c: number): number {
  return p * p * one + 2 * p * (x + c * y) + xx + 2 * c * xy + c * c * yy;
}
