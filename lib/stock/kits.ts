/** What to lay out for each shutdown, and what there is for it: the one list that orders, report and tables go by. */
import type { ItemDemand, PlannedNeed } from '../demand/types.js';
import { textFromDay } from '../numeric/day.js';
import type { KitSupply, StockAdvice } from './types.js';

/** One item of one kit. What there is for it is null where items.csv does not list the item. */
export interface KitRow {
  shutdown: string;
  /** YYYY-MM-DD */
  start: string;
  item: string;
  material: string;
  size: number;
  /** Pieces if no diaphragm on the list leaks or is opened before. */
  ifNothingLeaks: number;
  expected: number;
  /** Pieces that make the whole kit complete with the site's target. */
  layOut: number;
  onShelf: number | null;
  onTheWay: number | null;
  late: number | null;
  toOrder: number | null;
  short: number | null;
  /** Last day to order for it at the usual lead time, YYYY-MM-DD; may be past. */
  orderBy: string | null;
}

/** A row per shutdown and item, in order of date; what nothing falls due of is left out. */
export function kitRows(items: readonly ItemDemand[], stock: readonly StockAdvice[]): KitRow[] {
  const supplies = new Map<string, KitSupply>();
  for (const { item, kits } of stock) {
    for (const kit of kits) supplies.set(JSON.stringify([item, kit.day, kit.name]), kit);
  }
  const rows = items.flatMap((demand) =>
    demand.planned
      .filter(({ ifNothingLeaks, kit }) => ifNothingLeaks > 0 || kit > 0)
      .map((need) => rowOf(demand, need, supplies)),
  );
  return rows.sort(
    (a, b) => compare(a.start, b.start) || compare(a.shutdown, b.shutdown) || compare(a.item, b.item),
  );
}

function rowOf(
  { item, material, size }: ItemDemand,
  { name, day, ifNothingLeaks, expected, kit }: PlannedNeed,
  supplies: ReadonlyMap<string, KitSupply>,
): KitRow {
  const start = textFromDay(day);
  const supply = supplies.get(JSON.stringify([item, start, name]));
  return {
    shutdown: name,
    start,
    item,
    material,
    size,
    ifNothingLeaks,
    expected,
    layOut: kit,
    onShelf: supply?.onShelf ?? null,
    onTheWay: supply?.onTheWay ?? null,
    late: supply?.late ?? null,
    toOrder: supply?.toOrder ?? null,
    short: supply?.short ?? null,
    orderBy: supply?.orderBy ?? null,
  };
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
