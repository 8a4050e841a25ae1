/**
 * Arithmetic of sums of settings that are known as low, likely and high. Sums go end by end: low with low, high with
 * high. That is what happens when all parts are dear at the same time, so the ends are a little too far apart, never
 * too close. A spread is a triangular distribution with its peak at `likely`. Products are in amount.ts.
 */
import type { Spread } from '../fleet/types.js';

export const NOTHING: Spread = { low: 0, likely: 0, high: 0 };

export function addSpreads(...parts: readonly Spread[]): Spread {
  return parts.reduce(
    (total, part) => ({
      low: total.low + part.low,
      likely: total.likely + part.likely,
      high: total.high + part.high,
    }),
    NOTHING,
  );
}

/** Spread times a number that is not negative. */
export function scaleSpread(spread: Spread, factor: number): Spread {
  return { low: spread.low * factor, likely: spread.likely * factor, high: spread.high * factor };
}

/**
 * The mean that plans are made on: the one that an amount carries, else that of the triangle, (low + likely + high) / 3,
 * which is also that of a sum of triangles.
 */
export function meanOf(spread: Spread & { mean?: number }): number {
  return spread.mean ?? (spread.low + spread.likely + spread.high) / 3;
}

/** The amount below which a triangular draw falls with chance `probability`, by inversion of its distribution. */
export function spreadQuantile({ low, likely, high }: Spread, probability: number): number {
  const width = high - low;
  if (width <= 0) return likely;
  const split = (likely - low) / width;
  return probability < split
    ? low + Math.sqrt(probability * width * (likely - low))
    : high - Math.sqrt((1 - probability) * width * (high - likely));
}
