/** Newton's search for the best coefficients, damped where the curvature is wrong and halved where a step goes too far. */
import { at, floatAt } from '../../../numeric/columns.js';
import { cholesky, solveCholesky } from '../../../numeric/matrix.js';
import { AT_MAXIMUM } from '../weibull/profileWeibull.js';
import { type RegressionRows, roughAge, SOUND, xAt } from './rows.js';
import { rowTerms } from './rowTerms.js';
import type { StandardLaw } from './standardLaw.js';

const MOST_ITERATIONS = 200;
/**
 * Half the expected gain of a full step, in log-likelihood: below it the step is far inside the standard errors, and Newton's next
 * one leaves nothing. The second number is a share of the log-likelihood, whose sum over many rows has no more digits.
 */
const SMALL_GAIN = 1e-10;
const SMALL_SHARE = 1e-13;
/** A step in units of sigma; larger ones at no gain say that a coefficient runs away. */
const SMALL_STEP = 1e-3;
/** A spread of log age below 1e-7 is none. */
const LEAST_LOG_SIGMA = -16;

export interface Evaluation {
  value: number;
  gradient: number[];
  /** Minus the second derivatives, row by row. */
  information: number[];
}

export interface RegressionMaximum {
  /** Intercept, slopes of standardised columns, log spreads (none for a fixed spread of 1). */
  theta: number[];
  value: number;
  information: number[];
  converged: boolean;
  iterations: number;
  reason: string;
  /** Places in theta that run away; empty at a maximum. */
  runaway: number[];
}

/** What is searched over. `spreads` is 0 where sigma is fixed at 1. */
export interface Problem {
  law: StandardLaw;
  rows: RegressionRows;
  spreads: number;
}

/** Precondition: merged rows of standardised, independent columns, at least one failure. */
export function maximiseRegression(problem: Problem): RegressionMaximum {
  let theta = startAt(problem);
  let now = evaluate(problem, theta);
  let stuck = 0;
  for (let iteration = 1; iteration <= MOST_ITERATIONS; iteration++) {
    const step = newtonStep(now);
    const gain = gainOf(now, step);
    const moved = longest(problem, theta, step);
    const next = lineSearch(problem, theta, now, step);
    const done = isSmall(gain, now);
    if (next !== null) [theta, now] = [next.theta, next.evaluation];
    if (collapsed(problem, theta))
      return stop(theta, now, iteration, 'the spread runs to 0', spreads(problem));
    if (done && moved.size < SMALL_STEP) return stop(theta, now, iteration, AT_MAXIMUM);
    if (next === null && !done)
      return stop(theta, now, iteration, 'no step leads higher', moved.places, false);
    stuck = done ? stuck + 1 : 0;
    if (stuck >= 4) return stop(theta, now, iteration, 'a coefficient runs away', moved.places);
  }
  return stop(theta, now, MOST_ITERATIONS, 'the limit of iterations was reached', [], false);
}

/** Log-likelihood of log age less its centre, with score and information. */
export function evaluate({ law, rows, spreads }: Problem, point: readonly number[]): Evaluation {
  const slopes = rows.x.length;
  const size = slopes + 1 + spreads;
  const theta = Float64Array.from(point);
  const gradient = new Float64Array(size);
  const information = new Float64Array(size * size);
  const terms = new Float64Array(6);
  const x = new Float64Array(slopes + 1).fill(1);
  let value = 0;
  for (let i = 0; i < rows.kind.length; i++) {
    let eta = floatAt(theta, 0);
    for (let j = 1; j <= slopes; j++) {
      x[j] = xAt(rows, j - 1, i);
      eta += floatAt(theta, j) * floatAt(x, j);
    }
    const place = slopes + 1 + at(rows.group, i);
    rowTerms(law, rows, i, eta, spreads === 0 ? 1 : Math.exp(floatAt(theta, place)), terms);
    const count = floatAt(rows.count, i);
    value += count * floatAt(terms, 0);
    for (let j = 0; j <= slopes; j++) {
      const weight = count * floatAt(x, j);
      gradient[j] = floatAt(gradient, j) + weight * floatAt(terms, 1);
      for (let k = 0; k <= j; k++) {
        const here = j * size + k;
        information[here] = floatAt(information, here) - weight * floatAt(x, k) * floatAt(terms, 3);
      }
      if (spreads > 0) {
        const here = place * size + j;
        information[here] = floatAt(information, here) - weight * floatAt(terms, 4);
      }
    }
    if (spreads > 0) {
      const here = place * size + place;
      gradient[place] = floatAt(gradient, place) + count * floatAt(terms, 2);
      information[here] = floatAt(information, here) - count * floatAt(terms, 5);
    }
  }
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < i; j++) information[j * size + i] = floatAt(information, i * size + j);
  }
  return {
    value: Number.isNaN(value) ? -Infinity : value,
    gradient: [...gradient],
    information: [...information],
  };
}

