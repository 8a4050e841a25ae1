/**
 * Long-run events of one position under an interval and a calendar. Diaphragms fitted in a window, or at any time
 * between (after a leak or an opening), are replaced in the window that the due rule names (calendarAges.ts). With u
 * unscheduled fittings a day, taken as spread evenly over the period, and s_i replacements in window i a period,
 *
 *     s_i = sum of s_j S(age from j to i) + u times (integral of S(age to i) over the days that lead to i)
 *
 * and all uptimes of one period's fittings add up to the period, which gives u (renewal reward, as in chooseAge).
 */
import type { CalendarAges } from '../interval/calendarAges.js';
import { type Cycle, type CycleParts, wearShare } from '../interval/cycle.js';
import { at, floatAt, itemAt } from '../numeric/columns.js';

/** Per position and day over the draws; each window's replacements per position and period. */
export interface SteadyRates {
  /** Every diaphragm fitted. */
  fitted: Float64Array;
  leaks: Float64Array;
  scheduled: Float64Array;
  opened: Float64Array;
  byWindow: Float64Array[];
}

/** Two-point Gauss places in a stretch of ages. */
const PLACES = [0.5 - Math.sqrt(1 / 12), 0.5 + Math.sqrt(1 / 12)];
/** Above this chance of reaching the next window a ring of windows would keep its first fittings for ever. */
const LARGEST_RING = 1 - 1e-9;

/** A line without windows: replaced on the day it is due; null = run until it leaks. */
export function ratesAtAge(cycle: Cycle, days: number | null): SteadyRates {
  const parts = cycle.partsAt(days ?? Infinity);
  const { survival, uptime, openingsPerDay } = parts;
  const perDay = (share: (d: number) => number): Float64Array => uptime.map((up, d) => share(d) / up);
  return {
    fitted: perDay(() => 1),
    leaks: perDay((d) => leaksOf(parts, d)),
    scheduled: perDay((d) => floatAt(survival, d)),
    opened: new Float64Array(uptime.length).fill(openingsPerDay),
    byWindow: [],
  };
}

export function ratesOnCalendar(cycle: Cycle, calendar: CalendarAges): SteadyRates {
  const partsAt = rememberedParts(cycle);
  const { periodDays, windows } = calendar;
  const fromWindow = calendar.next.map(({ window, age }) => ({ window, parts: partsAt(age) }));
  const between = calendar.between.flatMap(({ window, days, youngest, oldest }) =>
    PLACES.map((place) => ({
      window,
      days: days / 2,
      parts: partsAt(youngest + place * (oldest - youngest)),
    })),
  );
  const order = ringOrder(calendar.next.map(({ window }) => window));
  const rates = emptyRates(cycle, windows.length);
  const survivals = new Float64Array(windows.length);
  const fittings = new Float64Array(windows.length);
  for (let d = 0; d < cycle.count; d++) {
    fittings.fill(0);
    let uptime = 0;
    let leaks = 0;
    for (const { window, days, parts } of between) {
      fittings[window] = floatAt(fittings, window) + days * floatAt(parts.survival, d);
      uptime += days * floatAt(parts.uptime, d);
      leaks += days * leaksOf(parts, d);
    }
    fromWindow.forEach(({ parts }, j) => {
      survivals[j] = floatAt(parts.survival, d);
    });
    passOn(fittings, survivals, order);
    let scheduled = 0;
    fromWindow.forEach(({ parts }, j) => {
      uptime += floatAt(fittings, j) * floatAt(parts.uptime, d);
      leaks += floatAt(fittings, j) * leaksOf(parts, d);
      scheduled += floatAt(fittings, j);
    });
    // So far with one unscheduled fitting a day; the period's uptimes add up to the period.
    const unscheduled = periodDays / uptime;
    rates.fitted[d] = (unscheduled * (scheduled + periodDays)) / periodDays;
    rates.leaks[d] = (unscheduled * leaks) / periodDays;
    rates.scheduled[d] = (unscheduled * scheduled) / periodDays;
    for (let w = 0; w < windows.length; w++)
      itemAt(rates.byWindow, w)[d] = unscheduled * floatAt(fittings, w);
  }
  return rates;
}

function emptyRates(cycle: Cycle, windows: number): SteadyRates {
  const column = (): Float64Array => new Float64Array(cycle.count);
  return {
    fitted: column(),
    leaks: column(),
    scheduled: column(),
    opened: column().fill(cycle.openingsPerDay),
    byWindow: Array.from({ length: windows }, column),
  };
}

/** Windows of two years differ by a day or two, and many stretches share their ages: whole days are worked out once. */
function rememberedParts(cycle: Cycle): (age: number) => CycleParts {
  const known = new Map<number, CycleParts>();
  return (age) => {
    const days = Math.max(1, Math.round(age));
    const parts = known.get(days) ?? cycle.partsAt(days);
    known.set(days, parts);
    return parts;
  };
}

function leaksOf(parts: CycleParts, d: number): number {
  return floatAt(parts.early, d) + wearShare(parts, d);
}

/** Each window hands on to one other: the ones that nobody hands on to first, then the rings that are left. */
export interface RingOrder {
  target: Int32Array;
  /** Windows outside of rings, each before its target. */
  chain: number[];
  rings: number[][];
}

export function ringOrder(targets: readonly number[]): RingOrder {
  const target = Int32Array.from(targets);
  const from = new Int32Array(targets.length);
  for (const i of target) from[i] = at(from, i) + 1;
  const chain = [...target.keys()].filter((i) => at(from, i) === 0);
  for (let k = 0; k < chain.length; k++) {
    const next = at(target, at(chain, k));
    from[next] = at(from, next) - 1;
    if (at(from, next) === 0) chain.push(next);
  }
  const seen = new Set(chain);
  const rings: number[][] = [];
  for (const start of target.keys()) {
    const ring: number[] = [];
    for (let i = start; !seen.has(i); i = at(target, i)) {
      seen.add(i);
      ring.push(i);
    }
    if (ring.length > 0) rings.push(ring);
  }
  return { target, chain, rings };
}

/** From what reaches each window out of the blue to all that reaches it, by adding what the windows hand on. */
export function passOn(
  amounts: Float64Array,
  survivals: Float64Array,
  { target, chain, rings }: RingOrder,
): void {
  const handOn = (i: number): void => {
    const next = at(target, i);
    amounts[next] = floatAt(amounts, next) + floatAt(survivals, i) * floatAt(amounts, i);
  };
  for (const i of chain) handOn(i);
  for (const ring of rings) {
    // What the others hand on once round; all that comes back to the first window is then a geometric series.
    const first = at(ring, 0);
    let back = 0;
    let product = 1;
    ring.forEach((i, k) => {
      back = (k > 0 ? back + floatAt(amounts, i) : 0) * floatAt(survivals, i);
      product *= floatAt(survivals, i);
    });
    amounts[first] = (floatAt(amounts, first) + back) / (1 - Math.min(LARGEST_RING, product));
    for (const i of ring.slice(0, -1)) handOn(i);
  }
}
