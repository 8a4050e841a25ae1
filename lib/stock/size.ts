/** Stock per item: what to order by when, what to chase, hold and use first (METHODS 5.4 to 5.9). */

import { itemFor } from '../cost/itemFor.js';
import type { DemandForecast, ItemDemand } from '../demand/types.js';
import type { Warning } from '../findings.js';
import type { Fleet, Item } from '../fleet/types.js';
import { count } from '../numeric/words.js';
import { chaseOf } from './chase.js';
import { coverOf } from './cover.js';
import { follow, kitSupplies, LEAKS_AND_OPENINGS, lotUses } from './follow.js';
import { hurryOf, shortCost } from './hurry.js';
import { type ItemNeed, itemNeed, neededPerYear } from './itemNeed.js';
import { itemPolicy } from './itemPolicy.js';
import { type ItemState, itemState } from './itemState.js';
import { type LotSize, lotSize } from './lots.js';
import { netOrders } from './netting.js';
import { HIGHEST_TARGET, nettingInput } from './nettingInput.js';
import { writtenOrder } from './orders.js';
import { recordedDemand, recordedUse, useWarnings } from './recordedUse.js';
import { reorderPoint } from './reorderPoint.js';
import { servedAlong } from './servedAlong.js';
import type { LotUse, StockAdvice, StockOrder } from './types.js';
import { actionOf, secondItemWords, unlistedWords } from './words.js';

/**
 * One row per item of items.csv, and one of kind 'no data' per item that is needed and missing there. Orders look as far
 * as the forecast. Where items.csv is missing: no rows. Nothing is drawn: the same forecast gives the same rows.
 */
export function sizeStock(fleet: Fleet, forecast: DemandForecast): StockAdvice[] {
  if (fleet.items.length === 0 && !fleet.filesRead.includes('items.csv')) return [];
  const demands = new Map(forecast.items.map((demand) => [demand.item, demand]));
  const ofItem = shelvesOf(fleet);
  const rows = fleet.items.map((item) => adviceOf(ofItem(item), item, demands.get(item.item) ?? null));
  const known = new Set(fleet.items.map(({ item }) => item));
  const missing = forecast.items.filter(({ item }) => !known.has(item));
  return [...rows, ...missing.map(noData)];
}

/** The fleet as one item sees it: its own lots and orders only, so that no item looks through those of all others. */
function shelvesOf(fleet: Fleet): (item: Item) => Fleet {
  const lots = byItem(fleet.lots);
  const orders = byItem(fleet.orders);
  return ({ item }) => ({ ...fleet, lots: lots.get(item) ?? [], orders: orders.get(item) ?? [] });
}

function byItem<Row extends { item: string }>(rows: readonly Row[]): Map<string, Row[]> {
  const found = new Map<string, Row[]>();
  for (const row of rows) {
    const known = found.get(row.item);
    if (known === undefined) found.set(row.item, [row]);
    else known.push(row);
  }
  return found;
}

function adviceOf(fleet: Fleet, item: Item, modelled: ItemDemand | null): StockAdvice {
  const state = itemState(fleet, item);
  const demand = modelled ?? recordedDemand(fleet, item);
  const twin = demand === null ? itemFor(fleet, item.material, item.size) : null;
  if (twin !== null && twin.item !== item.item) return secondItem(item, state, twin);
  const use = recordedUse(fleet, item);
  const recorded = modelled === null && demand !== null;
  const need = itemNeed(demand, recorded ? 'use as recorded' : LEAKS_AND_OPENINGS);
  const target = targetOf(fleet, demand, state.warnings);
  const lot = lotSize(item, need, state, fleet.site.money);
  const today = fleet.site.dataUntil;
  const hurry = hurryOf(item, state.leadDays);
  const input = nettingInput(fleet, item, need, state, lot, target, hurry.days);
  const followed = follow(need.randomName);
  const netted = netOrders(input, followed.watch);
  const context = { fleet, item, need, keepsDays: state.keepsDays, hurry };
  const orders = netted.orders.map((order) => writtenOrder(order, context));
  const lots = lotUses(followed, state.shelf, today, need.horizon);
  const chase = chaseOf(input, state, today, hurry);
  const served = servedAlong(netted.cover, need, state.leadSdDays);
  const monthsOfCover = coverOf(need, state.shelf, today);
  return {
    ...headOf(item, state),
    ...holding(fleet, item, need, state, lot, target),
    servedTarget: target,
    served,
    leaksFindingShelfEmptyPerYear: (demand?.leaksPerYear ?? 0) * (1 - served),
    expiring: expiringOf(lots),
    lots,
    monthsOfCover,
    orders,
    chase,
    recordedUse: recorded && use !== null ? { ...use, purpose: 'forecast' } : use,
    kits: kitSupplies(followed, today, state.leadDays, tooLate(netted.orders, orders)),
    ...actionOf({
      orders,
      chase,
      lots,
      monthsOfCover,
      today,
      reviewDays: fleet.site.reviewDays,
      onHand: state.onHand,
      usable: state.usable,
      onOrder: state.onOrder,
      neededPerYear: neededPerYear(demand),
    }),
    warnings: [
      ...state.warnings,
      ...(recorded ? useWarnings(fleet, use, demand) : []),
      ...scrapWarnings(orders, lot),
    ],
  };
}

