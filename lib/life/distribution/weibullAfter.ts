/** Weibull lives after a failure-free time: survival 1 up to it, then exp(-((t - failureFree) / scale)^shape). */
import { UsageError } from '../../errors.js';
import type { WeibullModel } from '../model.js';
import type { LifeLaw } from './law.js';
import { weibullLaw } from './weibull.js';

export const weibullAfterLaw: LifeLaw<WeibullModel> = {
  check(model) {
    weibullLaw.check(model);
    const start = startOf(model);
    if (!(start >= 0) || start === Infinity) {
      throw new UsageError('weibull', 'failureFree must be at or above 0 and finite.', start);
    }
    if (model.fault !== undefined && start > 0) {
      throw new UsageError('weibull', 'fitting faults leak early: leave out failureFree or fault.', start);
    }
  },

  cumulativeHazard(model, t) {
    return weibullLaw.cumulativeHazard(model, Math.max(0, t - startOf(model)));
  },

  logHazard(model, t) {
    const start = startOf(model);
    return t < start ? -Infinity : weibullLaw.logHazard(model, t - start);
  },

  ageAtHazard(model, hazard) {
    return startOf(model) + weibullLaw.ageAtHazard(model, hazard);
  },

  meanUpTo(model, t) {
    const start = startOf(model);
    return t <= start ? t : start + weibullLaw.meanUpTo(model, t - start);
  },

  remaining(model, t) {
    const start = startOf(model);
    return Math.max(0, start - t) + weibullLaw.remaining(model, Math.max(0, t - start));
  },

  variance(model) {
    return weibullLaw.variance(model);
  },

  draw(model, random) {
    return startOf(model) + weibullLaw.draw(model, random);
  },
};

function startOf({ failureFree = 0 }: WeibullModel): number {
  return failureFree;
}