/** Solves information step = gradient; where the information is not positive definite its diagonal is raised until it is. */
function newtonStep({ gradient, information }: Evaluation): number[] {
  const size = gradient.length;
  for (let damping = 0; ; damping = damping === 0 ? 1e-6 : 10 * damping) {
    const raised = information.map((value, k) =>
      k % (size + 1) === 0 ? value + damping * (Math.abs(value) + 1e-12) : value,
    );
    const factor = cholesky(raised, size);
    if (factor !== null) return solveCholesky(factor, gradient);
    if (damping > 1e12) return gradient.map(() => 0);
  }
}

/** The longest of the steps 1, 1/2, 1/4 and so on that leads higher, or null where none does. */
function lineSearch(
  problem: Problem,
  theta: readonly number[],
  now: Evaluation,
  step: readonly number[],
): { theta: number[]; evaluation: Evaluation } | null {
  for (let share = 1; share > 1e-10; share /= 2) {
    const tried = theta.map((x, j) => x + share * at(step, j));
    const evaluation = evaluate(problem, tried);
    if (evaluation.value > now.value) return { theta: tried, evaluation };
    // At the top values differ by rounding only, and a full step of a vanishing gain is still the better point.
    const level = evaluation.value >= now.value - 1e-11 * (1 + Math.abs(now.value));
    if (share === 1 && level && isSmall(gainOf(now, step), now)) return { theta: tried, evaluation };
  }
  return null;
}

function isSmall(gain: number, { value }: Evaluation): boolean {
  return gain < SMALL_GAIN + SMALL_SHARE * Math.abs(value);
}

function gainOf({ gradient }: Evaluation, step: readonly number[]): number {
  return 0.5 * step.reduce((total, x, j) => total + x * at(gradient, j), 0);
}

/** Length of a step, location parameters in units of the smallest sigma, and which places move. */
function longest(
  { spreads, rows }: Problem,
  theta: readonly number[],
  step: readonly number[],
): { size: number; places: number[] } {
  const slopes = rows.x.length + 1;
  const sigma = spreads === 0 ? 1 : Math.exp(Math.min(...theta.slice(slopes)));
  const lengths = step.map((x, j) => Math.abs(x) / (j < slopes ? sigma : 1));
  const size = Math.max(...lengths);
  return { size, places: lengths.flatMap((x, j) => (x > 0.05 * size ? [j] : [])) };
}

function collapsed({ spreads, rows }: Problem, theta: readonly number[]): boolean {
  return spreads > 0 && theta.slice(rows.x.length + 1).some((tau) => tau < LEAST_LOG_SIGMA);
}

function spreads({ rows, spreads: number }: Problem): number[] {
  return Array.from({ length: number }, (_, k) => rows.x.length + 1 + k);
}

function stop(
  theta: number[],
  { value, information }: Evaluation,
  iterations: number,
  reason: string,
  runaway: number[] = [],
  ran = true,
): RegressionMaximum {
  const away = ran ? runaway : [];
  const converged = reason === AT_MAXIMUM && cholesky(information, theta.length) !== null;
  return { theta, value, information, converged, iterations, reason, runaway: away };
}

/** Least squares through rough log ages, counts as weights. */
function startAt({ law, rows, spreads }: Problem): number[] {
  const size = rows.x.length + 1;
  const normal = new Array<number>(size * size).fill(0);
  const right = new Array<number>(size).fill(0);
  const column = (j: number, i: number): number => (j === 0 ? 1 : xAt(rows, j - 1, i));
  for (let i = 0; i < rows.kind.length; i++) {
    const weight = floatAt(rows.count, i);
    for (let j = 0; j < size; j++) {
      right[j] = at(right, j) + weight * column(j, i) * roughAge(rows, i);
      for (let k = 0; k < size; k++) {
        normal[j * size + k] = at(normal, j * size + k) + weight * column(j, i) * column(k, i);
      }
    }
  }
  const factor = cholesky(
    normal.map((x, k) => (k % (size + 1) === 0 ? x * (1 + 1e-9) : x)),
    size,
  );
  const slopes = factor === null ? right.map(() => 0) : solveCholesky(factor, right);
  const tau = Math.log(residualSpread(rows, slopes));
  if (spreads > 0) slopes[0] = at(slopes, 0) - law.mean * Math.exp(tau);
  else slopes[0] = at(slopes, 0) + logTotal(rows, slopes);
  return [...slopes, ...new Array<number>(spreads).fill(tau)];
}

/** log of total age over failures, ages after the slopes: the best intercept of an exponential law, so that no age is far above it. */
function logTotal(rows: RegressionRows, slopes: readonly number[]): number {
  const residual = Array.from(rows.kind.keys(), (i) => roughAge(rows, i) - fittedAt(rows, slopes, i));
  const most = residual.reduce((a, b) => Math.max(a, b), -Infinity);
  let [total, failures] = [0, 0];
  residual.forEach((x, i) => {
    total += floatAt(rows.count, i) * Math.exp(x - most);
    if (at(rows.kind, i) !== SOUND) failures += floatAt(rows.count, i);
  });
  return most + Math.log(total / failures);
}

function fittedAt(rows: RegressionRows, slopes: readonly number[], i: number): number {
  let fitted = at(slopes, 0);
  for (let j = 1; j < slopes.length; j++) fitted += at(slopes, j) * xAt(rows, j - 1, i);
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
