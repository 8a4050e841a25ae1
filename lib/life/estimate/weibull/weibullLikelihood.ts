/**
 * Likelihood of Weibull lives of every kind of row, METHODS 1.2:
 *
 *     log { [S(max(lower, entry)) - S(upper)] / S(entry) }      exact failure: log { f(t) / S(entry) }
 *
 * With H = (t / scale)^shape and q(t) = 1 - share Fe(t) for the fitting faults (q = 1 without), a = max(lower, entry):
 *
 *     exact      -H(t) + H(entry) + log[ share fe(t) + q(t) h(t) ]
 *     censored   -H(a) + H(entry) + log q(a)
 *     interval   -H(a) + H(entry) + log[ q(a) - q(u) + q(u) (1 - exp(H(a) - H(u))) ]      (all less log q(entry))
 *
 * A row of unknown cause has other causes of ending inside the logarithm: h(t) + their hazard; or u reached only by 1 - m, m their
 * chance, so that q(u) turns into q(u) (1 - m) and the rest of it counts with the early leaks (prepareRows.ts).
 *
 * so all the H outside logarithms add up to one weighted sum of powers per shape, and only failures cost per scale.
 */
import { floatAt } from '../../../numeric/columns.js';
import { lawOf } from '../../distribution/functions.js';
import type { FittingFault, LifeModel } from '../../model.js';
import { otherHazardOf } from '../../sample.js';
import type { LifeSample } from '../../sampleTypes.js';
import { type ExactRows, type IntervalRows, type PreparedRows, prepareRows } from './prepareRows.js';

export { largestAge, type PreparedRows, prepareRows } from './prepareRows.js';

/** Log likelihood of a sample under any life model; -Infinity where a row is impossible. The readable form. */
export function logLikelihood(sample: LifeSample, model: LifeModel): number {
  let total = 0;
  for (let i = 0; i < sample.lower.length; i++)
    total += floatAt(sample.count, i) * rowLogLikelihood(sample, i, model);
  return total;
}

/** Log likelihood of one life of row i. */
export function rowLogLikelihood(sample: LifeSample, i: number, model: LifeModel): number {
  const law = lawOf(model);
  const entry = floatAt(sample.entry, i);
  const lower = Math.max(floatAt(sample.lower, i), entry);
  const upper = floatAt(sample.upper, i);
  // At age 0 all are sound: what a law has below counts as failed by any age above (smallest values only have such a share).
  const reached = (t: number): number => (t === 0 ? 0 : law.cumulativeHazard(model, t));
  const before = reached(lower) - reached(entry);
  if (upper === Infinity) return -before;
  const other = otherHazardOf(sample, i);
  if (upper === lower) {
    const logHazard = law.logHazard(model, upper);
    return (other === 0 ? logHazard : Math.log(Math.exp(logHazard) + other)) - before;
  }
  const within = reached(upper) - reached(lower);
  return logOneMinusExp(within + other) - before;
}

/** Log likelihood of a sample under a Weibull model, fitting faults included. */
export function weibullLogLikelihood(
  sample: LifeSample,
  model: { shape: number; scale: number; fault?: FittingFault },
): number {
  return prepareWeibull(sample, model.fault)(model.shape, model.scale);
}

/**
 * Prepares a sample for many evaluations: merges identical rows and takes logs once. The function returned keeps the
 * powers of the last shape, so on a grid run through the scales inside: one scale then costs one logarithm per
 * distinct failure interval, and nothing at all per censored row.
 */
export function prepareWeibull(
  sample: LifeSample,
  fault?: FittingFault,
): (shape: number, scale: number) => number {
  return evaluator(prepareRows(sample, fault));
}

