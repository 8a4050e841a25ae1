/** Where the search for coefficients starts. */
import { type Arrow, arrowCholesky, emptyArrow, solveArrow } from '../../../numeric/arrow.js';
import { at, byteAt, columnOf, floatAt, itemAt, wholeAt } from '../../../numeric/columns.js';
import type { Problem } from './maximise.js';
import { type RegressionRows, roughAge, SOUND, xAt } from './rows.js';

/** Least squares through rough log ages, counts as weights; every level has a location of its own. */
export function startAt({ law, rows, spreads }: Problem): number[] {
  const slopes = leastSquares(rows);
  const tau = Math.log(residualSpread(rows, slopes));
  const rise = spreads > 0 ? -law.mean * Math.exp(tau) : logTotal(rows, slopes);
  for (let l = 0; l < rows.levels; l++) slopes[l] = at(slopes, l) + rise;
  return [...slopes, ...new Array<number>(spreads).fill(tau)];
}

/** Sums of products of levels and columns, counts as weights, over every so-many-th row. */
export function normalMatrix(
  { x, level, levels, count }: Pick<RegressionRows, 'x' | 'level' | 'levels' | 'count'>,
  every = 1,
): Arrow {
  const columns = x.length;
  const out = emptyArrow(levels, columns);
  const { diagonal, border, core } = out;
  for (let i = 0; i < count.length; i += every) {
    const l = level[i] as number;
    const weight = count[i] as number;
    diagonal[l] = (diagonal[l] as number) + weight;
    for (let j = 0; j < columns; j++) {
      const value = weight * floatAt(itemAt(x, j), i);
      border[j * levels + l] = (border[j * levels + l] as number) + value;
      for (let k = 0; k <= j; k++) {
        core[j * columns + k] = (core[j * columns + k] as number) + value * floatAt(itemAt(x, k), i);
      }
    }
  }
  return out;
}

function leastSquares(rows: RegressionRows): number[] {
  const { levels } = rows;
  const columns = rows.x.length;
  const normal = normalMatrix(rows);
  const { diagonal, core } = normal;
  const right = new Float64Array(levels + columns);
  for (let i = 0; i < rows.kind.length; i++) {
    const level = wholeAt(rows.level, i);
    const weight = floatAt(rows.count, i);
    const age = weight * roughAge(rows, i);
    right[level] = floatAt(right, level) + age;
    for (let j = 0; j < columns; j++) {
      right[levels + j] = floatAt(right, levels + j) + age * xAt(rows, j, i);
    }
  }
  // A level of which these rows have none lies where the centre is.
  for (let l = 0; l < levels; l++) if (floatAt(diagonal, l) === 0) diagonal[l] = 1;
  for (let l = 0; l < levels; l++) diagonal[l] = floatAt(diagonal, l) * (1 + 1e-9);
  for (let j = 0; j < columns; j++) core[j * columns + j] = floatAt(core, j * columns + j) * (1 + 1e-9);
  const factor = arrowCholesky(normal);
  return factor === null ? new Array<number>(right.length).fill(0) : [...solveArrow(factor, right)];
}

/** log of total age over failures, ages after the slopes: the best intercept of an exponential law, so that no age is far above it. */
function logTotal(rows: RegressionRows, slopes: readonly number[]): number {
  const residual = columnOf(rows.kind, (_, i) => roughAge(rows, i) - fittedAt(rows, slopes, i));
  const most = residual.reduce((a, b) => Math.max(a, b), -Infinity);
  let [total, failures] = [0, 0];
  residual.forEach((x, i) => {
    total += floatAt(rows.count, i) * Math.exp(x - most);
    if (byteAt(rows.kind, i) !== SOUND) failures += floatAt(rows.count, i);
  });
  return most + Math.log(total / failures);
}

function fittedAt(rows: RegressionRows, slopes: readonly number[], i: number): number {
  let fitted = at(slopes, wholeAt(rows.level, i));
  for (let j = rows.levels; j < slopes.length; j++) fitted += at(slopes, j) * xAt(rows, j - rows.levels, i);
  return fitted;
}

function residualSpread(rows: RegressionRows, slopes: readonly number[]): number {
  let [squares, total] = [0, 0];
  for (let i = 0; i < rows.kind.length; i++) {
    const weight = floatAt(rows.count, i);
    squares += weight * (roughAge(rows, i) - fittedAt(rows, slopes, i)) ** 2;
    total += weight;
  }
  return Math.min(Math.max(Math.sqrt(squares / total), 1e-4), 10);
}
