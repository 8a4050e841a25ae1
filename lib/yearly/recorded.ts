/** Leaks on record by calendar year. */
import { type Fleet, REASONS } from '../fleet/types.js';
import { at, floatAt } from '../numeric/columns.js';
import { type Day, dayFromText, yearOfDay } from '../numeric/day.js';
import type { CostComparison } from './types.js';

export type RecordedYear = CostComparison['recordedLeaksPerYear'][number];

/** Years of record that the formula is held against, the latest fully covered ones. */
const RECENT_YEARS = 3;
/** A year counts as fully covered from this share on: an extract made on New Year's Eve misses one day. */
const FULL_SHARE = 0.99;

const LEAK_REASONS = [REASONS.indexOf('leak'), REASONS.indexOf('failed_test')];

/**
 * Leaks and failed tests by calendar year, every year from the first on record to the day of the data, with the share
 * of the year that the records cover. Records begin at `records_from`, or else with the first removal.
 */
export function recordedLeaks({ lives, site }: Fleet): RecordedYear[] {
  const from = site.recordsFrom ?? firstRemoval(lives.removed);
  if (from === null || from > site.dataUntil) return [];
  const leaks = new Map<number, number>();
  for (let i = 0; i < lives.length; i++) {
    const removed = floatAt(lives.removed, i);
    if (!LEAK_REASONS.includes(at(lives.reason, i)) || Number.isNaN(removed) || removed < from) continue;
    const year = yearOfDay(removed);
    leaks.set(year, (leaks.get(year) ?? 0) + 1);
  }
  const years: RecordedYear[] = [];
  for (let year = yearOfDay(from); year <= yearOfDay(site.dataUntil); year++) {
    years.push({ year, leaks: leaks.get(year) ?? 0, coveredShare: coveredShare(year, from, site.dataUntil) });
  }
  return years;
}

/** Mean leaks a year over the latest fully covered years (three at most); null where no year is fully covered. */
export function recentMean(years: readonly RecordedYear[]): { mean: number; years: number[] } | null {
  const full = years.filter((year) => year.coveredShare >= FULL_SHARE).slice(-RECENT_YEARS);
  if (full.length === 0) return null;
  return {
    mean: full.reduce((sum, { leaks }) => sum + leaks, 0) / full.length,
    years: full.map(({ year }) => year),
  };
}

function coveredShare(year: number, from: Day, until: Day): number {
  const first = dayFromText(`${year}-01-01`) ?? 0;
  const after = dayFromText(`${year + 1}-01-01`) ?? 0;
  const covered = Math.min(after, until + 1) - Math.max(first, from);
  return Math.max(0, covered) / (after - first);
}

function firstRemoval(removed: Float64Array): Day | null {
  let first = Infinity;
  for (let i = 0; i < removed.length; i++) if (floatAt(removed, i) < first) first = floatAt(removed, i);
  return first === Infinity ? null : first;
}
