/** Log-logistic lives: survival 1 / (1 + (t / scale)^shape); `scale` is the median. */
import { UsageError } from '../../errors.js';
import { integrate } from '../../numeric/quadrature.js';
import { betaCdf } from '../../numeric/special.js';
import type { LogLogisticModel } from '../model.js';
import type { LifeLaw } from './law.js';

export const logLogisticLaw: LifeLaw<LogLogisticModel> = {
  check({ shape, scale }) {
    if (!(shape > 0) || shape === Infinity) {
      throw new UsageError('loglogistic', 'shape must be above 0 and finite.', shape);
    }
    if (!(scale > 0)) throw new UsageError('loglogistic', 'scale must be above 0.', scale);
  },

  cumulativeHazard({ shape, scale }, t) {
    const log = shape * Math.log(t / scale);
    return log > 30 ? log + Math.exp(-log) : Math.log1p(Math.exp(log));
  },

  logHazard({ shape, scale }, t) {
    const ratio = Math.log(t / scale);
    const slope = shape === 1 ? 0 : (shape - 1) * ratio;
    const rest = shape * ratio > 700 ? shape * ratio : Math.log1p(Math.exp(shape * ratio));
    return Math.log(shape / scale) + slope - rest;
  },

  ageAtHazard({ shape, scale }, hazard) {
    const log = hazard > 700 ? hazard : Math.log(Math.expm1(hazard));
    return scale * Math.exp(log / shape);
  },

  meanUpTo(model, t) {
    if (t === Infinity) return meanOf(model);
    if (model.shape > 1) return meanOf(model) * (1 - betaTail(model, t));
    return meanUpToByLogAge(model, t);
  },

  /** Mean excess is mean I_S(1 - 1 / shape, 1 / shape); no mean exists at shape 1 or below. */
  remaining(model, t) {
    const { shape } = model;
    if (shape <= 1) return Infinity;
    const left = Math.exp(-logLogisticLaw.cumulativeHazard(model, t));
    if (left < 1e-200) return t / (shape - 1);
    return (meanOf(model) * betaTail(model, t)) / left;
  },

  /** With b = pi / shape: (scale b / sin b)² (tan b / b - 1); no variance exists at shape 2 or below. */
  variance(model) {
    if (model.shape <= 2) return Infinity;
    const b = Math.PI / model.shape;
    return meanOf(model) ** 2 * tangentExcess(b);
  },

  draw(model, random) {
    return logLogisticLaw.ageAtHazard(model, -Math.log(random.uniform()));
  },
};

function meanOf({ shape, scale }: LogLogisticModel): number {
  return shape <= 1 ? Infinity : (scale * Math.PI) / shape / Math.sin(Math.PI / shape);
}

/** tan b / b - 1, by its series where b is small. */
function tangentExcess(b: number): number {
  if (b > 0.1) return Math.tan(b) / b - 1;
  const s = b * b;
  return s * (1 / 3 + s * (2 / 15 + s * (17 / 315 + s * (62 / 2835 + (s * 1382) / 155925))));
}

/** Share of the mean life that lies beyond t. */
function betaTail(model: LogLogisticModel, t: number): number {
  const left = Math.exp(-logLogisticLaw.cumulativeHazard(model, t));
  return betaCdf(left, 1 - 1 / model.shape, 1 / model.shape);
}

/** Where no mean exists, the mean life as far as t still does: in log age, where the integrand is smooth. */
function meanUpToByLogAge(model: LogLogisticModel, t: number): number {
  const inLogAge = (x: number): number => Math.exp(x - logLogisticLaw.cumulativeHazard(model, Math.exp(x)));
  if (t === 0) return 0;
  const high = Math.log(t);
  return integrate(inLogAge, high - 50, high, { points: [Math.log(model.scale)], relative: 1e-12 }).value;
}
