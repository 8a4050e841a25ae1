/** The fewest pieces at a central store and at local ones that serve a share of all leaks (METHODS 5.8). */
import { UsageError } from '../errors.js';
import { floatAt, itemAt } from '../numeric/columns.js';
import { centralBackorders } from './centralBackorders.js';
import { countDistribution } from './leadTimeDemand.js';
import { outstandingAt } from './outstandingAt.js';

export interface LocalDemand {
  name: string;
  /** Pieces asked for per unit of time, one at a time (Poisson). */
  demandPerTime: number;
  /** Time from the central store, in the same unit; null: handed out over the counter of the central store, which holds no piece for it. */
  transportTime: number | null;
}

export interface TwoLevelGoal {
  /** Of the central store, in the unit of time of the demand; a review period of its orders added. */
  leadTime: number;
  stores: readonly LocalDemand[];
  /** Share of all pieces asked for to be served at once, from 0 to 0.999999. */
  target: number;
  /** `exact` (default) or `twoMoment`, which is faster. */
  method?: 'exact' | 'twoMoment';
}

export interface TwoLevelLevels {
  central: number;
  /** In the order given; the level of a counter is 0. */
  stores: { name: string; level: number; served: number }[];
  pieces: number;
  /** Share of all pieces asked for that are served at once. */
  served: number;
}

/** More pieces than this on their way and at work are refused: every central level is tried. */
const MOST_PIECES = 400;
const HIGHEST = 0.999999;
/** A local level is not raised further from here on. */
const FULL = 1 - 1e-9;

/**
 * Every central level is tried; for each, local levels are chosen by dynamic programming over the pieces, so that no set with fewer pieces
 * meets the target (of equal ones, that which serves most). All pieces cost the same, so the fewest are the least money. The two-moment
 * road is within 0.01 of a store's share served where five or more stores share the demand alike; where one has most of it, 0.05 off (tested).
 * Throws
 * UsageError where the lead time or a demand makes no sense, nothing is asked for, the target is not from 0 to 0.999999, or more than 400
 * pieces are on their way.
 */
export function twoLevelLevels(goal: TwoLevelGoal): TwoLevelLevels {
  const demand = checked(goal);
  let best: TwoLevelLevels | null = null;
  for (let central = 0; best === null || central <= best.pieces; central++) {
    const most: number = best === null ? Infinity : best.pieces - central;
    const found = withCentral(goal, demand, central, most);
    if (found === null) continue;
    const better: boolean =
      best === null ||
      found.pieces < best.pieces ||
      (found.pieces === best.pieces && found.served > best.served);
    if (better) best = found;
  }
  return best;
}

/** Local levels for one central level: the fewest pieces, at most so many; null where these do not meet the target. */
function withCentral(
  { stores, target, leadTime, method = 'exact' }: TwoLevelGoal,
  demand: number,
  central: number,
  most: number,
): TwoLevelLevels | null {
  const shares = servedAt({ leadTime, stores, central, method }, demand);
  const counter = shares.reduce(
    (total, { weight, counter: own }) => total + (own === null ? 0 : weight * own),
    0,
  );
  const local = shares.filter(({ counter: own }) => own === null);
  let table: Step = { served: Float64Array.of(counter), level: new Int32Array(1) };
  const steps: Step[] = [];
  for (const { weight, fill } of local) {
    table = addStore(table.served, weight, fill, most);
    steps.push(table);
  }
  const pieces = table.served.findIndex((served) => served >= target - 1e-12);
  if (pieces < 0) return null;
  const levels = chosen(steps, pieces);
  return {
    central,
    stores: shares.map(({ name, fill, counter: own }) => {
      if (own !== null) return { name, level: 0, served: own };
      const level = levels.shift() ?? 0;
      return { name, level, served: floatAt(fill, level) };
    }),
    pieces: central + pieces,
    served: floatAt(table.served, pieces),
  };
}

interface StoreShare {
  name: string;
  weight: number;
  /** Share served at each level, from 0 on. */
  fill: Float64Array;
  /** Share served over the central counter; null for a local store. */
  counter: number | null;
}

/** What each store serves by its level, at one central level. */
export function servedAt(
  {
    leadTime,
    stores,
    central,
    method = 'exact',
  }: Pick<TwoLevelGoal, 'leadTime' | 'stores' | 'method'> & { central: number },
  demand: number,
): StoreShare[] {
  const mean = demand * leadTime;
  const owed = centralBackorders(mean, central);
  const overCounter = countDistribution('twoLevelLevels', { kind: 'poisson', mean }).cdf(central - 1);
  return stores.map(({ name, demandPerTime, transportTime }) => {
    const weight = demandPerTime / demand;
    if (transportTime === null) return { name, weight, fill: new Float64Array(1), counter: overCounter };
    const { law } = outstandingAt(owed, weight, demandPerTime * transportTime, method);
    return { name, weight, fill: fillByLevel(countDistribution('twoLevelLevels', law).cdf), counter: null };
  });
}

/** P(outstanding <= level - 1) by level, up to where it is full. */
function fillByLevel(cdf: (k: number) => number): Float64Array {
  const fill = [0];
  for (let level = 1; (fill.at(-1) ?? 1) < FULL; level++) fill.push(cdf(level - 1));
  return Float64Array.from(fill);
}

/** Most served with so many pieces over the stores so far, and the level of the last one for that. */
interface Step {
  served: Float64Array;
  level: Int32Array;
}

function addStore(before: Float64Array, weight: number, fill: Float64Array, most: number): Step {
  const length = Math.min(before.length + fill.length - 1, most + 1);
  const served = new Float64Array(length).fill(-1);
  const level = new Int32Array(length);
  for (let n = 0; n < length; n++) {
    for (let own = Math.max(0, n - before.length + 1); own <= n && own < fill.length; own++) {
      const all = floatAt(before, n - own) + weight * floatAt(fill, own);
      if (all <= floatAt(served, n)) continue;
      served[n] = all;
      level[n] = own;
    }
  }
  return { served, level };
}

/** Levels of the stores that lead to so many pieces. */
function chosen(steps: readonly Step[], pieces: number): number[] {
  const levels: number[] = [];
  let left = pieces;
  for (let i = steps.length - 1; i >= 0; i--) {
    const own = itemAt(steps, i).level[left] ?? 0;
    levels.unshift(own);
    left -= own;
  }
  return levels;
}

function checked({ leadTime, stores, target }: TwoLevelGoal): number {
  const rule = (holds: boolean, text: string, value: number): void => {
    if (!holds) throw new UsageError('twoLevelLevels', text, value);
  };
  const usable = (value: number): boolean => value >= 0 && Number.isFinite(value);
  rule(usable(leadTime), 'leadTime must be at or above 0, and finite.', leadTime);
  rule(target >= 0 && target <= HIGHEST, `target must be from 0 to ${HIGHEST}.`, target);
  let demand = 0;
  let onTheWay = 0;
  stores.forEach(({ demandPerTime, transportTime }, i) => {
    const time = transportTime ?? 0;
    rule(
      usable(demandPerTime),
      `stores[${i}].demandPerTime must be at or above 0, and finite.`,
      demandPerTime,
    );
    rule(usable(time), `stores[${i}].transportTime must be at or above 0, and finite.`, time);
    demand += demandPerTime;
    onTheWay += demandPerTime * (leadTime + time);
  });
  rule(demand > 0, 'some store must have demand.', demand);
  rule(
    onTheWay <= MOST_PIECES,
    `at most ${MOST_PIECES} pieces may be on their way: every level is tried.`,
    onTheWay,
  );
  return demand;
}
