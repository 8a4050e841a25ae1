/** How ages at failure were written down in a sample, so that ages drawn at random can be written down the same way. */
import { at, floatAt } from '../../../numeric/columns.js';
import { countUpTo } from '../../../numeric/sorted.js';
import { isFailure } from '../../sample.js';
import type { LifeSample } from '../../sampleTypes.js';

/**
 * - `exact`: as they are;
 * - `whole`: exact ages, every one a whole number from 1;
 * - `days`: d days after fitting as (d - 0.5, d + 0.5], on the first day as (0, 1] (METHODS 1.1);
 * - `inspections`: in an interval between two of the ages at which any interval of the sample begins or ends.
 */
export interface Recording {
  kind: 'exact' | 'whole' | 'days' | 'inspections';
  /** Ages of inspections, ascending; empty for the other kinds. */
  cuts: Float64Array;
}

export function recordingOf(sample: LifeSample): Recording {
  const none = new Float64Array(0);
  const failures = Array.from(sample.lower.keys()).filter((i) => isFailure(sample, i));
  const ends = (i: number): [number, number] => [floatAt(sample.lower, i), floatAt(sample.upper, i)];
  if (failures.every((i) => ends(i)[0] === ends(i)[1])) {
    const whole = failures.length > 0 && failures.every((i) => Number.isInteger(ends(i)[1]));
    return { kind: whole ? 'whole' : 'exact', cuts: none };
  }
  if (failures.every((i) => isDay(...ends(i)))) return { kind: 'days', cuts: none };
  const cuts = new Set(failures.flatMap((i) => ends(i)));
  return { kind: 'inspections', cuts: Float64Array.from(cuts).sort() };
}

function isDay(lower: number, upper: number): boolean {
  return (lower === 0 && upper === 1) || (upper - lower === 1 && Number.isInteger(upper - 0.5));
}

/**
 * What is written down of a life of age `age` at failure, watched from `entry` and at most to `stop` (0 <= entry < age <= stop):
 * lower and upper age.
 */
export function written(recording: Recording, entry: number, age: number, stop: number): [number, number] {
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
  const next = countUpTo(cuts, age);
  const lower = next === 0 ? 0 : at(cuts, next - 1);
  return [lower, Math.max(age, Math.min(next === cuts.length ? Infinity : at(cuts, next), stop))];
}
