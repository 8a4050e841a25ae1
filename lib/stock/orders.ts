/** Netted orders as orders to place: dates, money, words. */
import type { Fleet, Item } from '../fleet/types.js';
import type { Day } from '../numeric/day.js';
import { textFromDay } from '../numeric/day.js';
import { becauseOf } from './because.js';
import type { ItemNeed } from './itemNeed.js';
import type { NettedOrder } from './netting.js';
import { unitPrice } from './priceBreaks.js';
import { scrapOf, scrapWarning } from './scrap.js';
import type { Hurry, StockOrder } from './types.js';
import { FAR_DAYS, listedPurposes, orderWords } from './words.js';

export interface OrderContext {
  fleet: Fleet;
  item: Item;
  need: ItemNeed;
  keepsDays: number;
  hurry: Omit<Hurry, 'shortOnDay'>;
}

export function writtenOrder(order: NettedOrder, context: OrderContext): StockOrder {
  const { item, fleet, hurry, need, keepsDays } = context;
  const today = fleet.site.dataUntil;
  const hurried = order.expedite ? { ...hurry, shortOnDay: shortOnDay(order) } : null;
  const dates = {
    quantity: order.quantity,
    orderBy: textOf(today, order.placed),
    dueBy: textOf(today, order.due),
    for: purposesOf(order, need),
  };
  const price = unitPrice(item, order.quantity);
  const scrap = scrapOf(order, need, keepsDays);
  const loss = {
    quantity: order.quantity,
    scrap,
    price,
    currency: fleet.site.currency,
    keepsDays,
    hurry,
  };
  return {
    ...dates,
    expedite: order.expedite,
    action: orderWords(dates, today, Math.floor(today + order.needed), hurried),
    because: becauseOf(order, today, item.pack, fleet.site.reviewDays, need.randomName),
    value: price === null ? null : price * order.quantity,
    firm: order.placed <= FAR_DAYS,
    hurry: hurried,
    scrap,
    warnings: scrap >= 1 ? [scrapWarning(loss, need)] : [],
  };
}

/** More kits than this are said as their number. */
const MOST_NAMED = 3;

/** What is missing comes first: the kits, leaks and openings where they lack something too, then the kits put into the same order. */
function purposesOf({ serves, random }: NettedOrder, { randomName }: ItemNeed): string {
  if (serves.length <= MOST_NAMED) return listedPurposes([...serves, ...(random ? [randomName] : [])]);
  const first = random ? randomName : (serves[0] ?? randomName);
  return `${listedPurposes([first])} and ${random ? serves.length : serves.length - 1} kits`;
}

function textOf(today: Day, moment: number): string {
  return textFromDay(Math.floor(today + moment));
}

/** Pieces missing where even an emergency delivery comes after the day. */
function shortOnDay({ due, needed, reason }: NettedOrder): number {
  return due > needed + 1e-9 ? Math.ceil(reason.short - 1e-9) : 0;
}
