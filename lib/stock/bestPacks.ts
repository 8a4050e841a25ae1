/** Packs to order in each period at least cost: the search behind `lotSizes`. */
import { floatAt, itemAt } from '../numeric/columns.js';

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
 * The best rest from the last period with a need back, remembered by period and stock. Choices where the shelf is short: the
 * least order, an order at which the price falls, or exactly what covers up to some later period; where it is not, no order is
 * placed early: holding costs, and nothing is saved. Packs to order by period.
 */
export function bestPacks(packs: Float64Array, rules: LotRules): Float64Array {
  const stops = stopsOf(packs, rules);
  const known = stops.map(() => new Map<number, Rest>());
  const orders = new Float64Array(packs.length);
  let stock = 0;
  stops.forEach(({ period, need }, i) => {
    const { order } = restFrom(stops, known, i, stock, rules);
    orders[period] = order;
    stock += order - need;
  });
  return orders;
}

/** A period with a need. */
interface Stop {
  period: number;
  need: number;
  /** Largest order, unless more is short. */
  most: number;
  /** Ends of periods until the next stop, at which what is left is held. */
  span: number;
}

function stopsOf(packs: Float64Array, { mostIn }: LotRules): Stop[] {
  const periods = [...packs.keys()].filter((t) => floatAt(packs, t) > 0);
  return periods.map((period, i) => ({
    period,
    need: floatAt(packs, period),
    most: mostIn?.(period) ?? Infinity,
    span: (periods[i + 1] ?? packs.length) - period,
  }));
}

const NOTHING_LEFT: Rest = { cost: 0, order: 0 };

function restFrom(
  stops: readonly Stop[],
  known: readonly Map<number, Rest>[],
  i: number,
  stock: number,
  rules: LotRules,
): Rest {
  if (i >= stops.length) return NOTHING_LEFT;
  const before = known[i]?.get(stock);
  if (before !== undefined) return before;
  const { orderCost, holding, costOf } = rules;
  const { need, span } = itemAt(stops, i);
  let best: Rest = { cost: Infinity, order: 0 };
  for (const order of choices(stops, i, stock, rules)) {
    const left = stock + order - need;
    const placed = order > 0 ? orderCost + (costOf?.(order) ?? 0) : 0;
    const now = placed + holding * left * span;
    if (now >= best.cost) continue;
    const cost = now + restFrom(stops, known, i + 1, left, rules).cost;
    if (cost < best.cost) best = { cost, order };
  }
  known[i]?.set(stock, best);
  return best;
}

function choices(stops: readonly Stop[], i: number, stock: number, { least, breaks }: LotRules): number[] {
  const { need, most: limit } = itemAt(stops, i);
  const short = need - stock;
  // Ordering before the shelf is short brings the holding forward and saves nothing.
  if (short <= 0) return NO_ORDER;
  const smallest = Math.max(short, least);
  const most = Math.max(smallest, limit);
  const orders: number[] = [];
  let missing = -stock;
  for (let end = i; end < stops.length; end++) {
    missing += itemAt(stops, end).need;
    if (missing > most) break;
    if (missing > least) orders.push(missing);
  }
  if (least >= short) orders.push(least);
  for (const order of breaks) if (order > smallest && order <= most) orders.push(order);
  return orders;
}

const NO_ORDER = [0];
