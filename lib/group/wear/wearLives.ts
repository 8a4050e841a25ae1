/** Lives of some groups with their counts, as columns: what clocks and use are weighed on. */
import type { ClockColumns, ClockExposure } from '../../exposure/clock/types.js';
import { ASSUMED } from '../../exposure/exposureTypes.js';
import type { LifeAmount } from '../../exposure/heat/heatHours.js';
import type { Fleet } from '../../fleet/types.js';
import type { LifeSample } from '../../life/sampleTypes.js';
import { at, floatAt, sum, wholeAt } from '../../numeric/columns.js';
import type { RandomStream } from '../../numeric/random.js';
import { EARLY_DAYS } from '../history.js';
import type { FollowedLives } from '../standOut/followed.js';
import { DOSE } from './doseApart.js';
import { WEAR_COUNTERS, type WearCounter } from './types.js';
import { COUNTER_OF, type UsedLives } from './usedLives.js';

/** Logs of ages in steps of a tenth; more steps than any age in days takes. */
const NEARLY = 0.1;
const STEPS = 200;

export interface WearLives {
  /** Rows of the followed lives: one for several sound ones of a position that are nearly of one age (`days.count` says how many). */
  rows: Int32Array;
  /** Ages in days, watched from 60 days on: leaks before are those of faulty fittings, which no clock explains. */
  days: LifeSample;
  leaks: number;
  /** Positions were drawn because there are more lives than are compared. */
  drawnFrom: number | null;
}

/**
 * Followed lives that were watched past the age of early leaks. What is left says nothing of faulty fittings, whatever the law: it is
 * conditional on having reached 60 days (METHODS 1.2, 3.1). Of more lives than `most`, whole positions are drawn.
 */
export function wearLives(
  fleet: Fleet,
  followed: FollowedLives,
  wanted: ArrayLike<number>,
  most: number,
  random: RandomStream,
): WearLives {
  const late = Array.from(wanted).filter((i) => isLate(followed, i));
  const kept = late.length <= most ? late : drawnPositions(fleet, followed, late, most, random);
  const { rows, count } = alikeInOne(fleet, followed, kept);
  let leaks = 0;
  for (const i of rows) leaks += at(followed.leak, i);
  const column = (value: (i: number) => number): Float64Array => Float64Array.from(rows, value);
  const entryOf = (i: number): number => Math.max(floatAt(followed.entry, i), EARLY_DAYS);
  return {
    rows: Int32Array.from(rows),
    days: {
      lower: column((i) => Math.max(floatAt(followed.lower, i), entryOf(i))),
      upper: column((i) => (at(followed.leak, i) === 1 ? floatAt(followed.upper, i) : Infinity)),
      entry: column(entryOf),
      count: Float64Array.from(count),
      cluster: Int32Array.from(rows, (i) => wholeAt(fleet.lives.position, wholeAt(followed.life, i))),
    },
    leaks,
    drawnFrom: kept.length < late.length ? late.length : null,
  };
}

/**
 * Sound lives of one position whose ages (and entries) lie within a tenth of each other, by the middle one of them: they were used alike,
 * and to take their ages for one moves a hazard of shape 3 by a quarter of a percent. Leaks stay one by one.
 */
function alikeInOne(
  fleet: Fleet,
  followed: FollowedLives,
  rows: readonly number[],
): { rows: number[]; count: number[] } {
  const step = (age: number): number => Math.floor(Math.log(Math.max(age, EARLY_DAYS)) / NEARLY);
  const alike = new Map<number, number[]>();
  const single: number[] = [];
  for (const i of rows) {
    if (at(followed.leak, i) === 1) {
      single.push(i);
      continue;
    }
    const position = wholeAt(fleet.lives.position, wholeAt(followed.life, i));
    const group = wholeAt(followed.group, i);
    const steps = step(floatAt(followed.lower, i)) * STEPS + step(floatAt(followed.entry, i));
    const key = (position * STEPS + (group % STEPS)) * STEPS ** 2 + steps;
    const own = alike.get(key);
    if (own === undefined) alike.set(key, [i]);
    else own.push(i);
  }
  const found = single.map((i) => ({ i, count: 1 }));
  for (const own of alike.values()) {
    own.sort((a, b) => floatAt(followed.lower, a) - floatAt(followed.lower, b));
    found.push({ i: own[own.length >> 1] as number, count: own.length });
  }
  found.sort((a, b) => a.i - b.i);
  return { rows: found.map(({ i }) => i), count: found.map(({ count }) => count) };
}

