/** Reorder point and quantity of least cost, both open, for stock that is watched always. */
import { UsageError } from '../errors.js';
import { at } from '../numeric/columns.js';
import {
  type CountDistribution,
  countDistribution,
  type LeadTimeDemand,
  smallestWhole,
} from './leadTimeDemand.js';
import { expectedAbove } from './overPositions.js';
import type { StockCosts } from './stockCost.js';

/**
 * The holding and shortage cost G(y) of a position y falls, then rises, so that the best lot of n + 1 positions is the
 * best of n and the cheaper of its neighbours (Federgruen & Zheng 1992, from memory). Their mean never falls as the lot
 * grows: the search ends when it alone is dearer than the best whole cost so far, whatever ordering costs by then, which
 * also holds for jobs of several pieces. Preconditions: costs checked, holding above 0. Throws UsageError where demand makes no
 * sense, nothing is ever asked for, or the best lot is above a million pieces.
 */
export function leastCostLot(demand: LeadTimeDemand, costs: StockCosts): { point: number; quantity: number } {
  const law = countDistribution('choosePolicy', demand);
  if (!(law.mean > 0)) {
    throw new UsageError('choosePolicy', 'demand must be above 0 to choose a quantity by cost.', law.mean);
  }
  const walk = positionCosts(law, costs);
  const ordering = orderingCosts(demand, law.mean, costs);
  let positions = walk.cheapest();
  let best = { point: 0, quantity: 0, total: Infinity };
  for (let quantity = 1; quantity <= LARGEST_LOT; quantity++) {
    const standing = positions / quantity;
    const total = standing + ordering(quantity);
    if (total < best.total) best = { point: walk.low() - 1, quantity, total };
    if (standing >= best.total) return { point: best.point, quantity: best.quantity };
    positions += walk.next();
  }
  throw new UsageError(
    'choosePolicy',
    'the best lot is above a million pieces: check the costs.',
    costs.orderCost,
  );
}

const LARGEST_LOT = 1_000_000;

/** Ordering cost per unit of time with lots of a quantity: a job of v pieces orders with chance min(1, v / quantity). */
function orderingCosts(
  demand: LeadTimeDemand,
  mean: number,
  { orderCost = 0, span = 1 }: StockCosts,
): (quantity: number) => number {
  const perSpan = orderCost / span;
  if (demand.kind !== 'compound') return (quantity) => (perSpan * mean) / quantity;
  const { jobs, sizes } = demand;
  return (quantity) => {
    let share = 0;
    for (let v = 1; v < sizes.length; v++) share += at(sizes, v) * Math.min(1, v / quantity);
    return perSpan * jobs * share;
  };
}

/** G(y) from its least value outwards, a neighbour at a time. */
function positionCosts(
  law: CountDistribution,
  { holdingCost, shortageCost }: StockCosts,
): { cheapest: () => number; next: () => number; low: () => number } {
  const share = shortageCost / (shortageCost + holdingCost);
  const start = smallestWhole((k) => law.cdf(k) >= share - 1e-13, 0, law.mean);
  let [low, high] = [start, start];
  const cost = (y: number, owed: number): number => holdingCost * (y - law.mean + owed) + shortageCost * owed;
  let lowOwed = expectedAbove(law, start);
  let highOwed = lowOwed;
  const belowOwed = (): number => lowOwed + law.above(low - 1);
  const aboveOwed = (): number => Math.max(0, highOwed - law.above(high));
  return {
    cheapest: () => cost(start, lowOwed),
    low: () => low,
    next: () => {
      const below = cost(low - 1, belowOwed());
      const above = cost(high + 1, aboveOwed());
      if (below <= above) {
        lowOwed = belowOwed();
        low -= 1;
        return below;
      }
      highOwed = aboveOwed();
      high += 1;
      return above;
    },
  };
}
