/** Largest Weibull log likelihood over (log shape, log scale): Newton with damping, and a search over shapes behind it. */
import { floatAt } from '../../../numeric/columns.js';
import { minimiseOnInterval } from '../../../numeric/minimise.js';
import type { ShapePrior } from '../fitTypes.js';
import { AT_MAXIMUM, profileWeibull } from './profileWeibull.js';
import { weibullDerivatives } from './weibullDerivatives.js';
import { evaluator, type PreparedRows } from './weibullLikelihood.js';

export interface WeibullMaximum {
  shape: number;
  scale: number;
  logLikelihood: number;
  /** Minus the second derivatives of the target (likelihood times prior): shape-shape, shape-scale, scale-scale, in logs. */
  information: [number, number, number];
  converged: boolean;
  iterations: number;
  reason: string;
}

export interface MaximiseOptions {
  fixedShape?: number | undefined;
  prior?: ShapePrior | null | undefined;
  start?: { shape: number; scale: number } | undefined;
}

interface Point {
  /** log shape and log scale. */
  b: number;
  e: number;
}

/** The target, its slopes, and whether the shape may move. */
interface Target {
  value(point: Point): number;
  slopes(point: Point): { gradient: [number, number]; hessian: [number, number, number] };
  shapeMoves: boolean;
  rows: PreparedRows;
}

/** Shapes beyond these are taken as "no finite shape fits best". */
const LOWEST_LOG_SHAPE = Math.log(1e-3);
const HIGHEST_LOG_SHAPE = Math.log(1e7);

/**
 * Precondition: at least one failure, and an estimable shape (or a fixed one, or a prior). Tells in `converged` and `reason`
 * how it ended; never throws.
 */
export function maximiseWeibull(rows: PreparedRows, options: MaximiseOptions = {}): WeibullMaximum {
  const fixed = options.fixedShape;
  const given = options.start;
  if (fixed === undefined && !options.prior) {
    const top = profileWeibull(rows, given === undefined ? startShape(rows) : Math.log(given.shape));
    if (top !== null) return top;
  }
  const target = targetOf(rows, options);
  const starts =
    given === undefined
      ? startShapes(rows, fixed).map((b) => startAt(rows, b))
      : [{ b: Math.log(fixed ?? given.shape), e: Math.log(given.scale) }];
  const climbs = starts.map((start) => climb(target, start));
  const good = climbs.filter((end) => end.converged);
  if (good.length === 0) {
    climbs.push(climb(target, searchShapes(target, fixed === undefined ? null : Math.log(fixed))));
  }
  const best = highest(target, good.length > 0 ? good : climbs.slice(-1));
  return finish(target, { ...best, iterations: climbs.reduce((total, end) => total + end.iterations, 0) });
}

/** With other causes in the likelihood there may be two tops, so several shapes are tried. */
function startShapes(rows: PreparedRows, fixed: number | undefined): number[] {
  if (fixed !== undefined) return [Math.log(fixed)];
  return rows.mixed ? [startShape(rows), Math.log(1.2), Math.log(4)] : [startShape(rows)];
}

function highest(target: Target, ends: Climb[]): Climb {
  return ends.reduce((best, end) => (target.value(end) > target.value(best) ? end : best));
}

interface Climb extends Point {
  converged: boolean;
  iterations: number;
  reason: string;
}

/** Damped Newton: steps are shortened until the target rises; close to the top full steps polish the digits. */
function climb(target: Target, start: Point): Climb {
  let point = start;
  let value = target.value(point);
  let lastGain = Infinity;
  for (let iteration = 1; iteration <= 100; iteration++) {
    const { gradient, hessian } = target.slopes(point);
    if (!Number.isFinite(value) || gradient.some(Number.isNaN) || hessian.some(Number.isNaN)) {
      return { ...point, converged: false, iterations: iteration, reason: 'the likelihood is not finite' };
    }
    const { step, gain, definite } = newtonStep(target, gradient, hessian);
    if (definite && gain < 1e-9) {
      // The likelihood's own rounding hides gains this small: trust the quadratic form, stop when it improves no more.
      if (gain < 1e-26 || gain >= 0.25 * lastGain) {
        return { ...point, converged: true, iterations: iteration, reason: AT_MAXIMUM };
      }
      lastGain = gain;
      point = { b: point.b + step.b, e: point.e + step.e };
      value = target.value(point);
      continue;
    }
    const next = lineSearch(target, point, value, step);
    if (next === null) {
      return { ...point, converged: false, iterations: iteration, reason: 'no step raises the likelihood' };
    }
    ({ point, value } = next);
    if (point.b < LOWEST_LOG_SHAPE || point.b > HIGHEST_LOG_SHAPE) {
      const way = point.b > 0 ? 'grows' : 'falls';
      const reason = `the likelihood rises without limit as the shape ${way}`;
      return { ...point, converged: false, iterations: iteration, reason };
    }
  }
  return { ...point, converged: false, iterations: 100, reason: 'the limit of iterations was reached' };
}

function lineSearch(
  target: Target,
  from: Point,
  value: number,
  step: Point,
): { point: Point; value: number } | null {
  for (let factor = 1; factor > 1e-12; factor /= 2) {
    const point = { b: from.b + factor * step.b, e: from.e + factor * step.e };
    const reached = target.value(point);
    if (reached > value) return { point, value: reached };
  }
  return null;
}

