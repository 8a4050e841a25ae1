/** Stock per item: what to order by when, what to hold, what to use first (METHODS 5.4 to 5.9). */
import { itemFor } from '../cost/itemFor.js';
import { dayWords } from '../demand/dates.js';
import type { DemandForecast, ItemDemand } from '../demand/types.js';
import type { Warning } from '../findings.js';
import type { Fleet, Item } from '../fleet/types.js';
import { DAYS_PER_MONTH, DAYS_PER_YEAR, textFromDay } from '../numeric/day.js';
import { gammaQuantile } from '../numeric/special.js';
import { type ItemNeed, itemNeed } from './itemNeed.js';
import { type ItemState, itemState } from './itemState.js';
import { type LotSize, lotSize } from './lots.js';
import { type NettedOrder, type NettingInput, netOrders } from './netting.js';
import { reorderPoint, servedShare } from './reorderPoint.js';
import { expire, sortedShelf, take } from './shelf.js';
import type { StockAdvice, StockOrder } from './types.js';
import { actionOf } from './words.js';

/** A target of 100 % cannot be met with finite stock: this is used, and said. */
const HIGHEST_TARGET = 0.999;
const MOST_COVER_DAYS = 3653;

export interface SizeOptions {
  /** Kept beside the result's other seeds; the computation itself draws nothing. */
  seed: number;
}

/**
 * One row per item of items.csv, and one of kind 'no data' per item that is needed and missing there. Orders look as far
 * as the forecast. Where items.csv is missing: no rows.
 */
export function sizeStock(fleet: Fleet, forecast: DemandForecast, _options: SizeOptions): StockAdvice[] {
  if (fleet.items.length === 0 && !fleet.filesRead.includes('items.csv')) return [];
  const demands = new Map(forecast.items.map((demand) => [demand.item, demand]));
  const rows = fleet.items.map((item) => adviceOf(fleet, item, demands.get(item.item) ?? null));
  const known = new Set(fleet.items.map(({ item }) => item));
  const missing = forecast.items.filter(({ item }) => !known.has(item));
  return [...rows, ...missing.map(noData)];
}

function adviceOf(fleet: Fleet, item: Item, demand: ItemDemand | null): StockAdvice {
  const state = itemState(fleet, item);
  const twin = demand === null ? itemFor(fleet, item.material, item.size) : null;
  if (twin !== null && twin.item !== item.item) return secondItem(item, state, twin);
  const need = itemNeed(demand);
  const target = targetOf(fleet, demand, state.warnings);
  const lot = lotSize(item, need, state, fleet.site.money);
  const supply = {
    leadDays: state.leadDays,
    leadSdDays: state.leadSdDays,
    reviewDays: fleet.site.reviewDays,
  };
  const point = reorderPoint(need.random, supply, target, lot.quantity);
  const served = servedShare(need.random, supply, point, lot.quantity);
  const { orders, expired } = netOrders(nettingInput(fleet, item, need, state, lot, target));
  const written = orders.map((order) => writtenOrder(order, fleet.site.dataUntil));
  const expiring = expiringOf(need, state, fleet.site.dataUntil, expired);
  const monthsOfCover = coverOf(need, state, fleet.site.dataUntil);
  return {
    ...headOf(item, state),
    reorderPoint: point,
    orderQuantity: lot.quantity,
    servedTarget: target,
    served,
    leaksFindingShelfEmptyPerYear: (demand?.leaksPerYear ?? 0) * (1 - served),
    expiring,
    monthsOfCover,
    orders: written,
    ...actionOf({
      orders: written,
      expiring,
      monthsOfCover,
      today: fleet.site.dataUntil,
      reviewDays: fleet.site.reviewDays,
      usable: state.usable,
      neededPerYear: neededPerYear(demand),
    }),
    warnings: [...state.warnings, ...lot.warnings],
  };
}

function headOf(
  item: Item,
  { onHand, usable, onOrder }: ItemState,
): Pick<StockAdvice, 'item' | 'material' | 'size' | 'onHand' | 'usable' | 'onOrder' | 'value'> {
  return {
    item: item.item,
    material: item.material,
    size: item.size,
    onHand,
    usable,
    onOrder,
    value: item.price === null ? null : item.price * onHand,
  };
}

