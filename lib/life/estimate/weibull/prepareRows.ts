/** Rows of a sample made ready for the Weibull likelihood: sorted by kind, identical ones merged, logarithms taken once. */
import { columnOf, floatAt } from '../../../numeric/columns.js';
import { isLarge, mergeForFit } from '../../mergeSample.js';
import type { FittingFault } from '../../model.js';
import { isFailure, otherHazardOf } from '../../sample.js';
import type { LifeSample } from '../../sampleTypes.js';
import { manyRows } from './manyRows.js';

/** What of a sample does not depend on shape and scale. */
export interface PreparedRows {
  /** Ages are counted in this unit inside, so that powers neither overflow nor lose digits. */
  unit: number;
  /** Weighted ages of the sum of H: log(age / unit) and weight (entries count against). */
  logAge: Float64Array;
  weight: Float64Array;
  /** Sum of all terms without shape and scale. */
  constant: number;
  exact: ExactRows;
  interval: IntervalRows;
  /** Whether a failure may be something else than wear-out: an early leak, or an end of unknown cause. */
  mixed: boolean;
}

export interface ExactRows {
  logAge: Float64Array;
  count: Float64Array;
  /** Density times age of all that is not wear-out: share fe(t) t, and q(t) t times the other hazard of an unknown cause. */
  early: Float64Array;
  /** q(t). */
  q: Float64Array;
}

export interface IntervalRows {
  /** log(a / unit), -Infinity for a = 0. */
  logLower: Float64Array;
  logUpper: Float64Array;
  count: Float64Array;
  /** q(a) - q(u), chance of an early leak in the interval; with m, chance of another end where the cause is not known, q(a) - q(u) (1 - m). */
  early: Float64Array;
  /** q(u), times 1 - m where the cause is not known. */
  q: Float64Array;
}

/** Prepares a sample, with the early leaks of faulty fittings where `fault` is given. */
export function prepareRows(sample: LifeSample, fault?: FittingFault): PreparedRows {
  if (fault !== undefined && fault.share > 0) return prepareShares(sample, fault)(fault.share);
  const merged = mergeForFit(sample);
  return (isLarge(merged) ? manyRows(merged) : null) ?? plainRows(sorted(merged));
}

/**
 * Prepares a sample for many shares of faulty fittings under one early-leak law: the law's chances are worked out once, and a
 * new share then costs one logarithm per distinct age.
 */
export function prepareShares(
  sample: LifeSample,
  law: { shape: number; scale: number },
): (share: number) => PreparedRows {
  const kinds = sorted(mergeForFit(sample));
  const plain = plainRows(kinds);
  const { merged, exact, interval } = kinds;
  const upper = (rows: Int32Array): Float64Array =>
    columnOf(rows, (i) => failedBy(law, floatAt(merged.upper, i)));
  const density = columnOf(exact, (i) => densityTimesAge(law, floatAt(merged.upper, i)));
  const between = columnOf(interval, (i) => chanceBetween(law, startOf(merged, i), floatAt(merged.upper, i)));
  const [failedExact, failedInterval] = [upper(exact), upper(interval)];
  const sound = soundTerms(kinds, law);
  const other = otherParts(kinds);
  return (share) => {
    let constant = plain.constant;
    for (let i = 0; i < sound.weight.length; i++) {
      constant += floatAt(sound.weight, i) * Math.log1p(-share * floatAt(sound.failed, i));
    }
    return {
      ...plain,
      constant,
      exact: {
        ...plain.exact,
        early: density.map(
          (x, i) => share * x + (1 - share * floatAt(failedExact, i)) * floatAt(other.exact, i),
        ),
        q: failedExact.map((x) => 1 - share * x),
      },
      interval: {
        ...plain.interval,
        early: between.map(
          (x, i) => share * x + (1 - share * floatAt(failedInterval, i)) * floatAt(other.interval, i),
        ),
        q: failedInterval.map((x, i) => (1 - share * x) * (1 - floatAt(other.interval, i))),
      },
      mixed: plain.mixed || share > 0,
    };
  };
}

/**
 * What else may have ended a life of unknown cause (masked cause: Miyakawa 1984, Usher & Hodgson 1988, from memory): hazard
 * times age of an exact row, log[h + other]; chance m of an interval, by which it either failed or, sound so far, ended otherwise.
 */
function otherParts({ merged, exact, interval }: Kinds): { exact: Float64Array; interval: Float64Array } {
  return {
    exact: columnOf(exact, (i) => otherHazardOf(merged, i) * floatAt(merged.upper, i)),
    interval: columnOf(interval, (i) => -Math.expm1(-otherHazardOf(merged, i))),
  };
}

