/** What stores has and gets of one item: shelf by use-by date, open orders, lead time, with what had to be assumed. */
import type { Warning } from '../findings.js';
import { keepsDays, piecesOnShelf } from '../fleet/pieces.js';
import { type ShelfLife, shelfLifeOf, shelfLifeWarning } from '../fleet/shelfLife.js';
import type { Fleet, Item, Lot } from '../fleet/types.js';
import type { Day } from '../numeric/day.js';
import { textFromDay } from '../numeric/day.js';
import type { Receipt } from './course.js';
import { type LeadTime, leadTimeOf } from './leadTime.js';
import type { Pieces } from './shelf.js';
import { expire, sortedShelf, total } from './shelf.js';

export interface ItemState extends LeadTime {
  /** Moments are days from the day of the data; pieces past their use-by are left out. */
  shelf: Pieces[];
  onHand: number;
  usable: number;
  onOrder: number;
  /** Overdue ones (source 'late') are taken to come within the review period. */
  receipts: Receipt[];
  /** Of them overdue, in so many orders, and the day the first of these was due. */
  late: { quantity: number; orders: number; due: Day } | null;
  /** How long a new delivery keeps, days; Infinity = it does not expire. */
  keepsDays: number;
  life: ShelfLife;
  warnings: Warning[];
}

export function itemState(fleet: Fleet, item: Item): ItemState {
  const warnings: Warning[] = [];
  const today = fleet.site.dataUntil;
  const lots = fleet.lots.filter((lot) => lot.item === item.item);
  const life = shelfLifeOf(item);
  const assumed = shelfLifeWarning(life);
  const keeps = keepsDays(item);
  const { shelf, onHand } = shelfOf(item, lots, today, warnings);
  const sorted = sortedShelf(shelf);
  const gone = total(expire(sorted, 0));
  if (gone > 0) warnings.push(expiredWarning(gone));
  const lead = leadTimeOf(fleet, item, warnings);
  if (lead.leadDays > keeps) warnings.push(LEAD_BEYOND_SHELF_LIFE);
  if (assumed !== null) warnings.push(assumed);
  return {
    shelf: sorted,
    onHand,
    usable: total(sorted),
    ...openOrders(fleet, item, keeps, warnings),
    ...lead,
    keepsDays: keeps,
    life,
    warnings,
  };
}

const LEAD_BEYOND_SHELF_LIFE: Warning = {
  code: 'lead-beyond-shelf-life',
  text: 'The lead time is longer than the shelf life: an order is placed before what it replaces expires.',
  todo: 'Ask the supplier for fresh stock with most of its shelf life left, or for a shorter lead time.',
};

function expiredWarning(quantity: number): Warning {
  return {
    code: 'expired-stock',
    text: `${quantity} on the shelf ${quantity === 1 ? 'is' : 'are'} past use-by and not counted.`,
    todo: 'Take them off the shelf.',
  };
}

/** The shelf by lots, and what is in no lot: no fresher than a delivery of today, so that it is used before later ones. */
function shelfOf(
  item: Item,
  lots: Lot[],
  today: Day,
  warnings: Warning[],
): { shelf: Pieces[]; onHand: number } {
  const { pieces, onHand, inLots } = piecesOnShelf(item, lots, today);
  const shelf = pieces.map(
    ({ quantity, useBy, lot }): Pieces => ({
      quantity,
      useBy: useBy - today,
      ...(lot === undefined ? {} : { lot }),
    }),
  );
  const loose = onHand - inLots;
  if (loose < 0) {
    warnings.push({
      code: 'lots-above-on-hand',
      text: `lots.csv lists ${inLots}, items.csv has ${onHand} on hand: the oldest lots are taken as used up.`,
      todo: 'Count the shelf and correct one of the two.',
    });
  }
  if (loose > 0 && item.shelfLifeMonths !== null) {
    warnings.push({
      code: 'no-use-by',
      text: `${loose} on hand ${loose === 1 ? 'has' : 'have'} no use-by date: taken to be as fresh as a delivery of today.`,
      todo: 'List them in lots.csv with their cure or use-by date.',
    });
  }
  return { shelf, onHand };
}

function openOrders(
  fleet: Fleet,
  item: Item,
  keeps: number,
  warnings: Warning[],
): Pick<ItemState, 'receipts' | 'onOrder' | 'late'> {
  const today = fleet.site.dataUntil;
  const orders = fleet.orders.filter((order) => order.item === item.item && order.quantity > 0);
  const overdue = orders.filter((order) => order.due < today);
  const late = overdue.reduce((sum, { quantity }) => sum + quantity, 0);
  const first = Math.min(...overdue.map((order) => order.due));
  if (late > 0) {
    warnings.push({
      code: 'order-overdue',
      text: `${late} on order ${late === 1 ? 'was' : 'were'} due by ${textFromDay(first)}: taken to come within the review period.`,
      todo: 'Ask the supplier for a date and correct orders.csv, or take the order out if it came.',
    });
  }
  const receipts = orders.map(({ due, quantity }): Receipt => {
    const moment = due > today ? due - today : Math.max(1, fleet.site.reviewDays);
    return { moment, quantity, useBy: moment + keeps, source: due < today ? 'late' : 'on order' };
  });
  return {
    receipts,
    onOrder: receipts.reduce((sum, { quantity }) => sum + quantity, 0),
    late: late > 0 ? { quantity: late, orders: overdue.length, due: first } : null,
  };
}
