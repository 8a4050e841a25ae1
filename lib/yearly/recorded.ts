/** Leaks on record by calendar year. */

import type { Warning } from '../findings.js';
import { type Fleet, REASONS } from '../fleet/types.js';
import { at, floatAt } from '../numeric/columns.js';
import { type Day, dayFromText, yearOfDay } from '../numeric/day.js';
import { amount, count } from '../numeric/words.js';
import { meanCountRange } from './leaksRange.js';
import type { CostComparison, RecordCheck } from './types.js';

export type RecordedYear = CostComparison['recordedLeaksPerYear'][number];

/** Years of record that the formula is held against, the latest fully covered ones. */
const RECENT_YEARS = 3;
/** A year counts as fully covered from this share on: an extract made on New Year's Eve misses one day. */
const FULL_SHARE = 0.99;

const LEAK_REASONS = [REASONS.indexOf('leak'), REASONS.indexOf('failed_test')];
const UNKNOWN = REASONS.indexOf('unknown');

/**
 * Leaks and failed tests by calendar year, every year from the first on record to the day of the data, with the share
 * of the year that the records cover. Records begin at `records_from`, or else with the first removal. The leaks that
 * are expected among removals without a reason (METHODS 3.4) are shared out over the years by such removals.
 */
export function recordedLeaks({ lives, site }: Fleet, leaksWithoutReason: number): RecordedYear[] {
  const from = site.recordsFrom ?? firstRemoval(lives.removed);
  if (from === null || from > site.dataUntil) return [];
  const leaks = new Map<number, number>();
  const unknown = new Map<number, number>();
  let unknowns = 0;
  for (let i = 0; i < lives.length; i++) {
    const removed = floatAt(lives.removed, i);
    if (!(removed >= from && removed <= site.dataUntil)) continue;
    const reason = at(lives.reason, i);
    if (LEAK_REASONS.includes(reason)) countIn(leaks, yearOfDay(removed));
    if (reason === UNKNOWN) {
      countIn(unknown, yearOfDay(removed));
      unknowns += 1;
    }
  }
  const share = unknowns === 0 ? 0 : leaksWithoutReason / unknowns;
  const years: RecordedYear[] = [];
  for (let year = yearOfDay(from); year <= yearOfDay(site.dataUntil); year++) {
    years.push({
      year,
      leaks: leaks.get(year) ?? 0,
      coveredShare: coveredShare(year, from, site.dataUntil),
      withoutReason: share * (unknown.get(year) ?? 0),
    });
  }
  return years;
}

function countIn(years: Map<number, number>, year: number): void {
  years.set(year, (years.get(year) ?? 0) + 1);
}

/**
 * Holds the latest fully covered years (three at most) against the leaks a year of today's practice by the formula
 * (draws of its mean): named leaks and those expected without a reason, against the range of a mean over as many years.
 */
export function checkRecords(years: readonly RecordedYear[], formula: Float64Array): RecordCheck | null {
  const full = years.filter((year) => year.coveredShare >= FULL_SHARE).slice(-RECENT_YEARS);
  if (full.length === 0) return null;
  const named = full.reduce((sum, { leaks }) => sum + leaks, 0) / full.length;
  const withoutReason = full.reduce((sum, year) => sum + year.withoutReason, 0) / full.length;
  const [low, high] = meanCountRange(formula, full.length);
  // Leaks expected without a reason are no whole number: the range reaches half a leak of the years together further.
  const slack = 0.5 / full.length;
  const counted = named + withoutReason;
  return {
    years: full.map(({ year }) => year),
    named,
    withoutReason,
    range: [low, high],
    agrees: counted >= low - slack && counted <= high + slack,
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

/** What to know about the check before relying on a saving. */
export function recordWarnings(check: RecordCheck | null): Warning[] {
  if (check === null) {
    return [
      {
        code: 'records-too-short-to-compare',
        text: 'No calendar year is fully on record: the formula’s leaks could not be held against recorded ones.',
        todo: 'Look at the leaks a year beside the formula before relying on the saving.',
      },
    ];
  }
  if (check.agrees) return [];
  const { years, named, withoutReason, range } = check;
  const [low, high] = range.map(tenths);
  const [first, last] = [years[0], years[years.length - 1]];
  const span = first === last ? `${first}` : `${first} to ${last}`;
  const beside =
    withoutReason < 0.05
      ? ''
      : ` and about ${amount(tenths(withoutReason), 9)} among removals without a reason`;
  return [
    {
      code: 'records-contradict-formula',
      text: `The records show ${count(tenths(named), 'leak')} a year by name${beside} (${span}); the formula for today’s practice says ${low} to ${high} on average over as many years: no saving is claimed.`,
      todo: 'Check reasons of removal, positions out of service, and whether the practice changed in these years.',
    },
  ];
}

function tenths(value: number): number {
  return Math.round(value * 10) / 10;
}
