/**
 * Generalised gamma lives in Prentice's parameters, as R's flexsurv documents them (from memory): q = 1 is the Weibull of
 * shape 1 / sigma and scale exp(mu), q = 0 the lognormal, q = sigma the gamma of shape 1 / q², q = -1 the inverse Weibull.
 */
import { UsageError } from '../../errors.js';
import type { GeneralisedGammaModel } from '../model.js';
import { gammaFamily } from './gammaFamily.js';
import type { LifeLaw } from './law.js';

export const generalisedGammaLaw: LifeLaw<GeneralisedGammaModel> = gammaFamily(
  ({ mu, sigma, q }) => {
    if (!(Math.abs(mu) < 700)) throw new UsageError('generalised gamma', 'mu must be from -700 to 700.', mu);
    if (!(sigma > 0) || sigma === Infinity) {
      throw new UsageError('generalised gamma', 'sigma must be above 0 and finite.', sigma);
    }
    if (!(Math.abs(q) <= 100)) throw new UsageError('generalised gamma', 'q must be from -100 to 100.', q);
  },
  ({ mu, sigma, q }) => ({ unit: Math.exp(mu), sigma, q }),
);
