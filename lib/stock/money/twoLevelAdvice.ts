/** Levels at a central store and at local ones for each item, where site.json names stores. */
import { itemFor } from '../../cost/itemFor.js';
import type { Fleet, Store } from '../../fleet/types.js';
import type { GroupedFleet } from '../../group/types.js';
import { floatAt, itemAt } from '../../numeric/columns.js';
import { countDistribution, smallestWhole } from '../leadTimeDemand.js';
import { type LocalDemand, servedAt, twoLevelLevels } from '../twoLevelLevels.js';
import type { MoneyItem } from './moneyItems.js';
import type { TwoLevelAdvice } from './types.js';

/** Lines that no store serves draw on the central store itself. */
export const CENTRAL_COUNTER = 'central store';
/** A target above this would be met with stock that is never touched. */
const HIGHEST_TARGET = 0.999;
/** More pieces on their way than this are left to one store. */
const MOST_PIECES = 400;

/**
 * Fewest pieces over all stores for the item's target. An item's demand is shared out by positions, asked for one piece at a time at a known
 * rate; the central store waits for lead time and review.
 */
export function twoLevelAdvice(
  fleet: Fleet,
  grouped: GroupedFleet,
  items: readonly MoneyItem[],
): TwoLevelAdvice[] {
  const stores = fleet.site.stores ?? [];
  const places = positionsByStore(fleet, grouped, stores);
  return items.flatMap((item) => {
    const positions = places.get(item.item);
    if (positions === undefined || !(item.random.perDay > 0)) return [];
    const advice = adviceOf(item, stores, positions);
    return advice === null ? [] : [advice];
  });
}

function adviceOf(
  item: MoneyItem,
  stores: readonly Store[],
  positions: readonly number[],
): TwoLevelAdvice | null {
  const all = positions.reduce((total, each) => total + each, 0);
  const leadTime = item.supply.leadDays + item.supply.reviewDays;
  const target = Math.min(item.target, HIGHEST_TARGET);
  const used = positions.flatMap((count, s) => (count > 0 ? [{ count, store: stores[s] ?? null }] : []));
  const local = used.map(({ count, store }): LocalDemand => {
    const demandPerTime = (item.random.perDay * count) / all;
    return {
      name: store?.name ?? CENTRAL_COUNTER,
      demandPerTime,
      transportTime: store?.transportDays ?? null,
    };
  });
  const most = Math.max(0, ...local.map(({ transportTime }) => transportTime ?? 0));
  if (item.random.perDay * (leadTime + most) > MOST_PIECES) return null;
  const found = twoLevelLevels({ leadTime, stores: local, target });
  const lead = countDistribution('twoLevelAdvice', { kind: 'poisson', mean: item.random.perDay * leadTime });
  return {
    item: item.item,
    central: found.central,
    stores: found.stores.map(({ name, level, served }, i) => {
      return { store: name, positions: itemAt(used, i).count, level, served };
    }),
    pieces: found.pieces,
    money: found.pieces * item.price,
    served: found.served,
    servedTwoMoment: servedFast(local, leadTime, item.random.perDay, found),
    target,
    piecesInOneStore: smallestWhole((level) => lead.cdf(level - 1) >= target - 1e-12, 0, lead.mean),
  };
}

/** The same levels by the two-moment road. */
function servedFast(
  stores: readonly LocalDemand[],
  leadTime: number,
  demand: number,
  { central, stores: levels }: ReturnType<typeof twoLevelLevels>,
): number {
  const shares = servedAt({ leadTime, stores, central, method: 'twoMoment' }, demand);
  return shares.reduce((total, { weight, fill, counter }, i) => {
    const level = Math.min(itemAt(levels, i).level, fill.length - 1);
    return total + weight * (counter ?? floatAt(fill, level));
  }, 0);
}

/** Positions in service that take each item next, by store; the last count is of lines that no store serves. */
function positionsByStore(
  fleet: Fleet,
  grouped: GroupedFleet,
  stores: readonly Store[],
): Map<string, number[]> {
  const storeOf = new Map(stores.flatMap(({ lines }, s) => lines.map((line) => [line, s] as const)));
  const itemOf = grouped.groups.map(({ material, size }) => itemFor(fleet, material, size)?.item ?? null);
  const found = new Map<string, number[]>();
  for (const { position, groupNext } of grouped.running) {
    const item = itemAt(itemOf, groupNext);
    if (item === null) continue;
    const counts = found.get(item) ?? new Array<number>(stores.length + 1).fill(0);
    const s = storeOf.get(fleet.positions[position]?.line ?? '') ?? stores.length;
    counts[s] = itemAt(counts, s) + 1;
    found.set(item, counts);
  }
  return found;
}

/** Lines of stores that no position has, and lines of positions that no store serves. */
export function linesApart(fleet: Fleet): { unknown: string[]; unserved: string[] } {
  const named = (fleet.site.stores ?? []).flatMap(({ lines }) => lines);
  const lines = [...new Set(fleet.positions.map(({ line }) => line))];
  return {
    unknown: named.filter((line) => !lines.includes(line)),
    unserved: lines.filter((line) => !named.includes(line)),
  };
}