/** Newton step, with the Hessian shifted until it is negative definite; `gain` is what the quadratic form promises. */
function newtonStep(
  target: Target,
  [gb, ge]: [number, number],
  [hbb, hbe, hee]: [number, number, number],
): { step: Point; gain: number; definite: boolean } {
  if (!target.shapeMoves) {
    const bend = hee < 0 ? -hee : Math.abs(hee) + Math.abs(ge) + 1e-3;
    const e = limit(ge / bend, 5);
    return { step: { b: 0, e }, gain: 0.5 * ge * e, definite: hee < 0 };
  }
  // Largest eigenvalue of the Hessian.
  const largest = 0.5 * (hbb + hee) + Math.hypot(0.5 * (hbb - hee), hbe);
  const definite = hbb < 0 && hbb * hee - hbe * hbe > 0;
  const shift = definite ? 0 : largest + 1e-3 * Math.max(Math.abs(hbb), Math.abs(hee), 1e-3);
  const [a, c] = [shift - hbb, shift - hee];
  const determinant = a * c - hbe * hbe;
  const b = (c * gb + hbe * ge) / determinant;
  const e = (hbe * gb + a * ge) / determinant;
  const shrink = Math.min(1, 1.5 / Math.abs(b), 10 / Math.abs(e));
  return { step: { b: shrink * b, e: shrink * e }, gain: 0.5 * (gb * b + ge * e), definite };
}

function limit(x: number, most: number): number {
  return Math.max(-most, Math.min(most, x));
}

/** Best of many shapes, each with its best scale: the slow road that always finds a starting point. */
function searchShapes(target: Target, fixed: number | null): Point {
  const shapes = fixed === null ? Array.from({ length: 49 }, (_, i) => Math.log(0.01) + i * 0.4) : [fixed];
  let best: Point = { b: 0, e: 0 };
  let bestValue = Number.NEGATIVE_INFINITY;
  for (const b of shapes) {
    const e = bestScale(target, b);
    const value = target.value({ b, e });
    if (value > bestValue) {
      bestValue = value;
      best = { b, e };
    }
  }
  return best;
}

function bestScale(target: Target, b: number): number {
  const centre = startAt(target.rows, b).e;
  const width = 30 / Math.min(Math.exp(b), 30);
  return minimiseOnInterval((e) => -target.value({ b, e }), centre - width, centre + width).at;
}

/** log scale near the best for a shape: as if each failure happened at the middle of its interval. */
function startAt(rows: PreparedRows, b: number): Point {
  const shape = Math.exp(b);
  const { logAge, weight, exact, interval } = rows;
  let powers = 0;
  for (let i = 0; i < logAge.length; i++) powers += floatAt(weight, i) * Math.exp(shape * floatAt(logAge, i));
  let failures = 0;
  for (let i = 0; i < exact.count.length; i++) failures += floatAt(exact.count, i);
  for (let i = 0; i < interval.count.length; i++) {
    failures += floatAt(interval.count, i);
    const low = Math.exp(shape * floatAt(interval.logLower, i));
    powers += 0.5 * floatAt(interval.count, i) * (Math.exp(shape * floatAt(interval.logUpper, i)) - low);
  }
  const mean = Math.max(powers, 1e-300) / Math.max(failures, 1e-3);
  return { b, e: Math.log(rows.unit) + Math.log(mean) / shape };
}

/** Shape from the spread of log failure ages: 1.28 over their standard deviation (exact for complete samples on average). */
function startShape({ exact, interval }: PreparedRows): number {
  let [n, total, squares] = [0, 0, 0];
  const add = (count: number, log: number): void => {
    n += count;
    total += count * log;
    squares += count * log * log;
  };
  for (let i = 0; i < exact.count.length; i++) add(floatAt(exact.count, i), floatAt(exact.logAge, i));
  for (let i = 0; i < interval.count.length; i++) {
    const low = Math.exp(floatAt(interval.logLower, i));
    add(floatAt(interval.count, i), Math.log(0.5 * (low + Math.exp(floatAt(interval.logUpper, i)))));
  }
  const variance = squares / n - (total / n) ** 2;
  const shape = variance > 1e-14 ? 1.28 / Math.sqrt(variance) : 2;
  return Math.log(Math.min(Math.max(shape, 0.2), 1e5));
}

function targetOf(rows: PreparedRows, { fixedShape, prior }: MaximiseOptions): Target {
  const evaluate = evaluator(rows);
  const centre = Math.log(prior?.median ?? 1);
  const precision = prior ? 1 / prior.sdLog ** 2 : 0;
  return {
    rows,
    shapeMoves: fixedShape === undefined,
    value: ({ b, e }) => evaluate(Math.exp(b), Math.exp(e)) - 0.5 * precision * (b - centre) ** 2,
    slopes: ({ b, e }) => {
      const { gradient, hessian } = weibullDerivatives(rows, Math.exp(b), Math.exp(e));
      gradient[0] -= precision * (b - centre);
      hessian[0] -= precision;
      return { gradient, hessian };
    },
  };
}

function finish(target: Target, climbed: Climb): WeibullMaximum {
  const { b, e, converged, iterations, reason } = climbed;
  const shape = Math.exp(b);
  const scale = Math.exp(e);
  const [bb, be, ee] = target.slopes(climbed).hessian;
  const logLikelihood = evaluator(target.rows)(shape, scale);
  return { shape, scale, logLikelihood, information: [-bb, -be, -ee], converged, iterations, reason };
}
