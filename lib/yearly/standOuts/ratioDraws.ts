/** Draws of a shrunken ratio, and what is made of them. */
import { quantileSorted } from 'simple-statistics';
import { columnOf, floatAt, sum } from '../../numeric/columns.js';
import type { RandomStream } from '../../numeric/random.js';
import { gammaQuantile } from '../../numeric/special.js';
import type { Ranged } from './types.js';

export const DRAWS = 100;

/** (leaks + k) / (expected + k) as a gamma variable, one draw in each hundredth of it, in random order. */
export function ratioDraws(leaks: number, expected: number, k: number, random: RandomStream): Float64Array {
  const values = Float64Array.from({ length: DRAWS }, (_, d) =>
    gammaQuantile((d + 0.5) / DRAWS, leaks + k, 1 / (expected + k)),
  );
  for (let d = DRAWS - 1; d > 0; d--) {
    const other = random.below(d + 1);
    const kept = floatAt(values, d);
    values[d] = floatAt(values, other);
    values[other] = kept;
  }
  return values;
}

/** Mean and 80 % range of draws. */
export function rangedOf(draws: Float64Array): Ranged {
  const sorted = Array.from(draws).sort((a, b) => a - b);
  return {
    mean: sum(draws) / draws.length,
    low: quantileSorted(sorted, 0.1),
    high: quantileSorted(sorted, 0.9),
  };
}

/** Mean and 80 % range of a count: the smallest counts that it stays at or below with chance 0.1 and 0.9. */
export function rangedCount(chances: Float64Array): Ranged {
  const mean = sum(columnOf(chances, (chance, count) => chance * count));
  const upTo = (p: number): number => {
    let total = 0;
    for (let count = 0; count < chances.length; count++) {
      total += floatAt(chances, count);
      if (total >= p) return count;
    }
    return chances.length - 1;
  };
  return { mean, low: upTo(0.1), high: upTo(0.9) };
}
