/** Lognormal wear-out beside a known part of faulty fittings: the second opinion on a Weibull fitted beside the same part. */
import { UsageError } from '../../errors.js';
import { at, floatAt } from '../../numeric/columns.js';
import { type MinimumOfMany, minimiseSimplex, minimiseSmooth } from '../../numeric/minimise.js';
import { LOG_SQRT_TWO_PI } from '../../numeric/saddlePoint.js';
import { logNormalTail, normalQuantile } from '../../numeric/special.js';
import type { FittingFault } from '../model.js';
import type { LifeSample } from '../sampleTypes.js';
import { whyShapeNotEstimable } from './estimable.js';
import { maximiseWeibull } from './weibull/maximiseWeibull.js';
import type { PreparedRows } from './weibull/prepareRows.js';
import { prepareRows } from './weibull/prepareRows.js';

/** Survival is [1 - share Fe(t)] times that of a lognormal with mean `mu` and standard deviation `sigma` of log life. */
export interface LognormalBesideFaults {
  mu: number;
  sigma: number;
  /** Comparable with that of a Weibull fitted to the same sample beside the same part. */
  logLikelihood: number;
  converged: boolean;
  reason: string;
}

/** Steps of the differences on location over spread and log spread; how near to the best log-likelihood it must be. */
const STEPS = [3e-3, 3e-3];
const FINE_STEPS = [1e-4, 1e-4];
const WITHIN = 1e-7;
/** A start at a third of the spread. */
const NARROW = [0, -Math.log(3)];
const EULER = 0.5772156649015329;
/** A spread of log life beyond these is no best fit: all failures at one age, or hardly any wear. */
const SPREADS = [1e-7, 50] as const;

/**
 * Maximum likelihood of S(t) = [1 - p Fe(t)] Sw(t) with Sw lognormal, p and Fe held (Chan & Meeker 1999 for the form, from memory):
 * early leaks are explained by the same part as under the Weibull, so that they do not pull at the spread of the lognormal. All kinds of
 * rows, ends of unknown cause too. `converged` is false where no spread fits best.
 * @param fault known part; none by default
 * @throws UsageError where no shape can be estimated from the sample
 */
export function fitLognormalBesideFaults(sample: LifeSample, fault?: FittingFault): LognormalBesideFaults {
  const why = whyShapeNotEstimable(sample);
  if (why !== null)
    throw new UsageError('fitLognormalBesideFaults', `the spread cannot be estimated: ${why}.`);
  const rows = prepareRows(sample, fault);
  return maximiseLognormal(rows, lognormalLike(maximiseWeibull(rows)));
}

/** Precondition: an estimable shape. @param start log of the location in days, and the spread */
export function maximiseLognormal(
  rows: PreparedRows,
  start: { mu: number; sigma: number },
): LognormalBesideFaults {
  const logUnit = Math.log(rows.unit);
  const likelihood = lognormalLikelihood(rows);
  const z = anchorOf(rows);
  // A low quantile counts in spreads of the start, so that differences suit narrow laws and wide ones, and heavy censoring.
  const place = (x: readonly number[]): [number, number] => {
    const sigma = start.sigma * Math.exp(at(x, 1));
    return [start.mu - logUnit + start.sigma * (z + at(x, 0)) - z * sigma, sigma];
  };
  const cost = (x: readonly number[]): number => {
    const value = -likelihood(...place(x));
    return Number.isNaN(value) ? Infinity : value;
  };
  // An early leak may be the fault's or wear-out's, so there may be two tops: a narrow law and a wide one.
  const top = [[0, 0], NARROW]
    .map((from) => topFrom(cost, from))
    .reduce((one, other) => (other.value < one.value ? other : one));
  const best = sharpened(cost, top);
  const [location, sigma] = place(best.at);
  const inside = sigma > SPREADS[0] && sigma < SPREADS[1] && Number.isFinite(best.value);
  return {
    mu: location + logUnit,
    sigma,
    logLikelihood: -best.value,
    converged: inside && best.converged,
    reason: inside ? best.reason : 'no spread of log life fits best',
  };
}

