/** Stock against service for one item: the share of leaks served at once by the level that is kept. */

import type { DemandForecast } from '../../demand/types.js';
import { UsageError } from '../../errors.js';
import type { Fleet } from '../../fleet/types.js';
import type { StockAdvice } from '../types.js';
import { moneyItem } from './moneyItems.js';

export interface ServicePlace {
  /** Highest position, pieces on the shelf and on order. */
  level: number;
  /** Share of leaks (and openings) that find a piece. */
  served: number;
  leaksFindingShelfEmptyPerYear: number;
}

export interface ServiceByLevel {
  item: string;
  leaksPerYear: number;
  /** Share of leaks to serve at once. */
  target: number;
  /** Pieces of the smallest order: a level is reordered in it. */
  lot: number;
  /** Pieces of an order as the plan advises. */
  advisedLot: number;
  /** Per piece, in the site's currency; null where not given. */
  price: number | null;
  /** By level, from none on to where more pieces serve nothing that counts. */
  levels: ServicePlace[];
  /** What leaks can draw on today, and what the plan advises (reorder point and order quantity). */
  today: ServicePlace;
  advised: ServicePlace;
  /** The lowest level that meets the target. */
  least: ServicePlace;
}

/** Levels that are worked out at most. */
const MOST_LEVELS = 2000;

/**
 * The levels of an item of items.csv by the plan's own forecast, lead time and review, kept by ordering the smallest quantity the supplier takes
 * whenever the position is at or below `level - lot`. Kits are bought by date and are no part of it.
 * @throws UsageError where items.csv has no such item
 */
export function serviceByLevel(fleet: Fleet, forecast: DemandForecast, advice: StockAdvice): ServiceByLevel {
  const item = fleet.items.find((each) => each.item === advice.item);
  if (item === undefined)
    throw new UsageError('serviceByLevel', 'the item must be in items.csv.', advice.item);
  const demand = forecast.items.find((each) => each.item === advice.item) ?? null;
  const { served, lot, leaksPerYear, target, today, advised, enough } = moneyItem(
    fleet,
    item,
    item.price ?? 0,
    advice,
    demand,
  );
  const place = (level: number, by = lot): ServicePlace => {
    const share = level === 0 && leaksPerYear > 0 ? 0 : served(level, by);
    return { level, served: share, leaksFindingShelfEmptyPerYear: leaksPerYear * (1 - share) };
  };
  const last = Math.min(Math.max(enough, today, advised.level, lot), MOST_LEVELS);
  const levels = [place(0)];
  for (let level = lot; level <= last; level++) levels.push(place(level));
  const least = levels.find((each) => each.served >= target - 1e-12) ?? levels[levels.length - 1];
  return {
    item: item.item,
    leaksPerYear,
    target,
    lot,
    advisedLot: advised.lot,
    price: item.price,
    levels,
    today: place(today),
    advised: place(advised.level, advised.lot),
    least: least ?? place(0),
  };
}
