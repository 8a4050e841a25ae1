/** Distributions of sums of independent counts. A distribution is a column of chances: element k is the chance of k. */
import { UsageError } from '../errors.js';
import { at, floatAt } from './columns.js';
import { binomialPmf } from './counts.js';

/** Tails lighter than this are left out while summing, so that a hundred thousand valves need a few thousand chances. */
const NEGLIGIBLE = 1e-20;

/** Distribution of the sum of two independent counts. */
export function convolve(a: ArrayLike<number>, b: ArrayLike<number>): Float64Array {
  if (a.length === 0 || b.length === 0) {
    throw new UsageError('convolve', 'both distributions need at least one chance.');
  }
  const [long, short] = a.length >= b.length ? [a, b] : [b, a];
  const sum = new Float64Array(a.length + b.length - 1);
  addConvolved(sum, long, long.length, short, short.length);
  return sum;
}

/** Adds the distribution of a sum to a column of zeros, from the first elements of two; for loops that allocate nothing. */
export function addConvolved(
  sum: Float64Array,
  a: ArrayLike<number>,
  lengthOfA: number,
  b: ArrayLike<number>,
  lengthOfB: number,
): void {
  for (let j = 0; j < lengthOfB; j++) {
    const chance = at(b, j);
    if (chance === 0) continue;
    for (let i = 0; i < lengthOfA; i++) (sum[i + j] as number) += chance * (a[i] as number);
  }
}

/**
 * Distribution of the number of events among independent ones with the chances given (Poisson-binomial), by grouped
 * convolution (Hong 2013). `counts[i]` says how many have the chance `chances[i]`, 1 by default. The result has one
 * element more than there are chances; elements lighter than 1e-20 may be 0.
 */
export function poissonBinomial(chances: ArrayLike<number>, counts?: ArrayLike<number>): Float64Array {
  if (counts !== undefined && counts.length !== chances.length) {
    throw new UsageError('poissonBinomial', 'counts must be as long as chances.', counts.length);
  }
  let total = 0;
  let start = 0;
  let window: Float64Array = new Float64Array([1]);
  for (let i = 0; i < chances.length; i++) {
    const chance = at(chances, i);
    const count = counts === undefined ? 1 : at(counts, i);
    requireChance(chance, i);
    if (!(Number.isInteger(count) && count >= 0)) {
      throw new UsageError('poissonBinomial', `counts[${i}] must be a whole number at or above 0.`, count);
    }
    const one = binomialWindow(count, chance);
    const summed = trimmed(convolve(window, one.chances));
    start += one.start + summed.start;
    window = summed.chances;
    total += count;
  }
  const pmf = new Float64Array(total + 1);
  pmf.set(window, start);
  return pmf;
}

interface Window {
  /** The count that element 0 stands for. */
  start: number;
  chances: Float64Array;
}

function binomialWindow(count: number, chance: number): Window {
  if (count === 0) return { start: 0, chances: new Float64Array([1]) };
  if (count === 1) return { start: 0, chances: new Float64Array([1 - chance, chance]) };
  const mode = Math.min(count, Math.floor((count + 1) * chance));
  let low = mode;
  let high = mode;
  while (low > 0 && binomialPmf(low - 1, count, chance) > NEGLIGIBLE) low--;
  while (high < count && binomialPmf(high + 1, count, chance) > NEGLIGIBLE) high++;
  return {
    start: low,
    chances: Float64Array.from({ length: high - low + 1 }, (_, k) => binomialPmf(low + k, count, chance)),
  };
}

function trimmed(chances: Float64Array): Window {
  let low = 0;
  let high = chances.length;
  while (low < high - 1 && floatAt(chances, low) < NEGLIGIBLE) low++;
  while (high > low + 1 && floatAt(chances, high - 1) < NEGLIGIBLE) high--;
  return { start: low, chances: chances.subarray(low, high) };
}

function requireChance(chance: number, i: number): void {
  if (!(chance >= 0 && chance <= 1)) {
    throw new UsageError('poissonBinomial', `chances[${i}] must be from 0 to 1.`, chance);
  }
}
