/**
 * The error of log age in three laws: smallest value (Weibull and exponential life), normal (lognormal life) and logistic
 * (log-logistic life), location 0 and scale 1. Everything as logarithms, exact in both tails (Lawless 2003 ch. 5 and 6 for the
 * formulas, from memory).
 */
import { LOG_SQRT_TWO_PI } from '../../../numeric/saddlePoint.js';
import { logNormalTail, normalCdf } from '../../../numeric/special.js';
import type { RegressionKind } from './types.js';

export interface StandardLaw {
  mean: number;
  logDensity(z: number): number;
  /** First and second derivative of the log density. */
  slope(z: number): number;
  bend(z: number): number;
  logSurvival(z: number): number;
  /** Log density, slope and bend at once into the first three places. */
  point(z: number, out: Float64Array): void;
  /** Log survival and its two derivatives at once. */
  tail(z: number, out: Float64Array): void;
  /** Density over survival, and its derivative. */
  hazard(z: number): number;
  hazardSlope(z: number): number;
  /** log chance of an error in (u, v]; u may be -Infinity. */
  logBetween(u: number, v: number): number;
}

/** The law of the error for a kind of life. */
export function standardLaw(kind: RegressionKind): StandardLaw {
  if (kind === 'lognormal') return normal;
  return kind === 'loglogistic' ? logistic : smallestValue;
}

/** Whether the error is that of log age under a Weibull or exponential law. */
export function isSmallestValue(law: StandardLaw): boolean {
  return law === smallestValue;
}

const smallestValue: StandardLaw = {
  // Euler's constant.
  mean: -0.5772156649015329,
  logDensity: (z) => z - Math.exp(z),
  slope: (z) => 1 - Math.exp(z),
  bend: (z) => -Math.exp(z),
  logSurvival: (z) => -Math.exp(z),
  point: (z, out) => {
    const exp = Math.exp(z);
    out[0] = z - exp;
    out[1] = 1 - exp;
    out[2] = -exp;
  },
  tail: (z, out) => {
    const exp = Math.exp(z);
    out[0] = -exp;
    out[1] = -exp;
    out[2] = -exp;
  },
  hazard: Math.exp,
  hazardSlope: Math.exp,
  logBetween: (u, v) => {
    // log of the cumulative hazard gained between u and v.
    const gain = v - u > 700 ? v : u + Math.log(Math.expm1(v - u));
    return -Math.exp(u) + (gain < -30 ? gain : Math.log(-Math.expm1(-Math.exp(gain))));
  },
};

const logistic: StandardLaw = {
  mean: 0,
  logDensity: (z) => z - 2 * softPlus(z),
  slope: (z) => -Math.tanh(0.5 * z),
  bend: (z) => -2 * failed(z) * failed(-z),
  logSurvival: (z) => -softPlus(z),
  point: (z, out) => {
    out[0] = logistic.logDensity(z);
    out[1] = logistic.slope(z);
    out[2] = logistic.bend(z);
  },
  tail: (z, out) => {
    out[0] = -softPlus(z);
    out[1] = -failed(z);
    out[2] = -failed(z) * failed(-z);
  },
  hazard: failed,
  hazardSlope: (z) => failed(z) * failed(-z),
  logBetween: (u, v) => -softPlus(u) - softPlus(-v) + Math.log(-Math.expm1(u - v)),
};

const normal: StandardLaw = {
  mean: 0,
  logDensity: normalLogDensity,
  slope: (z) => -z,
  bend: () => -1,
  logSurvival: logNormalTail,
  point: (z, out) => {
    out[0] = normalLogDensity(z);
    out[1] = -z;
    out[2] = -1;
  },
  tail: (z, out) => {
    const log = logNormalTail(z);
    const hazard = Math.exp(normalLogDensity(z) - log);
    out[0] = log;
    out[1] = -hazard;
    out[2] = -hazard * (hazard - z);
  },
  hazard: normalHazard,
  hazardSlope: (z) => {
    const hazard = normalHazard(z);
    return hazard * (hazard - z);
  },
  logBetween: normalBetween,
};

/** log(1 + e^z). */
function softPlus(z: number): number {
  return z > 0 ? z + Math.log1p(Math.exp(-z)) : Math.log1p(Math.exp(z));
}

function failed(z: number): number {
  return 1 / (1 + Math.exp(-z));
}

function normalLogDensity(z: number): number {
  return -0.5 * z * z - LOG_SQRT_TWO_PI;
}

function normalHazard(z: number): number {
  return Math.exp(normalLogDensity(z) - logNormalTail(z));
}

function normalBetween(u: number, v: number): number {
  if (v <= 0) return upperBetween(-v, -u);
  if (u >= 0) return upperBetween(u, v);
  if (v - u < 1e-3) return narrow(u, v);
  return Math.log(normalCdf(v) - normalCdf(u));
}

/** Both ends at or above 0, where the tail has all its digits. */
function upperBetween(u: number, v: number): number {
  if ((v - u) * (1 + u) < 3e-3) return narrow(u, v);
  const tail = logNormalTail(u);
  return tail + Math.log(-Math.expm1(logNormalTail(v) - tail));
}

/** Midpoint rule with its first correction: a difference of two nearly equal chances has no digits left. */
function narrow(u: number, v: number): number {
  const [middle, width] = [0.5 * (u + v), v - u];
  return (
    normalLogDensity(middle) + Math.log(width) + Math.log1p(((middle * middle - 1) * width * width) / 24)
  );
}
