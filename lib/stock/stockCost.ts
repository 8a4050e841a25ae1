/** What a policy costs per unit of time: orders, pieces held, pieces owed. */

import { momentsOfSizes } from '../demand/compoundLaw.js';
import { UsageError } from '../errors.js';
import { at } from '../numeric/columns.js';
import { demandOverPeriods } from './demandOverPeriods.js';
import { countDistribution, type LeadTimeDemand } from './leadTimeDemand.js';
import { stockMeasures } from './measures.js';
import { pointAndQuantity, type ReviewPolicy, type StockPolicy } from './policy.js';

export interface StockCosts {
  /** Of a piece on the shelf for one unit of time. */
  holdingCost: number;
  /** Of a piece owed for one unit of time: the lost time of a valve that waits, at its downtime rate. */
  shortageCost: number;
  /** Of placing an order; default 0. */
  orderCost?: number;
  /**
   * Units of time in the span that `demand` covers (a lead time; a period where stock is reviewed); default 1. With costs per
   * year and a lead time of 60 days: 60 / 365.25.
   */
  span?: number;
}

export interface StockCost {
  /** All three, per unit of time, in the currency of the costs. */
  total: number;
  ordering: number;
  holding: number;
  shortage: number;
  /** Orders per unit of time. */
  orders: number;
}

/**
 * Cost of a policy per unit of time under demand as `stockMeasures` takes it: orders times their cost, the mean shelf and the
 * mean back orders at their rates (Hadley & Whitin 1963, from memory). Throws UsageError on costs below 0 or not finite, a
 * span not above 0, and as stockMeasures does.
 */
export function stockCost(policy: StockPolicy, demand: LeadTimeDemand, costs: StockCosts): StockCost {
  requireCosts('stockCost', costs);
  const { expectedOnHand, expectedShortage } = stockMeasures(policy, demand);
  const orders = ordersPerSpan(policy, demand) / (costs.span ?? 1);
  const ordering = orders * (costs.orderCost ?? 0);
  const holding = expectedOnHand * costs.holdingCost;
  const shortage = expectedShortage * costs.shortageCost;
  return { total: ordering + holding + shortage, ordering, holding, shortage, orders };
}

/**
 * Orders placed in the span that `demand` covers. A job of v pieces takes the position past the point from v of the
 * `quantity` places where it can be, or from all; so do the pieces of a whole review period.
 */
export function ordersPerSpan(policy: StockPolicy, demand: LeadTimeDemand): number {
  const { quantity } = pointAndQuantity('stockCost', policy);
  if (policy.kind === 'review' || policy.kind === 'reviewReorder') {
    return perReview(policy, demand, quantity) / policy.reviewPeriods;
  }
  if (demand.kind !== 'compound') return countDistribution('stockCost', demand).mean / quantity;
  let share = 0;
  for (let v = 1; v < demand.sizes.length; v++) share += at(demand.sizes, v) * Math.min(1, v / quantity);
  if (momentsOfSizes(demand.sizes).mean <= 0) return 0;
  return demand.jobs * share;
}

/** Chance that a review places an order: E min(1, D / quantity). */
function perReview(policy: ReviewPolicy, demand: LeadTimeDemand, quantity: number): number {
  const law = countDistribution('stockCost', demandOverPeriods('stockCost', demand, policy.reviewPeriods));
  let chance = 0;
  for (let k = 0; k < quantity; k++) {
    const term = law.above(k);
    chance += term;
    if (term < 1e-18) break;
  }
  return chance / quantity;
}

export function requireCosts(where: string, costs: StockCosts): void {
  const { holdingCost, shortageCost, orderCost = 0, span = 1 } = costs;
  for (const [name, value] of Object.entries({ holdingCost, shortageCost, orderCost })) {
    if (!(value >= 0 && Number.isFinite(value))) {
      throw new UsageError(where, `${name} must be at or above 0, and finite.`, value);
    }
  }
  if (!(span > 0 && Number.isFinite(span))) {
    throw new UsageError(where, 'span must be above 0, and finite.', span);
  }
}
