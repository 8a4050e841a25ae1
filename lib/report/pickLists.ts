/** Pick lists: for each shutdown the positions in the order of a walk, each with the lot to take its diaphragm from. */
import { monthKitName } from '../demand/kits.js';
import type { ShutdownLoad, ShutdownTask } from '../interval/types.js';
import type { Plan } from '../planTypes.js';
import type { KitRow } from '../stock/kits.js';
import type { KitSource } from '../stock/types.js';
import { byKey, planned } from './shutdowns.js';
import { inWalkingOrder } from './walkingOrder.js';

/** A shutdown with its tasks. */
export interface Window {
  load: ShutdownLoad;
  tasks: ShutdownTask[];
}

/** One position to do, and where its diaphragm comes from. */
export interface PickRow {
  task: ShutdownTask;
  /** 'short' where nothing on the shelf or on order is left for it, null where nothing is known of the part. */
  source: KitSource | 'short' | null;
}

export interface PickList {
  load: ShutdownLoad;
  /** By line, location and position. */
  rows: PickRow[];
  /** Totals, a row per part number. */
  items: KitRow[];
}

/** The shutdowns of a plan in order of date, with their tasks; months of a due list hold the tasks of their days. */
export function windowsOf({ shutdowns, shutdownPlan }: Pick<Plan, 'shutdowns' | 'shutdownPlan'>): Window[] {
  const named = new Map(
    byKey(shutdownPlan, ({ shutdown }) => shutdown).map((list) => [list[0]?.shutdown, list]),
  );
  const inside = (load: ShutdownLoad, { start }: ShutdownTask): boolean =>
    start === load.start || (start > load.start && start <= load.end);
  return shutdowns.map((load) => ({
    load,
    tasks: (named.get(load.shutdown) ?? []).filter((task) => inside(load, task)),
  }));
}

/** The kit of a shutdown, a row per part number; of a month of lines without shutdowns that of the month. */
export function kitOf(kits: readonly KitRow[], { shutdown, start }: ShutdownLoad): KitRow[] {
  const month = start.slice(0, 7);
  const own = kits.filter((kit) => kit.shutdown === shutdown && kit.start === start);
  return own.length > 0 || shutdown !== `due ${month}`
    ? own
    : kits.filter((kit) => kit.shutdown === monthKitName(month));
}

/** Lists in order of date, one per shutdown with something to replace. */
export function pickLists(plan: Pick<Plan, 'shutdowns' | 'shutdownPlan' | 'kits' | 'stock'>): PickList[] {
  const sources = sourcesByKit(plan.stock);
  return windowsOf(plan).flatMap(({ load, tasks }) => {
    const todo = inWalkingOrder(planned(tasks));
    if (todo.length === 0) return [];
    const items = kitOf(plan.kits, load);
    return [{ load, items, rows: pickRows(todo, items, sources) }];
  });
}

function sourcesByKit(stock: Plan['stock']): Map<string, KitSource[]> {
  const found = new Map<string, KitSource[]>();
  for (const { item, kits } of stock) {
    for (const { name, day, from } of kits) found.set(JSON.stringify([item, day, name]), from);
  }
  return found;
}

/** Gives each position the next piece of its part, first expired first out. */
function pickRows(
  tasks: readonly ShutdownTask[],
  items: readonly KitRow[],
  sources: ReadonlyMap<string, KitSource[]>,
): PickRow[] {
  const piles = new Map<string, { from: KitSource[]; given: number }>();
  for (const { item, start, shutdown } of items) {
    const from = sources.get(JSON.stringify([item, start, shutdown]));
    if (from !== undefined) piles.set(item, { from: [...from], given: 0 });
  }
  return tasks.map((task) => ({ task, source: nextPiece(piles.get(task.item ?? '')) }));
}

function nextPiece(pile: { from: KitSource[]; given: number } | undefined): PickRow['source'] {
  if (pile === undefined) return null;
  const [first] = pile.from;
  if (first === undefined) return 'short';
  pile.given += 1;
  if (pile.given >= first.quantity) {
    pile.from.shift();
    pile.given = 0;
  }
  return first;
}
