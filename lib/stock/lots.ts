/** How much to order at a time: economic lot, packs, and what can be used before it expires (METHODS 5.9). */
import type { Warning } from '../findings.js';
import type { Item, Money } from '../fleet/types.js';
import { DAYS_PER_YEAR } from '../numeric/day.js';
import type { ItemNeed } from './itemNeed.js';
import { countQuantile } from './itemNeed.js';
import type { ItemState } from './itemState.js';
import { allowedQuantity } from './netting.js';

/** Without a cost of ordering, a lot covers so much of a year's leaks and openings. */
const LOT_YEARS = 0.25;
/** A lot is held to what is used before it expires with at least this chance. */
const USED_CHANCE = 0.9;

export interface LotSize {
  /** Multiple of the pack, at least the minimum order. */
  quantity: number;
  /** Largest order that comes at this moment and is used before it expires, as far as that can be known. */
  mostAt: (moment: number) => number;
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
  return { quantity, mostAt, warnings };
}

/** Harris's lot (1913): root of 2 x yearly demand x cost of an order / yearly cost of holding one; null without prices. */
export function economicLot({ price }: Item, perYear: number, money: Money): number | null {
  const order = money.orderCost?.likely ?? 0;
  const holding = (money.holdingRatePerYear?.likely ?? 0) * (price ?? 0);
  return order > 0 && holding > 0 ? Math.sqrt((2 * perYear * order) / holding) : null;
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
