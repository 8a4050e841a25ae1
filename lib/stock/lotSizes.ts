/** When to order how much for needs that are known, where an order costs. */
import { UsageError } from '../errors.js';
import { at, floatAt } from '../numeric/columns.js';
import { bestPacks, coverWhole, type LotRules } from './bestPacks.js';
import { checkedSteps, type PriceBreak, priceAt } from './priceBreaks.js';

export interface LotSizeCosts {
  /** Of placing an order. */
  orderCost: number;
  /** Of a piece on the shelf at the end of a period. */
  holdingCostPerPeriod: number;
  /** Orders are multiples of this; default 1. */
  pack?: number;
  /** Smallest order taken; default 0. */
  minOrder?: number;
  /** On the shelf before the first period; default 0. */
  onHand?: number;
  /** Most to order in a period, so that it is used before it expires, unless more is short at once; no limit where not given. */
  mostIn?: (period: number) => number;
  /** Of a piece, where it falls with the size of an order: the steps, the first from 0 or 1. What is left at the end is not paid back. */
  price?: readonly PriceBreak[];
}

export interface LotSizes {
  /** Pieces that arrive at the start of each period. */
  orders: number[];
  /** Pieces on the shelf at the end of each period. */
  left: number[];
  orderingCost: number;
  holdingCost: number;
  /** Of the pieces; 0 where no price is given. */
  purchaseCost: number;
  totalCost: number;
}

/**
 * Orders of least cost that meet every need on time: by Wagner & Whitin (1958, from memory), an order is placed only when the
 * shelf would run out, and covers whole periods. Packs fit the same rule: needs become the packs that must have been opened by
 * then. With a minimum order some are just the minimum, and with price breaks some are just a break (Federgruen & Lee 1990, from
 * memory): one that is larger can be cut down in favour of the next, until the shelf runs out just before that one comes.
 * Over all such plans the best is found, remembered by period and stock. A limit by use-by date (`mostIn`) holds for each order.
 * Throws UsageError on needs below 0, costs below 0, pack not above 0, prices that make no sense, or stock below 0 (needs
 * overdue: add them to the first).
 * @example lotSizes([10, 10, 40], { orderCost: 50, holdingCostPerPeriod: 1 }).orders // [20, 0, 40]
 */
export function lotSizes(needs: ArrayLike<number>, costs: LotSizeCosts): LotSizes {
  const { orderCost, holdingCostPerPeriod, pack = 1, minOrder = 0, onHand = 0 } = costs;
  requireNeeds(needs);
  requireCosts({ orderCost, holdingCostPerPeriod, minOrder, onHand });
  if (!(pack > 0 && Number.isFinite(pack))) throw new UsageError('lotSizes', 'pack must be above 0.', pack);
  if (costs.price !== undefined) checkedSteps('lotSizes', costs.price);
  const packs = packsNeeded(needs, onHand, pack);
  const { mostIn, price } = costs;
  const rules: LotRules = {
    least: Math.max(1, Math.ceil(minOrder / pack - WHISKER)),
    orderCost,
    holding: holdingCostPerPeriod * pack,
    mostIn: mostIn === undefined ? null : (t) => Math.floor(mostIn(t) / pack + WHISKER),
    breaks: (price ?? []).map(({ from }) => Math.ceil(from / pack - WHISKER)),
    costOf: price === undefined ? null : (order) => order * pack * priceAt(price, order * pack),
  };
  const plain = rules.least === 1 && rules.costOf === null;
  const ordered = plain ? coverWhole(packs, rules) : bestPacks(packs, rules);
  return written(ordered, needs, { orderCost, holdingCostPerPeriod, pack, onHand, price });
}

const WHISKER = 1e-9;

/** packs[t]: packs that must be opened in period t for the first time. */
function packsNeeded(needs: ArrayLike<number>, onHand: number, pack: number): Float64Array {
  const packs = new Float64Array(needs.length);
  let [needed, before] = [-onHand, 0];
  for (let t = 0; t < needs.length; t++) {
    needed += at(needs, t);
    const opened = Math.max(0, Math.ceil(needed / pack - WHISKER));
    packs[t] = opened - before;
    before = opened;
  }
  return packs;
}

function written(
  packs: Float64Array,
  needs: ArrayLike<number>,
  costs: {
    orderCost: number;
    holdingCostPerPeriod: number;
    pack: number;
    onHand: number;
    price: readonly PriceBreak[] | undefined;
  },
): LotSizes {
  const orders: number[] = [];
  const left: number[] = [];
  let stock = costs.onHand;
  let [orderingCost, holdingCost, purchaseCost] = [0, 0, 0];
  for (let t = 0; t < packs.length; t++) {
    const order = floatAt(packs, t) * costs.pack;
    stock += order - at(needs, t);
    if (stock < 0 && stock > -1e-6 * costs.pack) stock = 0;
    orders.push(order);
    left.push(stock);
    if (order > 0) orderingCost += costs.orderCost;
    if (order > 0 && costs.price !== undefined) purchaseCost += order * priceAt(costs.price, order);
    holdingCost += stock * costs.holdingCostPerPeriod;
  }
  const totalCost = orderingCost + holdingCost + purchaseCost;
  return { orders, left, orderingCost, holdingCost, purchaseCost, totalCost };
}

function requireNeeds(needs: ArrayLike<number>): void {
  for (let t = 0; t < needs.length; t++) {
    if (!(at(needs, t) >= 0 && Number.isFinite(at(needs, t)))) {
      throw new UsageError('lotSizes', `needs[${t}] must be at or above 0, and finite.`, at(needs, t));
    }
  }
}

function requireCosts(costs: Record<string, number>): void {
  for (const [name, value] of Object.entries(costs)) {
    if (!(value >= 0 && Number.isFinite(value))) {
      throw new UsageError('lotSizes', `${name} must be at or above 0, and finite.`, value);
    }
  }
}
