/**
 * The largest or smallest value of a quantity among all parameters whose log likelihood lies no further than a drop below the top. That is the
 * end of its profile-likelihood bounds (Venzon & Moolgavkar 1988, from memory), without a search of the profile at every value on
 * the way: at the end the slopes of quantity and likelihood point one way, and Newton's method solves for it.
 */
import { UsageError } from '../../../errors.js';
import { at } from '../../../numeric/columns.js';
import type { Local, Locally } from '../../../numeric/locally.js';
import { cholesky, solveCholesky, solveLinear } from '../../../numeric/matrix.js';

/** Drops are gone through in so many steps of their root, each from where the last one ended. */
const STEPS = 5;
const MOST_TURNS = 12;
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
  logLikelihood: Locally,
  quantity: Locally,
  size: number,
  drop: number,
  direction: 1 | -1,
): number | null {
  let x = new Array<number>(size).fill(0);
  const [f, q] = [logLikelihood(x), quantity(x)];
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
      f.value - 0.5 * root * root,
      step < STEPS ? ROUGHLY : SETTLED,
    );
    if (end === null) return null;
    [before, x] = [x, end];
  }
  const value = quantity(x)?.value ?? Number.NaN;
  return direction * (value - q.value) > 0 ? value : null;
}

/** Newton's method on: slope of q = multiplier times slope of f, and f = level. */
function settle(
  f: Locally,
  q: Locally,
  start: readonly number[],
  level: number,
  enough: number,
): number[] | null {
  let x = [...start];
  for (let turn = 0; turn < MOST_TURNS; turn++) {
    const [here, of] = [f(x), q(x)];
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

function dot(a: readonly number[], b: readonly number[]): number {
  return a.reduce((total, x, i) => total + x * at(b, i), 0);
}
