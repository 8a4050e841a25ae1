/** Reorder point for the random part of demand: leaks and openings (METHODS 5.5, 5.6). */
import { UsageError } from '../errors.js';
import type { CountedDemand } from './leadTimeDemand.js';
import { countDistribution, smallestWhole } from './leadTimeDemand.js';
import { expectedAbove } from './overPositions.js';

/** Where no spread of the lead time is given, this share of it is taken as its standard deviation. */
export const ASSUMED_LEAD_SPREAD = 0.25;

export interface RandomDemand {
  /** Pieces a day. */
  perDay: number;
  /** Variance of a day's pieces, jobs included; at or above perDay. */
  variancePerDay: number;
  /** Standard deviation of the rate that comes from not knowing the life models, pieces a day. */
  rateSd: number;
}

export interface Supply {
  leadDays: number;
  leadSdDays: number;
  reviewDays: number;
}

/**
 * Demand over a span whose length is random (mean `days`, standard deviation `sdDays`): mean and variance by the law
 * of total variance, as a negative binomial. Exactly that where the span is gamma and demand Poisson.
 */
export function demandOver(random: RandomDemand, days: number, sdDays: number): CountedDemand {
  const mean = random.perDay * days;
  const square = days * days + sdDays * sdDays;
  const variance =
    random.variancePerDay * days + (random.perDay * sdDays) ** 2 + random.rateSd * random.rateSd * square;
  return variance > mean ? { kind: 'negativeBinomial', mean, variance } : { kind: 'poisson', mean };
}

/**
 * Share of random demand handed out at once when the position is looked at every `reviewDays` and, at or below `point`,
 * the smallest number of lots of `quantity` is ordered that lifts it above the point. After a review the position is
 * spread evenly over point + 1 to point + quantity, undershoot included; what is short in one review period is the rise
 * of back orders from lead to lead + review (Hadley & Whitin 1963, ch. 5, from memory). Review 0 is continuous.
 */
export function servedShare(random: RandomDemand, supply: Supply, point: number, quantity: number): number {
  const { leadDays, leadSdDays, reviewDays } = supply;
  if (random.perDay <= 0) return 1;
  const lead = countDistribution('servedShare', demandOver(random, leadDays, leadSdDays));
  if (reviewDays <= 0) {
    let filled = 0;
    for (let y = point + 1; y <= point + quantity; y++) filled += lead.cdf(y - 1);
    return filled / quantity;
  }
  const protection = demandOver(random, leadDays + reviewDays, leadSdDays);
  const both = countDistribution('servedShare', protection);
  const top = point + quantity;
  let early = expectedAbove(lead, top);
  let late = expectedAbove(both, top);
  let short = 0;
  for (let y = top; y > point; y--) {
    short += late - early;
    early += lead.above(y - 1);
    late += both.above(y - 1);
  }
  return Math.min(1, Math.max(0, 1 - short / quantity / (random.perDay * reviewDays)));
}

/**
 * Smallest reorder point at which `served` of random demand is handed out at once, for lots of `quantity`.
 * Throws UsageError at a target of 1 or more (no stock is enough) or below 0.
 */
export function reorderPoint(random: RandomDemand, supply: Supply, served: number, quantity: number): number {
  if (!(served >= 0 && served < 1)) {
    throw new UsageError(
      'reorderPoint',
      'the target must be from 0 to below 1: 100 % cannot be met with finite stock.',
      served,
    );
  }
  if (random.perDay <= 0 || served === 0) return 0;
  const mean = random.perDay * (supply.leadDays + supply.reviewDays);
  return smallestWhole((point) => servedShare(random, supply, point, quantity) >= served - 1e-12, 0, mean);
}
