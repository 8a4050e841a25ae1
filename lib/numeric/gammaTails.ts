/**
 * Logs of the regularised incomplete gamma functions, where the functions themselves are too small for a number, and their
 * inverses. The argument x is given as v = log(x / a), so that nothing is lost where a is large and x near it.
 * Below a = 10 000 by the power series and the continued fraction, from there on by Temme's uniform expansion with three terms
 * (Temme 1979; DLMF 8.12.3 to 8.12.11, from memory), which runs into the normal distribution as a grows.
 */
import { fraction, incompleteGamma, series } from './incompleteGamma.js';
import { findRootBySlope } from './roots.js';
import { LOG_SQRT_TWO_PI, stirlingError } from './saddlePoint.js';
import { logNormalTail } from './special.js';

const LARGE = 1e4;
/** From here up the continued fraction is quick for every a, and the terms of the expansion begin to cancel. */
const FAR = 1.5;
const TINY = 1e-290;
/** Taylor coefficients in eta of the first three terms of Temme's expansion. */
const FIRST = [-1 / 3, 1 / 12, -2 / 135, 1 / 864, 1 / 2835, -139 / 777600, 1 / 25515, -571 / 261273600];
const SECOND = [-1 / 540, -1 / 288, 1 / 378, -77 / 77760, 1 / 4860];
const THIRD = [25 / 6048, -139 / 51840, 1 / 1296];

/** (exp(v) - 1 - v) / v², 1/2 at 0. */
function halfSquare(v: number): number {
  if (Math.abs(v) > 0.5) return (Math.expm1(v) - v) / (v * v);
  let term = 0.5;
  let total = 0.5;
  for (let n = 3; n < 25; n++) {
    term *= v / n;
    total += term;
  }
  return total;
}

/** log of x^a exp(-x) / Gamma(a), the density of log x, at x = a exp(v); a > 0. */
export function logGammaDensity(a: number, v: number): number {
  const exponent = Math.abs(v) > 0.5 ? a * (Math.expm1(v) - v) : a * v * v * halfSquare(v);
  return 0.5 * Math.log(a) - LOG_SQRT_TWO_PI - stirlingError(a) - exponent;
}

/** log P(a, x) at x = a exp(v), a > 0, v from -Infinity to Infinity. */
export function logGammaBelow(a: number, v: number): number {
  if (v === -Infinity || v === Infinity) return Math.min(v, 0);
  if (a >= LARGE) return byNormal(a, v, -1);
  const x = a * Math.exp(v);
  if (x > a + 1) return Math.log1p(-Math.exp(logAbove(a, v, x)));
  const below = logBelow(a, v, x);
  // An x too small for a number leaves the log of x, which is enough.
  return below < -Math.LN2 || x < TINY ? below : Math.log1p(-incompleteGamma(a, x, true));
}

/** log Q(a, x) = log[1 - P(a, x)] at x = a exp(v), a > 0, v from -Infinity to Infinity. */
export function logGammaAbove(a: number, v: number): number {
  if (v === -Infinity || v === Infinity) return v < 0 ? 0 : -v;
  if (a >= LARGE && v < FAR) return byNormal(a, v, 1);
  const x = a * Math.exp(v);
  if (x > a + 1) return logAbove(a, v, x);
  const below = logBelow(a, v, x);
  if (below < -Math.LN2) return Math.log1p(-Math.exp(below));
  return Math.log(x < TINY ? -Math.expm1(below) : incompleteGamma(a, x, true));
}

/** The v at which -log Q(a, a exp(v)), or with `below` -log P, reaches a value above 0. */
export function gammaRatioAt(a: number, value: number, below: boolean): number {
  const sign = below ? -1 : 1;
  const log = below ? logGammaBelow : logGammaAbove;
  const excess = (u: number, out: { slope: number }): number => {
    const tail = log(a, sign * u);
    out.slope = Math.exp(logGammaDensity(a, sign * u) - tail) / -tail;
    return Math.log(-tail / value);
  };
  const out = { slope: 1 };
  const unit = 1 / Math.sqrt(a);
  let [low, high] = [0, 0];
  for (let step = unit; excess(low, out) > 0 && step < 1e300; step *= 2) [low, high] = [low - step, low];
  for (let step = unit; excess(high, out) < 0 && step < 1e300; step *= 2) [low, high] = [high, high + step];
  return sign * findRootBySlope(excess, low, high, { absolute: 1e-16 * Math.min(1, unit) }).root;
}

function logBelow(a: number, v: number, x: number): number {
  return logGammaDensity(a, v) - Math.log(a) + Math.log(series(a, x));
}

function logAbove(a: number, v: number, x: number): number {
  return x === Infinity ? -Infinity : logGammaDensity(a, v) - Math.log(fraction(a, x));
}

/** log Q (side 1) or log P (side -1) for large a: a normal tail and what it lacks. */
function byNormal(a: number, v: number, side: 1 | -1): number {
  const eta = v * Math.sqrt(2 * halfSquare(v));
  if (eta === Infinity) return side === 1 ? -Infinity : 0;
  const z = side * Math.sqrt(a) * eta;
  const mu = Math.expm1(v);
  // Far out the third term is nothing beside the log of the tail.
  const third = Math.abs(eta) < 0.7 ? polynomial(THIRD, eta) : 0;
  const lacking = side * (firstTerm(eta, mu) + (secondTerm(eta, mu) + third / a) / a);
  return logNormalTail(z) + Math.log1p(lacking / Math.sqrt(a) / tailOverDensity(z));
}

function firstTerm(eta: number, mu: number): number {
  return Math.abs(eta) < 0.2 ? polynomial(FIRST, eta) : 1 / mu - 1 / eta;
}

function secondTerm(eta: number, mu: number): number {
  if (Math.abs(eta) < 0.2) return polynomial(SECOND, eta);
  return eta ** -3 - mu ** -3 - mu ** -2 - 1 / (12 * mu);
}

function polynomial(coefficients: readonly number[], x: number): number {
  return coefficients.reduceRight((total, c) => total * x + c, 0);
}

/** Standard normal chance above z over the density at z. */
function tailOverDensity(z: number): number {
  if (z < 30) return Math.exp(logNormalTail(z) + 0.5 * z * z + LOG_SQRT_TWO_PI);
  const s = 1 / (z * z);
  return (1 - s * (1 - 3 * s * (1 - 5 * s * (1 - 7 * s)))) / z;
}
