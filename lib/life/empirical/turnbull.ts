/**
 * Survival without a model where failures are known to intervals only (Turnbull 1976): the masses that fit best, found by
 * self-consistency. Delayed entry is kept by conditioning each life on survival to its entry; the support then also needs
 * the ends that entries make (Frydman 1994).
 */
import { quantileSorted } from 'simple-statistics';
import { at, columnOf, floatAt } from '../../numeric/columns.js';
import { randomStream } from '../../numeric/random.js';
import { mergeSample } from '../mergeSample.js';
import type { LifeSample } from '../sampleTypes.js';
import { requireKnownCauses, startOf } from './atRisk.js';
import { zOf } from './kaplanMeier.js';
import { innermost, type Support } from './turnbullSupport.js';

/** Columns by interval in which survival falls; where inside it falls, the data do not say. */
export interface IntervalCurve {
  /** Where the fall begins (open) and ends (closed); equal for an exact age. `age` is the end. */
  from: Float64Array;
  age: Float64Array;
  /** Chance of failing in the interval. */
  mass: Float64Array;
  /** Survival after the interval. */
  survival: Float64Array;
  /** Pointwise two-sided bounds by bootstrap percentiles over lives; 0 and 1 with no draws. */
  low: Float64Array;
  high: Float64Array;
  start: number;
  logLikelihood: number;
  converged: boolean;
  iterations: number;
}

/**
 * @param options.level two-sided, 0.9 by default
 * @param options.draws bootstrap samples for the bounds, 200 by default, 0 for none; `seed` is 1 by default
 */
export function turnbull(
  sample: LifeSample,
  options: { level?: number; draws?: number; seed?: number } = {},
): IntervalCurve {
  const { level = 0.9, draws = 200, seed = 1 } = options;
  zOf('turnbull', level);
  requireKnownCauses(sample, 'turnbull');
  const start = startOf(sample);
  const rows = mergeSample(fromStart(sample, start));
  const support = innermost(rows);
  const fit = selfConsistent(rows, support, rows.count, 20000, 1e-10);
  const finite = Array.from(support.to.keys()).filter((j) => floatAt(support.to, j) !== Infinity);
  const survival = survivalAfter(fit.mass);
  const column = (from: ArrayLike<number>): Float64Array => columnOf(finite, (j) => at(from, j));
  const [low, high] = bounds(rows, support, finite, level, draws, seed);
  return {
    from: column(support.from),
    age: column(support.to),
    mass: column(fit.mass),
    survival: column(survival),
    low,
    high,
    start,
    logLikelihood: fit.logLikelihood,
    converged: fit.converged,
    iterations: fit.iterations,
  };
}

/** Conditions on survival to the start: lives over by then are dropped, and an interval across it begins there. */
function fromStart(sample: LifeSample, start: number): LifeSample {
  if (start === 0) return sample;
  const rows = Array.from(sample.lower.keys()).filter((i) => floatAt(sample.upper, i) > start);
  const clamped = (column: Float64Array): Float64Array =>
    columnOf(rows, (i) => Math.max(start, floatAt(column, i)));
  return {
    lower: clamped(sample.lower),
    upper: columnOf(rows, (i) => floatAt(sample.upper, i)),
    entry: clamped(sample.entry),
    count: columnOf(rows, (i) => floatAt(sample.count, i)),
    cluster: Int32Array.from(rows, (i) => at(sample.cluster, i)),
  };
}

interface Masses {
  mass: Float64Array;
  logLikelihood: number;
  converged: boolean;
  iterations: number;
}

/**
 * Each life spreads its weight over its interval in proportion to the masses there, and with entry also stands for the lives
 * that ended before it and were never seen. Sums over intervals by running totals, so a turn costs rows plus intervals.
 */
