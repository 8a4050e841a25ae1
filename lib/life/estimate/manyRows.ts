/** Rows of a large sample of mostly distinct ages made ready for the Weibull likelihood: one logarithm a life, nothing merged. */
import { floatAt } from '../../numeric/columns.js';
import type { LifeSample } from '../sampleTypes.js';
import { largestAge, type PreparedRows } from './prepareRows.js';

/** As prepareRows; null where a life failed within an interval, or of an unknown cause. */
export function manyRows(sample: LifeSample): PreparedRows | null {
  const { lower, upper, entry, count, otherHazard } = sample;
  if (otherHazard !== undefined) return null;
  const rows = lower.length;
  const unit = largestAge(sample);
  const ages = { log: new Float64Array(2 * rows), weight: new Float64Array(2 * rows), length: 0 };
  const failed = { log: new Float64Array(rows), count: new Float64Array(rows), length: 0 };
  let constant = 0;
  for (let i = 0; i < rows; i++) {
    const from = floatAt(entry, i);
    const start = Math.max(floatAt(lower, i), from);
    const lives = floatAt(count, i);
    const log = Math.log(start / unit);
    if (start > 0) addAge(ages, log, lives);
    if (from > 0) addAge(ages, Math.log(from / unit), -lives);
    const end = floatAt(upper, i);
    if (end === Infinity) continue;
    if (end !== start) return null;
    failed.log[failed.length] = log;
    failed.count[failed.length++] = lives;
    constant -= lives * log;
  }
  const failedCount = failed.count.slice(0, failed.length);
  const failures = failedCount.reduce((total, lives) => total + lives, 0);
  const none = new Float64Array(0);
  return {
    unit,
    logAge: ages.log.subarray(0, ages.length),
    weight: ages.weight.subarray(0, ages.length),
    constant: constant - failures * Math.log(unit),
    exact: {
      logAge: failed.log.subarray(0, failed.length),
      count: failedCount,
      early: new Float64Array(failed.length),
      q: new Float64Array(failed.length).fill(1),
    },
    interval: { logLower: none, logUpper: none, count: none, early: none, q: none },
    mixed: false,
  };
}

function addAge(
  ages: { log: Float64Array; weight: Float64Array; length: number },
  log: number,
  weight: number,
): void {
  ages.log[ages.length] = log;
  ages.weight[ages.length++] = weight;
}
