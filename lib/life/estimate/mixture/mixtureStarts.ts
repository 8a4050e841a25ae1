/** Where a search for two parts begins. */
import { floatAt } from '../../../numeric/columns.js';
import { randomStream } from '../../../numeric/random.js';
import { isFailure } from '../../sample.js';
import type { LifeSample } from '../../sampleTypes.js';

/** Shares of failures at which the ordered starts split the ages. */
const SPLITS = [0.15, 0.3, 0.5, 0.7, 0.85];

/**
 * Chances of each row to be of the first part, one column a start: splits of the failures by age, softened so that no row is of one
 * part only; then, from the seed, splits at random with a random softness, and rows dealt at random.
 */
export function mixtureStarts(rows: LifeSample, starts: number, seed: number): Float64Array[] {
  const random = randomStream(seed, 'life/mixture');
  return Array.from({ length: starts }, (_, k) => {
    const split = SPLITS[k];
    if (split !== undefined) return byAge(rows, splitAge(rows, split), 0.9);
    if (k % 2 === 1)
      return byAge(rows, splitAge(rows, 0.1 + 0.8 * random.uniform()), 0.6 + 0.39 * random.uniform());
    return Float64Array.from(rows.lower, () => random.uniform());
  });
}

/** Failures younger than the age are of part one with chance `sure`; lives still sound of part two, more so the older they are. */
function byAge(rows: LifeSample, age: number, sure: number): Float64Array {
  return Float64Array.from(rows.lower, (_, i) => {
    const sound = !isFailure(rows, i);
    if (sound) return floatAt(rows.lower, i) < age ? 0.5 : 1 - sure;
    return ageOf(rows, i) <= age ? sure : 1 - sure;
  });
}

/** The age by which a share of the failures have failed. */
function splitAge(rows: LifeSample, share: number): number {
  const failed = Array.from(rows.lower.keys()).filter((i) => isFailure(rows, i));
  failed.sort((i, j) => ageOf(rows, i) - ageOf(rows, j));
  const whole = failed.reduce((total, i) => total + floatAt(rows.count, i), 0);
  let below = 0;
  for (const i of failed) {
    below += floatAt(rows.count, i);
    if (below >= share * whole) return ageOf(rows, i);
  }
  return Infinity;
}

function ageOf(rows: LifeSample, i: number): number {
  return 0.5 * (floatAt(rows.lower, i) + floatAt(rows.upper, i));
}
