/** What the plant does today, read from its history: schedules and openings for other work. */
import { medianSorted, quantileSorted } from 'simple-statistics';
import { type Fleet, REASONS } from '../fleet/types.js';
import { at, floatAt, itemAt } from '../numeric/columns.js';
import { DAYS_PER_YEAR } from '../numeric/day.js';
import type { GroupCell } from './cells.js';
import type { PractisedSchedule } from './types.js';

/** Scheduled removals that show a schedule. */
const FEWEST_SCHEDULED = 3;
/** A schedule also takes at least this share of the removals: below it, scheduled removals are exceptions. */
const FEWEST_SHARE = 0.1;
const EXCEEDED_BY = 1.1;
/** The plant's own rate counts as this many openings when a group's rate is found. */
const OPENINGS_BORROWED = 2;

/** Schedule of each group; where its own removals show none because there are hardly any, that of its material. */
export function practisedSchedules(fleet: Fleet, cells: readonly GroupCell[]): PractisedSchedule[] {
  const byMaterial = new Map<string, number[]>();
  for (const cell of cells) {
    byMaterial.set(cell.material, [...(byMaterial.get(cell.material) ?? []), ...cell.lives]);
  }
  const ofMaterial = new Map([...byMaterial].map(([name, lives]) => [name, scheduleOf(fleet, lives)]));
  return cells.map((cell) => {
    const own = scheduleOf(fleet, cell.lives);
    const removals = cell.lives.filter((i) => !Number.isNaN(floatAt(fleet.lives.removed, i))).length;
    const material = ofMaterial.get(cell.material);
    if (own.days !== null || removals >= FEWEST_SCHEDULED || material === undefined) return own;
    return {
      ...own,
      days: material.days,
      range: material.range,
      exceededShare: exceeded(fleet, cell.lives, material.days),
    };
  });
}

function scheduleOf(fleet: Fleet, lives: readonly number[]): PractisedSchedule {
  const removals = lives.filter((i) => !Number.isNaN(floatAt(fleet.lives.removed, i)));
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
