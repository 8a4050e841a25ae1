/** Lognormal lives: log life is normal with mean `mu` and standard deviation `sigma`. */

import { UsageError } from '../../errors.js';
import { LOG_SQRT_TWO_PI } from '../../numeric/saddlePoint.js';
import { logNormalTail, normalCdf, normalQuantile } from '../../numeric/special.js';
import type { LognormalModel } from '../model.js';
import type { LifeLaw } from './law.js';

export const lognormalLaw: LifeLaw<LognormalModel> = {
  check({ mu, sigma }) {
    if (!Number.isFinite(mu)) throw new UsageError('lognormal', 'mu must be finite.', mu);
    if (!(sigma > 0) || sigma === Infinity) {
      throw new UsageError('lognormal', 'sigma must be above 0 and finite.', sigma);
    }
  },

  cumulativeHazard(model, t) {
    return -logNormalTail(standard(model, t));
  },

  logHazard(model, t) {
    if (t === 0) return -Infinity;
    const z = standard(model, t);
    return -0.5 * z * z - LOG_SQRT_TWO_PI - Math.log(model.sigma * t) - logNormalTail(z);
  },

  ageAtHazard({ mu, sigma }, hazard) {
    const z = hazard < 0.7 ? normalQuantile(-Math.expm1(-hazard)) : -normalQuantile(Math.exp(-hazard));
    return Math.exp(mu + sigma * z);
  },

  meanUpTo(model, t) {
    const mean = Math.exp(model.mu + 0.5 * model.sigma ** 2);
    if (t === Infinity) return mean;
    const z = standard(model, t);
    return mean * normalCdf(z - model.sigma) + t * Math.exp(logNormalTail(z));
  },

  remaining(model, t) {
    const z = standard(model, t);
    const mean = model.mu + 0.5 * model.sigma ** 2;
    return Math.exp(mean + logNormalTail(z - model.sigma) - logNormalTail(z)) - t;
  },

  variance({ mu, sigma }) {
    return Math.exp(2 * mu + sigma ** 2) * Math.expm1(sigma ** 2);
  },

  draw({ mu, sigma }, random) {
    return Math.exp(mu + sigma * random.normal());
  },
};

function standard({ mu, sigma }: LognormalModel, t: number): number {
  return (Math.log(t) - mu) / sigma;
}
