/**
 * The family in which log life is a location plus a spread times the log of a gamma variable (Prentice 1974; Stacy 1962, both
 * from memory). With w = (log t - mu) / sigma and a = 1 / q², u = a exp(q w) is a gamma variable of shape a:
 * survival is Q(a, u) for q above 0, P(a, u) below, and that of the normal at w for q = 0. All functions stay smooth as q
 * goes to 0, because they know u by the log of u / a only.
 */
import { gammaRatioAt, logGammaAbove, logGammaBelow, logGammaDensity } from '../../numeric/gammaTails.js';
import { integrate } from '../../numeric/quadrature.js';
import type { RandomStream } from '../../numeric/random.js';
import { LOG_SQRT_TWO_PI, stirlingError } from '../../numeric/saddlePoint.js';
import { logNormalTail, normalQuantile } from '../../numeric/special.js';
import { remainingByHazard } from './byHazard.js';
import type { LifeLaw } from './law.js';

/** Nearer to 0 than this, q makes no difference that a number could show. */
const NO_SKEW = 1e-13;

/** What places and shapes a law: life is `unit` times exp(sigma w). */
export interface GammaForm {
  unit: number;
  sigma: number;
  q: number;
}

/** The law of a model of this family, without its check. */
export function gammaFamily<Model>(
  check: (model: Model) => void,
  formOf: (model: Model) => GammaForm,
): LifeLaw<Model> {
  const law: LifeLaw<Model> = {
    check,
    cumulativeHazard: (model, t) => hazardAt(formOf(model), t),
    logHazard: (model, t) => logHazardAt(formOf(model), t),
    ageAtHazard: (model, hazard) => ageAt(formOf(model), hazard),
    meanUpTo: (model, t) => meanUpTo(formOf(model), t),
    remaining: (model, t) => remaining(law, model, formOf(model), t),
    variance: (model) => variance(formOf(model)),
    draw: (model, random: RandomStream) => ageAt(formOf(model), -Math.log(random.uniform())),
  };
  return law;
}

/** -log of the chance that the standard variable of skew q is above w. */
function standardHazard(q: number, w: number): number {
  if (Math.abs(q) < NO_SKEW) return -logNormalTail(w);
  const a = 1 / (q * q);
  return q > 0 ? -logGammaAbove(a, q * w) : -logGammaBelow(a, q * w);
}

function placeOf({ unit, sigma }: GammaForm, t: number): number {
  return Math.log(t / unit) / sigma;
}

function hazardAt(form: GammaForm, t: number): number {
  return standardHazard(form.q, placeOf(form, t)) + 0;
}

function logHazardAt(form: GammaForm, t: number): number {
  if (t === 0) return logHazardAtBirth(form);
  const w = placeOf(form, t);
  const { q } = form;
  const reached = standardHazard(q, w);
  if (reached === Infinity) return logHazardAtLast(form, t);
  const logDensity =
    Math.abs(q) < NO_SKEW
      ? -0.5 * w * w - LOG_SQRT_TWO_PI
      : logGammaDensity(1 / (q * q), q * w) + Math.log(Math.abs(q));
  return logDensity - Math.log(form.sigma) - Math.log(t) + reached;
}

/** The density goes as t^(1 / (sigma q) - 1) at 0: for q at or below 0 faster than any power. */
function logHazardAtBirth(form: GammaForm): number {
  const { unit, sigma, q } = form;
  const power = q < NO_SKEW ? Infinity : 1 / (sigma * q);
  if (power !== 1) return power > 1 ? -Infinity : Infinity;
  const a = 1 / (q * q);
  return Math.log(q / sigma) - LOG_SQRT_TWO_PI - stirlingError(a) + 0.5 * Math.log(a) + a - Math.log(unit);
}

/** Where none is left the failure rate goes as t^(q / sigma - 1), and for q at or below 0 to nothing. */
function logHazardAtLast({ unit, sigma, q }: GammaForm, t: number): number {
  if (q < NO_SKEW) return Number.NEGATIVE_INFINITY;
  const power = q / sigma;
  return (power === 1 ? 0 : (power - 1) * Math.log(t)) - power * Math.log(unit) - Math.log(q * sigma);
}

