/** Newton's search for the best coefficients, damped where the curvature is wrong and halved where a step goes too far. */
import { type Arrow, arrowCholesky, solveArrow } from '../../../numeric/arrow.js';
import { at, floatAt } from '../../../numeric/columns.js';
import { AT_MAXIMUM } from '../weibull/profileWeibull.js';

const MOST_ITERATIONS = 200;
/**
 * Half the expected gain of a full step, in log-likelihood: below it the step is far inside the standard errors, and Newton's next
 * one leaves nothing. The second number is a share of the log-likelihood, whose sum over many rows has no more digits.
 */
const SMALL_GAIN = 1e-10;
const SMALL_SHARE = 1e-13;
/** A step in units of sigma; larger ones at no gain say that a coefficient runs away. */
const SMALL_STEP = 1e-3;
/** Below such a step value and information are those of its end to eleven digits. */
const NO_STEP = 1e-11;
/** A spread that is a thousand times another one in one step is a curvature gone wrong. */
const MOST_LOG_SIGMA_STEP = 7;
/** A spread of log age below 1e-7 is none. */
const LEAST_LOG_SIGMA = -16;

export interface Evaluation {
  value: number;
  /** Where it is of: where it was asked for, or higher where the best levels beside the other parameters have a closed form. */
  theta: readonly number[];
  gradient: Float64Array;
  /** Minus the second derivatives. */
  information: Arrow;
}

export interface Maximum {
  /** Locations and slopes, then log spreads (none for a fixed spread of 1). */
  theta: number[];
  value: number;
  information: Arrow;
  converged: boolean;
  iterations: number;
  reason: string;
  /** Places in theta that run away; empty at a maximum. */
  runaway: number[];
}

/** What is searched over: a likelihood with its derivatives. */
export interface Target {
  evaluate(theta: readonly number[]): Evaluation;
  start: readonly number[];
  /** How many of the last places in theta are log spreads; 0 where sigma is fixed at 1. */
  spreads: number;
  /**
   * The search ends with a step that moves no row by as much as this, in units of sigma, without evaluating at its end: theta is then
   * off by about its square, and the information by as large a share. 0 to go on to all digits.
   */
  near?: number;
  /** By how much a place in theta moves the row that it moves most; 1 by default. */
  reach?: Float64Array;
}

/** Climbs from the start to a place where the slopes vanish, or says why there is none. */
export function climb(target: Target): Maximum {
  let now = target.evaluate(target.start);
  let stuck = 0;
  for (let iteration = 1; iteration <= MOST_ITERATIONS; iteration++) {
    const step = newtonStep(now);
    const gain = gainOf(now, step);
    const moved = longest(target, now.theta, step);
    const done = isSmall(gain, now);
    if (done && moved.size < NO_STEP) return stop(ahead(now, step, gain), iteration, AT_MAXIMUM);
    if (isNear(target, now, step) && arrowCholesky(now.information) !== null) {
      return stop(ahead(now, step, gain), iteration, AT_MAXIMUM);
    }
    const next = lineSearch(target, now, step);
    if (next !== null) now = next;
    if (collapsed(target, now.theta))
      return stop(now, iteration, 'the spread runs to 0', places(target, now.theta));
    if (done && moved.size < SMALL_STEP) return stop(now, iteration, AT_MAXIMUM);
    if (next === null && !done) return stop(now, iteration, 'no step leads higher', moved.places, false);
    stuck = done ? stuck + 1 : 0;
    if (stuck >= 4) return stop(now, iteration, 'a coefficient runs away', moved.places);
  }
  return stop(now, MOST_ITERATIONS, 'the limit of iterations was reached', [], false);
}

/** A step so small that nothing needs to be evaluated anew: Newton's parabola has its end and the gain there. */
function ahead(now: Evaluation, step: Float64Array, gain: number): Evaluation {
  return { ...now, theta: now.theta.map((x, j) => x + at(step, j)), value: now.value + gain };
}

/** Solves information step = gradient; where the information is not positive definite its diagonal is raised until it is. */
function newtonStep({ gradient, information }: Evaluation): Float64Array {
  for (let damping = 0; damping <= 1e12; damping = damping === 0 ? 1e-6 : 10 * damping) {
    const factor = arrowCholesky(information, damping);
    if (factor !== null) return solveArrow(factor, gradient);
  }
  return gradient.map(() => 0);
}

/** The longest of the steps 1, 1/2, 1/4 and so on that leads higher, or null where none does. */
function lineSearch({ evaluate, spreads }: Target, now: Evaluation, step: Float64Array): Evaluation | null {
  const spread = step.subarray(step.length - spreads).reduce((most, x) => Math.max(most, Math.abs(x)), 0);
  const whole = Math.min(1, MOST_LOG_SIGMA_STEP / spread);
  for (let share = whole; share > 1e-10 * whole; share /= 2) {
    const tried = evaluate(now.theta.map((x, j) => x + share * at(step, j)));
    if (tried.value > now.value) return tried;
    // At the top values differ by rounding only, and a full step of a vanishing gain is still the better point.
    const level = tried.value >= now.value - 1e-11 * (1 + Math.abs(now.value));
    if (share === 1 && level && isSmall(gainOf(now, step), now)) return tried;
  }
  return null;
}

function isSmall(gain: number, { value }: Evaluation): boolean {
  return gain < SMALL_GAIN + SMALL_SHARE * Math.abs(value);
}

function gainOf({ gradient }: Evaluation, step: Float64Array): number {
  return 0.5 * step.reduce((total, x, j) => total + x * at(gradient, j), 0);
}

/** Length of a step, location parameters in units of the smallest sigma, and which places move. */
function longest(
  { spreads }: Target,
  theta: readonly number[],
  step: Float64Array,
): { size: number; places: number[] } {
  const slopes = theta.length - spreads;
  const sigma = spreads === 0 ? 1 : Math.exp(Math.min(...theta.slice(slopes)));
  const lengths = Array.from(step, (x, j) => Math.abs(x) / (j < slopes ? sigma : 1));
  const size = lengths.reduce((a, b) => Math.max(a, b), 0);
  return { size, places: lengths.flatMap((x, j) => (x > 0.05 * size ? [j] : [])) };
}

function isNear(target: Target, now: Evaluation, step: Float64Array): boolean {
  const { near = 0, reach } = target;
  if (near === 0) return false;
  const most = reach === undefined ? step : step.map((x, j) => x * floatAt(reach, j));
  return longest(target, now.theta, most).size < near;
}

function collapsed({ spreads }: Target, theta: readonly number[]): boolean {
  return spreads > 0 && theta.slice(theta.length - spreads).some((tau) => tau < LEAST_LOG_SIGMA);
}

function places({ spreads }: Target, theta: readonly number[]): number[] {
  return Array.from({ length: spreads }, (_, k) => theta.length - spreads + k);
}

function stop(
  { value, theta, information }: Evaluation,
  iterations: number,
  reason: string,
  runaway: number[] = [],
  ran = true,
): Maximum {
  const away = ran ? runaway : [];
  const converged = reason === AT_MAXIMUM && arrowCholesky(information) !== null;
  return { theta: [...theta], value, information, converged, iterations, reason, runaway: away };
}
