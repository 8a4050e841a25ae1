/** How much to order at a time: economic lot, packs, and what can be used before it expires (METHODS 5.9). */
import type { Warning } from '../findings.js';
import type { Item, Money } from '../fleet/types.js';
import { DAYS_PER_YEAR } from '../numeric/day.js';
import type { LotCosts } from './groupedLots.js';
import { allowedQuantity } from './grouping.js';
import type { ItemNeed } from './itemNeed.js';
import { countQuantile } from './itemNeed.js';
import type { ItemState } from './itemState.js';
import { orderQuantity } from './orderQuantity.js';
import { priceSteps } from './priceBreaks.js';

/** Without a cost of ordering, a lot covers so much of a year's leaks and openings. */
const LOT_YEARS = 0.25;
/** A lot is held to what is used before it expires with at least this chance. */
const USED_CHANCE = 0.9;

export interface LotSize {
  /** Multiple of the pack, at least the minimum order. */
  quantity: number;
  /** Largest order that comes at this moment and is used before it expires, as far as that can be known. */
  mostAt: (moment: number) => number;
  /** What decides how needs are grouped into orders; null where ordering or holding costs are not given. */
  costs: LotCosts | null;
  warnings: Warning[];
}

export function lotSize(item: Item, need: ItemNeed, state: ItemState, money: Money): LotSize {
  const perYear = need.random.perDay * DAYS_PER_YEAR;
  const economic = economicLot(item, perYear, money) ?? LOT_YEARS * perYear;
  const mostAt = (moment: number): number => usedWithin(need, moment, state.keepsDays);
  const least = allowedQuantity(1, item.pack, item.minOrder);
  const most = Math.floor(mostAt(state.leadDays) / item.pack) * item.pack;
  const quantity = Math.max(least, Math.min(allowedQuantity(economic, item.pack, item.minOrder), most));
  const warnings =
    quantity > mostAt(state.leadDays) && perYear > 0 ? [scrapWarning(item, need, state, quantity)] : [];
  return { quantity, mostAt, costs: lotCosts(item, need, money), warnings };
}

/**
 * Harris's lot (1913): root of 2 x yearly demand x cost of an order / yearly cost of holding one; with price breaks the lot of
 * least cost of all (`orderQuantity`). Null without prices.
 */
export function economicLot(item: Item, perYear: number, money: Money): number | null {
  const { order, holding } = costsOf(item, money);
  if (!(order > 0 && holding > 0)) return null;
  if (item.priceBreaks.length === 0 || !(perYear > 0)) return Math.sqrt((2 * perYear * order) / holding);
  const { quantity } = orderQuantity({
    demand: perYear,
    orderCost: order,
    holdingRate: money.holdingRatePerYear?.likely ?? 0,
    price: priceSteps(item) ?? 0,
    pack: item.pack,
    minOrder: item.minOrder,
  });
  return quantity;
}

/** Of placing an order, and of holding a piece for a year. */
function costsOf({ price }: Item, money: Money): { order: number; holding: number } {
  const rate = money.holdingRatePerYear?.likely ?? 0;
  return { order: money.orderCost?.likely ?? 0, holding: rate * (price ?? 0) };
}

/** Random demand is followed so many economic lots beyond the months planned, and at most so many days. */
const LOTS_BEYOND = 2;
const MOST_BEYOND = 5 * DAYS_PER_YEAR;

function lotCosts(item: Item, { random }: ItemNeed, money: Money): LotCosts | null {
  const { order, holding } = costsOf(item, money);
  if (!(order > 0 && holding > 0)) return null;
  const economic = economicLot(item, random.perDay * DAYS_PER_YEAR, money) ?? 0;
  const largest = Math.max(LOTS_BEYOND * economic, item.priceBreaks.at(-1)?.from ?? 0);
  const span = random.perDay > 0 ? Math.min(MOST_BEYOND, largest / random.perDay) : 0;
  return {
    orderCost: order,
    holdingCost: holding / DAYS_PER_YEAR,
    price: item.priceBreaks.length === 0 ? null : priceSteps(item),
    beyond: { rate: random.perDay, span },
  };
}

/** Planned need and nearly certain random demand between a delivery and its last good day. */
function usedWithin(need: ItemNeed, moment: number, keepsDays: number): number {
  if (keepsDays === Infinity) return Infinity;
  const planned = (need.demand?.plannedPerYear ?? 0) * (keepsDays / DAYS_PER_YEAR);
  const mean = need.randomMean(moment, moment + keepsDays);
  const { perDay, variancePerDay, rateSd } = need.random;
  const spread = perDay > 0 ? variancePerDay / perDay : 1;
  const variance = mean * spread + (rateSd * keepsDays) ** 2;
  return planned + countQuantile(1 - USED_CHANCE, mean, variance);
}

function scrapWarning(item: Item, need: ItemNeed, state: ItemState, quantity: number): Warning {
  const used = Math.floor(usedWithin(need, state.leadDays, state.keepsDays));
  const lost = item.price === null ? '' : `, worth ${Math.round(item.price * (quantity - used))}`;
  return {
    code: 'minimum-order-expires',
    text: `The smallest order is ${quantity}, and only ${used} are likely to be used before they expire: up to ${quantity - used} may be scrapped${lost}.`,
    todo: 'Ask for a smaller pack or fresher stock, or keep none and pay for emergency orders.',
  };
}
