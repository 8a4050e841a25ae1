/** The items whose money is weighed: price, smallest order, demand, and where each stands. */
import type { DemandForecast, ItemDemand } from '../../demand/types.js';
import type { Criticality, Fleet, Item } from '../../fleet/types.js';
import { allowedQuantity } from '../grouping.js';
import { hurryOf } from '../hurry.js';
import type { LevelPoint } from '../itemCurve.js';
import { itemNeed, neededPerYear } from '../itemNeed.js';
import { ASSUMED_LEAD_SPREAD, type RandomDemand, type Supply } from '../reorderPoint.js';
import type { StockAdvice } from '../types.js';
import { servedByLevel, shortByPosition } from './shortByPosition.js';

export interface MoneyItem {
  item: string;
  price: number;
  pack: number;
  minOrder: number;
  lot: number;
  leaksPerYear: number;
  random: RandomDemand;
  supply: Supply;
  criticality: Criticality;
  target: number;
  usePerYear: number;
  today: number;
  advised: { level: number; lot: number };
  shortageCost: number | null;
  /** Share of leaks served at a level kept with a lot. */
  served: (level: number, lot: number) => number;
  byDraw: ItemDemand['byDraw'] | null;
  /** Level from which more pieces serve nothing that counts. */
  enough: number;
}

/** Beyond this share served more pieces are not weighed: a leak in a million. */
const FULL = 1 - 1e-6;

/** Items with a price, and those that cannot be weighed, with the reason. */
export function moneyItems(
  fleet: Fleet,
  forecast: DemandForecast,
  stock: readonly StockAdvice[],
): { items: MoneyItem[]; leftOut: { item: string; because: string }[] } {
  const items: MoneyItem[] = [];
  const leftOut: { item: string; because: string }[] = [];
  const demands = new Map(forecast.items.map((demand) => [demand.item, demand]));
  const known = new Map(fleet.items.map((item) => [item.item, item]));
  for (const advice of stock) {
    const item = known.get(advice.item);
    if (item === undefined) leftOut.push({ item: advice.item, because: 'not in items.csv' });
    else if (item.price === null) leftOut.push({ item: item.item, because: 'no price in items.csv' });
    else if (item.price <= 0) leftOut.push({ item: item.item, because: 'its price in items.csv is 0' });
    else items.push(moneyItem(fleet, item, item.price, advice, demands.get(item.item) ?? null));
  }
  return { items, leftOut };
}

export function moneyItem(
  fleet: Fleet,
  item: Item,
  price: number,
  advice: StockAdvice,
  demand: ItemDemand | null,
): MoneyItem {
  const { leadTimeDays: leadDays } = advice;
  const { reviewDays } = fleet.site;
  const supply = { leadDays, leadSdDays: item.leadTimeSdDays ?? ASSUMED_LEAD_SPREAD * leadDays, reviewDays };
  const { random } = itemNeed(demand);
  const lot = allowedQuantity(1, item.pack, item.minOrder);
  const served = servedByLevel(shortByPosition(random, supply));
  const leaksPerYear = demand?.leaksPerYear ?? 0;
  const idle = !(leaksPerYear > 0 && random.perDay > 0);
  return {
    item: item.item,
    price,
    pack: item.pack,
    minOrder: item.minOrder,
    lot,
    leaksPerYear,
    random,
    supply,
    criticality: demand?.criticality ?? 'low',
    target: advice.servedTarget,
    usePerYear: neededPerYear(demand),
    today: freeToday(advice, demand, fleet.site.dataUntil + leadDays + reviewDays),
    advised: advisedLevel(advice, idle),
    shortageCost: shortageCostOf(item, leadDays, demand),
    served,
    byDraw: demand?.byDraw ?? null,
    enough: idle ? 0 : firstFull(served, lot),
  };
}

/** What leaks can draw on: usable and on order, less the kits that are laid out before a new order could come. */
function freeToday({ usable, onOrder }: StockAdvice, demand: ItemDemand | null, until: number): number {
  const kits = (demand?.planned ?? []).filter(({ day }) => day <= until);
  const taken = kits.reduce((all, { expected }) => all + expected, 0);
  return Math.max(0, Math.floor(usable + onOrder - taken + 1e-9));
}

function advisedLevel({ reorderPoint, orderQuantity }: StockAdvice, idle: boolean): MoneyItem['advised'] {
  const lot = Math.max(1, orderQuantity);
  return { level: idle ? 0 : reorderPoint + orderQuantity, lot };
}

/** Of one leak that finds the shelf empty, if the line stands until an emergency delivery comes (METHODS 5.7). */
function shortageCostOf(item: Item, leadDays: number, demand: ItemDemand | null): number | null {
  const { days, extraCost } = hurryOf(item, leadDays);
  const rate = demand?.downtimePerHour ?? null;
  if (rate === null && extraCost === null) return null;
  return (rate ?? 0) * 24 * days + (extraCost ?? 0);
}

function firstFull(served: MoneyItem['served'], lot: number): number {
  let level = lot;
  while (served(level, lot) < FULL) level += 1;
  return level;
}

/** Smallest level that meets the item's own target with the smallest lot. */
export function targetLevel({ served, lot, target, enough }: MoneyItem): number {
  if (enough === 0 || target <= 0) return 0;
  let level = lot;
  while (level < enough && served(level, lot) < target - 1e-12) level += 1;
  return level;
}

/** Levels that can be kept: none, and from the smallest lot on each piece more in the reorder point. */
export function keptPoints(item: MoneyItem): LevelPoint[] {
  const { lot, price, leaksPerYear, served, enough } = item;
  const points: LevelPoint[] = [{ level: 0, cost: 0, served: 0 }];
  for (let level = lot; level <= enough; level++) {
    points.push({ level, cost: level * price, served: leaksPerYear * served(level, lot) });
  }
  return points;
}

/** Positions that can be bought from today's: nothing, and every order the supplier takes. */
export function boughtPoints(item: MoneyItem): LevelPoint[] {
  const { today, lot, pack, price, leaksPerYear, served, enough } = item;
  const points: LevelPoint[] = [{ level: today, cost: 0, served: leaksPerYear * served(today, lot) }];
  for (let bought = lot; today + bought - pack < enough; bought += pack) {
    const level = today + bought;
    points.push({ level, cost: bought * price, served: leaksPerYear * served(level, lot) });
  }
  return points;
}
