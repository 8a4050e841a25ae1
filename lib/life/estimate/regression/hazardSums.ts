/**
 * Log-likelihood of a Weibull or exponential regression with score and information. With z = (log age - eta) / sigma the cumulative
 * hazard of a life is exp(z), so a pass needs one exponential a row, and the sums of exp(z) times products of 1, the columns and z
 * over the rows of each level give all derivatives. The best locations of the levels beside given slopes and sigma have a closed
 * form (as many expected failures as seen), so they are set there at once: the search is over slopes and sigma alone (variable
 * projection, Golub & Pereyra 1973, from memory).
 */
import { type Arrow, emptyArrow } from '../../../numeric/arrow.js';
import { floatAt, itemAt, wholeAt } from '../../../numeric/columns.js';
import type { HazardRows } from './hazardRows.js';
import type { Evaluation } from './newton.js';

/** Precondition: a failure at least. A level without one (of a part of the rows) is left out. */
export function evaluateHazard(rows: HazardRows, point: readonly number[], spreads: number): Evaluation {
  const { levels, columns, failures } = rows;
  const theta = Float64Array.from(point);
  const tau = spreads > 0 ? floatAt(theta, levels + columns) : 0;
  const sigma = Math.exp(tau);
  const width = columns + 2;
  const sums = new Float64Array(width * width);
  const total = new Float64Array(width * width);
  const out = emptyArrow(levels, columns + spreads);
  const gradient = new Float64Array(theta.length);
  let [value, failedAt, failed] = [0, 0, 0];
  for (let l = 0; l < levels; l++) {
    const count = floatAt(failures, l);
    if (count === 0) {
      out.diagonal[l] = 1;
      continue;
    }
    const moved = toBest(rows, l, theta, sigma, count, sums);
    theta[l] = floatAt(theta, l) + sigma * moved;
    addLevel(out, total, sums, l, columns, sigma, spreads);
    value -= floatAt(sums, 0);
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

/** Fills `sums` for the best location of a level, and says by how many sigma it lies above the one in theta. */
function toBest(
  rows: HazardRows,
  level: number,
  theta: Float64Array,
  sigma: number,
  failures: number,
  sums: Float64Array,
): number {
  const [from, to] = [wholeAt(rows.first, level), wholeAt(rows.first, level + 1)];
  let shift = 0;
  addTerms(rows, from, to, floatAt(theta, level), theta, sigma, sums);
  if (!(floatAt(sums, 0) > 0 && floatAt(sums, 0) < Infinity)) {
    // Beyond what numbers hold: from a location at which the largest hazard is 1.
    fillZ(rows, from, to, floatAt(theta, level), theta, sigma);
    shift = rows.z.subarray(0, to - from).reduce((a, b) => Math.max(a, b), -Infinity);
    addTerms(rows, from, to, floatAt(theta, level) + shift * sigma, theta, sigma, sums);
  }
  const moved = Math.log(floatAt(sums, 0) / failures);
  moveSums(sums, rows.columns + 1, failures / floatAt(sums, 0), moved);
  return shift + moved;
}

/**
 * Sums of weight exp(z) u u' over terms, u = (1, columns, z); the lower half. Column after column, each a short loop: that is what a
 * compiler makes fast at once.
 */
function addTerms(
  rows: HazardRows,
  from: number,
  to: number,
  location: number,
  theta: Float64Array,
  sigma: number,
  sums: Float64Array,
): void {
  const { weight, x, columns, z, hazard } = rows;
  const width = columns + 2;
  const last = width * (width - 1);
  const three = rows.three;
  fillZ(rows, from, to, location, theta, sigma);
  hazards(weight, z, hazard, from, to, three);
  sums[0] = floatAt(three, 0);
  sums[last] = floatAt(three, 1);
  sums[last + width - 1] = floatAt(three, 2);
  for (let j = 0; j < columns; j++) {
    const column = itemAt(x, j);
    const row = (j + 1) * width;
    products(hazard, column, z, from, to, three);
    sums[row] = floatAt(three, 0);
    sums[last + j + 1] = floatAt(three, 1);
    sums[row + j + 1] = floatAt(three, 2);
    for (let k = 0; k < j; k++) sums[row + k + 1] = product(hazard, column, itemAt(x, k), from, to);
  }
}

/** z of terms from `from` on, from place 0 on. */
function fillZ(
  { age, x, columns, levels, z }: HazardRows,
  from: number,
  to: number,
  location: number,
  theta: Float64Array,
  sigma: number,
): void {
  const share = 1 / sigma;
  for (let i = from; i < to; i++) z[i - from] = ((age[i] as number) - location) * share;
  for (let j = 0; j < columns; j++) {
    const column = itemAt(x, j);
    const slope = (theta[levels + j] as number) * share;
    for (let i = from; i < to; i++) z[i - from] = (z[i - from] as number) - slope * (column[i] as number);
  }
}

/** weight exp(z) of each term, and its sums alone, with z and with z squared. */
function hazards(
  weight: Float64Array,
  z: Float64Array,
  hazard: Float64Array,
  from: number,
  to: number,
  out: Float64Array,
): void {
  let [plain, once, twice] = [0, 0, 0];
  for (let i = from; i < to; i++) {
    const here = z[i - from] as number;
    const value = (weight[i] as number) * Math.exp(here);
    hazard[i - from] = value;
    plain += value;
    once += value * here;
    twice += value * here * here;
  }
  out[0] = plain;
  out[1] = once;
  out[2] = twice;
}

/** Sums of hazard times x alone, with z and with x again. */
function products(
  hazard: Float64Array,
  x: Float64Array,
  z: Float64Array,
  from: number,
  to: number,
  out: Float64Array,
): void {
  let [plain, once, twice] = [0, 0, 0];
  for (let i = from; i < to; i++) {
    const here = x[i] as number;
    const value = (hazard[i - from] as number) * here;
    plain += value;
    once += value * (z[i - from] as number);
    twice += value * here;
  }
  out[0] = plain;
  out[1] = once;
  out[2] = twice;
}

function product(hazard: Float64Array, x: Float64Array, y: Float64Array, from: number, to: number): number {
  let total = 0;
  for (let i = from; i < to; i++) total += (hazard[i - from] as number) * (x[i] as number) * (y[i] as number);
  return total;
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
