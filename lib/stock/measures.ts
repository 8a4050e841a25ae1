/** What a stock policy achieves over a lead time's demand. */
import { checkedSizes, jobsFilled, jobsPoint } from './jobMeasures.js';
import type { CountDistribution, LeadTimeDemand } from './leadTimeDemand.js';
import { countDistribution } from './leadTimeDemand.js';
import { expectedBelow, meansOverPositions } from './overPositions.js';
import type { StockPolicy } from './policy.js';
import { pointAndQuantity } from './policy.js';
import { reviewStudy } from './reviewStudy.js';

/** Three rates that are easily taken for each other: of time, of pieces, of order cycles. */
export interface StockMeasures {
  /** Share of time without any piece on back order: mean of P(D <= y). A chance by the clock, not by the piece. */
  readyRate: number;
  /**
   * Share of pieces asked for that are handed out at once: mean of P(D <= y - 1) where pieces are asked for one at a time
   * (one-for-one: P(D <= S - 1)). A job that takes several is handed what is there, and the rest is owed.
   */
  fillRate: number;
  /**
   * Chance of no shortage between placing an order and receiving it: P(D <= point), from below the point where a job went
   * past it; one-for-one: P(D <= S). At reviews: the chance that nothing is owed just before the next order can come.
   * It says nothing of how much is short, nor how often orders are placed.
   */
  cycleService: number;
  /** Mean number of pieces on back order, over time. */
  expectedShortage: number;
  /** Mean number of pieces on the shelf, over time. */
  expectedOnHand: number;
  /** Mean wait of a piece asked for, those at once included, in lead times; in periods for a policy with reviews (Little 1961). */
  meanWait: number;
}

/**
 * Measures of a policy under the demand D of one lead time; of one period for `review` and `reviewReorder`. With a reorder
 * point the inventory position y is spread evenly over point + 1 to point + quantity, and the measures are means over it (Hadley
 * & Whitin 1963; one-for-one: Palm's theorem, Sherbrooke 2004, ch. 2; jobs: Axsaeter 2015, ch. 5; all from memory). The
 * even spread holds for jobs too, unless job sizes and lot have a common divisor: then the start decides, and the means are over
 * all starts. Throws UsageError where level, point or quantity is not a whole number (level at or above 0, point at or above
 * -quantity, quantity at or above 1), lead or review periods are no length of time, or the demand makes no sense.
 * @example stockMeasures({ kind: 'baseStock', level: 6 }, { kind: 'poisson', mean: 3 }).fillRate // 0.916
 */
export function stockMeasures(policy: StockPolicy, demand: LeadTimeDemand): StockMeasures {
  const { point, quantity } = pointAndQuantity('stockMeasures', policy);
  if (policy.kind === 'review' || policy.kind === 'reviewReorder') {
    return reviewStudy(demand, policy).measures(point, quantity);
  }
  const law = countDistribution('stockMeasures', demand);
  const { ready, below, shortage } = meansOverPositions(law, point, quantity);
  const sizes = demand.kind === 'compound' ? checkedSizes(demand.sizes) : null;
  return {
    readyRate: ready,
    fillRate: sizes === null ? below : jobsFilled(law, sizes, point, quantity),
    cycleService:
      policy.kind === 'baseStock'
        ? law.cdf(policy.level)
        : sizes === null
          ? law.cdf(point)
          : jobsPoint(sizes, point, quantity, law.cdf),
    expectedShortage: shortage,
    expectedOnHand: onHand(law, point, quantity, shortage),
    meanWait: law.mean > 0 ? shortage / law.mean : 0,
  };
}

/** Mean of y - D plus what is on back order; summed directly where that difference has no digits left. */
function onHand(law: CountDistribution, point: number, quantity: number, shortage: number): number {
  const mean = point + (quantity + 1) / 2 - law.mean + shortage;
  if (mean > 1e-3 * law.mean || quantity > 1) return Math.max(0, mean);
  return expectedBelow(law, point + 1);
}
