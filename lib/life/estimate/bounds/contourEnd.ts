/**
 * The largest or smallest value of a quantity among all parameters whose log likelihood lies no further than a drop below the top. That is the
 * end of its profile-likelihood bounds (Venzon & Moolgavkar 1988, from memory), without a search of the profile at every value on
 * the way: at the end the slopes of quantity and likelihood point one way, and Newton's method solves for it.
 */
import { UsageError } from '../../../errors.js';
import { at } from '../../../numeric/columns.js';
import { cholesky, solveCholesky, solveLinear } from '../../../numeric/matrix.js';

type Smooth = (x: readonly number[]) => number;

/** Value, slopes and curvatures (row by row) of a function at a point. */
interface Local {
  value: number;
  slope: number[];
  bend: number[];
}

/** Drops are gone through in so many steps of their root, each from where the last one ended. */
const STEPS = 5;
const MOST_TURNS = 12;
/** Distance of differences, in standard errors: slopes are good to its fourth power, curvatures to its square. */
const APART = 0.01;
/** A place is found when a step is shorter, standard errors; what a place is off, the quantity is off by its square. */
const SETTLED = 1e-6;
/** On the way. */
const ROUGHLY = 0.03;
/** A longer step leads nowhere. */
const LONGEST = 3;

/**
 * Starts at 0, the top of `logLikelihood`, whose axes are to be counted in standard errors. Null where Newton's method does not
 * settle: a bound that does not exist, or a likelihood far from a hill.
 */
export function contourEnd(
  logLikelihood: Smooth,
  quantity: Smooth,
  size: number,
  drop: number,
  direction: 1 | -1,
): number | null {
  let x = new Array<number>(size).fill(0);
  const top = logLikelihood(x);
  const [f, q] = [localOf(logLikelihood, x), localOf(quantity, x)];
  if (f === null || q === null) return null;
  const factor = cholesky(
    f.bend.map((y) => -y),
    size,
  );
  const way = factor === null ? [] : solveCholesky(factor, q.slope);
  const rise = factor === null ? 0 : dot(way, q.slope);
  if (!(rise > 0)) return null;
  let before = x;
  for (let step = 1; step <= STEPS; step++) {
    const root = (step / STEPS) * Math.sqrt(2 * drop);
    const ahead =
      step === 1
        ? way.map((y) => (direction * root * y) / Math.sqrt(rise))
        : x.map((y, i) => 2 * y - at(before, i));
    const end = settle(
      logLikelihood,
      quantity,
      ahead,
      top - 0.5 * root * root,
      step < STEPS ? ROUGHLY : SETTLED,
    );
    if (end === null) return null;
    [before, x] = [x, end];
  }
  const value = quantity(x);
  return direction * (value - q.value) > 0 ? value : null;
}

/** Newton's method on: slope of q = multiplier times slope of f, and f = level. */
function settle(
  f: Smooth,
  q: Smooth,
  start: readonly number[],
  level: number,
  enough: number,
): number[] | null {
  let x = [...start];
  for (let turn = 0; turn < MOST_TURNS; turn++) {
    const [here, of] = [localOf(f, x), localOf(q, x)];
    const step = here === null || of === null ? null : newtonStep(here, of, level);
    const length = step === null ? Infinity : Math.sqrt(dot(step, step));
    if (step === null || !(length < LONGEST)) return null;
    x = x.map((y, i) => y + at(step, i));
    if (length < enough) return x;
  }
  return null;
}

function newtonStep(f: Local, q: Local, level: number): number[] | null {
  const size = f.slope.length;
  const multiplier = dot(q.slope, f.slope) / dot(f.slope, f.slope);
  const bend = q.bend.map((y, k) => y - multiplier * at(f.bend, k));
  const rows = f.slope.map((slope, i) => [...bend.slice(i * size, (i + 1) * size), -slope]);
  const right = q.slope.map((slope, i) => multiplier * at(f.slope, i) - slope);
  try {
    return solveLinear([...rows.flat(), ...f.slope, 0], [...right, level - f.value]).slice(0, size);
  } catch (error) {
    if (error instanceof UsageError) return null;
    throw error;
  }
}

/** By central differences; null where a neighbour has no value. */
function localOf(f: Smooth, x: readonly number[]): Local | null {
  const h = APART;
  const size = x.length;
  const value = f(x);
  const near = x.map((_, i) => [-2, -1, 1, 2].map((k) => f(moved(x, [i], k * h))));
  const value4 = (i: number): [number, number, number, number] => near[i] as [number, number, number, number];
  const slope = x.map((_, i) => {
    const [a, b, c, d] = value4(i);
    return (a - 8 * b + 8 * c - d) / (12 * h);
  });
  const bend = new Array<number>(size * size).fill(0);
  for (let i = 0; i < size; i++) {
    const [a, b, c, d] = value4(i);
    bend[i * size + i] = (-a + 16 * b - 30 * value + 16 * c - d) / (12 * h * h);
    for (let j = 0; j < i; j++) {
      const [, e, g] = value4(j);
      const both = f(moved(x, [i, j], h)) + f(moved(x, [i, j], -h));
      const mixed = (both - b - c - e - g + 2 * value) / (2 * h * h);
      bend[i * size + j] = mixed;
      bend[j * size + i] = mixed;
    }
  }
  return [value, ...slope, ...bend].every(Number.isFinite) ? { value, slope, bend } : null;
}

function moved(x: readonly number[], axes: readonly number[], by: number): number[] {
  return x.map((y, i) => (axes.includes(i) ? y + by : y));
}

function dot(a: readonly number[], b: readonly number[]): number {
  return a.reduce((total, x, i) => total + x * at(b, i), 0);
}
