/** One counter of one position: its readings, and what is made of them. Room that is used again for the next. */
import { floatAt, wholeAt } from '../numeric/columns.js';

/** How the rise to a knot from the one before is known. */
export const READ = 0;
export const BY_RATE = 1;
export const BY_DUTY = 2;
export const BROKEN = 3;

/** Readings in order of day. */
export interface RawReadings {
  length: number;
  day: Float64Array;
  /** Days in use up to then. */
  use: Float64Array;
  value: Float64Array;
  /** Place of the reading among the rows of its position. */
  row: Int32Array;
  /** 1 where the counter counts whole numbers; 0 where it has fractions. */
  resolution: number;
}

/** The counter as mended: knots in order of day, with the rise from each to the next. */
export interface CounterTrail {
  length: number;
  day: Float64Array;
  use: Float64Array;
  /** Reading at the knot, as the counter showed it. */
  value: Float64Array;
  /** Rise from the knot before; where it is not read, the least it can be until rates are known. */
  rise: Float64Array;
  how: Uint8Array;
  /** Days in use that a step not read has to bridge together with its neighbours. */
  reach: Float64Array;
  total: Float64Array;
  /** Counts of `total` that come from a rate. */
  byRate: Float64Array;
  /** Steps of each kind up to here. */
  rates: Int32Array;
  duties: Int32Array;
  breaks: Int32Array;
}

export function rawReadings(room: number): RawReadings {
  const real = (): Float64Array => new Float64Array(room);
  return { length: 0, day: real(), use: real(), value: real(), row: new Int32Array(room), resolution: 1 };
}

/** Room for a knot at a fitting beside each reading. */
export function counterTrail(readings: number): CounterTrail {
  const room = 2 * readings;
  const real = (): Float64Array => new Float64Array(room);
  const whole = (): Int32Array => new Int32Array(room);
  return {
    length: 0,
    day: real(),
    use: real(),
    value: real(),
    rise: real(),
    how: new Uint8Array(room),
    reach: real(),
    total: real(),
    byRate: real(),
    rates: whole(),
    duties: whole(),
    breaks: whole(),
  };
}

/** Days in use between two places; days of the calendar where there are none. */
export function daysBetween(
  { day, use }: { day: Float64Array; use: Float64Array },
  i: number,
  j: number,
): number {
  const inUse = floatAt(use, j) - floatAt(use, i);
  return inUse > 0 ? inUse : floatAt(day, j) - floatAt(day, i);
}

/** Adds a knot; returns its place. */
export function addKnot(
  trail: CounterTrail,
  day: number,
  use: number,
  value: number,
  rise: number,
  how: number,
): number {
  const k = trail.length;
  trail.day[k] = day;
  trail.use[k] = use;
  trail.value[k] = value;
  trail.rise[k] = rise;
  trail.how[k] = how;
  trail.reach[k] = k === 0 ? 0 : daysBetween(trail, k - 1, k);
  trail.length = k + 1;
  return k;
}

/** Rates per day of a position; null where not known. */
export interface CounterRates {
  /** From its own readings. */
  own: number | null;
  /** Days in use over which `own` was measured. */
  ownDays: number;
  /** From positions.csv. */
  duty: number | null;
}

/** The own rate: rises that were read over their days in use; a rise on no day in use counts with its calendar days. */
export function ownRate(trail: CounterTrail, duty: number | null): CounterRates {
  let [rise, days] = [0, 0];
  for (let k = 1; k < trail.length; k++) {
    if (trail.how[k] !== READ) continue;
    const step = floatAt(trail.rise, k);
    const inUse = floatAt(trail.use, k) - floatAt(trail.use, k - 1);
    rise += step;
    days += inUse > 0 || step === 0 ? inUse : floatAt(trail.day, k) - floatAt(trail.day, k - 1);
  }
  return days > 0 ? { own: rise / days, ownDays: days, duty } : { own: null, ownDays: 0, duty };
}

/** Fills the steps that were not read by a rate, and adds up. The own rate bridges no more days than it was measured over. */
export function addUp(
  trail: CounterTrail,
  { own, ownDays, duty }: CounterRates,
  longestBridgeDays: number,
): void {
  const longest = Math.min(longestBridgeDays, ownDays);
  let [byRate, rates, duties, breaks] = [0, 0, 0, 0];
  let total = floatAt(trail.value, 0);
  for (let k = 0; k < trail.length; k++) {
    if (k > 0 && trail.how[k] !== READ) {
      const least = floatAt(trail.rise, k);
      const near = floatAt(trail.reach, k) <= longest;
      const rate = near && own !== null ? own : duty;
      const how = rate === null ? BROKEN : near && own !== null ? BY_RATE : BY_DUTY;
      const rise = rate === null ? least : Math.max(least, rate * daysBetween(trail, k - 1, k));
      trail.how[k] = how;
      trail.rise[k] = rise;
      byRate += rise - least;
      if (how === BY_RATE) rates += 1;
      else if (how === BY_DUTY) duties += 1;
      else breaks += 1;
    }
    if (k > 0) total += floatAt(trail.rise, k);
    trail.total[k] = total;
    trail.byRate[k] = byRate;
    trail.rates[k] = rates;
    trail.duties[k] = duties;
    trail.breaks[k] = breaks;
  }
}

/** Whether steps `first` to `last` hold one of a kind counted in `counts`. */
export function hasStep(counts: Int32Array, first: number, last: number): boolean {
  return last >= first && wholeAt(counts, last) > wholeAt(counts, first - 1);
}
