/** The Weibull law of one clock found fast: one search for the shape, and for a combination a search over weights round it. */
import { EXACT, SOUND } from '../../life/estimate/regression/rows.js';
import { at, floatAt } from '../../numeric/columns.js';
import { minimiseOnInterval } from '../../numeric/minimise.js';
import type { ClockEnds } from './readClocks.js';

const STEPS = 60;
const [LEAST_SHAPE, MOST_SHAPE] = [0.02, 200];
/** Logs of the weight over the even one that are tried first; a best at either end says that one half does without the other. */
const WEIGHTS = [-5, -3, -1, 1, 3, 5];
const MOST_TRIALS = 6;
/** Added so that what is searched for is far from 0: the search is as fine as a share of it. */
const SHIFT = 20;

/** What a law is fitted to: logs of ages at the end and at the entry, and which rows failed. */
interface Logs {
  end: Float64Array;
  entry: Float64Array;
  failed: Uint8Array;
  count: Float64Array;
  failures: number;
}

interface Found {
  shape: number;
  logScale: number;
  /** Log-likelihood but for the rate of the clock and what is the same on all. */
  value: number;
}

/**
 * Theta of `fitClock` for a Weibull law: log scale, log of the weight over `unit` in a combination, log of 1 / shape. A failure known to
 * a span counts at the middle of the span: within a few tenths of a standard error of the best law where spans are short beside lives,
 * which is all that a comparison needs. Null where there is no best law.
 */
export function quickTheta(
  kinds: Uint8Array,
  count: Float64Array,
  ends: ClockEnds,
  more: ClockEnds | null,
  unit: number,
): number[] | null {
  const logs = logsFor(kinds, count);
  if (!(logs.failures > 0)) return null;
  if (more === null) {
    fill(logs, kinds, ends, null, 0);
    const found = bestShape(logs);
    return found === null ? null : [found.logScale, -Math.log(found.shape)];
  }
  const lawAt = (logWeight: number): { found: Found; value: number } | null => {
    const weight = unit * Math.exp(logWeight);
    fill(logs, kinds, ends, more, weight);
    const found = bestShape(logs);
    return found === null ? null : { found, value: found.value + ratesOf(logs, ends, more, weight) };
  };
  const values = WEIGHTS.map((log) => lawAt(log)?.value ?? -Infinity);
  const k = values.indexOf(Math.max(...values));
  if (k === 0 || k === WEIGHTS.length - 1 || values[k] === -Infinity) return null;
  const { at: shifted } = minimiseOnInterval(
    (log) => -(lawAt(log - SHIFT)?.value ?? -1e300),
    SHIFT + at(WEIGHTS, k - 1),
    SHIFT + at(WEIGHTS, k + 1),
    { relative: 1e-3, maxIterations: MOST_TRIALS },
  );
  const found = lawAt(shifted - SHIFT)?.found;
  return found === undefined ? null : [found.logScale, shifted - SHIFT, -Math.log(found.shape)];
}

function logsFor(kinds: Uint8Array, count: Float64Array): Logs {
  const failed = Uint8Array.from(kinds, (kind) => (kind === SOUND ? 0 : 1));
  let failures = 0;
  for (let i = 0; i < failed.length; i++) failures += at(failed, i) * floatAt(count, i);
  const { length } = kinds;
  return { end: new Float64Array(length), entry: new Float64Array(length), failed, count, failures };
}

function fill(logs: Logs, kinds: Uint8Array, ends: ClockEnds, more: ClockEnds | null, weight: number): void {
  for (let i = 0; i < kinds.length; i++) {
    const kind = at(kinds, i);
    const first = lastOf(ends, kind, i);
    const begin = floatAt(ends.entry, i);
    if (more === null) {
      logs.end[i] = Math.log(first);
      logs.entry[i] = Math.log(begin);
    } else {
      logs.end[i] = Math.log(first + weight * lastOf(more, kind, i));
      logs.entry[i] = Math.log(begin + weight * floatAt(more.entry, i));
    }
  }
}

function lastOf({ lower, upper }: ClockEnds, kind: number, i: number): number {
  if (kind === SOUND) return floatAt(lower, i);
  return kind === EXACT ? floatAt(upper, i) : 0.5 * (floatAt(lower, i) + floatAt(upper, i));
}

/** Sum over failures of the log of the rate of days plus weighted counts. */
function ratesOf({ failed, count }: Logs, days: ClockEnds, more: ClockEnds, weight: number): number {
  let total = 0;
  for (let i = 0; i < failed.length; i++) {
    if (at(failed, i) === 0) continue;
    const span = floatAt(days.upper, i) - floatAt(days.lower, i);
    const rise = floatAt(more.upper, i) - floatAt(more.lower, i);
    const perDay = span > 0 ? rise / span : floatAt(more.rate, i);
    total += floatAt(count, i) * Math.log1p(weight * perDay);
  }
  return total;
}

/**
 * Maximum over the shape of the likelihood at its best scale, whose slope is searched by Newton steps kept within a bracket; null where
 * it has none within 0.02 to 200.
 */
function bestShape(logs: Logs): Found | null {
  const { end, entry, failed, count, failures } = logs;
  let [centre, sum] = [-Infinity, 0];
  for (let i = 0; i < end.length; i++) {
    const age = floatAt(end, i);
    if (floatAt(count, i) > 0 && age > centre) centre = age;
    if (at(failed, i) === 1) sum += floatAt(count, i) * age;
  }
  const meanLog = sum / failures - centre;
  if (!Number.isFinite(meanLog)) return null;
  let [low, high] = [LEAST_SHAPE, MOST_SHAPE];
  let shape = 2;
  for (let step = 0; step < STEPS; step++) {
    let [a, b, c] = [0, 0, 0];
    for (let i = 0; i < end.length; i++) {
      const x = floatAt(end, i) - centre;
      const e = floatAt(entry, i) - centre;
      const n = floatAt(count, i);
      const p = n * Math.exp(shape * x);
      const q = e === -Infinity ? 0 : n * Math.exp(shape * e);
      const [px, qe] = [x === -Infinity ? 0 : p * x, q === 0 ? 0 : q * e];
      a += p - q;
      b += px - qe;
      c += (x === -Infinity ? 0 : px * x) - (q === 0 ? 0 : qe * e);
    }
    if (!(a > 0)) return null;
    const slope = 1 / shape - b / a + meanLog;
    const bend = -1 / shape ** 2 - (c / a - (b / a) ** 2);
    if (slope > 0) low = shape;
    else high = shape;
    const next = shape - slope / bend;
    const moved = bend < 0 && next > low && next < high ? next : Math.sqrt(low * high);
    const done = Math.abs(moved / shape - 1) < 1e-7;
    if (done || high / low < 1 + 1e-9) {
      if (shape < 1.01 * LEAST_SHAPE || shape > 0.99 * MOST_SHAPE) return null;
      const log = Math.log(a / failures);
      const value =
        failures * (Math.log(shape) - log - 1) + (shape * meanLog - (meanLog + centre)) * failures;
      return { shape, logScale: centre + log / shape, value };
    }
    shape = moved;
  }
  return null;
}
