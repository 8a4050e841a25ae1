/** The windows of one position as days, and the chances of a fresh diaphragm to be in place at each of them. */
import { floatAt } from '../../numeric/columns.js';
import { DAYS_PER_YEAR, type Day } from '../../numeric/day.js';
import { chanceAfter, type HazardCurve } from './hazardCurve.js';
import type { FleetDiaphragm } from './types.js';

/** A leak between two windows is taken to happen in the middle of one of so many equal parts of that time. */
export const PARTS = 2;
/** Days looked ahead where no window follows the known ones. */
const NO_WINDOW_AHEAD = 365;

/** Windows of a position: 1 to `known` can be planned, those after them are looked ahead to. */
export interface WindowDays {
  /** Today, then the windows, then the day on which the look-ahead ends. */
  days: Float64Array;
  known: number;
  /** True where the position is out of service on the last day: nothing costs anything then. */
  ends: boolean;
  /** By number of the window: 1 where the stop is made for the replacements, 1 where nothing may be touched. */
  made: Uint8Array;
  frozen: Uint8Array;
}

/** A window by day, and whether its stop is made for the replacements. */
export interface DatedWindow {
  day: Day;
  made: boolean;
}

export function windowDays(
  today: Day,
  known: readonly DatedWindow[],
  later: readonly DatedWindow[],
  until: Day | null,
  frozen: (index: number) => boolean,
): WindowDays {
  const inTime = ({ day }: DatedWindow): boolean => until === null || day < until;
  const planned = known.filter(inTime);
  const all = [...planned, ...later.filter(inTime)];
  const last = all[all.length - 1]?.day ?? today;
  // The look-ahead ends at its last window; where that is a known one, some time after it.
  const end = until ?? (all.length > planned.length ? last : last + NO_WINDOW_AHEAD);
  const days = [today, ...all.map(({ day }) => day), ...(last < end ? [end] : [])];
  const windows = days.length - 1;
  const made = new Uint8Array(windows + 1);
  const closed = new Uint8Array(windows + 1);
  for (const [i, window] of all.entries()) made[i + 1] = window.made ? 1 : 0;
  for (let i = 0; i < planned.length; i++) closed[i + 1] = frozen(i) ? 1 : 0;
  return { days: Float64Array.from(days), known: planned.length, ends: until !== null, made, frozen: closed };
}

/** Number of gaps between today and the end. */
export function gapsOf({ days }: WindowDays): number {
  return days.length - 1;
}

/** Day of part `part` of the gaps counted through: part q of gap j is j * PARTS + q. */
export function partDay({ days }: WindowDays, part: number): number {
  const gap = Math.min(Math.floor(part / PARTS), days.length - 2);
  const share = (part - gap * PARTS) / PARTS;
  return floatAt(days, gap) + share * (floatAt(days, gap + 1) - floatAt(days, gap));
}

/**
 * Chances of what may be in place: state i is fitted at window i, state gaps + b after a leak in the middle of part b.
 * Row of a state: chance to be in place at the start of each part, and at the end.
 */
export interface FreshChances {
  fitted: Float64Array;
  chance: Float64Array;
  /** Parts and one: length of a row. */
  width: number;
  /** After a leak in part b: chance of being in place in the middle of each later part of the same gap. */
  within: Float64Array;
}

export function freshChances(windows: WindowDays, curve: HazardCurve): FreshChances {
  const gaps = gapsOf(windows);
  const parts = gaps * PARTS;
  const width = parts + 1;
  const dayAt = Float64Array.from({ length: width }, (_, b) => partDay(windows, b));
  const middle = Float64Array.from(
    { length: parts },
    (_, b) => (floatAt(dayAt, b) + floatAt(dayAt, b + 1)) / 2,
  );
  const fitted = Float64Array.from({ length: gaps + parts }, (_, s) =>
    s < gaps ? floatAt(windows.days, s) : floatAt(middle, s - gaps),
  );
  const chance = new Float64Array(fitted.length * width);
  for (let s = 1; s < fitted.length; s++) {
    for (let b = firstPart(s, gaps); b < width; b++) {
      chance[s * width + b] = chanceAfter(curve, floatAt(dayAt, b) - floatAt(fitted, s));
    }
  }
  const within = new Float64Array(parts * PARTS);
  for (let b = 0; b < parts; b++) {
    for (let q = (b % PARTS) + 1; q < PARTS; q++) {
      const other = b - (b % PARTS) + q;
      within[b * PARTS + q] = chanceAfter(curve, floatAt(middle, other) - floatAt(middle, b));
    }
  }
  return { fitted, chance, width, within };
}

/** First part of the gaps at whose start a state stands: the window at which, or the one before which, it was fitted. */
export function firstPart(state: number, gaps: number): number {
  return state < gaps ? state * PARTS : (Math.floor((state - gaps) / PARTS) + 1) * PARTS;
}

/** What being lost costs: a leak or an opening, over days in which the chance to be in place falls from one to another. */
export function lossCost(diaphragm: FleetDiaphragm, from: number, to: number, days: number): number {
  const lost = from - to;
  const perYear = diaphragm.openingsPerYear ?? 0;
  if (perYear === 0) return lost * diaphragm.leakCost;
  const opened = Math.min(lost, ((perYear * days) / DAYS_PER_YEAR) * 0.5 * (from + to));
  return (lost - opened) * diaphragm.leakCost + opened * (diaphragm.openingCost ?? 0);
}