/** Differences over long steps find a top from afar, and miss it by the square of a step; short ones end at it. */
function sharpened(cost: (x: readonly number[]) => number, top: MinimumOfMany): MinimumOfMany {
  const sharp = minimiseSmooth(cost, top.at, FINE_STEPS, WITHIN);
  return sharp.value <= top.value ? { ...sharp, converged: top.converged, reason: top.reason } : top;
}

/** Newton steps where they lead to a top, and a simplex with such steps from its end where they do not. */
function topFrom(cost: (x: readonly number[]) => number, from: readonly number[]): MinimumOfMany {
  const straight = minimiseSmooth(cost, from, STEPS, WITHIN);
  if (straight.converged) return straight;
  const near = minimiseSimplex(cost, straight.at, { step: 0.3, tolerance: 1e-7 });
  const smooth = minimiseSmooth(cost, near.at, STEPS, WITHIN);
  return smooth.value <= near.value
    ? smooth
    : { ...near, converged: smooth.converged, reason: smooth.reason };
}

/** The lognormal with the mean and spread of log life of a Weibull. */
export function lognormalLike({ shape, scale }: { shape: number; scale: number }): {
  mu: number;
  sigma: number;
} {
  return { mu: Math.log(scale) - EULER / shape, sigma: Math.PI / Math.sqrt(6) / shape };
}

/** How many spreads below the mean the share lies that has failed: there, not at the mean, the lives tell where the law is. */
function anchorOf({ weight, exact, interval }: PreparedRows): number {
  const total = (column: Float64Array): number => column.reduce((sum, count) => sum + Math.abs(count), 0);
  const failed = total(exact.count) + total(interval.count);
  const share = failed / (failed + total(weight));
  return normalQuantile(Math.min(0.5, Math.max(1e-9, share)));
}

/**
 * By location (of log age in the unit of the rows) and spread, with H = -log of the normal tail (rows as in weibullLikelihood.ts):
 *
 *     exact      -H(t) + log[ early + q h(t) t ]      interval   -H(a) + log[ early + q (1 - exp(H(a) - H(u))) ]
 */
function lognormalLikelihood(rows: PreparedRows): (location: number, sigma: number) => number {
  const { logAge, weight, constant, exact, interval } = rows;
  return (location, sigma) => {
    const hazard = (log: number): number => -logNormalTail((log - location) / sigma);
    let total = constant;
    for (let k = 0; k < logAge.length; k++) total -= floatAt(weight, k) * hazard(floatAt(logAge, k));
    for (let i = 0; i < exact.count.length; i++) {
      const z = (floatAt(exact.logAge, i) - location) / sigma;
      const logWear =
        Math.log(floatAt(exact.q, i)) - 0.5 * z * z - LOG_SQRT_TWO_PI - Math.log(sigma) - logNormalTail(z);
      total += floatAt(exact.count, i) * logOfSum(floatAt(exact.early, i), logWear);
    }
    for (let i = 0; i < interval.count.length; i++) {
      const low = floatAt(interval.logLower, i);
      const rise =
        hazard(floatAt(interval.logUpper, i)) - (low === Number.NEGATIVE_INFINITY ? 0 : hazard(low));
      const logWear = Math.log(floatAt(interval.q, i)) + logFailed(rise);
      total += floatAt(interval.count, i) * logOfSum(floatAt(interval.early, i), logWear);
    }
    return total;
  };
}

/** log(1 - exp(-rise)). */
function logFailed(rise: number): number {
  return rise > 0.7 ? Math.log1p(-Math.exp(-rise)) : Math.log(-Math.expm1(-rise));
}

/** log(early + exp(logWear)), which alone keeps its digits where nothing is early. */
function logOfSum(early: number, logWear: number): number {
  return early === 0 ? logWear : Math.log(early + Math.exp(logWear));
}
