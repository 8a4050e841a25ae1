/** What rise of a counter is believed, and which of two explanations of a strange one is nearer to its pace. */
import { floatAt } from '../numeric/columns.js';
import { daysBetween, type RawReadings } from './counterTrail.js';

/** A rise this many times faster than the usual pace, and than the steps beside it, is no rise of the counter. */
export const LARGEST_PACE_RATIO = 20;
/** And this many times faster than all but a tenth of the rises of the counter. */
const LARGEST_FAST_RATIO = 10;
const FAST_SHARE = 0.9;
/** So many counts more are always believed: chance. */
export const SLACK_COUNTS = 20;
/** A counter that begins anew has risen at most so many times as fast as usual since. */
const BEGIN_RATIO = 3;
/** Half a year in use without a rise is looked at. */
export const LONGEST_FLAT_DAYS = 180;

/** The pace of one counter. */
export interface Pace {
  /** Counts per day in use: the lower median of the rises seen, or the duty where it is more; 0 where not known. */
  perDay: number;
  /** Pace that one rise in ten exceeds: what a counter that rises by fits and starts can do. */
  fast: number;
  /** Smallest amount that matters: a count, or a day's worth where the counter has fractions. */
  grain: number;
  /** Counts that are always believed. */
  slack: number;
}

export function paceOf(raw: RawReadings, duty: number | null, room: Float64Array): Pace {
  let found = 0;
  for (let k = 1; k < raw.length; k++) {
    const rise = floatAt(raw.value, k) - floatAt(raw.value, k - 1);
    // A rise away from zero is none of the counter where zero stood for "not read".
    const fromNothing = k > 1 && floatAt(raw.value, k - 1) === 0 && floatAt(raw.value, k - 2) > 0;
    const days = daysBetween(raw, k - 1, k);
    if (!(rise > 0) || !(days > 0) || fromNothing) continue;
    room[found] = rise / days;
    found += 1;
  }
  const sorted = room.subarray(0, found).sort();
  const median = found === 0 ? 0 : floatAt(sorted, (found - 1) >> 1);
  const perDay = Math.max(median, duty ?? 0);
  const fast = found === 0 ? 0 : floatAt(sorted, Math.floor(FAST_SHARE * (found - 1)));
  const grain = raw.resolution > 0 ? raw.resolution : perDay;
  return { perDay, fast, grain, slack: SLACK_COUNTS * raw.resolution };
}

/** How far a rise is from the pace, as a ratio: 0 where it is the usual one. */
export function misfit({ perDay, grain }: Pace, rise: number, days: number): number {
  return Math.abs(Math.log((rise + grain) / (perDay * days + grain)));
}

/** A rise that the pace allows, if generously. */
export function isBelieved({ perDay, fast, slack }: Pace, rise: number, days: number): boolean {
  const largest = Math.max(LARGEST_PACE_RATIO * perDay, LARGEST_FAST_RATIO * fast);
  return perDay === 0 || rise <= largest * days + slack;
}

/** Whether a reading can be what a counter shows that began at zero so many days before. */
export function startsAtZero(pace: Pace, value: number, days: number): boolean {
  return value <= BEGIN_RATIO * pace.perDay * days + Math.max(pace.slack, pace.grain);
}

/** Rises further from the usual pace than this ratio do not count as "comes back to where it was". */
export const COMES_BACK = Math.log(LARGEST_PACE_RATIO);
/** The rise of one that went round is the usual one within this share, and within chance: three standard deviations of counts. */
const ROUND_SHARE = 0.5;
const ROUND_DEVIATIONS = 3;
/** Without a known pace: from the last tenth to the first. */
const LAST_TENTH = 0.9;

/**
 * The rise of a counter that passed its highest standing, a power of ten, and began again from zero; null where the pace speaks against it.
 * Only the next power of ten is looked at, and that it went round once.
 */
export function riseRoundTheEnd(pace: Pace, before: number, after: number, days: number): number | null {
  let end = 1;
  while (end <= before) end *= 10;
  if (pace.slack > 0 && end < 100) return null;
  const rise = end - before + after;
  if (pace.perDay > 0) {
    const expected = pace.perDay * days;
    const room = ROUND_SHARE * expected + ROUND_DEVIATIONS * Math.sqrt(expected * pace.grain);
    return Math.abs(rise - expected) <= room ? rise : null;
  }
  return before >= LAST_TENTH * end && after <= (1 - LAST_TENTH) * end ? rise : null;
}
