/**
 * What it costs to go on: by dynamic programming backwards over the windows, the state being when the diaphragm in
 * place was fitted (at a window, or after a leak between two). Nothing shared limits it: so a position goes on after a
 * leak, and after the known windows (METHODS 4.7). The decision at a window is to replace or to leave; a leak renews at
 * once. Backward induction as in Puterman, Markov Decision Processes (1994), chapter 4, from memory.
 */
import { floatAt } from '../../numeric/columns.js';
import { type FreshChances, firstPart, gapsOf, lossCost, PARTS, type WindowDays } from './calendar.js';
import type { HazardCurve } from './hazardCurve.js';
import { relativeValue } from './relativeValue.js';
import type { FleetDiaphragm } from './types.js';

/** What a position of a kind pays and must keep to. */
export interface OwnCosts {
  next: FleetDiaphragm;
  replacementCost: number;
  stopShare: number;
  latestAge: number | null;
}

export interface GoingOn {
  /** After a leak in the middle of each part. */
  afterLeak: Float64Array;
  /** With one just fitted at each window. */
  fresh: Float64Array;
  /** At the last known window if what was fitted at each window is left in place there. */
  leftAtLast: Float64Array;
  /** Where the look-ahead ends, of one of an age. */
  atEnd: (age: number) => number;
}

export function goingOn(
  windows: WindowDays,
  chances: FreshChances,
  curve: HazardCurve,
  own: OwnCosts,
): GoingOn {
  const gaps = gapsOf(windows);
  const atEnd = windows.ends ? () => 0 : relativeValue(windows, curve, own);
  const end = floatAt(windows.days, gaps);
  const value = chances.fitted.map((fitted) => atEnd(end - fitted));
  const afterLeak = new Float64Array(gaps * PARTS);
  const fresh = new Float64Array(gaps + 1);
  fresh[gaps] = atEnd(0);
  const leftAtLast = new Float64Array(windows.known + 1);
  for (let gap = gaps - 1; gap >= 0; gap--) {
    fillAfterLeak(gap, windows, chances, own, value, fresh, afterLeak);
    if (gap === 0) break;
    const standing = standingAt(gap, gaps);
    for (const s of standing)
      value[s] = leftFrom(s, gap, windows, chances, own.next, afterLeak, floatAt(value, s));
    fresh[gap] = floatAt(value, gap);
    if (gap === windows.known) for (let i = 1; i <= gap; i++) leftAtLast[i] = floatAt(value, i);
    const renewed = replacementAt(windows, own, gap) + floatAt(fresh, gap);
    for (const s of standing)
      value[s] = decided(s, gap, windows, chances, own.latestAge, floatAt(value, s), renewed);
  }
  return { afterLeak, fresh, leftAtLast, atEnd };
}

/** What a replacement costs at a window, with its share of the stop. */
function replacementAt({ made }: WindowDays, own: OwnCosts, window: number): number {
  return own.replacementCost + (made[window] === 1 ? own.stopShare : 0);
}

/** States that can stand at a window: fitted at it or before. */
function standingAt(window: number, gaps: number): number[] {
  const states: number[] = [];
  for (let i = 1; i <= window; i++) states.push(i);
  for (let b = 0; b < window * PARTS; b++) states.push(gaps + b);
  return states;
}

/** Cost from just after a window on, of a state that stands and is left; `next` is its value at the following window. */
function leftFrom(
  s: number,
  gap: number,
  windows: WindowDays,
  { chance, width }: FreshChances,
  diaphragm: FleetDiaphragm,
  afterLeak: Float64Array,
  next: number,
): number {
  const row = s * width + gap * PARTS;
  const start = floatAt(chance, row);
  if (!(start > 0)) return diaphragm.leakCost + floatAt(afterLeak, gap * PARTS);
  const days = (floatAt(windows.days, gap + 1) - floatAt(windows.days, gap)) / PARTS;
  let cost = 0;
  for (let q = 0; q < PARTS; q++) {
    const [from, to] = [floatAt(chance, row + q), floatAt(chance, row + q + 1)];
    cost += lossCost(diaphragm, from, to, days) + (from - to) * floatAt(afterLeak, gap * PARTS + q);
  }
  return (cost + floatAt(chance, row + PARTS) * next) / start;
}

/** After a leak in each part of a gap: a second one in the same gap counts in the middle of a later part, or at its end. */
function fillAfterLeak(
  gap: number,
  windows: WindowDays,
  chances: FreshChances,
  { next }: OwnCosts,
  value: Float64Array,
  fresh: Float64Array,
  afterLeak: Float64Array,
): void {
  const gaps = gapsOf(windows);
  const days = (floatAt(windows.days, gap + 1) - floatAt(windows.days, gap)) / PARTS;
  for (let q = PARTS - 1; q >= 0; q--) {
    const part = gap * PARTS + q;
    const s = gaps + part;
    let [cost, from] = [0, 1];
    for (let later = q + 1; later < PARTS; later++) {
      const to = floatAt(chances.within, part * PARTS + later);
      cost += lossCost(next, from, to, days) + (from - to) * floatAt(afterLeak, gap * PARTS + later);
      from = to;
    }
    const to = floatAt(chances.chance, s * chances.width + firstPart(s, gaps));
    cost += lossCost(next, from, to, days / 2) + (from - to) * floatAt(fresh, gap + 1);
    afterLeak[part] = cost + to * floatAt(value, s);
  }
}

function decided(
  s: number,
  window: number,
  { days, frozen }: WindowDays,
  { fitted }: FreshChances,
  latestAge: number | null,
  left: number,
  renewed: number,
): number {
  if (s === window || frozen[window] === 1) return left;
  const mustGo = latestAge !== null && floatAt(days, window + 1) - floatAt(fitted, s) > latestAge;
  return mustGo ? renewed : Math.min(left, renewed);
}
