/** How long what is usable now lasts. */
import type { Day } from '../numeric/day.js';
import { DAYS_PER_MONTH, DAYS_PER_YEAR } from '../numeric/day.js';
import { type ItemNeed, neededPerYear } from './itemNeed.js';
import type { Pieces } from './shelf.js';
import { expire, sortedShelf, take } from './shelf.js';

const MOST_COVER_DAYS = 3653;

/** Months until expected need and use-by dates have emptied a shelf; null where nothing is needed. */
export function coverOf(need: ItemNeed, pieces: readonly Pieces[], today: Day): number | null {
  const { demand } = need;
  const perYear = neededPerYear(demand);
  if (demand === null || perYear <= 0) return null;
  const planned = new Map<number, number>();
  for (const { day, expected } of demand.planned) planned.set(day, (planned.get(day) ?? 0) + expected);
  const shelf = sortedShelf(pieces);
  let day = 1;
  for (; day < MOST_COVER_DAYS; day++) {
    expire(shelf, day);
    const known = day <= need.horizon;
    const random = known ? need.randomMean(day - 1, day) : perYear / DAYS_PER_YEAR;
    if (take(shelf, random + (known ? (planned.get(today + day) ?? 0) : 0)) > 1e-9) break;
  }
  return (day - 1) / DAYS_PER_MONTH;
}