/** A merged sample with its failures sorted by kind. */
interface Kinds {
  merged: LifeSample;
  exact: Int32Array;
  interval: Int32Array;
}

function sorted(merged: LifeSample): Kinds {
  const exact = new Int32Array(merged.lower.length);
  const interval = new Int32Array(merged.lower.length);
  let [exacts, intervals] = [0, 0];
  for (let i = 0; i < merged.lower.length; i++) {
    if (!isFailure(merged, i)) continue;
    if (floatAt(merged.upper, i) === startOf(merged, i)) exact[exacts++] = i;
    else interval[intervals++] = i;
  }
  return { merged, exact: exact.slice(0, exacts), interval: interval.slice(0, intervals) };
}

function startOf(sample: LifeSample, i: number): number {
  return Math.max(floatAt(sample.lower, i), floatAt(sample.entry, i));
}

/** Without faults: nothing leaks early. */
function plainRows(kinds: Kinds): PreparedRows {
  const { merged, exact, interval } = kinds;
  const other = otherParts(kinds);
  const unit = largestAge(merged);
  const logUpper = (i: number): number => Math.log(floatAt(merged.upper, i) / unit);
  const count = (i: number): number => floatAt(merged.count, i);
  const [ages, weights] = weightedAges(merged, () => true);
  return {
    unit,
    logAge: columnOf(ages, (age) => Math.log(age / unit)),
    weight: weights,
    constant: exact.reduce((total, i) => total - count(i) * Math.log(floatAt(merged.upper, i)), 0),
    exact: {
      logAge: columnOf(exact, logUpper),
      count: columnOf(exact, count),
      early: other.exact,
      q: new Float64Array(exact.length).fill(1),
    },
    interval: {
      logLower: columnOf(interval, (i) => Math.log(startOf(merged, i) / unit)),
      logUpper: columnOf(interval, logUpper),
      count: columnOf(interval, count),
      early: other.interval,
      q: other.interval.map((m) => 1 - m),
    },
    mixed: other.exact.some((m) => m > 0) || other.interval.some((m) => m > 0),
  };
}

/** Ages whose log q counts: ends of sound lives, and entries against them. */
function soundTerms(
  { merged }: Kinds,
  law: { shape: number; scale: number },
): { weight: Float64Array; failed: Float64Array } {
  const [ages, weight] = weightedAges(merged, (i) => !isFailure(merged, i));
  return { weight, failed: ages.map((age) => failedBy(law, age)) };
}

/** Distinct ages, ascending: each life's beginning of the unknown with its count, its entry against it. */
function weightedAges(merged: LifeSample, ended: (i: number) => boolean): [Float64Array, Float64Array] {
  const weights = new Map<number, number>();
  const add = (age: number, weight: number): void => {
    if (age > 0) weights.set(age, (weights.get(age) ?? 0) + weight);
  };
  for (let i = 0; i < merged.lower.length; i++) {
    if (ended(i)) add(startOf(merged, i), floatAt(merged.count, i));
    add(floatAt(merged.entry, i), -floatAt(merged.count, i));
  }
  const ages = [...weights.keys()].filter((age) => weights.get(age) !== 0).sort((x, y) => x - y);
  return [Float64Array.from(ages), columnOf(ages, (age) => weights.get(age) as number)];
}

/** Fe(t). */
function failedBy({ shape, scale }: { shape: number; scale: number }, t: number): number {
  return -Math.expm1(-((t / scale) ** shape));
}

/** t fe(t). */
function densityTimesAge({ shape, scale }: { shape: number; scale: number }, t: number): number {
  const power = (t / scale) ** shape;
  return shape * power * Math.exp(-power);
}

/** Fe(u) - Fe(a), without cancellation. */
function chanceBetween({ shape, scale }: { shape: number; scale: number }, a: number, u: number): number {
  const powerA = (a / scale) ** shape;
  return -Math.exp(-powerA) * Math.expm1(powerA - (u / scale) ** shape);
}

/** Largest finite age in the sample. */
export function largestAge(sample: LifeSample): number {
  let largest = 0;
  for (let i = 0; i < sample.lower.length; i++) {
    const upper = floatAt(sample.upper, i);
    const end = upper === Infinity ? floatAt(sample.lower, i) : upper;
    if (end > largest) largest = end;
    if (floatAt(sample.entry, i) > largest) largest = floatAt(sample.entry, i);
  }
  return largest > 0 ? largest : 1;
}
