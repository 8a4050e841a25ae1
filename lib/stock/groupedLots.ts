/** Needs that are netted over time, put into orders at least cost of ordering, holding and pieces (METHODS 5.4). */
import { at, itemAt } from '../numeric/columns.js';
import { lotSizes } from './lotSizes.js';
import type { PriceBreak } from './priceBreaks.js';

export interface LotCosts {
  orderCost: number;
  /** Of a piece for one unit of time. */
  holdingCost: number;
  /** Where the price falls with the size of an order; null = it does not. */
  price: readonly PriceBreak[] | null;
  /** After the months planned, random demand goes on so long at this rate, so that the last lots are not cut short. */
  beyond: { rate: number; span: number };
}

export interface GroupingInput {
  /**
   * needs[k]: pieces that must have been ordered by review k in all, counted from the first, so that no moment of its
   * window is short; never falling.
   */
  needs: ArrayLike<number>;
  costs: LotCosts;
  review: number;
  pack: number;
  minOrder: number;
  /** Largest sensible order at a review. */
  mostAt: (review: number) => number;
}

export interface Grouped {
  quantity: number;
  /** The last review whose needs it covers. */
  until: number;
}

/**
 * What to order at a review at which something is short: by least cost over all reviews to come. `ordered`: pieces ordered at
 * reviews before. It is asked anew at each order, so that what has turned out otherwise is taken as it is. The order is only
 * ever larger than what is short, and comes at the last review that is early enough, so that no safety is lost.
 */
export function groupedLot(input: GroupingInput, k: number, short: number, ordered: number): Grouped {
  const { needs, costs, review, pack, minOrder, mostAt } = input;
  const rest: number[] = [];
  const beyond = Math.round(costs.beyond.span / review);
  let covered = ordered;
  const add = (needed: number): void => {
    rest.push(Math.max(0, needed - covered));
    covered = Math.max(covered, needed);
  };
  add(Math.max(ordered + short, at(needs, k)));
  for (let i = k + 1; i < needs.length; i++) add(at(needs, i));
  for (let i = 0; i < beyond; i++) add(covered + costs.beyond.rate * review);
  const { orders } = lotSizes(rest, {
    orderCost: costs.orderCost,
    holdingCostPerPeriod: costs.holdingCost * review,
    pack,
    minOrder,
    mostIn: (i) => mostAt(k + i),
    ...(costs.price === null ? {} : { price: costs.price }),
  });
  const next = orders.findIndex((order, i) => i > 0 && order > 0);
  const last = Math.min(needs.length, k + (next < 0 ? orders.length : next)) - 1;
  return { quantity: itemAt(orders, 0), until: last };
}
