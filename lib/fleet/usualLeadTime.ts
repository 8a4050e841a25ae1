/** How long a delivery usually takes: as items.csv gives it, else as past deliveries show it, else assumed (METHODS 5.6). */
import type { Fleet, Item } from './types.js';

/** Lead time taken where nothing tells it. */
export const ASSUMED_LEAD_DAYS = 60;
/** Fewer deliveries tell nothing. */
const FEWEST = 3;

/** Past deliveries: days from order to shelf. */
export interface LeadTimeSeen {
  /** 'material': fewer than three of the item, so that those of all items of its material are taken together. */
  of: 'item' | 'material';
  deliveries: number;
  meanDays: number;
  sdDays: number;
  shortestDays: number;
  longestDays: number;
}

/** Days from order to shelf, with what past deliveries show. */
export function usualLeadDays({ leadTimeDays }: Item, seen: LeadTimeSeen | null): number {
  return leadTimeDays ?? seen?.meanDays ?? ASSUMED_LEAD_DAYS;
}

/**
 * From three deliveries on: the item's own, else those of all items of its material, whose differences are in the spread then. Null where
 * there are fewer.
 */
export function leadTimeSeen(fleet: Fleet, item: Item): LeadTimeSeen | null {
  if (fleet.deliveries.length === 0) return null;
  const own = fleet.deliveries.filter((each) => each.item === item.item);
  const alike = (): Fleet['deliveries'] => {
    const parts = new Set(
      fleet.items.filter(({ material }) => material === item.material).map((each) => each.item),
    );
    return fleet.deliveries.filter((each) => parts.has(each.item));
  };
  const used = own.length >= FEWEST ? own : alike();
  if (used.length < FEWEST) return null;
  const days = used.map(({ placed, received }) => received - placed);
  const mean = days.reduce((sum, each) => sum + each, 0) / days.length;
  const squares = days.reduce((sum, each) => sum + (each - mean) ** 2, 0);
  return {
    of: own.length >= FEWEST ? 'item' : 'material',
    deliveries: days.length,
    meanDays: mean,
    sdDays: Math.sqrt(squares / (days.length - 1)),
    shortestDays: Math.min(...days),
    longestDays: Math.max(...days),
  };
}