function ageAt({ unit, sigma, q }: GammaForm, hazard: number): number {
  if (hazard === 0 || hazard === Infinity) return hazard;
  if (Math.abs(q) >= NO_SKEW) {
    return unit * Math.exp((sigma * gammaRatioAt(1 / (q * q), hazard, q < 0)) / q);
  }
  const w = hazard < 0.7 ? normalQuantile(-Math.expm1(-hazard)) : -normalQuantile(Math.exp(-hazard));
  return unit * Math.exp(sigma * w);
}

/** log of the mean of (life / unit)^r; Infinity where there is none. */
function logMoment({ sigma, q }: GammaForm, r: number): number {
  const x = r * sigma * q;
  if (!(x > -1)) return Infinity;
  const bend = (r * sigma) ** 2 * logSquare(x);
  if (Math.abs(q) < NO_SKEW) return bend;
  const a = 1 / (q * q);
  return bend - 0.5 * Math.log1p(x) + stirlingError(a * (1 + x)) - stirlingError(a);
}

/** [(1 + x) log(1 + x) - x] / x², 1/2 at 0. */
function logSquare(x: number): number {
  if (Math.abs(x) > 0.1) return ((1 + x) * Math.log1p(x) - x) / (x * x);
  let power = 1;
  let total = 0;
  for (let n = 0; n < 18; n++) {
    total += power / ((n + 1) * (n + 2));
    power *= -x;
  }
  return total;
}

/** The mean's share of lives up to t is again of this family, with a (1 + sigma q) for a. */
function shifted(form: GammaForm, t: number): { q: number; w: number } {
  const { sigma, q } = form;
  const w = placeOf(form, t);
  if (Math.abs(q) < NO_SKEW) return { q, w: w - sigma };
  const grown = Math.sqrt(1 + sigma * q);
  // log(u / a) falls by log(1 + sigma q); in units of the new q.
  return { q: q / grown, w: (w - Math.log1p(sigma * q) / q) * grown };
}

function meanUpTo(form: GammaForm, t: number): number {
  const mean = form.unit * Math.exp(logMoment(form, 1));
  if (t === Infinity || t === 0) return t === 0 ? 0 : mean;
  if (mean === Infinity) return meanUpToByLogAge(form, t);
  const { q, w } = shifted(form, t);
  return -mean * Math.expm1(-standardHazard(q, w)) + t * Math.exp(-hazardAt(form, t));
}

/** Where no mean exists, the mean life as far as t still does: in log age, where the integrand is smooth. */
function meanUpToByLogAge(form: GammaForm, t: number): number {
  const inLogAge = (x: number): number => Math.exp(x - hazardAt(form, Math.exp(x)));
  const high = Math.log(t);
  const points = [1e-6, 0.01, 0.5, 2, 10, 40].map((hazard) => Math.log(ageAt(form, hazard)));
  return integrate(inLogAge, high - 50, high, { points, relative: 1e-12 }).value;
}

/** By the share of the mean beyond t, or by quadrature where that is nearly t times survival. */
function remaining<Model>(law: LifeLaw<Model>, model: Model, form: GammaForm, t: number): number {
  const logMean = Math.log(form.unit) + logMoment(form, 1);
  if (t === 0 || logMean === Infinity) return Math.exp(logMean);
  const { q, w } = shifted(form, t);
  const left = Math.exp(logMean + hazardAt(form, t) - standardHazard(q, w)) - t;
  return left > 0.01 * t ? left : remainingByHazard(law, model, t);
}

function variance(form: GammaForm): number {
  const [first, second] = [logMoment(form, 1), logMoment(form, 2)];
  if (second === Infinity) return Infinity;
  return (form.unit * Math.exp(first)) ** 2 * Math.expm1(second - 2 * first);
}
