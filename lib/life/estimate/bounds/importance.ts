/**
 * Draws from a posterior of a few parameters: a Student distribution shaped by the curvature at the mode proposes, weights put
 * right what it misses, and an even walk along the weights keeps as many as are wanted (Rubin 1988; Kitagawa 1996, from memory).
 */
import { at, floatAt } from '../../../numeric/columns.js';
import { differentiateTwice } from '../../../numeric/differentiate.js';
import { cholesky, invertSymmetric } from '../../../numeric/matrix.js';
import { minimiseSimplex } from '../../../numeric/minimise.js';
import type { RandomStream } from '../../../numeric/random.js';

/** Degrees of freedom of the proposal: tails heavier than those of a posterior. */
const FREEDOM = 5;
const STEP = 0.02;

export interface ImportanceDraws {
  /** One column per parameter; draw d is column by column at d. */
  columns: Float64Array[];
  /** Independent draws that the weighted sample was worth. */
  effectiveSize: number;
}

/** `target` is a log density on scales where steps of 0.02 are small; null where it has no peak to start from. */
export function importanceDraws(
  target: (x: readonly number[]) => number,
  start: readonly number[],
  { proposals, kept, random }: { proposals: number; kept: number; random: RandomStream },
): ImportanceDraws | null {
  const size = start.length;
  const cost = (x: readonly number[]): number => {
    const value = target(x);
    return Number.isFinite(value) ? -value : 1e300;
  };
  const mode = minimiseSimplex(cost, start, { step: 0.3, tolerance: 1e-10 });
  const steps = start.map(() => STEP);
  const curvature = differentiateTwice(cost, mode.at, undefined, steps);
  if (!curvature.every(Number.isFinite) || cholesky(curvature, size) === null) return null;
  const spread = cholesky(invertSymmetric(curvature, size), size);
  if (spread === null) return null;
  const points: number[][] = [];
  const logWeight = new Float64Array(proposals);
  for (let d = 0; d < proposals; d++) {
    const { x, logDensity } = propose(mode.at, spread, random);
    points.push(x);
    logWeight[d] = -cost(x) + mode.value - logDensity;
  }
  return evenly(points, logWeight, kept, random);
}

/** A point of the Student distribution and its log density, up to a constant. */
function propose(
  centre: readonly number[],
  spread: readonly number[],
  random: RandomStream,
): { x: number[]; logDensity: number } {
  const size = centre.length;
  const z = centre.map(() => random.normal());
  const square = Array.from({ length: FREEDOM }, () => random.normal() ** 2).reduce((sum, v) => sum + v, 0);
  const stretch = Math.sqrt(FREEDOM / square);
  const x = centre.map((middle, i) => {
    let moved = middle;
    for (let j = 0; j <= i; j++) moved += stretch * at(spread, i * size + j) * at(z, j);
    return moved;
  });
  const distance = stretch * stretch * z.reduce((sum, v) => sum + v * v, 0);
  return { x, logDensity: (-(FREEDOM + size) / 2) * Math.log1p(distance / FREEDOM) };
}

function evenly(
  points: readonly number[][],
  logWeight: Float64Array,
  kept: number,
  random: RandomStream,
): ImportanceDraws {
  const top = logWeight.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY);
  const weights = logWeight.map((value) => Math.exp(value - top));
  const total = weights.reduce((sum, value) => sum + value, 0);
  const squares = weights.reduce((sum, value) => sum + value * value, 0);
  const offset = random.uniform();
  const columns = (points[0] ?? []).map(() => new Float64Array(kept));
  let [i, reached] = [0, floatAt(weights, 0)];
  for (let d = 0; d < kept; d++) {
    const wanted = (total * (d + offset)) / kept;
    while (reached < wanted && i < points.length - 1) reached += floatAt(weights, ++i);
    columns.forEach((column, j) => {
      column[d] = at(points[i] ?? [], j);
    });
  }
  return { columns, effectiveSize: (total * total) / squares };
}