function selfConsistent(
  rows: LifeSample,
  support: Support,
  count: ArrayLike<number>,
  most: number,
  tolerance: number,
): Masses {
  const size = support.to.length;
  let mass: Float64Array = new Float64Array(size).fill(1 / size);
  let before = Number.NEGATIVE_INFINITY;
  for (let iteration = 1; iteration <= most; iteration++) {
    const running = runningTotals(mass);
    const slope = new Float64Array(size + 1);
    let logLikelihood = 0;
    let whole = 0;
    for (let i = 0; i < rows.lower.length; i++) {
      const n = at(count, i);
      if (n === 0) continue;
      const [first, last, seen] = [at(support.first, i), at(support.last, i), at(support.seen, i)];
      const own = floatAt(running, last) - floatAt(running, first);
      const known = floatAt(running, size) - floatAt(running, seen);
      logLikelihood += n * (Math.log(own) - Math.log(known));
      // Gains of each mass by the life itself, and by the unseen ones before its entry: n (1 - known) / known of them.
      slope[first] = floatAt(slope, first) + n / own;
      slope[last] = floatAt(slope, last) - n / own;
      if (seen > 0) {
        slope[0] = floatAt(slope, 0) + n / known;
        slope[seen] = floatAt(slope, seen) - n / known;
      }
      whole += n / known;
    }
    let rate = 0;
    let change = 0;
    const next = new Float64Array(size);
    for (let j = 0; j < size; j++) {
      rate += floatAt(slope, j);
      next[j] = (floatAt(mass, j) * rate) / whole;
      change = Math.max(change, Math.abs(floatAt(next, j) - floatAt(mass, j)));
    }
    mass = normalised(next);
    if (change < tolerance || (iteration > 50 && logLikelihood - before < 1e-13 * Math.abs(logLikelihood))) {
      return { mass, logLikelihood, converged: true, iterations: iteration };
    }
    before = logLikelihood;
  }
  return { mass, logLikelihood: before, converged: false, iterations: most };
}

function runningTotals(mass: Float64Array): Float64Array {
  const totals = new Float64Array(mass.length + 1);
  for (let j = 0; j < mass.length; j++) totals[j + 1] = floatAt(totals, j) + floatAt(mass, j);
  return totals;
}

function normalised(mass: Float64Array): Float64Array {
  let total = 0;
  for (const m of mass) total += m;
  return columnOf(mass, (m) => m / total);
}

function survivalAfter(mass: Float64Array): Float64Array {
  const survival = new Float64Array(mass.length);
  let later = 0;
  for (let j = mass.length - 1; j >= 0; j--) {
    survival[j] = Math.min(1, later);
    later += floatAt(mass, j);
  }
  return survival;
}

/** Percentiles of survival over resampled lives, on the support of the whole sample. */
function bounds(
  rows: LifeSample,
  support: Support,
  finite: number[],
  level: number,
  draws: number,
  seed: number,
): [Float64Array, Float64Array] {
  const low = new Float64Array(finite.length);
  const high = new Float64Array(finite.length).fill(1);
  if (draws === 0) return [low, high];
  const random = randomStream(seed, 'life/turnbull');
  const running = runningTotals(rows.count);
  const lives = Math.max(1, Math.round(floatAt(running, rows.count.length)));
  const curves = Array.from({ length: draws }, () => {
    const count = new Float64Array(rows.count.length);
    for (let k = 0; k < lives; k++) {
      const i = place(running, random.uniform() * floatAt(running, rows.count.length));
      count[i] = floatAt(count, i) + 1;
    }
    return survivalAfter(selfConsistent(rows, support, count, 500, 1e-6).mass);
  });
  finite.forEach((j, k) => {
    const values = curves.map((curve) => floatAt(curve, j)).sort((x, y) => x - y);
    low[k] = quantileSorted(values, (1 - level) / 2);
    high[k] = quantileSorted(values, (1 + level) / 2);
  });
  return [low, high];
}

/** Index of the row whose share of the running total holds the value. */
function place(running: Float64Array, value: number): number {
  let [low, high] = [0, running.length - 1];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (floatAt(running, middle) <= value) low = middle;
    else high = middle;
  }
  return low;
}
