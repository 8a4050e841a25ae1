/**
 * Log-likelihood of a Weibull or exponential regression with score and information. With z = (log age - eta) / sigma the cumulative
 * hazard of a life is exp(z), so a pass needs one exponential a row, and the sums of exp(z) times products of 1, the columns and z
 * over the rows of each level give all derivatives. The best locations of the levels beside given slopes and sigma have a closed
 * form (as many expected failures as seen), so they are set there at once: the search is over slopes and sigma alone (variable
 * projection, Golub & Pereyra 1973, from memory).
 */
import { type Arrow, emptyArrow } from '../../../numeric/arrow.js';
import { floatAt, itemAt, wholeAt } from '../../../numeric/columns.js';
import { BLOCK, type HazardRows } from './hazardRows.js';
import type { Evaluation } from './newton.js';

/** Precondition: a failure at least. A level without one (of a part of the rows) is left out. */
export function evaluateHazard(rows: HazardRows, point: readonly number[], spreads: number): Evaluation {
  const { levels, columns, failures, sums } = rows;
  const theta = Float64Array.from(point);
  const tau = spreads > 0 ? floatAt(theta, levels + columns) : 0;
  const sigma = Math.exp(tau);
  const size = (columns + 2) ** 2;
  const total = new Float64Array(size);
  const out = emptyArrow(levels, columns + spreads);
  const gradient = new Float64Array(theta.length);
  let [value, failedAt, failed] = [0, 0, 0];
  addTerms(rows, theta, sigma);
  if (lifted(rows, theta, sigma)) addTerms(rows, theta, sigma);
  for (let l = 0; l < levels; l++) {
    const count = floatAt(failures, l);
    if (count === 0) {
      out.diagonal[l] = 1;
      continue;
    }
    const mine = sums.subarray(l * size, (l + 1) * size);
    const moved = Math.log(floatAt(mine, 0) / count);
    moveSums(mine, columns + 1, count / floatAt(mine, 0), moved);
    theta[l] = floatAt(theta, l) + sigma * moved;
    addLevel(out, total, mine, l, columns, sigma, spreads);
    value -= floatAt(mine, 0);
    failedAt += count * floatAt(theta, l);
    failed += count;
  }
  for (let j = 0; j < columns; j++) failedAt += floatAt(rows.failedX, j) * floatAt(theta, levels + j);
  // Sum of z over the failures.
  const failedZ = (rows.failedAge - failedAt) / sigma;
  value += failedZ - failed * tau;
  finish(rows, out, gradient, total, { sigma, failedZ, failed, spreads });
  return { value: Number.isNaN(value) ? -Infinity : value, theta: [...theta], gradient, information: out };
}

/** Moves levels whose hazards are beyond what numbers hold to where their largest is 1, and says whether there were any. */
function lifted(rows: HazardRows, theta: Float64Array, sigma: number): boolean {
  const { levels, columns, failures, sums, level, age, z } = rows;
  const beyond = (l: number): boolean => {
    const total = floatAt(sums, l * (columns + 2) ** 2);
    return floatAt(failures, l) > 0 && !(total > 0 && total < Infinity);
  };
  const most = new Float64Array(levels).fill(-Infinity);
  if (!most.some((_, l) => beyond(l))) return false;
  for (let from = 0; from < age.length; from += BLOCK) {
    const to = Math.min(from + BLOCK, age.length);
    fillZ(rows, from, to, theta, sigma);
    for (let i = from; i < to; i++) {
      most[wholeAt(level, i)] = Math.max(floatAt(most, wholeAt(level, i)), floatAt(z, i - from));
    }
  }
  for (let l = 0; l < levels; l++) {
    if (beyond(l)) theta[l] = floatAt(theta, l) + sigma * floatAt(most, l);
  }
  return true;
}

/**
 * Sums of weight exp(z) u u' over the terms of each level, u = (1, columns, z); the lower half. Block after block and in it column
 * after column, each a short loop: that is what a compiler makes fast at once. The rows stay in the order they came in: to sort
 * them by level would take as long as two passes.
 */
function addTerms(rows: HazardRows, theta: Float64Array, sigma: number): void {
  const { level, age, weight, x, columns, z, hazard, sums } = rows;
  const width = columns + 2;
  sums.fill(0);
  for (let from = 0; from < age.length; from += BLOCK) {
    const to = Math.min(from + BLOCK, age.length);
    fillZ(rows, from, to, theta, sigma);
    hazards(sums, level, weight, z, hazard, from, to, width);
    for (let j = 0; j < columns; j++) {
      const column = itemAt(x, j);
      products(sums, level, hazard, column, z, from, to, width, j + 1);
      for (let k = 0; k < j; k++) {
        product(sums, level, hazard, column, itemAt(x, k), from, to, width * width, (j + 1) * width + k + 1);
      }
    }
  }
}

/** z of terms from `from` on, from place 0 on. */
function fillZ(
  { level, age, x, columns, levels, z }: HazardRows,
  from: number,
  to: number,
  theta: Float64Array,
  sigma: number,
): void {
  const share = 1 / sigma;
  for (let i = from; i < to; i++) {
    z[i - from] = ((age[i] as number) - (theta[level[i] as number] as number)) * share;
  }
  for (let j = 0; j < columns; j++) {
    const column = itemAt(x, j);
    const slope = (theta[levels + j] as number) * share;
    for (let i = from; i < to; i++) z[i - from] = (z[i - from] as number) - slope * (column[i] as number);
  }
}