/** The stationary rules for leaks and openings alone. */
function holding(
  fleet: Fleet,
  item: Item,
  { random, demand }: ItemNeed,
  { leadDays, leadSdDays }: ItemState,
  { quantity }: LotSize,
  target: number,
): Pick<StockAdvice, 'reorderPoint' | 'orderQuantity' | 'policy'> {
  const { money, reviewDays } = fleet.site;
  const supply = { leadDays, leadSdDays, reviewDays };
  const point = reorderPoint(random, supply, target, quantity);
  const policy = itemPolicy({
    item,
    random,
    leaksPerYear: demand?.leaksPerYear ?? 0,
    supply,
    target,
    reorder: { point, quantity },
    money,
    shortCost: shortCost(hurryOf(item, leadDays), demand),
  });
  return { reorderPoint: point, orderQuantity: quantity, policy };
}

/** Pieces missing by kit where even an emergency delivery comes after its day. */
function tooLate(
  netted: readonly { serves: string[] }[],
  orders: readonly StockOrder[],
): Map<string, number> {
  return new Map(
    netted.flatMap(({ serves }, i) =>
      serves.map((name) => [name, orders[i]?.hurry?.shortOnDay ?? 0] as const),
    ),
  );
}

/** What an order says of its own expiry, once; of the lot size where there is no order. */
function scrapWarnings(orders: readonly StockOrder[], lot: LotSize): Warning[] {
  return orders.find(({ warnings }) => warnings.length > 0)?.warnings ?? lot.warnings;
}

function headOf(
  item: Item,
  { onHand, usable, onOrder, leadDays, leadTimeSeen, life }: ItemState,
): Pick<StockAdvice, 'item' | 'material' | 'size' | 'onHand' | 'usable' | 'onOrder' | 'value'> &
  Pick<StockAdvice, 'price' | 'pack' | 'minOrder' | 'leadTimeDays' | 'leadTimeSeen' | 'shelfLife'> {
  return {
    item: item.item,
    material: item.material,
    size: item.size,
    onHand,
    usable,
    onOrder,
    value: item.price === null ? null : item.price * onHand,
    price: item.price,
    pack: item.pack,
    minOrder: item.minOrder,
    leadTimeDays: leadDays,
    leadTimeSeen,
    shelfLife: life,
  };
}

/** Target by the highest criticality among the item's positions. */
function targetOf(fleet: Fleet, demand: ItemDemand | null, warnings: Warning[]): number {
  const target = fleet.site.targets.served[demand?.criticality ?? 'low'];
  if (target <= HIGHEST_TARGET) return Math.max(0, target);
  warnings.push({
    code: 'target-lowered',
    text: `A target of ${Math.round(target * 1000) / 10} % served cannot be met with finite stock: ${HIGHEST_TARGET * 100} % is used.`,
    todo: 'Set targets.served in site.json below 0.999.',
  });
  return HIGHEST_TARGET;
}

/** Pieces now on the shelf that are expected to expire unused, first expired first used. */
function expiringOf(lots: readonly LotUse[]): StockAdvice['expiring'] {
  const first = lots.find(({ expires }) => expires >= 1);
  if (first === undefined) return { quantity: 0, useBy: null };
  return { quantity: lots.reduce((sum, { expires }) => sum + expires, 0), useBy: first.useBy };
}

/** An item whose material and size another item serves. */
function secondItem(item: Item, state: ItemState, first: Item): StockAdvice {
  const left = state.usable;
  return {
    ...headOf(item, state),
    ...NOTHING_TO_HOLD,
    action: secondItemWords(left, first.item),
    kind: left > 0 ? 'use first' : 'do not order',
    warnings: [
      ...state.warnings,
      {
        code: 'two-items-for-one-diaphragm',
        text: `${item.item} and ${first.item} are both ${item.material} DN ${item.size}: all need is planned on ${first.item}.`,
        todo: 'Keep one part number per material and size, or name the second as approved_substitute.',
      },
    ],
  };
}

const NOTHING_TO_HOLD = {
  reorderPoint: 0,
  orderQuantity: 0,
  policy: null,
  servedTarget: 0,
  served: 1,
  leaksFindingShelfEmptyPerYear: 0,
  expiring: { quantity: 0, useBy: null },
  lots: [],
  monthsOfCover: null,
  orders: [],
  chase: null,
  recordedUse: null,
  kits: [],
};

/** What positions need and items.csv does not list. */
function noData(demand: ItemDemand): StockAdvice {
  const next = demand.planned.find(({ kit }) => kit > 0) ?? null;
  return {
    item: demand.item,
    material: demand.material,
    size: demand.size,
    onHand: 0,
    usable: 0,
    onOrder: 0,
    value: null,
    price: null,
    pack: 1,
    minOrder: 1,
    leadTimeDays: 0,
    leadTimeSeen: null,
    shelfLife: { months: null, source: null },
    ...NOTHING_TO_HOLD,
    served: 0,
    leaksFindingShelfEmptyPerYear: demand.leaksPerYear,
    action: unlistedWords(neededPerYear(demand), next),
    kind: 'no data',
    warnings: [
      {
        code: 'item-missing',
        text: `${count(demand.positions, 'position takes', 'positions take')} ${demand.material} DN ${demand.size}, and items.csv has no such item.`,
        todo: 'Add it to items.csv with part number, lead_time_days, pack, price and on_hand.',
      },
    ],
  };
}
