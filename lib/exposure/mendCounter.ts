/** The slow road: a counter with falls, leaps, standstills or two values on a day, step by step. */
import { floatAt, wholeAt } from '../numeric/columns.js';
import { countUpTo } from '../numeric/sorted.js';
import { type CounterNotes, setValueAside, tell } from './counterNotes.js';
import { addKnot, BY_RATE, type CounterTrail, daysBetween, type RawReadings, READ } from './counterTrail.js';
import { oneValueADay } from './oneValueADay.js';
import {
  COMES_BACK,
  isBelieved,
  LARGEST_PACE_RATIO,
  misfit,
  type Pace,
  paceOf,
  riseRoundTheEnd,
  startsAtZero,
} from './pace.js';
import { type UseCalendar, useDay } from './useDays.js';

/** What else is known of the position. */
export interface CounterSetting {
  /** Days of fitting, in order. */
  fittings: readonly number[];
  calendar: UseCalendar | null;
  duty: number | null;
  /** Whether another counter fell between two rows: all set to zero at once, which going round is not. */
  othersFell: (rowBefore: number, rowAfter: number) => boolean;
}

interface Walk {
  raw: RawReadings;
  trail: CounterTrail;
  pace: Pace;
  setting: CounterSetting;
  notes: CounterNotes;
  /** The reading last accepted. */
  last: number;
  /** Pace of the step last read; 0 before the first. */
  lastPace: number;
}

/** So many readings ahead are looked at to see whether a strange one passes. */
const LOOK_AHEAD = 12;

/**
 * Knots from readings. A fall is, in this order: readings that pass (set aside), a counter that went round, one set to zero at a
 * fitting, one set to zero some time in between, or another counter; a leap up is a reading that passes or another counter. Steps over which
 * the counter does not tell the rise are left to be bridged.
 */
export function mendCounter(
  raw: RawReadings,
  trail: CounterTrail,
  setting: CounterSetting,
  room: Float64Array,
  notes: CounterNotes,
): void {
  oneValueADay(raw, notes);
  const pace = paceOf(raw, setting.duty, room);
  const walk: Walk = { raw, trail, pace, setting, notes, last: 0, lastPace: 0 };
  trail.length = 0;
  knotOf(walk, 0, 0, READ);
  for (let k = 1; k < raw.length; ) k = takeStep(walk, k);
}

/** Takes reading k, or sets it and those like it aside; returns the next to look at. */
function takeStep(walk: Walk, k: number): number {
  const { raw, pace, last } = walk;
  const rise = floatAt(raw.value, k) - floatAt(raw.value, last);
  const passes = rise < 0 ? passesLow(walk, k) : isLeap(walk, k, rise) ? passesHigh(walk, k) : 0;
  if (passes > 0) {
    for (let i = k; i < passes; i++) setPassingAside(walk, i);
    return passes;
  }
  if (rise < 0) takeFall(walk, k);
  else if (passes < 0) {
    told(walk, 'jumped', k);
    knotOf(walk, k, 0, BY_RATE);
  } else {
    const days = daysBetween(raw, last, k);
    if (rise > 0 && floatAt(raw.use, k) === floatAt(raw.use, last) && days > 0)
      told(walk, 'rose-while-idle', k);
    walk.lastPace = days > 0 && rise > 0 && pace.perDay > 0 ? rise / days : walk.lastPace;
    knotOf(walk, k, rise, READ);
  }
  return k + 1;
}

function knotOf(walk: Walk, k: number, rise: number, how: number): void {
  const { raw, trail } = walk;
  addKnot(trail, floatAt(raw.day, k), floatAt(raw.use, k), floatAt(raw.value, k), rise, how);
  walk.last = k;
}

function told({ raw, notes, last }: Walk, code: Parameters<typeof tell>[1], k: number): void {
  tell(notes, code, placeOf(raw, last), placeOf(raw, k));
}

function placeOf(raw: RawReadings, k: number): [number, number] {
  return [floatAt(raw.day, k), floatAt(raw.value, k)];
}

function setPassingAside(walk: Walk, i: number): void {
  const code = floatAt(walk.raw.value, i) === 0 ? 'zero-for-missing' : 'misread';
  setValueAside(walk.notes, code, wholeAt(walk.raw.row, i));
  told(walk, code, i);
}

