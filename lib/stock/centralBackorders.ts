/** How many pieces a central store owes, and one local store's part of them. */
import { floatAt } from '../numeric/columns.js';
import { countDistribution } from './leadTimeDemand.js';

/** Chances below this are left out. */
const NEGLIGIBLE = 1e-18;

/** Distribution of (N - level)+ for a Poisson N: element b is the chance that b pieces are owed. */
export function centralBackorders(mean: number, level: number): Float64Array {
  const law = countDistribution('twoLevelStock', { kind: 'poisson', mean });
  const chances = [law.cdf(level)];
  for (let b = 1; ; b++) {
    const chance = law.pmf(level + b);
    if (chance < NEGLIGIBLE && level + b > mean) return Float64Array.from(chances);
    chances.push(chance);
  }
}

/**
 * Distribution of the part of b owed pieces that belongs to one store, each with the same chance: binomial, mixed over b. By
 * Horner's scheme from the largest b down, one piece at a time: only sums of what is positive.
 */
export function thinned(owed: Float64Array, share: number): Float64Array {
  const part = new Float64Array(owed.length);
  let length = 1;
  part[0] = floatAt(owed, owed.length - 1);
  for (let b = owed.length - 2; b >= 0; b--) {
    part[length] = share * floatAt(part, length - 1);
    for (let k = length - 1; k > 0; k--) {
      part[k] = (1 - share) * floatAt(part, k) + share * floatAt(part, k - 1);
    }
    part[0] = (1 - share) * floatAt(part, 0) + floatAt(owed, b);
    length += 1;
    while (length > 1 && floatAt(part, length - 1) < 1e-30) length -= 1;
  }
  return part.slice(0, length);
}
