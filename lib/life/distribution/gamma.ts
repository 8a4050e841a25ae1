/** Gamma lives: survival Q(shape, t / scale), the sum of `shape` exponential stages where shape is whole. */
import { UsageError } from '../../errors.js';
import type { GammaModel } from '../model.js';
import { gammaFamily } from './gammaFamily.js';
import type { LifeLaw } from './law.js';

export const gammaLaw: LifeLaw<GammaModel> = gammaFamily(
  ({ shape, scale }) => {
    if (!(shape > 0) || shape === Infinity) {
      throw new UsageError('gamma', 'shape must be above 0 and finite.', shape);
    }
    if (!(scale > 0) || scale === Infinity) {
      throw new UsageError('gamma', 'scale must be above 0 and finite.', scale);
    }
  },
  ({ shape, scale }) => ({ unit: shape * scale, sigma: shape ** -0.5, q: shape ** -0.5 }),
);
