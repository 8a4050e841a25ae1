/** What a stock policy achieves over a lead time's demand. */
import { UsageError } from '../errors.js';
import type { CountDistribution, LeadTimeDemand } from './leadTimeDemand.js';
import { countDistribution } from './leadTimeDemand.js';

/**
 * `baseStock`: one-for-one up to `level`. `reorder`: order `quantity` whenever the inventory position (on hand + on
 * order - on back order) falls to `point`; reviewed continuously.
 */
export type StockPolicy =
  | { kind: 'baseStock'; level: number }
  | { kind: 'reorder'; point: number; quantity: number };

export interface StockMeasures {
  /** Share of time without any piece on back order: mean of P(D <= y). */
  readyRate: number;
  /** Share of pieces asked for that are handed out at once: mean of P(D <= y - 1); one-for-one: P(D <= S - 1). */
  fillRate: number;
  /** Chance of no shortage between placing an order and receiving it: P(D <= point); one-for-one: P(D <= S). */
  cycleService: number;
  /** Mean number of pieces on back order. */
  expectedShortage: number;
  /** Mean number of pieces on the shelf. */
  expectedOnHand: number;
}

/**
 * Measures of a policy under the demand D of one lead time. With a reorder point the inventory position y is spread
 * evenly over point + 1 to point + quantity, and the measures are means over it (Hadley & Whitin 1963; one-for-one:
 * Palm's theorem, Sherbrooke 2004, ch. 2; both from memory). The rates by the arriving piece hold where pieces are asked
 * for one at a time. Throws UsageError where level, point or quantity is not a whole number (level at or above 0, point
 * at or above -quantity, quantity at or above 1), or where the demand makes no sense.
 * @example stockMeasures({ kind: 'baseStock', level: 6 }, { kind: 'poisson', mean: 3 }).fillRate // 0.916
 */
export function stockMeasures(policy: StockPolicy, demand: LeadTimeDemand): StockMeasures {
  const { point, quantity } = pointAndQuantity(policy);
  const law = countDistribution('stockMeasures', demand);
  const top = point + quantity;
  let shortage = expectedAbove(law, top);
  let [ready, filled, shortages] = [0, 0, 0];
  let noShortage = law.cdf(top);
  for (let position = top; position > point; position--) {
    shortages += shortage;
    ready += noShortage;
    // A piece asked for is handed out at once when fewer than `position` were asked for before it.
    noShortage = law.cdf(position - 1);
    filled += noShortage;
    // E(D - y + 1)+ = E(D - y)+ + P(D > y - 1): only sums of what is positive.
    shortage += law.above(position - 1);
  }
  const mean = (total: number): number => total / quantity;
  return {
    readyRate: mean(ready),
    fillRate: mean(filled),
    cycleService: law.cdf(policy.kind === 'baseStock' ? policy.level : policy.point),
    expectedShortage: mean(shortages),
    expectedOnHand: onHand(law, point, quantity, mean(shortages)),
  };
}

function pointAndQuantity(policy: StockPolicy): { point: number; quantity: number } {
  if (policy.kind === 'baseStock') {
    if (!(Number.isInteger(policy.level) && policy.level >= 0)) {
      throw new UsageError('stockMeasures', 'level must be a whole number at or above 0.', policy.level);
    }
    return { point: policy.level - 1, quantity: 1 };
  }
  const { point, quantity } = policy;
  if (!(Number.isInteger(quantity) && quantity >= 1)) {
    throw new UsageError('stockMeasures', 'quantity must be a whole number at or above 1.', quantity);
  }
  if (!(Number.isInteger(point) && point >= -quantity)) {
    throw new UsageError('stockMeasures', 'point must be a whole number at or above -quantity.', point);
  }
  return { point, quantity };
}

/** Mean of y - D plus what is on back order; summed directly where that difference has no digits left. */
function onHand(law: CountDistribution, point: number, quantity: number, shortage: number): number {
  const mean = point + (quantity + 1) / 2 - law.mean + shortage;
  if (mean > 1e-3 * law.mean || quantity > 1) return Math.max(0, mean);
  return expectedBelow(law, point + 1);
}

/** E(D - y)+ = sum over k >= y of P(D > k); from the chances themselves, which fall fast. */
export function expectedAbove(law: CountDistribution, y: number): number {
  const start = Math.max(0, Math.ceil(y));
  const before = start > y ? start - y : 0;
  let total = y < 0 ? before : 0;
  if (start < law.mean) return total + law.mean - start + expectedBelow(law, start);
  let term = law.above(start);
  for (let k = start; term > 0; k++) {
    total += term;
    term = law.above(k + 1);
    if (term < 1e-17 * total) break;
  }
  return total;
}

/** E(y - D)+ = sum over k < y of P(D <= k), from the top down. */
export function expectedBelow(law: CountDistribution, y: number): number {
  let total = 0;
  for (let k = Math.ceil(y) - 1; k >= 0; k--) {
    const term = law.cdf(k);
    total += term;
    if (term < 1e-17 * total || term === 0) break;
  }
  return total;
}
