/** What to lay out for each shutdown, and what there is for it: the one list that orders, report and tables go by. */
import type { ItemDemand, PlannedNeed } from '../demand/types.js';
import type { Item } from '../fleet/types.js';
import { textFromDay } from '../numeric/day.js';
import { WHOLE } from './follow.js';
import type { KitSource, KitSupply, StockAdvice } from './types.js';

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
  /** Enough of this part alone in 95 of 100 cases. */
  with95: number;
  /** Pieces that make the whole kit complete with the site's target. */
  layOut: number;
  onShelf: number | null;
  onTheWay: number | null;
  late: number | null;
  toOrder: number | null;
  /** Whole pieces of the kit by where they are to be taken from; null where nothing is known. */
  taken: Record<KitSource['from'], number> | null;
  short: number | null;
  /** Last day to order for it at the usual lead time, YYYY-MM-DD; may be past. */
  orderBy: string | null;
  /** The approved substitute, where items.csv lists one and this row takes more than the shelf holds; else null. */
  substitute: KitSubstitute | null;
}

/** An item that may be fitted instead. */
export interface KitSubstitute {
  item: string;
  /** Pieces of it on the shelf then, less its own kits of that day and what rows before lack; null where nothing is known of it. */
  spare: number | null;
}

/** A row per shutdown and item, in order of date; what nothing falls due of is left out. `catalogue` is items.csv. */
export function kitRows(
  items: readonly ItemDemand[],
  stock: readonly StockAdvice[],
  catalogue: readonly Item[] = [],
): KitRow[] {
  const supplies = new Map<string, KitSupply>();
  for (const { item, kits } of stock) {
    for (const kit of kits) supplies.set(keyOf(item, kit.day, kit.name), kit);
  }
  const rows = items.flatMap((demand) =>
    demand.planned
      .filter(({ ifNothingLeaks, kit }) => ifNothingLeaks > 0 || kit > 0)
      .map((need) => rowOf(demand, need, supplies)),
  );
  rows.sort(
    (a, b) => compare(a.start, b.start) || compare(a.shutdown, b.shutdown) || compare(a.item, b.item),
  );
  return withSubstitutes(rows, stock, catalogue);
}

function keyOf(item: string, start: string, shutdown: string): string {
  return JSON.stringify([item, start, shutdown]);
}

function rowOf(
  { item, material, size }: ItemDemand,
  { name, day, ifNothingLeaks, expected, with95, kit }: PlannedNeed,
  supplies: ReadonlyMap<string, KitSupply>,
): KitRow {
  const start = textFromDay(day);
  const supply = supplies.get(keyOf(item, start, name));
  return {
    shutdown: name,
    start,
    item,
    material,
    size,
    ifNothingLeaks,
    expected,
    with95,
    layOut: kit,
    onShelf: supply?.onShelf ?? null,
    onTheWay: supply?.onTheWay ?? null,
    late: supply?.late ?? null,
    toOrder: supply?.toOrder ?? null,
    taken: supply === undefined ? null : takenOf(supply.from),
    short: supply?.short ?? null,
    orderBy: supply?.orderBy ?? null,
    substitute: null,
  };
}

function takenOf(from: readonly KitSource[]): NonNullable<KitRow['taken']> {
  const taken = { shelf: 0, 'on order': 0, late: 0, planned: 0 };
  for (const each of from) taken[each.from] += each.quantity;
  return taken;
}

/**
 * Names the approved substitute of what the shelf does not hold, with what its own kits of that day leave of it, and the rows before, which
 * come first where they are short.
 */
function withSubstitutes(
  rows: readonly KitRow[],
  stock: readonly StockAdvice[],
  catalogue: readonly Item[],
): KitRow[] {
  const approved = new Map(catalogue.map(({ item, approvedSubstitute }) => [item, approvedSubstitute]));
  const usable = new Map(stock.map((each) => [each.item, each.usable]));
  const promised = new Map<string, number>();
  const ofDay = rowsByDay(rows);
  return rows.map((row) => {
    const item = approved.get(row.item) ?? null;
    if (item === null || row.taken === null || row.taken.shelf >= row.layOut) return row;
    const own = ofDay.get(keyOf(item, row.start, '')) ?? [];
    const before = promised.get(item) ?? 0;
    const held = own[0]?.onShelf ?? usable.get(item) ?? null;
    const laidOut = own.reduce((sum, { layOut }) => sum + layOut, before);
    const spare = held === null ? null : Math.max(0, Math.floor(held + WHOLE) - laidOut);
    promised.set(item, before + Math.min(spare ?? 0, row.short ?? 0));
    return { ...row, substitute: { item, spare } };
  });
}

function rowsByDay(rows: readonly KitRow[]): Map<string, KitRow[]> {
  const found = new Map<string, KitRow[]>();
  for (const row of rows) {
    const key = keyOf(row.item, row.start, '');
    const known = found.get(key);
    if (known === undefined) found.set(key, [row]);
    else known.push(row);
  }
  return found;
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