/** weight exp(z) of each term, and its sums by level: alone, with z and with z squared. */
function hazards(
  sums: Float64Array,
  level: Int32Array,
  weight: Float64Array,
  z: Float64Array,
  hazard: Float64Array,
  from: number,
  to: number,
  width: number,
): void {
  const size = width * width;
  const once = size - width;
  const twice = size - 1;
  for (let i = from; i < to; i++) {
    const here = z[i - from] as number;
    const value = (weight[i] as number) * Math.exp(here);
    const place = (level[i] as number) * size;
    hazard[i - from] = value;
    sums[place] = (sums[place] as number) + value;
    sums[place + once] = (sums[place + once] as number) + value * here;
    sums[place + twice] = (sums[place + twice] as number) + value * here * here;
  }
}

/** Sums by level of hazard times x, which is column `j` of u: alone, with z and with x again. */
function products(
  sums: Float64Array,
  level: Int32Array,
  hazard: Float64Array,
  x: Float64Array,
  z: Float64Array,
  from: number,
  to: number,
  width: number,
  j: number,
): void {
  const size = width * width;
  const alone = j * width;
  const withZ = size - width + j;
  const twice = alone + j;
  for (let i = from; i < to; i++) {
    const here = x[i] as number;
    const value = (hazard[i - from] as number) * here;
    const place = (level[i] as number) * size;
    sums[place + alone] = (sums[place + alone] as number) + value;
    sums[place + withZ] = (sums[place + withZ] as number) + value * (z[i - from] as number);
    sums[place + twice] = (sums[place + twice] as number) + value * here;
  }
}

/** Sums by level of hazard times two columns, at place `k` of the `size` of each level. */
function product(
  sums: Float64Array,
  level: Int32Array,
  hazard: Float64Array,
  x: Float64Array,
  y: Float64Array,
  from: number,
  to: number,
  size: number,
  k: number,
): void {
  for (let i = from; i < to; i++) {
    const place = (level[i] as number) * size + k;
    sums[place] =
      (sums[place] as number) + (hazard[i - from] as number) * (x[i] as number) * (y[i] as number);
  }
}

/** Sums for a location that is `shift` sigma higher: exp(z) is `share` times as large, z less by the shift. `last` is the place of z. */
function moveSums(sums: Float64Array, last: number, share: number, shift: number): void {
  const row = last * (last + 1);
  const [squares, alone] = [floatAt(sums, row + last), floatAt(sums, row)];
  sums[row + last] = squares - 2 * shift * alone + shift * shift * floatAt(sums, 0);
  for (let k = 0; k < last; k++) {
    sums[row + k] = floatAt(sums, row + k) - shift * floatAt(sums, k * (last + 1));
  }
  for (let k = 0; k < sums.length; k++) sums[k] = share * floatAt(sums, k);
}

/** A level's place in the information, and its sums to those of all. */
function addLevel(
  out: Arrow,
  total: Float64Array,
  sums: Float64Array,
  level: number,
  columns: number,
  sigma: number,
  spreads: number,
): void {
  const width = columns + 2;
  out.diagonal[level] = floatAt(sums, 0) / (sigma * sigma);
  for (let j = 0; j < columns; j++) {
    out.border[j * out.levels + level] = floatAt(sums, (j + 1) * width) / (sigma * sigma);
  }
  // As many failures as expected, so that those without z leave each other.
  if (spreads > 0) out.border[columns * out.levels + level] = floatAt(sums, (columns + 1) * width) / sigma;
  for (let k = 0; k < sums.length; k++) total[k] = floatAt(total, k) + floatAt(sums, k);
}

/** Slopes, and the information beside the levels, from the sums over all rows. */
function finish(
  { columns, levels, failedX }: HazardRows,
  { core, rest }: Arrow,
  gradient: Float64Array,
  total: Float64Array,
  { sigma, failedZ, failed, spreads }: { sigma: number; failedZ: number; failed: number; spreads: number },
): void {
  const width = columns + 2;
  const last = columns + 1;
  for (let j = 0; j < columns; j++) {
    const excess = floatAt(total, (j + 1) * width) - floatAt(failedX, j);
    gradient[levels + j] = excess / sigma;
    for (let k = 0; k <= j; k++) {
      core[j * rest + k] = floatAt(total, (j + 1) * width + k + 1) / (sigma * sigma);
      core[k * rest + j] = floatAt(core, j * rest + k);
    }
    if (spreads === 0) continue;
    core[columns * rest + j] = (floatAt(total, last * width + j + 1) + excess) / sigma;
    core[j * rest + columns] = floatAt(core, columns * rest + j);
  }
  if (spreads === 0) return;
  const alone = floatAt(total, last * width) - failedZ;
  gradient[levels + columns] = alone - failed;
  core[columns * rest + columns] = floatAt(total, last * width + last) + alone;
}
