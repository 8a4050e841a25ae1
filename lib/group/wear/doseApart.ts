/** Whether a dose of heat says anything that days and counters do not say already. */
import { DAYS } from '../../exposure/clock/types.js';
import { floatAt, wholeAt } from '../../numeric/columns.js';
import type { FollowedLives } from '../standOut/followed.js';
import type { WearCounter } from './types.js';
import { COUNTER_OF, type UsedLives } from './usedLives.js';
import type { WearLives } from './wearLives.js';

/** The counter of the dose. */
export const DOSE = 'equivalent hours' satisfies WearCounter;
/** Clocks whose ratio differs less between lives (as logs) run alike (METHODS 3.2). */
const LEAST_SPREAD = 0.15;

/**
 * The clock that a dose cannot be told from: days, or a counter among those compared. One temperature and hold everywhere makes the dose
 * as many times the cycles. Null where it is apart from all.
 */
export function doseAlike(
  lives: WearLives,
  followed: FollowedLives,
  used: UsedLives,
  counters: readonly WearCounter[],
): string | null {
  const { exposure } = used.dose;
  const isAlike = (other: Float64Array): boolean =>
    spreadOfLogRatio(lives, followed, exposure, other) < LEAST_SPREAD;
  const same = counters.find((counter) => counter !== DOSE && isAlike(used[COUNTER_OF[counter]].exposure));
  return same ?? (isAlike(used.days) ? DAYS : null);
}

/** Standard deviation between lives of the log of the ratio of two amounts; of lives where both are above 0. Columns by life of the fleet. */
export function spreadOfLogRatio(
  { rows, days }: WearLives,
  { life }: FollowedLives,
  one: Float64Array,
  other: Float64Array,
): number {
  let [n, mean, squares] = [0, 0, 0];
  rows.forEach((row, k) => {
    const i = wholeAt(life, row);
    const log = Math.log(floatAt(one, i) / floatAt(other, i));
    if (!Number.isFinite(log)) return;
    const weight = floatAt(days.count, k);
    const off = log - mean;
    n += weight;
    mean += (off * weight) / n;
    squares += weight * off * (log - mean);
  });
  return n > 1 ? Math.sqrt(squares / (n - 1)) : 0;
}
