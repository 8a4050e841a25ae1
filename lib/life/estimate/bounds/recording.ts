/** How ages at failure were written down in a sample, so that ages drawn at random can be written down the same way. */
import { at, columnOf, floatAt } from '../../../numeric/columns.js';
import type { RandomStream } from '../../../numeric/random.js';
import { countBelow, countUpTo } from '../../../numeric/sorted.js';
import { isFailure } from '../../sample.js';
import type { LifeSample } from '../../sampleTypes.js';

/**
 * - `exact`: as they are;
 * - `whole`: exact ages, every one a whole number from 1;
 * - `days`: d days after fitting as (d - 0.5, d + 0.5], on the first day as (0, 1] (METHODS 1.1);
 * - `inspections`: in an interval between two of the ages at which any interval of the sample begins or ends; no interval of the
 *   sample goes across another end, none has no width, and some age is an end for more than one life: as where all lives are inspected
 *   at the same ages;
 * - `own`: any other intervals, so lives were inspected at ages of their own, or some only: in an interval as wide as one of the
 *   sample, the age anywhere in it as far as the interval lies within the watching. That is the law of the gap that covers a given
 *   age where inspections come independently of failures, in their long run (the intervals seen are the long ones more often, and so
 *   are those drawn; Cox 1962 ch. 5). A width of 0 is an exact age.
 */
export interface Recording {
  kind: 'exact' | 'whole' | 'days' | 'inspections' | 'own';
  /** Ages of inspections, ascending; empty for the other kinds. */
  cuts: Float64Array;
  /** Widths of the intervals, and how many lives have one up to each; empty for the other kinds. */
  width: Float64Array;
  upTo: Float64Array;
}

export function recordingOf(sample: LifeSample): Recording {
  const none = { cuts: new Float64Array(0), width: new Float64Array(0), upTo: new Float64Array(0) };
  const failures = Array.from(sample.lower.keys()).filter((i) => isFailure(sample, i));
  const ends = (i: number): [number, number] => [floatAt(sample.lower, i), floatAt(sample.upper, i)];
  if (failures.every((i) => ends(i)[0] === ends(i)[1])) {
    const whole = failures.length > 0 && failures.every((i) => Number.isInteger(ends(i)[1]));
    return { ...none, kind: whole ? 'whole' : 'exact' };
  }
  if (failures.every((i) => isDay(...ends(i)))) return { ...none, kind: 'days' };
  const cuts = Float64Array.from(new Set(failures.flatMap((i) => ends(i)))).sort();
  const crosses = (i: number): boolean => countBelow(cuts, ends(i)[1]) - countUpTo(cuts, ends(i)[0]) > 0;
  const common = !failures.some((i) => ends(i)[0] === ends(i)[1] || crosses(i));
  if (common && sharesEnds(sample, failures)) return { ...none, kind: 'inspections', cuts };
  return { ...none, kind: 'own', ...widthsOf(sample, failures) };
}

/**
 * Whether any age above 0 is an end for two lives. Where lives are inspected at ages of their own that is chance, and narrow intervals
 * may well be clear of each other; what lies between those was no interval for anybody.
 */
function sharesEnds(sample: LifeSample, failures: number[]): boolean {
  const seen = new Set<number>();
  for (const i of failures) {
    for (const age of [floatAt(sample.lower, i), floatAt(sample.upper, i)]) {
      if (age > 0 && (seen.has(age) || floatAt(sample.count, i) > 1)) return true;
      seen.add(age);
    }
  }
  return false;
}

/** In ascending order, so that the order of rows does not matter. */
function widthsOf(sample: LifeSample, failures: number[]): { width: Float64Array; upTo: Float64Array } {
  const width = (i: number): number => floatAt(sample.upper, i) - floatAt(sample.lower, i);
  const order = [...failures].sort((i, j) => width(i) - width(j));
  let lives = 0;
  const upTo = columnOf(order, (i) => {
    lives += floatAt(sample.count, i);
    return lives;
  });
  return { width: columnOf(order, width), upTo };
}

function isDay(lower: number, upper: number): boolean {
  return (lower === 0 && upper === 1) || (upper - lower === 1 && Number.isInteger(upper - 0.5));
}

/**
 * What is written down of a life of age `age` at failure, watched from `entry` and at most to `stop` (0 <= entry < age <= stop):
 * lower and upper age.
 */
export function written(
  recording: Recording,
  entry: number,
  age: number,
  stop: number,
  random: RandomStream,
): [number, number] {
  const { kind, cuts } = recording;
  if (kind === 'exact') return [age, age];
  if (kind === 'whole') {
    const day = Math.max(1, Math.round(age), Math.floor(entry) + 1);
    return [day, day];
  }
  if (kind === 'days') {
    if (age < 0.5) return [0, 1];
    const day = Math.max(Math.round(age), Math.ceil(entry - 0.5 + 1e-9));
    return [day - 0.5, day + 0.5];
  }
  if (kind === 'own') return withinOwn(recording, age, stop, random);
  const next = countUpTo(cuts, age);
  const lower = next === 0 ? 0 : at(cuts, next - 1);
  return [lower, Math.max(age, Math.min(next === cuts.length ? Infinity : at(cuts, next), stop))];
}

function withinOwn(
  { width, upTo }: Recording,
  age: number,
  stop: number,
  random: RandomStream,
): [number, number] {
  const lives = at(upTo, upTo.length - 1);
  const wide = at(width, Math.min(countUpTo(upTo, random.uniform() * lives), width.length - 1));
  if (wide === 0) return [age, age];
  // The widths seen ended at a removal already, so these are not cut by it once more.
  const least = Math.min(wide, Math.max(0, wide - (stop - age)));
  const since = least + random.uniform() * (wide - least);
  return [Math.max(0, age - since), Math.max(age, Math.min(age - since + wide, stop))];
}
