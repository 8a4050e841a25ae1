/** When to order how much for needs that are known, where an order costs. */
import { UsageError } from '../errors.js';
import { at, floatAt } from '../numeric/columns.js';

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
}

export interface LotSizes {
  /** Pieces that arrive at the start of each period. */
  orders: number[];
  /** Pieces on the shelf at the end of each period. */
  left: number[];
  orderingCost: number;
  holdingCost: number;
  totalCost: number;
}

/**
 * Orders of least cost that meet every need on time: by Wagner & Whitin (1958, from memory), an order is placed only when the
 * shelf would run out, and covers whole periods. Packs fit the same rule: needs become the packs that must have been opened by
 * then. With a minimum order some are just the minimum: one that is larger can be cut down in favour of the next, until the
 * shelf runs out just before that one comes. Over all such plans the best is found, remembered by period and stock.
 * Throws UsageError on needs below 0, costs below 0, pack not above 0, or stock below 0 (needs overdue: add them to the first).
 * @example lotSizes([10, 10, 40], { orderCost: 50, holdingCostPerPeriod: 1 }).orders // [20, 0, 40]
 */
export function lotSizes(needs: ArrayLike<number>, costs: LotSizeCosts): LotSizes {
  const { orderCost, holdingCostPerPeriod, pack = 1, minOrder = 0, onHand = 0 } = costs;
  requireNeeds(needs);
  requireCosts({ orderCost, holdingCostPerPeriod, minOrder, onHand });
  if (!(pack > 0 && Number.isFinite(pack))) throw new UsageError('lotSizes', 'pack must be above 0.', pack);
  const packs = packsNeeded(needs, onHand, pack);
  const least = Math.max(1, Math.ceil(minOrder / pack - WHISKER));
  const ordered = bestPacks(packs, least, orderCost, holdingCostPerPeriod * pack);
  return written(ordered, needs, { orderCost, holdingCostPerPeriod, pack, onHand });
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

/** What is left to do from a period on, with so many packs on the shelf: cost, and the order to start with. */
interface Rest {
  cost: number;
  order: number;
}

/**
 * Packs to order in each period: the best rest from the last period back, remembered by period and stock. Choices where the
 * shelf is short: the least order, or exactly what covers up to some later period; where it is not, no order but of a
 * least order when that is above 1 is ever placed early: holding costs, and nothing is saved.
 */
function bestPacks(packs: Float64Array, least: number, orderCost: number, holding: number): Float64Array {
  const known: Map<number, Rest>[] = Array.from({ length: packs.length + 1 }, () => new Map());
  const restOf = (t: number, stock: number): Rest => {
    if (t >= packs.length) return { cost: 0, order: 0 };
    return known[t]?.get(stock) as Rest;
  };
  const stocks = reachable(packs, least);
  for (let t = packs.length - 1; t >= 0; t--) {
    const need = floatAt(packs, t);
    for (const stock of stocks[t] as Set<number>) {
      let best: Rest = { cost: Infinity, order: 0 };
      for (const order of choices(packs, t, stock, least)) {
        const left = stock + order - need;
        const cost = (order > 0 ? orderCost : 0) + holding * left + restOf(t + 1, left).cost;
        if (cost < best.cost) best = { cost, order };
      }
      known[t]?.set(stock, best);
    }
  }
  const orders = new Float64Array(packs.length);
  let stock = 0;
  for (let t = 0; t < packs.length; t++) {
    const { order } = restOf(t, stock);
    orders[t] = order;
    stock += order - floatAt(packs, t);
  }
  return orders;
}

/** Stocks that some plan can have at the start of each period. */
function reachable(packs: Float64Array, least: number): Set<number>[] {
  const stocks: Set<number>[] = Array.from({ length: packs.length + 1 }, () => new Set<number>());
  stocks[0]?.add(0);
  for (let t = 0; t < packs.length; t++) {
    for (const stock of stocks[t] as Set<number>) {
      for (const order of choices(packs, t, stock, least)) {
        stocks[t + 1]?.add(stock + order - floatAt(packs, t));
      }
    }
  }
  return stocks;
}

function choices(packs: Float64Array, t: number, stock: number, least: number): number[] {
  const enough = stock >= floatAt(packs, t);
  // Ordering before the shelf is short brings the holding forward and saves nothing.
  if (enough) return [0];
  const orders: number[] = [];
  let missing = -stock;
  for (let end = t; end < packs.length; end++) {
    missing += floatAt(packs, end);
    if (missing > least && (end + 1 >= packs.length || floatAt(packs, end + 1) > 0)) orders.push(missing);
  }
  if (least >= floatAt(packs, t) - stock) orders.push(least);
  return orders;
}

function written(
  packs: Float64Array,
  needs: ArrayLike<number>,
  costs: { orderCost: number; holdingCostPerPeriod: number; pack: number; onHand: number },
): LotSizes {
  const orders: number[] = [];
  const left: number[] = [];
  let stock = costs.onHand;
  let [orderingCost, holdingCost] = [0, 0];
  for (let t = 0; t < packs.length; t++) {
    const order = floatAt(packs, t) * costs.pack;
    stock += order - at(needs, t);
    if (stock < 0 && stock > -1e-6 * costs.pack) stock = 0;
    orders.push(order);
    left.push(stock);
    if (order > 0) orderingCost += costs.orderCost;
    holdingCost += stock * costs.holdingCostPerPeriod;
  }
  return { orders, left, orderingCost, holdingCost, totalCost: orderingCost + holdingCost };
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