/** A rise out of step with the usual pace and with the steps on both sides: a pace that lasts is a new duty, not a leap. */
function isLeap({ raw, pace, last, lastPace }: Walk, k: number, rise: number): boolean {
  const days = daysBetween(raw, last, k);
  if (isBelieved(pace, rise, days)) return false;
  const own = rise / Math.max(days, 1);
  if (lastPace > 0 && own <= LARGEST_PACE_RATIO * lastPace) return false;
  if (k + 1 >= raw.length) return true;
  const next = (floatAt(raw.value, k + 1) - floatAt(raw.value, k)) / Math.max(daysBetween(raw, k, k + 1), 1);
  return !(next > 0 && own <= LARGEST_PACE_RATIO * next);
}

/** The reading that goes on from `last` as if those from k on, too high, were not there; -1 where none does. */
function passesHigh({ raw, pace, last }: Walk, k: number): number {
  const end = Math.min(raw.length, k + 1 + LOOK_AHEAD);
  for (let m = k + 1; m < end; m++) {
    const back = floatAt(raw.value, m) - floatAt(raw.value, last);
    if (floatAt(raw.value, m) >= floatAt(raw.value, k)) continue;
    return back >= 0 && misfit(pace, back, daysBetween(raw, last, m)) <= COMES_BACK ? m : -1;
  }
  return -1;
}

/** The same for readings that are too low; 0 where none does, or where rising there from zero is nearer to the pace. */
function passesLow({ raw, pace, last }: Walk, k: number): number {
  const end = Math.min(raw.length, k + 1 + LOOK_AHEAD);
  let zeros = floatAt(raw.value, k) === 0;
  for (let m = k + 1; m < end; m++) {
    const back = floatAt(raw.value, m) - floatAt(raw.value, last);
    if (back < 0) {
      zeros = zeros && floatAt(raw.value, m) === 0;
      continue;
    }
    if (pace.perDay === 0) return zeros ? m : 0;
    const asRead = misfit(pace, back, daysBetween(raw, last, m));
    const afterFall = misfit(
      pace,
      floatAt(raw.value, m) - floatAt(raw.value, m - 1),
      daysBetween(raw, m - 1, m),
    );
    return asRead <= COMES_BACK && asRead < afterFall ? m : 0;
  }
  return 0;
}

function takeFall(walk: Walk, k: number): void {
  const { raw, pace, last } = walk;
  const value = floatAt(raw.value, k);
  const days = daysBetween(raw, last, k);
  const together = walk.setting.othersFell(wholeAt(raw.row, last), wholeAt(raw.row, k));
  const round = together ? null : riseRoundTheEnd(pace, floatAt(raw.value, last), value, days);
  if (round !== null) {
    told(walk, 'rolled-over', k);
    knotOf(walk, k, round, READ);
  } else if (fallsAtFitting(walk, k)) {
    told(walk, 'reset-at-fitting', k);
    knotOf(walk, k, value, READ);
  } else {
    const zero = pace.perDay > 0 ? startsAtZero(pace, value, days) : value <= 0.1 * floatAt(raw.value, last);
    told(walk, zero ? 'reset' : 'replaced', k);
    // On one day nothing is left out between the two.
    knotOf(walk, k, zero && days > 0 ? value : 0, days > 0 ? BY_RATE : READ);
  }
}

/** Where the counter can have begun at zero on the last fitting in between, a knot is set there. */
function fallsAtFitting({ raw, trail, pace, setting, last }: Walk, k: number): boolean {
  const { fittings, calendar } = setting;
  const place = countUpTo(fittings, floatAt(raw.day, k)) - 1;
  const fitted = fittings[place];
  if (fitted === undefined || fitted < floatAt(raw.day, last)) return false;
  const use = useDay(calendar, fitted);
  const days = floatAt(raw.use, k) - use;
  const value = floatAt(raw.value, k);
  const enough = value >= (pace.perDay * days) / 3 - pace.slack;
  if (pace.perDay > 0 && !(enough && startsAtZero(pace, value, days))) return false;
  const before = fitted > floatAt(raw.day, last);
  addKnot(trail, fitted, use, 0, 0, before ? BY_RATE : READ);
  return true;
}
