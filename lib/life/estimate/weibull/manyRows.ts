/** Rows of a large sample of mostly distinct ages made ready for the Weibull likelihood: one logarithm a life, nothing merged. */
import { floatAt } from '../../../numeric/columns.js';
import { hasEntries } from '../../mergeSample.js';
import type { LifeSample } from '../../sampleTypes.js';
import { largestAge, type PreparedRows } from './prepareRows.js';

/** As prepareRows; null where a life failed within an interval, or of an unknown cause. */
export function manyRows(sample: LifeSample): PreparedRows | null {
  const { lower, upper, entry, count, otherHazard } = sample;
  if (otherHazard !== undefined) return null;
  const rows = lower.length;
  const unit = largestAge(sample);
  const room = hasEntries(entry) ? 2 * rows : rows;
  const [logAge, weight] = [new Float64Array(room), new Float64Array(room)];
  const [failedLog, failedCount] = [new Float64Array(rows), new Float64Array(rows)];
  let [ages, failed, failures, sumOfLogs] = [0, 0, 0, 0];
  for (let i = 0; i < rows; i++) {
    const from = floatAt(entry, i);
    const start = Math.max(floatAt(lower, i), from);
    const lives = floatAt(count, i);
    const log = Math.log(start / unit);
    if (start > 0) {
      logAge[ages] = log;
      weight[ages++] = lives;
    }
    if (from > 0) {
      logAge[ages] = Math.log(from / unit);
      weight[ages++] = -lives;
    }
    const end = floatAt(upper, i);
    if (end === Infinity) continue;
    if (end !== start) return null;
    failedLog[failed] = log;
    failedCount[failed++] = lives;
    failures += lives;
    sumOfLogs += lives * log;
  }
  const none = new Float64Array(0);
  return {
    unit,
    logAge: logAge.subarray(0, ages),
    weight: weight.subarray(0, ages),
    constant: -sumOfLogs - failures * Math.log(unit),
    exact: {
      logAge: failedLog.subarray(0, failed),
      count: failedCount.subarray(0, failed),
      early: new Float64Array(failed),
      q: new Float64Array(failed).fill(1),
    },
    interval: { logLower: none, logUpper: none, count: none, early: none, q: none },
    mixed: false,
  };
}
