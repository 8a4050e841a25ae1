/**
 * Smallest extreme value lives: survival exp(-exp((t - location) / scale)) at ages from 0. The law itself has ages below 0
 * too; it is not made conditional on an age above 0. Its share below 0, 1 - exp(-exp(-location / scale)), counts
 * as failed at age 0, so that survival at 0 is a little below 1 and every other value is the law's own.
 */
import { UsageError } from '../../errors.js';
import { integrate } from '../../numeric/quadrature.js';
import type { SmallestValueModel } from '../model.js';
import { remainingByHazard, varianceByHazard } from './byHazard.js';
import type { LifeLaw } from './law.js';

export const smallestValueLaw: LifeLaw<SmallestValueModel> = {
  check({ location, scale }) {
    if (!(location > 0) || location === Infinity) {
      throw new UsageError('smallest value', 'location must be above 0 and finite.', location);
    }
    if (!(scale > 0) || scale === Infinity) {
      throw new UsageError('smallest value', 'scale must be above 0 and finite.', scale);
    }
  },

  cumulativeHazard({ location, scale }, t) {
    return Math.exp((t - location) / scale);
  },

  logHazard({ location, scale }, t) {
    return (t - location) / scale - Math.log(scale);
  },

  /** 0 for the share that has failed at age 0. */
  ageAtHazard({ location, scale }, hazard) {
    return Math.max(0, location + scale * Math.log(hazard));
  },

  meanUpTo(model, t) {
    const ageAt = (hazard: number): number => smallestValueLaw.ageAtHazard(model, hazard);
    const points = [1e-6, 0.01, 0.3, 1, 3, 10, 40].map(ageAt);
    const alive = (x: number): number => Math.exp(-smallestValueLaw.cumulativeHazard(model, x));
    return integrate(alive, 0, Math.min(t, ageAt(745)), { points, relative: 1e-13 }).value;
  },

  remaining(model, t) {
    return remainingByHazard(smallestValueLaw, model, t);
  },

  variance(model) {
    return varianceByHazard(smallestValueLaw, model);
  },

  draw(model, random) {
    return smallestValueLaw.ageAtHazard(model, -Math.log(random.uniform()));
  },
};
