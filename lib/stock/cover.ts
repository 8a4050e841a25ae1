/** How long what is usable now lasts. */
import type { Day } from '../numeric/day.js';
import { DAYS_PER_MONTH, DAYS_PER_YEAR } from '../numeric/day.js';
import { type ItemNeed, neededPerYear } from './itemNeed.js';
import type { Pieces } from './shelf.js';
import { expire, sortedShelf, take, total } from './shelf.js';

const MOST_COVER_DAYS = 3653;
const WHISKER = 1e-9;

/**
 * Months until expected need and use-by dates have emptied a shelf; null where nothing is needed. Days on which only leaks and openings take
 * pieces are stepped over together.
 */
export function coverOf(need: ItemNeed, pieces: readonly Pieces[], today: Day): number | null {
  const { demand, horizon } = need;
  const perYear = neededPerYear(demand);
  if (demand === null || perYear <= 0) return null;
  const planned = new Map<number, number>();
  for (const { day, expected } of demand.planned) {
    if (day - today <= horizon) planned.set(day - today, (planned.get(day - today) ?? 0) + expected);
  }
  const randomBy = (day: number): number => {
    const known = Math.min(day, Math.floor(horizon));
    return need.randomMean(0, known) + Math.max(0, day - known) * (perYear / DAYS_PER_YEAR);
  };
  const shelf = sortedShelf(pieces);
  for (let day = 1; day < MOST_COVER_DAYS; ) {
    expire(shelf, day);
    const next = Math.min(nextEvent(planned, shelf, day), MOST_COVER_DAYS);
    const before = randomBy(day - 1);
    const left = total(shelf) - (planned.get(day) ?? 0) + WHISKER;
    if (randomBy(next - 1) - before > left) {
      return (firstAbove((each) => randomBy(each) - before, left, day, next - 1) - 1) / DAYS_PER_MONTH;
    }
    take(shelf, randomBy(next - 1) - before + (planned.get(day) ?? 0));
    day = next;
  }
  return (MOST_COVER_DAYS - 1) / DAYS_PER_MONTH;
}

/** The first day after this one at which a kit is taken or pieces are past their last good day. */
function nextEvent(planned: ReadonlyMap<number, number>, shelf: readonly Pieces[], day: number): number {
  let next = Infinity;
  for (const each of planned.keys()) if (each > day && each < next) next = each;
  for (const { useBy } of shelf) next = Math.min(next, Math.floor(useBy) + 1);
  return next;
}

/** The first day of a span at which something that rises is above a limit, where it is at the last. */
function firstAbove(rising: (day: number) => number, limit: number, first: number, last: number): number {
  let [low, high] = [first - 1, last];
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (rising(middle) > limit) high = middle;
    else low = middle;
  }
  return high;
}
