/** How many to have for one occasion that cannot be ordered for again. */
import { UsageError } from '../errors.js';
import { normalCdf, normalQuantile } from '../numeric/special.js';
import { countDistribution, type LeadTimeDemand, smallestWhole } from './leadTimeDemand.js';
import { expectedAbove, expectedBelow } from './overPositions.js';

/** Demand of the occasion: a count, or a normal amount. */
export type OccasionDemand = LeadTimeDemand | { kind: 'normal'; mean: number; sd: number };

export interface NewsvendorQuantity {
  /** Pieces to have; whole for counts. */
  quantity: number;
  /** Share of occasions in which the best quantity is enough: costPerShort / (costPerShort + costPerLeft). */
  criticalRatio: number;
  /** Mean pieces left over, mean pieces short, and what both cost. */
  expectedLeft: number;
  expectedShort: number;
  expectedCost: number;
}

/**
 * Quantity of least expected cost where each piece left over costs `costPerLeft` and each piece short `costPerShort`: the
 * smallest with P(D <= quantity) at or above the critical ratio (Arrow, Harris & Marschak 1951; Silver, Pyke & Thomas
 * 2017; from memory). A kit for a shutdown whose leftovers expire is such an occasion. Throws UsageError where a cost
 * is not above 0 and finite (nothing left over costs: no quantity is enough) or demand makes no sense.
 * @example newsvendorQuantity({ kind: 'poisson', mean: 4 }, { costPerShort: 9, costPerLeft: 1 }).quantity // 7
 */
export function newsvendorQuantity(
  demand: OccasionDemand,
  costs: { costPerShort: number; costPerLeft: number },
): NewsvendorQuantity {
  const { costPerShort, costPerLeft } = costs;
  for (const [name, value] of Object.entries({ costPerShort, costPerLeft })) {
    if (!(value > 0 && Number.isFinite(value))) {
      throw new UsageError('newsvendorQuantity', `${name} must be above 0, and finite.`, value);
    }
  }
  const criticalRatio = costPerShort / (costPerShort + costPerLeft);
  const enough = Math.min(criticalRatio, 1 - 2 ** -53);
  const { quantity, left, short } =
    demand.kind === 'normal' ? ofAmount(demand.mean, demand.sd, enough) : ofCount(demand, enough);
  const expectedCost = costPerLeft * left + costPerShort * short;
  return { quantity, criticalRatio, expectedLeft: left, expectedShort: short, expectedCost };
}

interface Best {
  quantity: number;
  left: number;
  short: number;
}

function ofCount(demand: LeadTimeDemand, ratio: number): Best {
  const law = countDistribution('newsvendorQuantity', demand);
  const quantity = smallestWhole((k) => law.cdf(k) >= ratio * (1 - 1e-14), 0, law.mean);
  return { quantity, left: expectedBelow(law, quantity), short: expectedAbove(law, quantity) };
}

/** The normal loss: sd times (density at z less z times the chance above z). */
function ofAmount(mean: number, sd: number, ratio: number): Best {
  if (!(Number.isFinite(mean) && sd > 0 && Number.isFinite(sd))) {
    throw new UsageError('newsvendorQuantity', 'mean must be finite and sd above 0.', `${mean}, ${sd}`);
  }
  const z = normalQuantile(ratio);
  return { quantity: mean + sd * z, left: sd * normalLoss(-z), short: sd * normalLoss(z) };
}

/** E(Z - z)+ of a standard normal Z. */
export function normalLoss(z: number): number {
  const density = Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI);
  return Math.max(0, density - z * normalCdf(-z));
}
