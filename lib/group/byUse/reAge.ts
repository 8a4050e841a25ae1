/** Lives of groups that another clock than days wears, re-aged by what their counters stood at. */
import type { Fleet } from '../../fleet/types.js';
import { at, floatAt, itemAt } from '../../numeric/columns.js';
import type { Cells, GroupCell } from '../cells.js';
import type { History } from '../history.js';
import { weightOf } from '../wear/counters.js';
import type { Wear, WearClock, WornGroup } from '../wear/types.js';

/** A group with its clock, and the counts a day that its ages are told at. */
export interface ClockedGroup {
  worn: WornGroup;
  clock: WearClock;
  /** Counts a day at which one day of the re-aged lives passes. */
  unit: number;
}

/** Groups told on other clocks than days, by index. */
export type ClockedGroups = ReadonlyMap<number, ClockedGroup>;

/** Ages are rounded to this many days, far below the day that records are kept by, so that lives alike stay one row. */
const GRID = 0.25;
/** Of a leak of 60 days and older, a span of days wider than this is since its last tight test. */
const A_DAY = 1.5;

/**
 * Groups by index with the unit of their ages: the middle rate over the positions of all groups of the material on the same clock, so
 * that these pool in one unit, and in days of a usual position with groups that stay in days.
 */
export function clockedGroups(
  cells: readonly GroupCell[],
  { worn, clocks }: Pick<Wear, 'worn' | 'clocks'>,
): ClockedGroups {
  const rates = new Map<string, number[]>();
  const keyOf = ({ group }: WornGroup): string => {
    const told = itemAt(clocks, group);
    return JSON.stringify([itemAt(cells, group).material, told.clock, weightOf(told)]);
  };
  for (const each of worn) {
    const own = [...itemAt(cells, each.group).positions]
      .map((position) => floatAt(each.perDay, position))
      .filter((rate) => rate > 0);
    rates.set(keyOf(each), [...(rates.get(keyOf(each)) ?? []), ...own]);
  }
  return new Map(
    worn.map((each) => {
      const sorted = (rates.get(keyOf(each)) ?? []).sort((a, b) => a - b);
      const unit = sorted[sorted.length >> 1] ?? middleOfLives(each);
      return [each.group, { worn: each, clock: itemAt(clocks, each.group), unit }];
    }),
  );
}

/** Where no position holds the group now there is no rate to be had but 1. */
function middleOfLives({ perDay }: WornGroup): number {
  const known = perDay.filter((rate) => rate > 0).sort();
  return known[known.length >> 1] ?? 1;
}

/**
 * The history with the ages of told groups in units of their clock, in which wear-out runs alike at every position; `inDays` keeps the days,
 * which faulty fittings go by. Lives whose count is not known leave the cells.
 */
export function reAge(
  fleet: Fleet,
  history: History,
  cells: Cells,
  groups: ClockedGroups,
): { history: History; cells: Cells } {
  const { lower, upper, entry, age } = history;
  const aged: History = {
    ...history,
    lower: lower.slice(),
    upper: upper.slice(),
    entry: entry.slice(),
    age: age.slice(),
    inDays: { lower, upper, entry, age },
  };
  const kept = cells.cells.map((cell, g) => {
    const group = groups.get(g);
    if (group === undefined) return cell;
    const place = new Map(Array.from(group.worn.lives.life, (life, i) => [life, i]));
    const rows = cell.rows.filter((row) => ageRow(fleet, aged, row, group, place));
    return { ...cell, rows };
  });
  return { history: aged, cells: { ...cells, cells: kept } };
}

/** Sets the ages of one row; false where its count is not known. */
function ageRow(
  { lives }: Fleet,
  history: History,
  row: number,
  { worn, clock, unit }: ClockedGroup,
  place: ReadonlyMap<number, number>,
): boolean {
  const { lower, upper, entry, age } = history.inDays as NonNullable<History['inDays']>;
  const life = at(history.life, row);
  const i = place.get(life);
  const counts = i === undefined ? Number.NaN : floatAt(worn.lives.counts, i);
  if (i === undefined || Number.isNaN(counts)) return false;
  const days = Math.max(floatAt(age, row), 0.5);
  const perDay = counts / days;
  const weight = weightOf(clock);
  const onClock = (inDays: number, count: number): number =>
    GRID * Math.round((weight === null ? count : inDays + weight * count) / unit / GRID);
  const begin = floatAt(entry, row);
  const toEntry = floatAt(worn.lives.toEntry, i);
  const before = begin === 0 ? 0 : Math.min(Number.isNaN(toEntry) ? perDay * begin : toEntry, counts);
  const [from, to] = [floatAt(lower, row), floatAt(upper, row)];
  const tight = floatAt(worn.lives.toLastTight, i);
  const sinceTest = to - from > A_DAY && to < Infinity && !Number.isNaN(floatAt(lives.lastTight, life));
  const by = sinceTest && !Number.isNaN(tight) ? tight : counts - perDay * (days - from);
  const start = onClock(begin, before);
  history.entry[row] = start;
  history.age[row] = Math.max(onClock(days, counts), start + GRID);
  history.lower[row] = to === Infinity ? floatAt(history.age, row) : onClock(from, Math.max(by, before, 0));
  history.upper[row] =
    to === Infinity
      ? Infinity
      : Math.max(
          onClock(to, counts + perDay * (to - days)),
          floatAt(history.lower, row) + GRID,
          start + GRID,
        );
  return true;
}
