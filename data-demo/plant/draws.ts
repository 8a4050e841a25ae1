/** Draws from the laws the plant needs. */
import type { RandomStream } from '../../lib/numeric/random.js';

export function weibull(random: RandomStream, shape: number, scale: number): number {
  return scale * (-Math.log(random.uniform())) ** (1 / shape);
}

/** A Poisson count: by waiting times below a mean of 30, rounded from a normal above. */
export function poisson(random: RandomStream, mean: number): number {
  if (mean >= 30) return Math.max(0, Math.round(mean + Math.sqrt(mean) * random.normal()));
  let count = 0;
  for (let product = random.uniform(); product > Math.exp(-mean); product *= random.uniform()) count += 1;
  return count;
}

export function chance(random: RandomStream, share: number): boolean {
  return random.uniform() < share;
}

export function pick<T>(random: RandomStream, from: readonly T[]): T {
  return from[random.below(from.length)] as T;
}

/** A copy in random order. */
export function shuffled<T>(random: RandomStream, list: readonly T[]): T[] {
  const copy = [...list];
  for (let i = copy.length - 1; i > 0; i--) {
    const j = random.below(i + 1);
    [copy[i], copy[j]] = [copy[j] as T, copy[i] as T];
  }
  return copy;
}

/** One of several words by their shares, which add up to 1. */
export function word(random: RandomStream, shares: readonly (readonly [string, number])[]): string {
  let left = random.uniform();
  for (const [name, share] of shares) {
    left -= share;
    if (left < 0) return name;
  }
  return shares[shares.length - 1]?.[0] ?? '';
}
