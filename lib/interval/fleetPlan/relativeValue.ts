/**
 * What one of an age is dearer to go on with than a fresh one, for ever and without windows: so that the end of the
 * look-ahead moves nothing before it. Renewal reward with the least cost rate: Barlow and Proschan, Mathematical Theory
 * of Reliability (1965), section 4.2, from memory.
 */
import { floatAt } from '../../numeric/columns.js';
import { lossCost, type WindowDays } from './calendar.js';
import type { OwnCosts } from './goingOn.js';
import { chanceAfter, type HazardCurve } from './hazardCurve.js';

const STEP_DAYS = 30;
const YEARS_OVER = 5;

/** Value by age, linear between steps of 30 days. */
export function relativeValue(
  windows: WindowDays,
  curve: HazardCurve,
  own: OwnCosts,
): (age: number) => number {
  const { days } = windows;
  const span = floatAt(days, days.length - 1) - floatAt(days, 0) + YEARS_OVER * 365;
  const steps = Math.ceil(span / STEP_DAYS);
  const chance = Float64Array.from({ length: steps + 1 }, (_, n) => chanceAfter(curve, n * STEP_DAYS));
  const renewal = own.replacementCost + own.stopShare * madeShare(windows);
  const oldest = own.latestAge === null ? steps : Math.max(1, Math.floor(own.latestAge / STEP_DAYS));
  const rate = leastRate(chance, own, renewal, Math.min(steps, oldest));
  const value = new Float64Array(steps + 1).fill(renewal);
  for (let n = Math.min(steps, oldest) - 1; n >= 0; n--) {
    const [from, to] = [floatAt(chance, n), floatAt(chance, n + 1)];
    if (!(from > 0)) continue;
    const cost = lossCost(own.next, from, to, STEP_DAYS) - rate * 0.5 * (from + to) * STEP_DAYS;
    value[n] = Math.min(renewal, (cost + to * floatAt(value, n + 1)) / from);
  }
  return (age) => {
    const n = Math.min(steps - 1, Math.floor(Math.max(0, age) / STEP_DAYS));
    const share = Math.min(1, Math.max(0, age) / STEP_DAYS - n);
    return floatAt(value, n) + share * (floatAt(value, n + 1) - floatAt(value, n));
  };
}

/** Least expected cost per day over the ages at which to replace. */
function leastRate(chance: Float64Array, own: OwnCosts, renewal: number, oldest: number): number {
  let [cost, time, best] = [0, 0, Infinity];
  for (let n = 1; n <= oldest; n++) {
    const [from, to] = [floatAt(chance, n - 1), floatAt(chance, n)];
    cost += lossCost(own.next, from, to, STEP_DAYS);
    time += 0.5 * (from + to) * STEP_DAYS;
    best = Math.min(best, (cost + to * renewal) / time);
  }
  return best;
}

function madeShare({ made, known, days }: WindowDays): number {
  const windows = days.length - 1;
  const first = windows > known + 1 ? known + 1 : 1;
  let count = 0;
  for (let i = first; i <= windows; i++) count += made[i] ?? 0;
  return count / Math.max(1, windows - first + 1);
}
