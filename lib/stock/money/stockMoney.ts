/** Money in stock against leaks that find the shelf empty: today, as advised, and at its best (METHODS 5.5, 5.8). */
import type { DemandForecast } from '../../demand/types.js';
import type { Fleet } from '../../fleet/types.js';
import type { GroupedFleet } from '../../group/types.js';
import { itemAt } from '../../numeric/columns.js';
import type { StockAdvice } from '../types.js';
import { assumedFor } from './assumed.js';
import { type BuyGoal, buyNext } from './buyNext.js';
import { CLASS_SHARES, moneyClasses, stockClasses } from './classes.js';
import { curvePlaces } from './curve.js';
import { allMixSteps, firstMoney, type Mix, type MixItem, mixFor, mixItems } from './mix.js';
import { type MoneyItem, moneyItems } from './moneyItems.js';
import { emptyOf, type Holding, placesOf } from './places.js';
import { twoLevelAdvice } from './twoLevelAdvice.js';
import type { CurvePoint, FurtherMoney, MoneyRow, StockMoney, StockPlace } from './types.js';

/** Levels of service whose least money is named. */
export const SERVICE_LEVELS = [0.8, 0.9, 0.95, 0.98, 0.99, 0.995] as const;

/** Share of the money that `further` tells the worth of. */
const FURTHER_SHARE = 0.1;

/** Holdings of the three stocks that are compared, an element per item. */
interface Stocks {
  today: Holding[];
  advised: Holding[];
  best: Holding[];
}

/**
 * From the plan's own demand: leaks a year that find the shelf empty against money in stock, the best mix for the budget of
 * site.json (without one, for as many leaks served as the advised stock serves, each item at its own target), and what to buy next. A level is the highest position of an
 * item, reordered in the smallest order the supplier takes; kits are bought by date and are no part of it. Items without a price are left
 * out and named. Null where items.csv is missing. Nothing is drawn.
 */
export function stockMoney(
  fleet: Fleet,
  grouped: GroupedFleet,
  forecast: DemandForecast,
  stock: readonly StockAdvice[],
): StockMoney | null {
  if (stock.length === 0) return null;
  const { items, leftOut } = moneyItems(fleet, forecast, stock);
  const leaks = items.reduce((total, { leaksPerYear }) => total + leaksPerYear, 0);
  const { targets, stores } = fleet.site;
  const budget = targets.stockBudget ?? null;
  const forMix = mixItems(items);
  const advised = items.map(({ advised: { level, lot } }): Holding => ({ level, lot }));
  const best = budget === null ? mixItems(items, 'all') : forMix;
  const mix = bestMix(best, items, leaks, budget);
  const stocks: Stocks = {
    today: items.map(({ today, lot }) => ({ level: today, lot })),
    advised,
    best: items.map(({ lot }, k) => ({ level: itemAt(mix.levels, k), lot })),
  };
  const rows = rowsOf(items, stocks);
  return {
    leaksPerYear: leaks,
    budget,
    ...picture(items, forMix, leaks, stocks),
    bestPossible: mix.bestPossible,
    firstMoney: firstMoney(forMix),
    items: rows,
    buyNext: buyNext(items, leaks, buyGoal(items, budget, mix)),
    further: furtherMoney(best, items, leaks, mix, budget ?? mix.money),
    classes: stockClasses(rows, targets),
    classShares: CLASS_SHARES,
    leftOut,
    twoLevel: stores === undefined ? null : twoLevelAdvice(fleet, grouped, items),
    assumed: assumedFor(fleet, items),
  };
}

