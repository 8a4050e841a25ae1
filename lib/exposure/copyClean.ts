/** The fast road: a counter that only ever rises, at a pace that is never out of step, is taken as it stands. */
import { floatAt } from '../numeric/columns.js';
import { type CounterTrail, type RawReadings, READ } from './counterTrail.js';
import { LARGEST_PACE_RATIO, LONGEST_FLAT_DAYS, SLACK_COUNTS } from './pace.js';

/**
 * Copies the readings as knots while nothing needs a second look; false where something does, and then `mendCounter` begins anew. What
 * passes here passes there unaltered: no rise is more than the largest ratio times the smallest pace, and no time without a rise is long.
 */
export function copyClean(raw: RawReadings, trail: CounterTrail): boolean {
  const { day, use, value, length } = raw;
  let [fastest, slowest, most, flat] = [0, Infinity, 0, 0];
  trail.rise[0] = 0;
  for (let k = 1; k < length; k++) {
    const rise = floatAt(value, k) - floatAt(value, k - 1);
    const inUse = floatAt(use, k) - floatAt(use, k - 1);
    if (!(rise >= 0) || floatAt(day, k) === floatAt(day, k - 1)) return false;
    if (rise === 0) {
      flat += inUse;
      if (flat >= LONGEST_FLAT_DAYS) return false;
    } else {
      if (inUse <= 0) return false;
      const pace = rise / inUse;
      flat = 0;
      fastest = Math.max(fastest, pace);
      slowest = Math.min(slowest, pace);
      most = Math.max(most, rise);
    }
    trail.rise[k] = rise;
  }
  if (fastest > LARGEST_PACE_RATIO * slowest && most > SLACK_COUNTS * raw.resolution) return false;
  trail.day.set(day.subarray(0, length));
  trail.use.set(use.subarray(0, length));
  trail.value.set(value.subarray(0, length));
  trail.how.fill(READ, 0, length);
  trail.length = length;
  return true;
}
