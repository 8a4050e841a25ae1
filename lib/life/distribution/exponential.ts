/** Exponential lives: a constant failure rate 1 / scale; `scale` is the mean. */
import { UsageError } from '../../errors.js';
import type { ExponentialModel } from '../model.js';
import type { LifeLaw } from './law.js';

export const exponentialLaw: LifeLaw<ExponentialModel> = {
  check({ scale }) {
    if (!(scale > 0)) throw new UsageError('exponential', 'scale must be above 0.', scale);
  },

  cumulativeHazard({ scale }, t) {
    return t / scale;
  },

  logHazard({ scale }) {
    return -Math.log(scale);
  },

  ageAtHazard({ scale }, hazard) {
    return scale * hazard;
  },

  meanUpTo({ scale }, t) {
    return -scale * Math.expm1(-t / scale);
  },

  remaining({ scale }) {
    return scale;
  },

  variance({ scale }) {
    return scale * scale;
  },

  draw({ scale }, random) {
    return -scale * Math.log(random.uniform());
  },
};
