/**
 * Survival without a model where failures are known to intervals only (Turnbull 1976): the masses that fit best. Delayed entry is kept by conditioning each life on survival to its entry; the support then also needs
 * the ends that entries make (Frydman 1994).
 */
import { quantileSorted } from 'simple-statistics';
import { at, columnOf, floatAt } from '../../numeric/columns.js';
import { randomStream } from '../../numeric/random.js';
import { mergeSample } from '../mergeSample.js';
import type { LifeSample } from '../sampleTypes.js';
import { requireKnownCauses, startOf } from './atRisk.js';
import { bestMasses, runningTotals } from './bestMasses.js';
import { zOf } from './kaplanMeier.js';
import { innermost, type Support } from './turnbullSupport.js';

/** How far the log likelihood may be from its largest value, per life: a millionth of it moves no percentile that shows. */
const TOLERANCE = 1e-10;
const TOLERANCE_OF_DRAWS = 1e-6;
const MOST_TURNS = 5000;

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
  const fit = bestMasses(rows, support, rows.count, TOLERANCE, MOST_TURNS);
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
    return survivalAfter(bestMasses(rows, support, count, TOLERANCE_OF_DRAWS, MOST_TURNS).mass);
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
