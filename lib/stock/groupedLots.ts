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
 * What to order at a review at which something is short, by least cost over all reviews to come. Reviews are asked about in order,
 * with what is short and the pieces ordered before; where both are as the last plan had them, that plan goes on, else it is made
 * anew. The order is only ever larger than what is short, and comes at the last review that is early enough, so that no
 * safety is lost.
 */
export function groupedLots(input: GroupingInput): (k: number, short: number, ordered: number) => Grouped {
  const { needs } = input;
  let start = 0;
  let orders: readonly number[] = [];
  let expected = Number.NaN;
  return (k, short, ordered) => {
    const needed = Math.max(ordered + short, at(needs, k));
    const goesOn =
      Math.abs(ordered - expected) < 1e-9 && needed < at(needs, k) + 1e-9 && (orders[k - start] ?? 0) > 0;
    if (!goesOn) {
      orders = plannedFrom(input, k, needed, ordered);
      start = k;
    }
    const quantity = itemAt(orders, k - start);
    expected = ordered + quantity;
    const next = orders.findIndex((order, i) => i > k - start && order > 0);
    return { quantity, until: Math.min(needs.length, next < 0 ? needs.length : start + next) - 1 };
  };
}

function plannedFrom(
  { needs, costs, review, pack, minOrder, mostAt }: GroupingInput,
  k: number,
  needed: number,
  ordered: number,
): readonly number[] {
  const rest: number[] = [];
  const beyond = Math.round(costs.beyond.span / review);
  let covered = ordered;
  const add = (upTo: number): void => {
    rest.push(Math.max(0, upTo - covered));
    covered = Math.max(covered, upTo);
  };
  add(needed);
  for (let i = k + 1; i < needs.length; i++) add(at(needs, i));
  for (let i = 0; i < beyond; i++) add(covered + costs.beyond.rate * review);
  return lotSizes(rest, {
    orderCost: costs.orderCost,
    holdingCostPerPeriod: costs.holdingCost * review,
    pack,
    minOrder,
    mostIn: (i) => mostAt(k + i),
    ...(costs.price === null ? {} : { price: costs.price }),
  }).orders;
}
