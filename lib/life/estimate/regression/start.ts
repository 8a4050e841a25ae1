/** Where the search for coefficients starts. */
import { at, columnOf, floatAt } from '../../../numeric/columns.js';
import { cholesky, solveCholesky } from '../../../numeric/matrix.js';
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

function leastSquares(rows: RegressionRows): number[] {
  const { levels } = rows;
  const columns = rows.x.length;
  const size = columns + levels;
  const normal = new Float64Array(size * size);
  const right = new Float64Array(size);
  for (let i = 0; i < rows.kind.length; i++) {
    const level = at(rows.level, i);
    const weight = floatAt(rows.count, i);
    const age = weight * roughAge(rows, i);
    normal[level * size + level] = floatAt(normal, level * size + level) + weight;
    right[level] = floatAt(right, level) + age;
    for (let j = 0; j < columns; j++) {
      const x = xAt(rows, j, i);
      const row = (levels + j) * size;
      right[levels + j] = floatAt(right, levels + j) + age * x;
      normal[row + level] = floatAt(normal, row + level) + weight * x;
      for (let k = 0; k <= j; k++) {
        normal[row + levels + k] = floatAt(normal, row + levels + k) + weight * x * xAt(rows, k, i);
      }
    }
  }
  const factor = cholesky(
    Array.from(normal, (x, k) => (k % (size + 1) === 0 ? x * (1 + 1e-9) : x)),
    size,
  );
  return factor === null ? new Array<number>(size).fill(0) : solveCholesky(factor, [...right]);
}

/** log of total age over failures, ages after the slopes: the best intercept of an exponential law, so that no age is far above it. */
function logTotal(rows: RegressionRows, slopes: readonly number[]): number {
  const residual = columnOf(rows.kind, (_, i) => roughAge(rows, i) - fittedAt(rows, slopes, i));
  const most = residual.reduce((a, b) => Math.max(a, b), -Infinity);
  let [total, failures] = [0, 0];
  residual.forEach((x, i) => {
    total += floatAt(rows.count, i) * Math.exp(x - most);
    if (at(rows.kind, i) !== SOUND) failures += floatAt(rows.count, i);
  });
  return most + Math.log(total / failures);
}

function fittedAt(rows: RegressionRows, slopes: readonly number[], i: number): number {
  let fitted = at(slopes, at(rows.level, i));
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
