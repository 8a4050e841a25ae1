/** What the plant does today, read from its history: schedules and openings for other work. */
import { medianSorted, quantileSorted } from 'simple-statistics';
import { type Fleet, REASONS } from '../fleet/types.js';
import { at, floatAt, itemAt } from '../numeric/columns.js';
import { DAYS_PER_YEAR } from '../numeric/day.js';
import type { GroupCell } from './cells.js';
import { isRemoval } from './history.js';
import type { PractisedSchedule } from './types.js';

/** Scheduled removals that show a schedule. */
const FEWEST_SCHEDULED = 3;
/** A schedule also takes at least this share of the removals: below it, scheduled removals are exceptions. */
const FEWEST_SHARE = 0.1;
const EXCEEDED_BY = 1.1;
/** The plant's own rate counts as this many openings when a group's rate is found. */
const OPENINGS_BORROWED = 2;

/**
 * Schedule of each group. Where its own removals are too few to show one: the practice at the positions that hold it or
 * will be fitted with it, under whatever material they had; then that of the groups that these positions hold now; then
 * that of its material. A material that is fitted for the first time so takes over the schedule of its positions.
 */
export function practisedSchedules(fleet: Fleet, cells: readonly GroupCell[]): PractisedSchedule[] {
  const places = placesOf(fleet, cells);
  const ofMaterial = new Map<string, PractisedSchedule | null>();
  const materialOf = (material: string): PractisedSchedule | null => {
    const known = ofMaterial.get(material);
    if (known !== undefined) return known;
    const alike = cells.filter((cell) => cell.material === material);
    const found = spoken(
      fleet,
      alike.flatMap(({ lives }) => lives),
    );
    ofMaterial.set(material, found);
    return found;
  };
  return cells.map((cell) => {
    const own = scheduleOf(fleet, cell.lives);
    if (own.days !== null || removalsOf(fleet, cell.lives) >= FEWEST_SCHEDULED) return own;
    const shown =
      spoken(fleet, livesAt(cell, places)) ??
      spoken(fleet, livesOfGroupsAt(cell, places)) ??
      materialOf(cell.material);
    if (shown === null) return own;
    return {
      ...own,
      ...shown,
      scheduledRemovals: own.scheduledRemovals,
      exceededShare: exceeded(fleet, cell.lives, shown.days),
    };
  });
}

/** What lives say of a schedule, that there is none included; null where they are too few to say. */
function spoken(fleet: Fleet, lives: readonly number[]): PractisedSchedule | null {
  return removalsOf(fleet, lives) < FEWEST_SCHEDULED ? null : scheduleOf(fleet, lives);
}

function removalsOf(fleet: Fleet, lives: readonly number[]): number {
  return lives.filter((i) => isRemoval(fleet, i)).length;
}

/** Lives of each position, and the group that it holds now. */
interface Places {
  lives: Map<number, number[]>;
  holds: Map<number, GroupCell>;
}

function placesOf(fleet: Fleet, cells: readonly GroupCell[]): Places {
  const places: Places = { lives: new Map(), holds: new Map() };
  for (const cell of cells) {
    for (const i of cell.lives) {
      const position = at(fleet.lives.position, i);
      const own = places.lives.get(position);
      if (own === undefined) places.lives.set(position, [i]);
      else own.push(i);
      if (!isRemoval(fleet, i)) places.holds.set(position, cell);
    }
  }
  return places;
}

function livesAt({ positions }: GroupCell, { lives }: Places): number[] {
  return [...positions].flatMap((position) => lives.get(position) ?? []);
}

function livesOfGroupsAt({ positions }: GroupCell, { holds }: Places): number[] {
  const held = new Set([...positions].flatMap((position) => holds.get(position) ?? []));
  return [...held].flatMap(({ lives }) => lives);
}

function scheduleOf(fleet: Fleet, lives: readonly number[]): PractisedSchedule {
  const removals = lives.filter((i) => isRemoval(fleet, i));
  const ages = removals
    .filter((i) => reasonOf(fleet, i) === 'scheduled')
    .map((i) => ageOf(fleet, i))
    .filter((age) => !Number.isNaN(age))
    .sort((a, b) => a - b);
  if (ages.length < FEWEST_SCHEDULED || ages.length < FEWEST_SHARE * removals.length) {
    return { days: null, scheduledRemovals: ages.length, range: null, exceededShare: 0 };
  }
  const days = medianSorted(ages);
  return {
    days,
    scheduledRemovals: ages.length,
    range: [quantileSorted(ages, 0.1), quantileSorted(ages, 0.9)],
    exceededShare: exceeded(fleet, lives, days),
  };
}

/** Share of lives of known age that got older than 1.1 times an age. */
function exceeded(fleet: Fleet, lives: readonly number[], days: number | null): number {
  const ages = lives.map((i) => ageOf(fleet, i)).filter((age) => !Number.isNaN(age));
  if (days === null || ages.length === 0) return 0;
  return ages.filter((age) => age > EXCEEDED_BY * days).length / ages.length;
}

/** Age at removal or at the end of the data; NaN where the day of fitting is not known. */
function ageOf({ lives, site }: Fleet, i: number): number {
  const removed = floatAt(lives.removed, i);
  return (Number.isNaN(removed) ? site.dataUntil : removed) - floatAt(lives.fitted, i);
}

function reasonOf({ lives }: Fleet, i: number): string {
  return itemAt(REASONS, at(lives.reason, i));
}

/**
 * Openings for other work per position and year of each group. Few openings say little, so each group's count is joined
 * by two openings at the plant's rate. Lives with an unknown day of fitting count too; removals of unknown reason count
 * with their chance.
 */
export function openingRates(
  fleet: Fleet,
  cells: readonly GroupCell[],
  openedChance: ReadonlyMap<number, number>,
): number[] {
  const seen = cells.map((cell) => ({
    openings: cell.lives.reduce((sum, i) => sum + openingsOf(fleet, i, openedChance), 0),
    years: cell.lives.reduce((sum, i) => sum + yearsWatched(fleet, i), 0),
  }));
  const openings = seen.reduce((sum, group) => sum + group.openings, 0);
  const years = seen.reduce((sum, group) => sum + group.years, 0);
  const plantRate = years > 0 ? openings / years : 0;
  if (plantRate === 0) return cells.map(() => 0);
  return seen.map(
    (group) => (group.openings + OPENINGS_BORROWED) / (group.years + OPENINGS_BORROWED / plantRate),
  );
}

function openingsOf(fleet: Fleet, i: number, openedChance: ReadonlyMap<number, number>): number {
  if (Number.isNaN(floatAt(fleet.lives.removed, i))) return 0;
  return reasonOf(fleet, i) === 'opened' ? 1 : (openedChance.get(i) ?? 0);
}

/** Years for which the records watched a life. */
function yearsWatched({ lives, positions, site }: Fleet, i: number): number {
  const fitted = floatAt(lives.fitted, i);
  const inService = itemAt(positions, at(lives.position, i)).inServiceSince;
  const start = Math.max(
    Number.isNaN(fitted) ? Number.NEGATIVE_INFINITY : fitted,
    site.recordsFrom ?? Number.NEGATIVE_INFINITY,
    inService ?? Number.NEGATIVE_INFINITY,
  );
  const removed = floatAt(lives.removed, i);
  const end = Number.isNaN(removed) ? site.dataUntil : removed;
  return Number.isFinite(start) ? Math.max(0, end - start) / DAYS_PER_YEAR : 0;
}
