/**
 * Each group's likelihood as a normal, for the proposals of jointMoves.ts and groupMoves.ts only: the quadratic that comes
 * closest to its logarithm, by least squares over where the group has been. Curvature at one point would do for many
 * leaks; with few the log-likelihood bends unevenly, and what counts is how far the two differ where the chain goes.
 */
import { floatAt, itemAt } from '../../../numeric/columns.js';
import { solveLinear } from '../../../numeric/matrix.js';
import { groupFit, type Walk } from './walk.js';

/** Precision and pull (precision times mean) of each group's likelihood. All zero: it says nothing. */
export interface GroupNormals {
  scale: Float64Array;
  cross: Float64Array;
  shape: Float64Array;
  scalePull: Float64Array;
  shapePull: Float64Array;
}

/** Root R (upper triangle) of a group's precision given what is shared, and R times its mean. */
export interface NormalPlace {
  rootScale: number;
  rootCross: number;
  rootShape: number;
  scale: number;
  shape: number;
}

export function noNormals(groups: number): GroupNormals {
  const column = (): Float64Array => new Float64Array(groups);
  return { scale: column(), cross: column(), shape: column(), scalePull: column(), shapePull: column() };
}

/** Change of the log of group g's normal from one place to another. */
export function normalChange(
  normal: GroupNormals,
  g: number,
  logScale: number,
  logShape: number,
  scaleAfter: number,
  shapeAfter: number,
): number {
  const scale = normal.scale[g] as number;
  const cross = normal.cross[g] as number;
  const shape = normal.shape[g] as number;
  // Differences of squares as products, which lose no digits where the precision is large.
  return (
    (scaleAfter - logScale) *
      ((normal.scalePull[g] as number) - (scale * (scaleAfter + logScale)) / 2 - cross * logShape) +
    (shapeAfter - logShape) *
      ((normal.shapePull[g] as number) - (shape * (shapeAfter + logShape)) / 2 - cross * scaleAfter)
  );
}

/** Places at which the quadratic is fitted, at most; and what keeps the fit solvable where they lie on a line. */
const MOST_PLACES = 150;
const RIDGE = 1e-6;

/** Fits group g's normal to where it has been. Leaves it as it was where the group has not moved. */
export function setNormal(walk: Walk, g: number, logScale: Float64Array, logShape: Float64Array): void {
  const scale = momentsOf(logScale);
  const shape = momentsOf(logShape);
  const free = walk.freeShape && shape.sd > 0;
  if (!(scale.sd > 0)) return;
  const stride = Math.ceil(logScale.length / MOST_PLACES);
  const rows: number[][] = [];
  const fits: number[] = [];
  for (let i = 0; i < logScale.length; i += stride) {
    const u = (floatAt(logScale, i) - scale.mean) / scale.sd;
    const v = free ? (floatAt(logShape, i) - shape.mean) / shape.sd : 0;
    rows.push(free ? [1, u, (-u * u) / 2, v, (-v * v) / 2, -u * v] : [1, u, (-u * u) / 2]);
    fits.push(groupFit(walk, g, floatAt(logShape, i), floatAt(logScale, i)));
  }
  const [, slope = 0, bend = 0, shapeSlope = 0, shapeBend = 0, both = 0] = leastSquares(rows, fits);
  if (![slope, bend, shapeSlope, shapeBend, both].every(Number.isFinite)) return;
  const [a, b, d] = positivePart(bend, both, shapeBend);
  const { normal } = walk;
  const shapeSd = free ? shape.sd : 1;
  normal.scale[g] = a / scale.sd ** 2;
  normal.cross[g] = b / (scale.sd * shapeSd);
  normal.shape[g] = d / shapeSd ** 2;
  normal.scalePull[g] =
    slope / scale.sd + floatAt(normal.scale, g) * scale.mean + floatAt(normal.cross, g) * shape.mean;
  normal.shapePull[g] =
    shapeSlope / shapeSd + floatAt(normal.cross, g) * scale.mean + floatAt(normal.shape, g) * shape.mean;
}

/** Coefficients of the columns of `rows` that come closest to `values`. */
function leastSquares(rows: readonly number[][], values: readonly number[]): number[] {
  const size = itemAt(rows, 0).length;
  const matrix = new Array<number>(size * size).fill(0);
  const right = new Array<number>(size).fill(0);
  rows.forEach((row, i) => {
    for (let a = 0; a < size; a++) {
      right[a] = itemAt(right, a) + itemAt(row, a) * itemAt(values, i);
      for (let b = 0; b < size; b++)
        matrix[a * size + b] = itemAt(matrix, a * size + b) + itemAt(row, a) * itemAt(row, b);
    }
  });
  for (let a = 0; a < size; a++)
    matrix[a * (size + 1)] = itemAt(matrix, a * (size + 1)) + RIDGE * rows.length;
  return solveLinear(matrix, right);
}

/** A symmetric 2 x 2 matrix with its negative eigenvalues set to 0. */
function positivePart(a: number, b: number, d: number): [number, number, number] {
  const middle = (a + d) / 2;
  const reach = Math.hypot((a - d) / 2, b);
  const high = Math.max(middle + reach, 0);
  const low = Math.max(middle - reach, 0);
  if (reach === 0) return [high, 0, high];
  // Projector on the larger eigenvalue: (M - small I) / (large - small).
  const pa = (a - (middle - reach)) / (2 * reach);
  const pb = b / (2 * reach);
  return [low + (high - low) * pa, (high - low) * pb, low + (high - low) * (1 - pa)];
}

function momentsOf(values: Float64Array): { mean: number; sd: number } {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += floatAt(values, i);
  const mean = sum / values.length;
  let squares = 0;
  for (let i = 0; i < values.length; i++) squares += (floatAt(values, i) - mean) ** 2;
  return { mean, sd: Math.sqrt(squares / values.length) };
}
