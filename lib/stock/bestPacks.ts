/** Packs to order in each period at least cost: the search behind `lotSizes`. */
import { floatAt } from '../numeric/columns.js';

/** In packs. */
export interface LotRules {
  /** Smallest order. */
  least: number;
  orderCost: number;
  /** Of a pack on the shelf at the end of a period. */
  holding: number;
  /** Largest order in a period, unless more is short at once; null = no limit. */
  mostIn: ((period: number) => number) | null;
  /** Orders at which the price falls. */
  breaks: readonly number[];
  /** What the packs of an order cost; null where that does not depend on how they are ordered. */
  costOf: ((order: number) => number) | null;
}

/**
 * Where neither a least order nor prices matter: each order covers whole periods, so that the best rest from each period on
 * with an empty shelf is enough (Wagner & Whitin 1958). Periods without need are stepped over. Packs to order by period.
 */
export function coverWhole(packs: Float64Array, { orderCost, holding, mostIn }: LotRules): Float64Array {
  const periods = [...packs.keys()].filter((t) => floatAt(packs, t) > 0);
  const count = periods.length;
  const rest = new Float64Array(count + 1);
  const until = new Int32Array(count);
  for (let i = count - 1; i >= 0; i--) {
    const start = periods[i] as number;
    const most = mostIn?.(start) ?? Infinity;
    let best = Infinity;
    let [order, held] = [0, orderCost];
    for (let j = i; j < count; j++) {
      const end = periods[j] as number;
      order += floatAt(packs, end);
      held += holding * floatAt(packs, end) * (end - start);
      if (j > i && (order > most || held >= best)) break;
      const cost = held + floatAt(rest, j + 1);
      if (cost < best) {
        best = cost;
        until[i] = j + 1;
      }
    }
    rest[i] = best;
  }
  const orders = new Float64Array(packs.length);
  for (let i = 0; i < count; ) {
    const next = until[i] as number;
    const start = periods[i] as number;
    for (let j = i; j < next; j++) {
      orders[start] = floatAt(orders, start) + floatAt(packs, periods[j] as number);
    }
    i = next;
  }
  return orders;
}

/** What is left to do from a period on, with so many packs on the shelf: cost, and the order to start with. */
interface Rest {
  cost: number;
  order: number;
}

/**
 * The best rest from the last period back, remembered by period and stock. Choices where the shelf is short: the least
 * order, an order at which the price falls, or exactly what covers up to some later period; where it is not, no order is placed
 * early: holding costs, and nothing is saved. Packs to order by period.
 */
export function bestPacks(packs: Float64Array, rules: LotRules): Float64Array {
  const { orderCost, holding, costOf } = rules;
  const known: Map<number, Rest>[] = Array.from({ length: packs.length + 1 }, () => new Map());
  const restOf = (t: number, stock: number): Rest => {
    if (t >= packs.length) return { cost: 0, order: 0 };
    return known[t]?.get(stock) as Rest;
  };
  const stocks = reachable(packs, rules);
  for (let t = packs.length - 1; t >= 0; t--) {
    const need = floatAt(packs, t);
    for (const stock of stocks[t] as Set<number>) {
      let best: Rest = { cost: Infinity, order: 0 };
      for (const order of choices(packs, t, stock, rules)) {
        const left = stock + order - need;
        const placed = order > 0 ? orderCost + (costOf?.(order) ?? 0) : 0;
        const cost = placed + holding * left + restOf(t + 1, left).cost;
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
function reachable(packs: Float64Array, rules: LotRules): Set<number>[] {
  const stocks: Set<number>[] = Array.from({ length: packs.length + 1 }, () => new Set<number>());
  stocks[0]?.add(0);
  for (let t = 0; t < packs.length; t++) {
    for (const stock of stocks[t] as Set<number>) {
      for (const order of choices(packs, t, stock, rules)) {
        stocks[t + 1]?.add(stock + order - floatAt(packs, t));
      }
    }
  }
  return stocks;
}

function choices(
  packs: Float64Array,
  t: number,
  stock: number,
  { least, breaks, mostIn }: LotRules,
): number[] {
  const short = floatAt(packs, t) - stock;
  // Ordering before the shelf is short brings the holding forward and saves nothing.
  if (short <= 0) return [0];
  const smallest = Math.max(short, least);
  const most = Math.max(smallest, mostIn?.(t) ?? Infinity);
  const orders: number[] = [];
  let missing = -stock;
  for (let end = t; end < packs.length; end++) {
    missing += floatAt(packs, end);
    if (missing > most) break;
    if (missing > least && (end + 1 >= packs.length || floatAt(packs, end + 1) > 0)) orders.push(missing);
  }
  if (least >= short) orders.push(least);
  for (const order of breaks) if (order > smallest && order <= most) orders.push(order);
  return orders;
}
