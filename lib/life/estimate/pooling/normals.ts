/** Each group's likelihood as a normal, for the proposals of jointMoves.ts only. */
import { floatAt, itemAt } from '../../../numeric/columns.js';
import { groupFit, type Walk } from './walk.js';

/** Precision and pull (precision times mean) of each group's likelihood. All zero: it says nothing. */
export interface GroupNormals {
  scale: Float64Array;
  cross: Float64Array;
  shape: Float64Array;
  scalePull: Float64Array;
  shapePull: Float64Array;
}

export function noNormals(groups: number): GroupNormals {
  const column = (): Float64Array => new Float64Array(groups);
  return { scale: column(), cross: column(), shape: column(), scalePull: column(), shapePull: column() };
}

/** Mean and standard deviation of where a group has been. */
export interface Visited {
  scaleMean: number;
  scaleSd: number;
  shapeMean: number;
  shapeSd: number;
}

const SMALLEST_STEP = 0.01;
const LARGEST_STEP = 0.25;

/** Curvature of group g's log-likelihood round where it has been, by differences over about half its spread. */
export function setNormal(walk: Walk, g: number, visited: Visited): void {
  const { normal } = walk;
  const e = visited.scaleMean;
  const b = visited.shapeMean;
  const he = stepOf(visited.scaleSd);
  const hb = walk.freeShape ? stepOf(visited.shapeSd) : 0;
  const f = (i: number, j: number): number => groupFit(walk, g, b + j * hb, e + i * he);
  const centre = f(0, 0);
  const [up, down] = [f(1, 0), f(-1, 0)];
  let [gb, hbb, heb] = [0, 0, 0];
  if (walk.freeShape) {
    const [right, left] = [f(0, 1), f(0, -1)];
    gb = (right - left) / (2 * hb);
    hbb = -(right - 2 * centre + left) / hb ** 2;
    heb = -(f(1, 1) - f(1, -1) - f(-1, 1) + f(-1, -1)) / (4 * he * hb);
  }
  const [scale, cross, shape] = positivePart(-(up - 2 * centre + down) / he ** 2, heb, hbb);
  const pulls = [(up - down) / (2 * he) + scale * e + cross * b, gb + cross * e + shape * b];
  if (![scale, cross, shape, ...pulls].every(Number.isFinite)) return;
  normal.scale[g] = scale;
  normal.cross[g] = cross;
  normal.shape[g] = shape;
  normal.scalePull[g] = itemAt(pulls, 0);
  normal.shapePull[g] = itemAt(pulls, 1);
}

function stepOf(sd: number): number {
  return Math.min(Math.max(sd / 2, SMALLEST_STEP), LARGEST_STEP);
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

/** Mean and standard deviation of two columns. */
export function visitedOf(logScale: Float64Array, logShape: Float64Array): Visited {
  const scale = momentsOf(logScale);
  const shape = momentsOf(logShape);
  return { scaleMean: scale.mean, scaleSd: scale.sd, shapeMean: shape.mean, shapeSd: shape.sd };
}

function momentsOf(values: Float64Array): { mean: number; sd: number } {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += floatAt(values, i);
  const mean = sum / values.length;
  let squares = 0;
  for (let i = 0; i < values.length; i++) squares += (floatAt(values, i) - mean) ** 2;
  return { mean, sd: Math.sqrt(squares / values.length) };
}

/** Slope of a line of one column on another; 0 where the other does not vary. */
export function slopeOf(values: Float64Array, by: Float64Array): number {
  const ofValues = momentsOf(values);
  const ofBy = momentsOf(by);
  if (!(ofBy.sd > 0)) return 0;
  let sum = 0;
  for (let i = 0; i < values.length; i++)
    sum += (floatAt(values, i) - ofValues.mean) * (floatAt(by, i) - ofBy.mean);
  return sum / (values.length * ofBy.sd ** 2);
}