function neededPerYear(demand: ItemDemand | null): number {
  return demand === null ? 0 : demand.plannedPerYear + demand.leaksPerYear + demand.openingsPerYear;
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

function nettingInput(
  fleet: Fleet,
  item: Item,
  need: ItemNeed,
  state: ItemState,
  lot: LotSize,
  target: number,
): NettingInput {
  const early = kitLead(state, fleet.site.targets.kitComplete);
  const lead = Math.ceil(state.leadDays);
  return {
    shelf: state.shelf,
    receipts: state.receipts,
    planned: (need.demand?.planned ?? [])
      .map(({ day, kit, name }) => ({
        moment: kitMoment(day - fleet.site.dataUntil, lead, early),
        quantity: kit,
        name,
      }))
      .filter(({ quantity }) => quantity > 0),
    randomTarget: (from, to) => need.randomQuantile(target, from, to, state.leadSdDays),
    randomMean: need.randomMean,
    lead,
    review: Math.max(1, Math.round(fleet.site.reviewDays)),
    horizon: Math.max(need.horizon, lead + fleet.site.reviewDays),
    pack: item.pack,
    minOrder: Math.max(item.minOrder, lot.quantity),
    mostAt: lot.mostAt,
    keeps: state.keepsDays,
  };
}

/** Days that a kit is ordered ahead of the usual lead time, so that a late delivery still makes it. */
function kitLead({ leadDays, leadSdDays }: ItemState, complete: number): number {
  if (leadSdDays <= 0 || leadDays <= 0) return 0;
  const shape = (leadDays / leadSdDays) ** 2;
  const late = gammaQuantile(Math.min(complete, HIGHEST_TARGET), shape, leadDays / shape);
  return Math.max(0, Math.ceil(late - leadDays));
}

/** When a kit must be there: ahead by the spread of the lead time, where the lead time allows. */
function kitMoment(moment: number, lead: number, early: number): number {
  return moment < lead ? moment : Math.max(lead, moment - early);
}

function writtenOrder(order: NettedOrder, today: number): StockOrder {
  return {
    quantity: order.quantity,
    orderBy: textFromDay(Math.floor(today + order.placed)),
    dueBy: textFromDay(Math.floor(today + order.due)),
    for: order.serves.length === 0 ? 'leaks and openings' : listed(order.serves),
    expedite: order.expedite,
  };
}

function listed(names: readonly string[]): string {
  const said = names.map(withArticle);
  const last = said[said.length - 1] ?? '';
  return said.length < 2 ? last : `${said.slice(0, -1).join(', ')} and ${last}`;
}

/** 'the spring shutdown', and 'Spring 2027' as it is. */
function withArticle(name: string): string {
  return /^(?!the )[^(]*\b(shutdown|stop|outage|turnaround)\b/i.test(name) && !/\d/.test(name)
    ? `the ${name}`
    : name;
}

/** Pieces now on the shelf that are expected to expire unused, first expired first used. */
function expiringOf(
  need: ItemNeed,
  state: ItemState,
  today: number,
  expired: { moment: number; quantity: number }[],
): StockAdvice['expiring'] {
  const dates = new Set(state.shelf.map(({ useBy }) => useBy));
  const own = expired.filter(({ moment }) => dates.has(Math.floor(moment)));
  const quantity = Math.round(own.reduce((sum, each) => sum + each.quantity, 0));
  const first = own.find((each) => each.quantity >= 0.5) ?? own[0];
  if (quantity < 1 || first === undefined || need.horizon <= 0) return { quantity: 0, useBy: null };
  return { quantity, useBy: textFromDay(Math.floor(today + first.moment)) };
}

/** Months until expected need and use-by dates have emptied what is usable now; null where nothing is needed. */
function coverOf(need: ItemNeed, state: ItemState, today: number): number | null {
  const { demand } = need;
  const perYear = neededPerYear(demand);
  if (demand === null || perYear <= 0) return null;
  const planned = new Map<number, number>();
  for (const { day, expected } of demand.planned) planned.set(day, (planned.get(day) ?? 0) + expected);
  const shelf = sortedShelf(state.shelf);
  let day = 1;
  for (; day < MOST_COVER_DAYS; day++) {
    expire(shelf, day);
    const known = day <= need.horizon;
    const random = known ? need.randomMean(day - 1, day) : perYear / DAYS_PER_YEAR;
    if (take(shelf, random + (known ? (planned.get(today + day) ?? 0) : 0)) > 1e-9) break;
  }
  return (day - 1) / DAYS_PER_MONTH;
}

/** An item whose material and size another item serves. */
function secondItem(item: Item, state: ItemState, first: Item): StockAdvice {
  const left = state.usable;
  return {
    ...headOf(item, state),
    ...NOTHING_TO_HOLD,
    action:
      left > 0
        ? `use the ${left} on the shelf before ordering ${first.item}, which has the same material and size`
        : `do not order: ${first.item} has the same material and size`,
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
  servedTarget: 0,
  served: 1,
  leaksFindingShelfEmptyPerYear: 0,
  expiring: { quantity: 0, useBy: null },
  monthsOfCover: null,
  orders: [],
};

/** What positions need and items.csv does not list. */
function noData(demand: ItemDemand): StockAdvice {
  const perYear = neededPerYear(demand);
  const first = demand.planned.find(({ kit }) => kit > 0);
  const next =
    first === undefined ? '' : `, the next ${first.kit} for ${first.name} on ${dayWords(first.day)}`;
  return {
    item: demand.item,
    material: demand.material,
    size: demand.size,
    onHand: 0,
    usable: 0,
    onOrder: 0,
    value: null,
    ...NOTHING_TO_HOLD,
    served: 0,
    leaksFindingShelfEmptyPerYear: demand.leaksPerYear,
    action: `no part number: about ${roundly(perYear)} a year are needed${next}`,
    kind: 'no data',
    warnings: [
      {
        code: 'item-missing',
        text: `${demand.positions} positions take ${demand.material} DN ${demand.size}, and items.csv has no such item.`,
        todo: 'Add it to items.csv with part number, lead_time_days, pack, price and on_hand.',
      },
    ],
  };
}

/** A yearly amount as a person says it: 0.4, 7, 23, 140. */
function roundly(amount: number): number {
  if (amount < 1) return Number(amount.toPrecision(1));
  return amount < 100 ? Math.round(amount) : Number(amount.toPrecision(2));
}
