/**
 * What happened in the plant: every diaphragm from the first day of its position to the day of the extract, in order
 * of time, because lots are used up as diaphragms are fitted. A diaphragm ends by the first of: its leak, an opening for
 * other work, the window at which it is replaced on schedule, the end of its position. Openings and windows know nothing
 * of its state.
 */
import { dayFromText } from '../../lib/numeric/day.js';
import type { RandomStream } from '../../lib/numeric/random.js';
import {
  DATA_UNTIL,
  EARLY_LAW,
  FAULT_SHARES,
  PIECES_PER_LOT,
  POOR_FITTER,
  POOR_LOT,
  POOR_WEEK_SHARE,
  practisedMonths,
  RECORDS_FROM,
  SILENT_SHARE,
  TEST_DAYS,
} from './design.js';
import { chance, pick, weibull } from './draws.js';
import { findingOf } from './findings.js';
import type { PlantOptions, Reason, TrueLife, TruePosition } from './types.js';
import type { Window } from './windows.js';

/** A replacement is due at a window from this many days before its interval is up. */
const DUE_BEFORE_DAYS = 45;
const DAYS_PER_MONTH = 30.4375;
/** Days after the start of a window on which the work is done. */
const WORK_DAYS = 6;
const FITTERS = ['F1', 'F2', 'F3', 'F4', 'F5', 'F6', 'F7'] as const;
/** Share of seen leaks that are booked as taken out for their condition. */
const CONDITION_SHARE = 0.03;

interface Setting {
  windows: readonly Window[];
  /** Days on which each position is opened for other work, in order, by index of the position. */
  openings: readonly (readonly number[])[];
  random: RandomStream;
  /** Stream of each position. */
  streams: RandomStream[];
  poorLotFactor: number;
  /** Null where all fitters are alike. */
  poorFitter: string | null;
  /** Monday of the week in which much was fitted badly, or null. */
  poorWeek: number | null;
}

/** Every life of the plant, in order of fitting. */
export function simulateLives(
  random: RandomStream,
  positions: readonly TruePosition[],
  windows: readonly Window[],
  openings: readonly (readonly number[])[],
  options: PlantOptions,
): TrueLife[] {
  const setting: Setting = {
    windows,
    openings,
    random,
    streams: positions.map(({ index }) => random.fork(`position ${index}`)),
    poorLotFactor: options.poorLot === false ? 1 : (options.poorLotFactor ?? POOR_LOT.factor),
    poorFitter: options.poorFitter === true ? POOR_FITTER.fitter : null,
    poorWeek: options.poorWeek === true ? poorWeekOf(windows) : null,
  };
  const dataUntil = dayFromText(DATA_UNTIL) as number;
  const taken = new Map<string, number>();
  const lives: TrueLife[] = [];
  const next = positions.map(({ commissioned }) => commissioned);
  for (;;) {
    const index = earliest(next);
    const fitted = next[index] ?? Infinity;
    if (fitted > dataUntil) return lives;
    const life = oneLife(
      setting,
      positions[index] as TruePosition,
      fitted,
      takeFromLot(taken, positions[index] as TruePosition),
    );
    const running = life.removed === null || life.removed > dataUntil;
    lives.push(running ? { ...life, removed: null, reason: null, finding: '', lastTight: null } : life);
    next[index] = running || life.removed === null || life.reason === 'retired' ? Infinity : life.removed;
    if (life.removed !== null && life.removed === life.position.retired) next[index] = Infinity;
  }
}

function earliest(days: readonly number[]): number {
  let found = 0;
  for (let i = 1; i < days.length; i++) if ((days[i] as number) < (days[found] as number)) found = i;
  return found;
}

/** Lots of an item are used up one after the other. */
function takeFromLot(
  taken: Map<string, number>,
  { material, size }: TruePosition,
): { name: string; poor: boolean } {
  const item = `${material}/${size}`;
  const before = taken.get(item) ?? 0;
  taken.set(item, before + 1);
  const number = Math.floor(before / PIECES_PER_LOT) + 1;
  const poor = material === POOR_LOT.material && size === POOR_LOT.size && number === POOR_LOT.number;
  return { name: lotName(material, size, number), poor };
}

export function lotName(material: string, size: number, number: number): string {
  const letters = material.replace(/[^A-Z]/g, '').slice(0, 2);
  return `${letters}${String(size).padStart(2, '0')}-${String(number).padStart(4, '0')}`;
}

