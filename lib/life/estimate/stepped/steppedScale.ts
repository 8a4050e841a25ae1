/**
 * Transformed age under covariates that change in steps: z(t) = sum of exp(-x b) times the time spent in each step. Its logarithm has
 * minus the mean of x as slopes and the covariance of x as bends, each step weighted by its share of z.
 */
import { at, floatAt, itemAt } from '../../../numeric/columns.js';
import type { LifeSample } from '../../sampleTypes.js';
import { type AgeScale, type Bent, END_ENTRY, END_LOWER } from '../regression/ageScale.js';
import type { SortedSteps } from './readSteps.js';

/** `x`: columns by step. */
export function steppedScale(
  sample: LifeSample,
  { first, from }: SortedSteps,
  x: readonly Float64Array[],
): AgeScale {
  const size = x.length;
  const logs = new Float64Array(longest(first));
  const last = (i: number, age: number): number => lastStep(first, from, i, age);

  const logAge = (i: number, end: number, b: Float64Array, out: Bent): void => {
    const age = ageOf(sample, i, end);
    out.slope.fill(0);
    out.bend.fill(0);
    out.value = -Infinity;
    if (age === 0) return;
    const start = at(first, i);
    const steps = last(i, age) - start + 1;
    let most = -Infinity;
    for (let k = 0; k < steps; k++) {
      const until = k === steps - 1 ? age : floatAt(from, start + k + 1);
      let log = Math.log(until - floatAt(from, start + k));
      for (let j = 0; j < size; j++) log -= floatAt(itemAt(x, j), start + k) * floatAt(b, j);
      logs[k] = log;
      most = Math.max(most, log);
    }
    let total = 0;
    for (let k = 0; k < steps; k++) total += Math.exp(floatAt(logs, k) - most);
    out.value = most + Math.log(total);
    for (let k = 0; k < steps; k++) {
      const share = Math.exp(floatAt(logs, k) - out.value);
      for (let j = 0; j < size; j++) {
        out.slope[j] = floatAt(out.slope, j) - share * floatAt(itemAt(x, j), start + k);
      }
    }
    // About the mean, so that a history of one step has no bend at all.
    for (let k = 0; k < steps && steps > 1; k++) {
      const share = Math.exp(floatAt(logs, k) - out.value);
      for (let j = 0; j < size; j++) {
        const off = floatAt(itemAt(x, j), start + k) + floatAt(out.slope, j);
        for (let l = 0; l < size; l++) {
          const other = floatAt(itemAt(x, l), start + k) + floatAt(out.slope, l);
          out.bend[j * size + l] = floatAt(out.bend, j * size + l) + share * off * other;
        }
      }
    }
  };
  const logRate = (i: number, b: Float64Array, out: Bent): void => {
    const k = last(i, floatAt(sample.upper, i));
    out.value = 0;
    out.bend.fill(0);
    for (let j = 0; j < size; j++) {
      const value = floatAt(itemAt(x, j), k);
      out.value -= value * floatAt(b, j);
      out.slope[j] = -value;
    }
  };
  return { size, logAge, logRate };
}

/** METHODS 1.2: a life is sound at its entry, so its last sound age is not before. */
export function ageOf(sample: LifeSample, i: number, end: number): number {
  const entry = floatAt(sample.entry, i);
  if (end === END_ENTRY) return entry;
  return end === END_LOWER ? Math.max(floatAt(sample.lower, i), entry) : floatAt(sample.upper, i);
}

/** The step that holds up to an age: a failure on the day of a step still belongs to the one before. */
function lastStep(first: Int32Array, from: Float64Array, i: number, age: number): number {
  let k = at(first, i);
  while (k + 1 < at(first, i + 1) && floatAt(from, k + 1) < age) k += 1;
  return k;
}

function longest(first: Int32Array): number {
  let most = 0;
  for (let i = 1; i < first.length; i++) most = Math.max(most, at(first, i) - at(first, i - 1));
  return most;
}
