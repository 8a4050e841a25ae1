/** Weibull lives, with or without the share of faulty fittings: S(t) = [1 - share Fe(t)] exp(-(t / scale)^shape). */
import { UsageError } from '../../errors.js';
import { integrate } from '../../numeric/quadrature.js';
import { findRootBySlope } from '../../numeric/roots.js';
import { gammaP, logGamma } from '../../numeric/special.js';
import type { FittingFault, WeibullModel } from '../model.js';
import { remainingByHazard, varianceByHazard } from './byHazard.js';
import type { LifeLaw } from './law.js';

interface ShapeScale {
  shape: number;
  scale: number;
}

export const weibullLaw: LifeLaw<WeibullModel> = {
  check(model) {
    requireShapeScale('weibull', model);
    if (model.fault === undefined) return;
    requireShapeScale('weibull fault', model.fault);
    const { share } = model.fault;
    if (!(share >= 0 && share <= 1))
      throw new UsageError('weibull fault', 'share must be from 0 to 1.', share);
  },

  cumulativeHazard(model, t) {
    const wear = power(model, t);
    return model.fault === undefined ? wear : wear + faultHazard(model.fault, t);
  },

  logHazard(model, t) {
    const wear = logPowerRate(model, t);
    if (model.fault === undefined || model.fault.share === 0) return wear;
    // Rate of the mixed part: share fe / (1 - share Fe).
    const early =
      Math.log(model.fault.share) +
      logPowerRate(model.fault, t) -
      power(model.fault, t) +
      faultHazard(model.fault, t);
    return logSum(wear, early);
  },

  ageAtHazard(model, hazard) {
    const wear = inversePower(model, hazard);
    if (model.fault === undefined || hazard === 0 || hazard === Infinity) return wear;
    const { fault } = model;
    // One of the two parts carries half of the hazard or more, and neither carries more than all of it.
    const high = Math.min(wear, inverseFault(fault, hazard));
    const low = Math.min(inversePower(model, hazard / 2), inverseFault(fault, hazard / 2));
    // On two log scales the hazard is nearly a straight line, which suits Newton's method.
    const excess = (logAge: number, out: { slope: number }): number => {
      const t = Math.exp(logAge);
      const wearPart = power(model, t);
      const faultPower = power(fault, t);
      const lost = fault.share * Math.expm1(-faultPower);
      const reached = wearPart - Math.log1p(lost);
      const early = (fault.share * fault.shape * faultPower * Math.exp(-faultPower)) / (1 + lost);
      out.slope = (model.shape * wearPart + early) / reached;
      return Math.log(reached / hazard);
    };
    const margin = 1e-12;
    const { root, converged } = findRootBySlope(excess, Math.log(low) - margin, Math.log(high) + margin, {
      absolute: 1e-15,
    });
    return converged ? Math.exp(root) : high;
  },

  meanUpTo(model, t) {
    const { fault, ...wear } = model;
    const whole = meanUpToPlain(wear, t);
    if (fault === undefined || fault.share === 0) return whole;
    const both = (x: number): number => Math.exp(-power(fault, x) - power(wear, x));
    const end = Math.min(t, inversePower(fault, 745), inversePower(wear, 745));
    const points = [1e-6, 1e-3, 0.1, 1, 5, 40].flatMap((h) => [
      inversePower(fault, h),
      inversePower(wear, h),
    ]);
    const early = integrate(both, 0, end, { points, relative: 1e-11, absolute: 1e-14 * whole }).value;
    return (1 - fault.share) * whole + fault.share * early;
  },

  remaining(model, t) {
    if (t === 0) return weibullLaw.meanUpTo(model, Infinity);
    return remainingByHazard(weibullLaw, model, t);
  },

  variance(model) {
    if (model.fault !== undefined || model.shape > 100) return varianceByHazard(weibullLaw, model);
    const [first, second] = [logGamma(1 + 1 / model.shape), logGamma(1 + 2 / model.shape)];
    return model.scale ** 2 * Math.exp(2 * first) * Math.expm1(second - 2 * first);
  },

  draw(model, random) {
    const wear = inversePower(model, -Math.log(random.uniform()));
    if (model.fault === undefined) return wear;
    const faulty = random.uniform() < model.fault.share;
    return faulty ? Math.min(wear, inversePower(model.fault, -Math.log(random.uniform()))) : wear;
  },
};

/** (t / scale)^shape. */
function power({ shape, scale }: ShapeScale, t: number): number {
  return (t / scale) ** shape;
}

function inversePower({ shape, scale }: ShapeScale, hazard: number): number {
  return scale * hazard ** (1 / shape);
}

function logPowerRate({ shape, scale }: ShapeScale, t: number): number {
  const slope = shape === 1 ? 0 : (shape - 1) * Math.log(t / scale);
  return Math.log(shape / scale) + slope;
}

/** -log(1 - share Fe(t)). */
function faultHazard(fault: FittingFault, t: number): number {
  return -Math.log1p(fault.share * Math.expm1(-power(fault, t)));
}

/** Age at which -log(1 - share Fe(t)) reaches a value; Infinity where it never does. */
function inverseFault(fault: FittingFault, hazard: number): number {
  const part = -Math.expm1(-hazard) / fault.share;
  return part < 1 ? inversePower(fault, -Math.log1p(-part)) : Infinity;
}

/** Closed form: scale / shape Gamma(1 / shape) P(1 / shape, (t / scale)^shape). */
function meanUpToPlain(model: ShapeScale, t: number): number {
  const mean = model.scale * Math.exp(logGamma(1 + 1 / model.shape));
  return t === Infinity ? mean : mean * gammaP(1 / model.shape, power(model, t));
}

function logSum(a: number, b: number): number {
  const high = Math.max(a, b);
  return Number.isFinite(high) ? high + Math.log1p(Math.exp(Math.min(a, b) - high)) : high;
}

function requireShapeScale(where: string, { shape, scale }: ShapeScale): void {
  if (!(shape > 0) || shape === Infinity)
    throw new UsageError(where, 'shape must be above 0 and finite.', shape);
  if (!(scale > 0)) throw new UsageError(where, 'scale must be above 0.', scale);
}