function isLate(followed: FollowedLives, i: number): boolean {
  return floatAt(followed.upper, i) > Math.max(floatAt(followed.entry, i), EARLY_DAYS);
}

function drawnPositions(
  fleet: Fleet,
  followed: FollowedLives,
  rows: readonly number[],
  most: number,
  random: RandomStream,
): number[] {
  const byPosition = new Map<number, number[]>();
  for (const i of rows) {
    const position = wholeAt(fleet.lives.position, wholeAt(followed.life, i));
    const own = byPosition.get(position);
    if (own === undefined) byPosition.set(position, [i]);
    else own.push(i);
  }
  const left = [...byPosition.values()];
  const drawn: number[] = [];
  while (left.length > 0) {
    const k = random.below(left.length);
    const own = left[k] as number[];
    if (drawn.length + own.length > most) break;
    drawn.push(...own);
    left[k] = left[left.length - 1] as number[];
    left.pop();
  }
  return drawn.sort((a, b) => a - b);
}

/** Counters that run in more than half of the lives of which they are known. */
export function runningCounters(
  { rows }: WearLives,
  followed: FollowedLives,
  exposed: UsedLives,
): WearCounter[] {
  return WEAR_COUNTERS.filter((counter) => {
    const { exposure } = exposed[COUNTER_OF[counter]];
    let [running, known] = [0, 0];
    for (const i of rows) {
      const counts = floatAt(exposure, wholeAt(followed.life, i));
      if (Number.isNaN(counts)) continue;
      known += 1;
      if (counts > 0) running += 1;
    }
    return 2 * running > known;
  });
}

/** The columns of a choice of clock. `estimated`: numbers behind a dose that were estimated from these lives. */
export function clockColumns(
  lives: WearLives,
  followed: FollowedLives,
  exposed: UsedLives,
  counters: readonly WearCounter[],
  estimated: number,
): ClockColumns {
  const exposures = counters.map((counter) => {
    const counts = countsOf(lives, followed, exposed, exposed[COUNTER_OF[counter]]);
    return [counter, counter === DOSE ? { ...counts, estimated } : counts] as const;
  });
  return { days: lives.days, exposures: Object.fromEntries(exposures) };
}

/**
 * Counts at the ends of each life. Where a life is watched from 60 days on they are in proportion to its days since the records began to
 * watch it; of a failure known to a span of days its lower count is the reading's at the last tight test, else by the rate of the life.
 */
export function countsOf(
  { rows, days }: WearLives,
  followed: FollowedLives,
  { days: ages }: Pick<UsedLives, 'days'>,
  { exposure, toEntry, toLastTight }: LifeAmount,
): ClockExposure {
  const length = rows.length;
  const [exit, rate] = [new Float64Array(length), new Float64Array(length)];
  const [entry, lower] = [new Float64Array(length), new Float64Array(length)];
  for (let k = 0; k < length; k++) {
    const i = wholeAt(rows, k);
    const life = wholeAt(followed.life, i);
    const age = Math.max(floatAt(ages, life), 0.5);
    const counts = floatAt(exposure, life);
    const perDay = counts / age;
    const leaked = at(followed.leak, i) === 1;
    const last = leaked ? floatAt(followed.upper, i) : floatAt(followed.lower, i);
    const watched = floatAt(followed.entry, i);
    const before = watched > 0 ? floatAt(toEntry, life) : 0;
    const from = floatAt(days.entry, k);
    const share = age > watched ? Math.min(1, (from - watched) / (age - watched)) : 1;
    const end = counts + perDay * Math.max(0, last - age);
    const begin = Math.min(before + share * (counts - before), end);
    const tight = floatAt(toLastTight, life);
    const since = floatAt(days.lower, k);
    const byRate = end - perDay * (last - since);
    exit[k] = end;
    rate[k] = perDay;
    entry[k] = begin;
    const known = last - since > 1.5 && since > from && !Number.isNaN(tight);
    lower[k] = Math.min(Math.max(known ? tight : byRate, begin), end);
  }
  return { exit, rate, entry, lower };
}

/** Share of lives whose counts come from positions.csv and not from readings. */
export function assumedShare(
  { rows, days }: WearLives,
  followed: FollowedLives,
  exposed: UsedLives,
  counter: WearCounter,
): number {
  const { mark } = exposed[COUNTER_OF[counter]];
  let assumed = 0;
  rows.forEach((i, k) => {
    if (at(mark, wholeAt(followed.life, i)) === ASSUMED) assumed += floatAt(days.count, k);
  });
  return rows.length === 0 ? 0 : assumed / sum(days.count);
}