/** Under a budget what serves most; else the least money that serves as much as the advised stock, each item at its own target. */
function bestMix(
  forMix: readonly MixItem[],
  items: readonly MoneyItem[],
  leaks: number,
  budget: number | null,
): Mix {
  if (budget !== null) return mixFor(forMix, leaks, { budget });
  const served = items.reduce(
    (total, { leaksPerYear, served: share, advised: { level, lot } }) =>
      total + leaksPerYear * share(level, lot),
    0,
  );
  const most = forMix.reduce((total, { points }) => total + (points.at(-1)?.served ?? 0), 0);
  const target = leaks > 0 ? Math.min(served, most) / leaks : 0;
  return mixFor(forMix, leaks, { target: Math.min(target * (1 - 1e-12), HIGHEST_TARGET) });
}

/** Nothing serves all leaks. */
const HIGHEST_TARGET = 1 - 1e-9;

function picture(
  items: readonly MoneyItem[],
  forMix: readonly MixItem[],
  leaks: number,
  stocks: Stocks,
): {
  today: StockPlace;
  advised: StockPlace;
  best: StockPlace;
  curve: CurvePoint[];
  levels: StockMoney['levels'];
} {
  const steps = allMixSteps(forMix, leaks);
  const names = items.map(({ item }) => item);
  const lots = items.map(({ lot }) => lot);
  const curve = curvePlaces(names, lots, steps, leaks);
  const places = placesOf(items, [
    stocks.today,
    stocks.advised,
    stocks.best,
    ...curve.map(({ holding }) => holding),
  ]);
  return {
    today: itemAt(places, 0),
    advised: itemAt(places, 1),
    best: itemAt(places, 2),
    curve: curve.map(({ item, level }, i) => ({ ...itemAt(places, i + 3), item, level })),
    levels: moneyForLevels(forMix, leaks),
  };
}

/** Money of the mix that meets each level of service; levels that no stock weighed here reaches are left out. */
function moneyForLevels(forMix: readonly MixItem[], leaks: number): StockMoney['levels'] {
  const most = forMix.reduce((total, { points }) => total + (points.at(-1)?.served ?? 0), 0);
  return SERVICE_LEVELS.filter((served) => leaks > 0 && served * leaks < most).map((served) => {
    return { served, money: mixFor(forMix, leaks, { target: served }).money };
  });
}

function rowsOf(items: readonly MoneyItem[], { today, advised, best }: Stocks): MoneyRow[] {
  const classes = moneyClasses(items.map(({ usePerYear, price }) => usePerYear * price));
  return items.map((item, k) => ({
    item: item.item,
    price: item.price,
    lot: item.lot,
    leaksPerYear: item.leaksPerYear,
    moneyClass: itemAt(classes, k),
    criticality: item.criticality,
    useMoneyPerYear: item.usePerYear * item.price,
    today: itemAt(today, k).level,
    advised: itemAt(advised, k).level,
    best: itemAt(best, k).level,
    leaksFindingShelfEmpty: {
      today: emptyOf(item, itemAt(today, k)),
      advised: emptyOf(item, itemAt(advised, k)),
      best: emptyOf(item, itemAt(best, k)),
    },
    shortageCost: item.shortageCost,
  }));
}

/** The money that today's stock leaves of the budget; without one, what is worth as much as the next step of the best mix. */
function buyGoal(items: readonly MoneyItem[], budget: number | null, { nextWorth }: Mix): BuyGoal {
  if (budget === null) return { worth: nextWorth };
  return { left: budget - items.reduce((total, { today, price }) => total + today * price, 0) };
}

/** What a tenth more money than the best mix has would change. */
function furtherMoney(
  forMix: readonly MixItem[],
  items: readonly MoneyItem[],
  leaks: number,
  mix: Mix,
  base: number,
): FurtherMoney {
  const money = FURTHER_SHARE * base;
  const more = mixFor(forMix, leaks, { budget: base + money });
  return {
    money,
    spent: more.money - mix.money,
    leaksServedPerYear: more.leaksServedPerYear - mix.leaksServedPerYear,
    levels: items.flatMap(({ item, price }, k) => {
      const [from, to] = [itemAt(mix.levels, k), itemAt(more.levels, k)];
      return from === to ? [] : [{ item, from, to, money: (to - from) * price }];
    }),
  };
}
