/** How much to order at a time when demand is steady. */
import { UsageError } from '../errors.js';
import { checkedSteps, type PriceBreak } from './priceBreaks.js';

export interface OrderQuantityInput {
  /** Pieces a year (or any other unit of time, the same in all rates). */
  demand: number;
  /** Of placing an order. */
  orderCost: number;
  /** Of holding one piece for a year; beside it `holdingRate` counts by price. Default 0. */
  holdingCost?: number;
  /** Share of its price that holding a piece for a year costs. Default 0. */
  holdingRate?: number;
  /** Price of a piece; where it falls with the quantity, the list of steps. Default 0: the price does not matter. */
  price?: number | readonly PriceBreak[];
  /** Pieces a year that arrive while a lot is being delivered bit by bit, above demand; at once where not given. */
  supplyRate?: number;
  /** Of a piece owed for a year, where running out on purpose is allowed; never where not given. */
  shortageCost?: number;
  /** Quantities are multiples of this; any number where not given. */
  pack?: number;
  /** Smallest order taken. Default 0. */
  minOrder?: number;
}

export interface OrderQuantity {
  quantity: number;
  /** Of a piece at this quantity. */
  price: number;
  /** Ordering, holding and shortage, a year. */
  runningCost: number;
  /** With the price of the pieces. */
  totalCost: number;
  ordersPerYear: number;
  /** Most pieces owed, just before a lot comes. */
  mostOwed: number;
}

/**
 * Quantity of least cost a year: the root of 2 x demand x order cost / holding cost (Harris 1913), wider where lots come bit by
 * bit or pieces may be owed (Hadley & Whitin 1963, ch. 2). With price breaks on all units the cost jumps down at each: the best
 * of each price's own range is compared, which is its root, or the break itself where the root is below it. Packs: the cost has one
 * valley within a range, so that the multiples beside its lowest point are compared. All from memory.
 * Throws UsageError on costs, rates or prices that make no sense, breaks that do not rise, pack or minimum below 0 or 0,
 * and where nothing limits the lot (no holding cost, or a break with none).
 * @example orderQuantity({ demand: 3120, orderCost: 12, holdingCost: 0.005 }).quantity // 3869.88
 */
export function orderQuantity(input: OrderQuantityInput): OrderQuantity {
  const { price = 0 } = input;
  const steps = checkedSteps('orderQuantity', typeof price === 'number' ? [{ from: 0, price }] : price);
  requireInput(input);
  let best: OrderQuantity | null = null;
  steps.forEach(({ from, price }, i) => {
    const below = steps[i + 1]?.from ?? Infinity;
    for (const quantity of candidates(input, price, Math.max(from, input.minOrder ?? 0), below)) {
      const found = costOf(input, quantity, price);
      if (best === null || found.totalCost < best.totalCost) best = found;
    }
  });
  if (best === null) {
    throw new UsageError('orderQuantity', 'no multiple of the pack fits the prices.', input.pack);
  }
  return best;
}

/** Holding cost of a piece a year, less for what is used while it comes, and for what is owed instead of held. */
function effectiveHolding(input: OrderQuantityInput, price: number): { holding: number; owed: number } {
  const { demand, holdingCost = 0, holdingRate = 0, supplyRate = Infinity, shortageCost = Infinity } = input;
  const each = holdingCost + holdingRate * price;
  const owed = shortageCost === Infinity ? 0 : each / (each + shortageCost);
  const used = 1 - demand / supplyRate;
  return { holding: each * used * (1 - owed), owed: owed * used };
}

function costOf(input: OrderQuantityInput, quantity: number, price: number): OrderQuantity {
  const { holding, owed } = effectiveHolding(input, price);
  const ordersPerYear = input.demand / quantity;
  const runningCost = ordersPerYear * input.orderCost + (holding * quantity) / 2;
  return {
    quantity,
    price,
    runningCost,
    totalCost: runningCost + input.demand * price,
    ordersPerYear,
    mostOwed: owed * quantity,
  };
}

/** The lowest point of a price's own range, or the multiples of the pack beside it. */
function candidates(input: OrderQuantityInput, price: number, from: number, below: number): number[] {
  const { holding } = effectiveHolding(input, price);
  if (!(holding > 0)) {
    throw new UsageError(
      'orderQuantity',
      'holding must cost something: else no lot is large enough.',
      holding,
    );
  }
  const root = Math.sqrt((2 * input.demand * input.orderCost) / holding);
  const { pack } = input;
  const fits = (quantity: number): boolean => quantity > 0 && quantity >= from && quantity < below;
  // At the upper end the next price takes over, so that a root beyond it never is the best of all.
  if (pack === undefined) return [Math.max(root, from)].filter(fits);
  const lowest = Math.ceil(from / pack) * pack;
  const down = Math.floor(root / pack) * pack;
  const last = (Math.ceil(below / pack) - 1) * pack;
  const inRange = (quantity: number): number => Math.max(lowest, pack, Math.min(quantity, last));
  return [down, down + pack].map(inRange).filter(fits);
}

function requireInput(input: OrderQuantityInput): void {
  const { demand, supplyRate, shortageCost, pack, minOrder = 0 } = input;
  const { orderCost, holdingCost = 0, holdingRate = 0 } = input;
  const rule = (holds: boolean, text: string, value: number | undefined): void => {
    if (!holds) throw new UsageError('orderQuantity', text, value);
  };
  rule(demand > 0 && Number.isFinite(demand), 'demand must be above 0, and finite.', demand);
  for (const [name, value] of Object.entries({ orderCost, holdingCost, holdingRate, minOrder })) {
    rule(value >= 0 && Number.isFinite(value), `${name} must be at or above 0, and finite.`, value);
  }
  const smallest = orderCost > 0 || minOrder > 0 || pack !== undefined;
  rule(smallest, 'orderCost must be above 0, unless pack or minOrder limits how small lots are.', orderCost);
  rule(supplyRate === undefined || supplyRate > demand, 'supplyRate must be above demand.', supplyRate);
  rule(shortageCost === undefined || shortageCost > 0, 'shortageCost must be above 0.', shortageCost);
  rule(pack === undefined || (pack > 0 && Number.isFinite(pack)), 'pack must be above 0.', pack);
}
