/** Diaphragms of an item that can be there on a day: on the shelf and not past use-by, on order and due, or still to be ordered. */
import { addMonths, DAYS_PER_MONTH, type Day } from '../numeric/day.js';
import { shelfLifeOf } from './shelfLife.js';
import type { Fleet, Item, Lot } from './types.js';
import { leadTimeSeen, usualLeadDays } from './usualLeadTime.js';

/** Pieces that come on a day (0: are on the shelf) and are good up to and on another; Infinity = they do not expire. */
export interface DatedPieces {
  quantity: number;
  from: Day;
  useBy: Day;
  lot?: string;
}

/**
 * What stores counts of an item, by use-by; where lots hold more than is on hand, the oldest are taken as used up. What is in no lot is no
 * fresher than a delivery of today, so that it is used before later ones.
 */
export function piecesOnShelf(
  item: Item,
  lots: readonly Lot[],
  today: Day,
): { pieces: DatedPieces[]; onHand: number; inLots: number } {
  const own = lots.filter((lot) => lot.item === item.item);
  const dated = own.map(
    (lot): DatedPieces => ({ quantity: lot.quantity, from: 0, useBy: useByOf(lot, item), lot: lot.lot }),
  );
  const inLots = dated.reduce((sum, { quantity }) => sum + quantity, 0);
  const onHand = item.onHand > 0 ? item.onHand : inLots;
  if (inLots > onHand) return { pieces: keepNewest(dated, onHand), onHand, inLots };
  const loose = { quantity: onHand - inLots, from: 0, useBy: today + keepsDays(item) };
  return { pieces: [...dated, loose], onHand, inLots };
}

/** The use-by of a lot comes first; else its cure date and the shelf life. */
function useByOf({ useBy, cured }: Lot, item: Item): Day {
  if (useBy !== null) return useBy;
  const { months } = shelfLifeOf(item);
  return cured === null || months === null ? Infinity : addMonths(cured, Math.floor(months));
}

function keepNewest(dated: DatedPieces[], quantity: number): DatedPieces[] {
  let left = quantity;
  return [...dated]
    .sort((a, b) => b.useBy - a.useBy)
    .map((pieces) => {
      const kept = Math.min(pieces.quantity, left);
      left -= kept;
      return { ...pieces, quantity: kept };
    });
}

/** Days that a new delivery of an item keeps; Infinity = it does not expire. */
export function keepsDays(item: Item): number {
  const months = item.shelfLifeLeftAtReceiptMonths ?? shelfLifeOf(item).months;
  return months === null ? Infinity : months * DAYS_PER_MONTH;
}

/** First day on which a piece ordered on the day of the data is there, after the usual lead time of its item. */
export function orderedComes(fleet: Fleet, item: Item): Day {
  const seen = item.leadTimeDays === null ? leadTimeSeen(fleet, item) : null;
  return fleet.site.dataUntil + Math.ceil(usualLeadDays(item, seen));
}

/** Shelf and open orders of an item; an overdue order is taken to come within the review period. Null where nothing is counted. */
export function datedPieces({ site, lots, orders }: Fleet, item: Item): DatedPieces[] | null {
  const isCounted = (item.onHandKnown ?? item.onHand > 0) || lots.some((lot) => lot.item === item.item);
  if (!isCounted) return null;
  const ordered = orders
    .filter((order) => order.item === item.item && order.quantity > 0)
    .map(({ quantity, due }): DatedPieces => {
      const from = due > site.dataUntil ? due : site.dataUntil + Math.max(1, site.reviewDays);
      return { quantity, from, useBy: from + keepsDays(item) };
    });
  return [...piecesOnShelf(item, lots, site.dataUntil).pieces, ...ordered];
}

/** Pieces as replacements take them, first expired first. */
export interface PieceStore {
  /** Whether one is there on a day, of the item or of its approved substitute. An item that nobody counts always is. */
  has(item: string | null, day: Day): boolean;
  /** Takes one, if there is one. */
  take(item: string | null, day: Day): void;
}

/** The pieces of a plant on the day of the data; asked in order of date. */
export function pieceStore(fleet: Fleet): PieceStore {
  const items = new Map(fleet.items.map((item) => [item.item, item]));
  const comes = new Map(fleet.items.map((item) => [item, orderedComes(fleet, item)]));
  const left = new Map<string, DatedPieces[] | null>();
  const piecesOf = (item: Item): DatedPieces[] | null => {
    const known = left.get(item.item);
    if (known !== undefined) return known;
    const pieces = datedPieces(fleet, item)?.map((each) => ({ ...each })) ?? null;
    left.set(item.item, pieces);
    return pieces;
  };
  /** Undefined where there is none; null where it is not limited. */
  const own = (item: Item, day: Day): DatedPieces | null | undefined => {
    const pieces = piecesOf(item);
    return pieces === null || day >= (comes.get(item) ?? 0) ? null : firstGood(pieces, day);
  };
  const find = (name: string | null, day: Day): DatedPieces | null | undefined => {
    const item = name === null ? undefined : items.get(name);
    if (item === undefined) return null;
    const substitute = item.approvedSubstitute === null ? undefined : items.get(item.approvedSubstitute);
    const found = own(item, day);
    return found !== undefined || substitute === undefined ? found : own(substitute, day);
  };
  return {
    has: (item, day) => find(item, day) !== undefined,
    take: (item, day) => {
      const pieces = find(item, day);
      if (pieces !== null && pieces !== undefined) pieces.quantity -= 1;
    },
  };
}

function firstGood(pieces: readonly DatedPieces[], day: Day): DatedPieces | undefined {
  let first: DatedPieces | undefined;
  for (const each of pieces) {
    const isGood = each.quantity >= 1 && each.from <= day && each.useBy >= day;
    if (isGood && (first === undefined || each.useBy < first.useBy)) first = each;
  }
  return first;
}

/**
 * Pieces of an item that can be taken up to and on each of some days (in order), one count from the day of the data on; null from the day on
 * which a new order can be there, and everywhere where nobody counts them. What expires counts while it is good at the first of the days at
 * which it is there.
 */
export function piecesReady(fleet: Fleet, item: Item, days: readonly Day[]): (number | null)[] {
  const pieces = datedPieces(fleet, item);
  const comes = orderedComes(fleet, item);
  return days.map((day) => {
    if (pieces === null || day >= comes) return null;
    let ready = 0;
    for (const { quantity, from, useBy } of pieces) {
      const first = days.find((each) => each >= from) ?? Infinity;
      if (from <= day && useBy >= first) ready += Math.floor(quantity);
    }
    return ready;
  });
}
