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
  const { levels, columns, failures, sums, width } = rows;
  const theta = Float64Array.from(point);
  const tau = spreads > 0 ? floatAt(theta, levels + columns) : 0;
  const sigma = Math.exp(tau);
  const size = width * width;
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
    moveSums(mine, width - 1, count / floatAt(mine, 0), moved);
    theta[l] = floatAt(theta, l) + sigma * moved;
    addLevel(out, total, mine, l, rows, sigma, spreads);
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
  const { levels, failures, sums, width, level, age, z } = rows;
  const beyond = (l: number): boolean => {
    const total = floatAt(sums, l * width * width);
    return floatAt(failures, l) > 0 && !(total > 0 && total < Infinity);
  };
  const most = new Float64Array(levels).fill(-Infinity);
  if (!most.some((_, l) => beyond(l))) return false;
  for (let from = 0; from < age.length; from += BLOCK) {
    const to = Math.min(from + BLOCK, age.length);
    addBlock(rows, from, to, theta, sigma);
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
 * Sums of weight exp(z) u u' over the terms of each level, u = (1, columns, z); the lower half. The rows stay in the order they came
 * in: to sort them by level would take as long as two passes, and the loops of the sorting would be slow at the first call.
 */
function addTerms(rows: HazardRows, theta: Float64Array, sigma: number): void {
  const { level, age, x, columns, z, hazard, sums, width } = rows;
  sums.fill(0);
  for (let from = 0; from < age.length; from += BLOCK) {
    const to = Math.min(from + BLOCK, age.length);
    addBlock(rows, from, to, theta, sigma);
    for (let j = 1; j < columns; j++) {
      const column = itemAt(x, j);
      products(sums, level, hazard, column, z, from, to, width, j + 1);
      for (let k = 0; k < j; k++) {
        product(sums, level, hazard, column, itemAt(x, k), from, to, width * width, (j + 1) * width + k + 1);
      }
    }
  }
}

/** All of a block with the columns after the first left out of the sums, not out of z. */
function addBlock(rows: HazardRows, from: number, to: number, theta: Float64Array, sigma: number): void {
  const { x, columns, levels, moved } = rows;
  const share = 1 / sigma;
  const slope = columns > 0 ? floatAt(theta, levels) * share : 0;
  if (columns > 1) moved.fill(0);
  for (let j = 1; j < columns; j++) {
    addColumn(moved, itemAt(x, j), from, to, floatAt(theta, levels + j) * share);
  }
  hazards(rows, itemAt(x, 0), from, to, theta, share, slope);
}

function addColumn(moved: Float64Array, x: Float64Array, from: number, to: number, slope: number): void {
  for (let i = from; i < to; i++) moved[i - from] = (moved[i - from] as number) + slope * (x[i] as number);
}

/**
 * z and weight exp(z) of each term, and the sums by level of the latter alone, with x, with x twice, with z, with z and x, and with z
 * twice. One loop for all of it, because each loop costs milliseconds at the first call until it is compiled.
 */
function hazards(
  rows: HazardRows,
  x: Float64Array,
  from: number,
  to: number,
  theta: Float64Array,
  share: number,
  slope: number,
): void {
  const { sums, level, age, weight, moved, z, hazard, width } = rows;
  const size = width * width;
  const last = size - width;
  for (let i = from; i < to; i++) {
    const l = level[i] as number;
    const u = x[i] as number;
    const here =
      ((age[i] as number) - (theta[l] as number)) * share - slope * u - (moved[i - from] as number);
    const value = (weight[i] as number) * Math.exp(here);
    const withX = value * u;
    const place = l * size;
    z[i - from] = here;
    hazard[i - from] = value;
    sums[place] = (sums[place] as number) + value;
    sums[place + width] = (sums[place + width] as number) + withX;
    sums[place + width + 1] = (sums[place + width + 1] as number) + withX * u;
    sums[place + last] = (sums[place + last] as number) + value * here;
    sums[place + last + 1] = (sums[place + last + 1] as number) + withX * here;
    sums[place + size - 1] = (sums[place + size - 1] as number) + value * here * here;
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
  { columns, width }: HazardRows,
  sigma: number,
  spreads: number,
): void {
  out.diagonal[level] = floatAt(sums, 0) / (sigma * sigma);
  for (let j = 0; j < columns; j++) {
    out.border[j * out.levels + level] = floatAt(sums, (j + 1) * width) / (sigma * sigma);
  }
  // As many failures as expected, so that those without z leave each other.
  if (spreads > 0) out.border[columns * out.levels + level] = floatAt(sums, (width - 1) * width) / sigma;
  for (let k = 0; k < sums.length; k++) total[k] = floatAt(total, k) + floatAt(sums, k);
}

/** Slopes, and the information beside the levels, from the sums over all rows. */
function finish(
  { columns, levels, failedX, width }: HazardRows,
  { core, rest }: Arrow,
  gradient: Float64Array,
  total: Float64Array,
  { sigma, failedZ, failed, spreads }: { sigma: number; failedZ: number; failed: number; spreads: number },
): void {
  const last = width - 1;
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
