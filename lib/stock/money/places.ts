/** What stocks of all items come to, with the range over the posterior draws of demand. */
import { floatAt, itemAt } from '../../numeric/columns.js';
import type { MoneyItem } from './moneyItems.js';
import { servedAtLevel, shortInto } from './shortByPosition.js';
import type { StockPlace } from './types.js';

/** A level and a lot for each item. */
export interface Holding {
  level: number;
  lot: number;
}

const LOW = 0.05;
const HIGH = 0.95;

/** One place per list of holdings, an element per item. */
export function placesOf(
  items: readonly MoneyItem[],
  holdings: readonly (readonly Holding[])[],
): StockPlace[] {
  const ranges = rangesOf(items, holdings);
  const leaks = items.reduce((total, { leaksPerYear }) => total + leaksPerYear, 0);
  return holdings.map((holding, i) => {
    const empty = items.map((item, k) => emptyOf(item, itemAt(holding, k)));
    const all = empty.reduce((total, each) => total + each, 0);
    return {
      money: items.reduce((total, { price }, k) => total + price * itemAt(holding, k).level, 0),
      leaksFindingShelfEmptyPerYear: all,
      range: ranges === null ? null : itemAt(ranges, i),
      served: leaks > 0 ? 1 - all / leaks : 1,
      shortageCostPerYear: shortageCost(items, empty),
    };
  });
}

/** Leaks a year that find the shelf empty. */
export function emptyOf({ leaksPerYear, served }: MoneyItem, { level, lot }: Holding): number {
  return leaksPerYear * (1 - served(level, lot));
}

/** Cost of the leaks that can be priced; null where none of them can. */
function shortageCost(items: readonly MoneyItem[], empty: readonly number[]): number | null {
  if (!items.some(({ shortageCost: cost, leaksPerYear }) => cost !== null && leaksPerYear > 0)) return null;
  return items.reduce((total, { shortageCost: cost }, k) => total + (cost ?? 0) * itemAt(empty, k), 0);
}

/** 5 % to 95 % of the leaks that find the shelf empty, totals formed within a draw; null where nothing was drawn. */
function rangesOf(
  items: readonly MoneyItem[],
  holdings: readonly (readonly Holding[])[],
): [number, number][] | null {
  const draws = Math.max(0, ...items.map(({ byDraw }) => byDraw?.randomPerDay.length ?? 0));
  if (draws < 2) return null;
  const totals = holdings.map(() => new Float64Array(draws));
  items.forEach((item, k) => {
    addItem(
      item,
      holdings.map((holding) => itemAt(holding, k)),
      totals,
    );
  });
  return totals.map((column) => {
    const sorted = column.sort();
    return [quantile(sorted, LOW), quantile(sorted, HIGH)];
  });
}

/** Adds what the item leaves unserved in each draw; a level that comes again is worked out once. */
function addItem(item: MoneyItem, holdings: readonly Holding[], totals: readonly Float64Array[]): void {
  const { random, supply, byDraw } = item;
  if (byDraw === null || byDraw === undefined) return;
  const { kinds, kindOf } = differentOf(holdings);
  const empty = new Float64Array(kinds.length);
  const short = new Float64Array(1 + Math.max(1, ...kinds.map(({ level }) => level)));
  byDraw.randomPerDay.forEach((perDay, d) => {
    if (!(perDay > 0)) return;
    // Leaks are Poisson within a draw; what jobs add to the variance hangs on openings, which the draws share.
    const variancePerDay = Math.max(perDay, random.variancePerDay - random.perDay + perDay);
    const length = shortInto(short, { perDay, variancePerDay, rateSd: 0 }, supply);
    const leaks = itemAt(byDraw.leaksPerYear, d);
    for (let i = 0; i < kinds.length; i++) {
      const { level, lot } = itemAt(kinds, i);
      empty[i] = leaks * (1 - servedAtLevel(short, length, level, lot));
    }
    for (let p = 0; p < totals.length; p++) {
      const total = itemAt(totals, p);
      total[d] = floatAt(total, d) + floatAt(empty, itemAt(kindOf, p));
    }
  });
}

function differentOf(holdings: readonly Holding[]): { kinds: Holding[]; kindOf: number[] } {
  const kinds: Holding[] = [];
  const known = new Map<string, number>();
  const kindOf = holdings.map((holding) => {
    const key = `${holding.level} ${holding.lot}`;
    const index = known.get(key) ?? kinds.push(holding) - 1;
    known.set(key, index);
    return index;
  });
  return { kinds, kindOf };
}

/** Between the two nearest of the sorted values. */
function quantile(sorted: Float64Array, p: number): number {
  const place = p * (sorted.length - 1);
  const below = Math.floor(place);
  const above = Math.min(below + 1, sorted.length - 1);
  return floatAt(sorted, below) + (place - below) * (floatAt(sorted, above) - floatAt(sorted, below));
}