function oneLife(
  setting: Setting,
  position: TruePosition,
  fitted: number,
  lot: { name: string; poor: boolean },
): TrueLife {
  const random = setting.streams[position.index] as RandomStream;
  const scale = position.scale * (lot.poor ? setting.poorLotFactor : 1);
  const { fitter, faultShare } = fittingOf(setting, position, fitted);
  const wearAge = weibull(random, position.shape, scale);
  const faultAge = weibull(random, EARLY_LAW.shape, EARLY_LAW.scale);
  const faulty = chance(random, faultShare);
  const mode = faulty && faultAge < wearAge ? 'fault' : 'wear';
  const leakAge = mode === 'fault' ? faultAge : wearAge;
  const silent = chance(random, SILENT_SHARE) && position.duty.tested;
  const leaked = leakSeen(position, fitted, fitted + Math.round(leakAge), silent);
  const end = endOf(setting, random, position, fitted, leaked);
  const age = end.day === null ? Infinity : end.day - fitted;
  return {
    position,
    lot: lot.name,
    fitted,
    removed: end.day,
    reason: end.reason,
    mode,
    leakAge,
    finding: findingOf(random, position.material, mode, age, leakAge, isLeak(end.reason)),
    lastTight: end.reason === 'failed_test' ? leaked.lastTight : null,
    fitter: fitter ?? pick(random, FITTERS),
  };
}

/** Whoever fits it, where it matters, and the chance that it is fitted badly. Fitters who are all alike are drawn last of all. */
function fittingOf(
  { random, poorFitter, poorWeek }: Setting,
  { index, material }: TruePosition,
  fitted: number,
): { fitter: string | null; faultShare: number } {
  const usual = FAULT_SHARES[material] ?? 0;
  const share = poorWeek !== null && mondayOf(fitted) === poorWeek ? POOR_WEEK_SHARE : usual;
  if (poorFitter === null) return { fitter: null, faultShare: share };
  const fitter = pick(random.fork(`fitter ${index}/${fitted}`), FITTERS);
  return { fitter, faultShare: fitter === poorFitter ? Math.max(share, POOR_FITTER.times * usual) : share };
}

/** Monday of the week in which the shutdown of the whole plant in the middle of the records begins. */
export function poorWeekOf(windows: readonly Window[]): number {
  const [from, until] = [dayFromText(RECORDS_FROM) as number, dayFromText(DATA_UNTIL) as number];
  const whole = windows.filter(({ wholePlant, start }) => wholePlant && start > from && start < until);
  return mondayOf((whole[Math.floor(whole.length / 2)] as Window).start);
}

/** 1970-01-01, day 0, was a Thursday. */
function mondayOf(day: number): number {
  return day - ((day + 3) % 7);
}

export function isLeak(reason: Reason | null): boolean {
  return reason === 'leak' || reason === 'failed_test' || reason === 'condition';
}

interface SeenLeak {
  /** Day it leaks, and day on which somebody would see it. */
  leaks: number;
  seen: number;
  silent: boolean;
  lastTight: number;
}

/** A silent leak is seen at the next pressure-hold test of its line. */
function leakSeen(position: TruePosition, fitted: number, leaks: number, silent: boolean): SeenLeak {
  if (!silent) return { leaks, seen: leaks, silent, lastTight: fitted };
  const offset = position.line.charCodeAt(0) * 7 + position.line.charCodeAt(1) * 3;
  const seen = leaks + ((((offset - leaks) % TEST_DAYS) + TEST_DAYS) % TEST_DAYS);
  return { leaks, seen, silent, lastTight: Math.max(fitted, seen - TEST_DAYS) };
}

function endOf(
  setting: Setting,
  random: RandomStream,
  position: TruePosition,
  fitted: number,
  { leaks, seen, silent }: SeenLeak,
): { day: number | null; reason: Reason | null } {
  const opened = setting.openings[position.index]?.find((day) => day > fitted) ?? Infinity;
  const scheduled = scheduledDay(setting.windows, random, position, fitted);
  const retired = position.retired ?? Infinity;
  const other = Math.min(opened, scheduled, retired);
  const booked = chance(random, CONDITION_SHARE);
  if (seen <= other) {
    const reason = silent ? 'failed_test' : booked ? 'condition' : 'leak';
    return { day: Number.isFinite(seen) ? seen : null, reason };
  }
  // Taken out between leaking and the next test: whoever opens it sees that it leaks.
  if (leaks <= other) return { day: other, reason: 'failed_test' };
  if (other === Infinity) return { day: null, reason: null };
  return { day: other, reason: other === retired ? 'retired' : other === opened ? 'opened' : 'scheduled' };
}

/** First window of its line at which it is due and not put off. */
function scheduledDay(
  windows: readonly Window[],
  random: RandomStream,
  { duty, material }: TruePosition,
  fitted: number,
): number {
  const dueFrom = fitted + practisedMonths(duty, material) * DAYS_PER_MONTH - DUE_BEFORE_DAYS;
  for (const window of windows) {
    if (window.start < dueFrom || !(window.wholePlant || duty.quarterly)) continue;
    if (!chance(random, duty.putOff)) return window.start + random.below(WORK_DAYS);
  }
  return Infinity;
}