/** The fast likelihood over prepared rows. */
export function evaluator(rows: PreparedRows): (shape: number, scale: number) => number {
  const { exact, interval, mixed } = rows;
  const logWidth = new Float64Array(interval.count.length);
  const logExact = new Float64Array(exact.count.length);
  const exactTotals = totals(exact);
  let lastShape = Number.NaN;
  let powers = 0;
  return (shape, scale) => {
    if (!(shape > 0 && scale > 0)) return Number.NEGATIVE_INFINITY;
    if (shape !== lastShape) {
      powers = sumOfPowers(rows, shape);
      logWidths(interval, shape, logWidth);
      for (let i = 0; i < logExact.length; i++) logExact[i] = shape * floatAt(exact.logAge, i);
      lastShape = shape;
    }
    const shift = shape * (Math.log(rows.unit) - Math.log(scale));
    let total = rows.constant - sumOfHazards(rows, shape, shift, powers);
    if (mixed) {
      total += exactMixed(exact, logExact, shape, shift) + intervalMixed(interval, logWidth, shift);
    } else {
      total += exactTotals.count * (Math.log(shape) + shift) + shape * exactTotals.logAge;
      total += intervalPlain(interval, logWidth, shift);
    }
    return Number.isNaN(total) ? Number.NEGATIVE_INFINITY : total;
  };
}

/** Sum of weight H: the powers times exp(shift), or term by term where one of the two has left the numbers. */
function sumOfHazards(rows: PreparedRows, shape: number, shift: number, powers: number): number {
  const factor = Math.exp(shift);
  if (Math.abs(powers) > 1e-290 && factor < Infinity) return factor * powers;
  const { logAge, weight } = rows;
  let total = 0;
  for (let i = 0; i < logAge.length; i++) {
    total += floatAt(weight, i) * Math.exp(shape * floatAt(logAge, i) + shift);
  }
  return total;
}

/** Sum of weight (age / unit)^shape. */
export function sumOfPowers({ logAge, weight }: PreparedRows, shape: number): number {
  let total = 0;
  for (let i = 0; i < logAge.length; i++) total += floatAt(weight, i) * Math.exp(shape * floatAt(logAge, i));
  return total;
}

/** log[(u / unit)^shape - (a / unit)^shape] of every interval. */
function logWidths(rows: IntervalRows, shape: number, out: Float64Array): void {
  for (let i = 0; i < out.length; i++) {
    const upper = shape * floatAt(rows.logUpper, i);
    out[i] = upper + logOneMinusExp(upper - shape * floatAt(rows.logLower, i));
  }
}

function intervalPlain(rows: IntervalRows, logWidth: Float64Array, shift: number): number {
  let total = 0;
  for (let i = 0; i < logWidth.length; i++) {
    total += floatAt(rows.count, i) * logOneMinusExpOfExp(floatAt(logWidth, i) + shift);
  }
  return total;
}

function intervalMixed(rows: IntervalRows, logWidth: Float64Array, shift: number): number {
  let total = 0;
  for (let i = 0; i < logWidth.length; i++) {
    const wear = -floatAt(rows.q, i) * Math.expm1(-Math.exp(floatAt(logWidth, i) + shift));
    total += floatAt(rows.count, i) * Math.log(floatAt(rows.early, i) + wear);
  }
  return total;
}

/** The density of an exact row times its age; the age itself sits in the constant. */
function exactMixed(rows: ExactRows, logPower: Float64Array, shape: number, shift: number): number {
  let total = 0;
  for (let i = 0; i < logPower.length; i++) {
    const wear = floatAt(rows.q, i) * shape * Math.exp(floatAt(logPower, i) + shift);
    total += floatAt(rows.count, i) * Math.log(floatAt(rows.early, i) + wear);
  }
  return total;
}

function totals(exact: ExactRows): { count: number; logAge: number } {
  let count = 0;
  let logAge = 0;
  for (let i = 0; i < exact.count.length; i++) {
    count += floatAt(exact.count, i);
    logAge += floatAt(exact.count, i) * floatAt(exact.logAge, i);
  }
  return { count, logAge };
}

/** log(1 - exp(-x)), x >= 0. */
export function logOneMinusExp(x: number): number {
  return x < Math.LN2 ? Math.log(-Math.expm1(-x)) : Math.log1p(-Math.exp(-x));
}

/** log(1 - exp(-exp(y))): for a hazard too small for a number this is y itself. */
function logOneMinusExpOfExp(y: number): number {
  if (y < -18) return y - 0.5 * Math.exp(y);
  return logOneMinusExp(Math.exp(y));
}
