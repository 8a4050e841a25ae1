/** The failure rate that the oldest of all lives have. */
import type { LifeModel } from '../../life/model.js';

/** Limit of the failure rate as age grows, per unit of age: 0, a number, or Infinity. Trusts the model. */
export function hazardFarOut(model: LifeModel): number {
  switch (model.kind) {
    case 'exponential':
      return 1 / model.scale;
    case 'weibull':
      return byPower(model.shape, 1 / model.scale);
    case 'gamma':
      return 1 / model.scale;
    case 'generalisedGamma':
      // Survival falls as exp(-(t / exp(mu))^(q / sigma) / q²) where q is above 0, else as a power of age or slower.
      return model.q > 0 ? byPower(model.q / model.sigma, Math.exp(-model.mu) / model.q ** 2) : 0;
    case 'smallestValue':
      return Infinity;
    case 'lognormal':
    case 'loglogistic':
      return 0;
    case 'mixture':
      // The longest-lived part is the one that is left.
      return Math.min(
        ...model.parts.filter(({ share }) => share > 0).map((part) => hazardFarOut(part.model)),
      );
    case 'competing':
      return model.modes.reduce((total, mode) => total + hazardFarOut(mode), 0);
  }
}

/** A failure rate that goes as age to the power - 1. */
function byPower(power: number, rate: number): number {
  if (power === 1) return rate;
  return power > 1 ? Infinity : 0;
}
