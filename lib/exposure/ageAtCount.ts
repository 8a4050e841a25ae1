/** The age at which a count of strokes or cycles is reached, by the rate at which it has been rising. */
import type { DailyRate } from './rates.js';

/** Days. */
export interface AgeAtCount {
  age: number;
  /** 5th and 95th percentile; both are `age` where nothing says how evenly the count rises. `high` may be Infinity. */
  low: number;
  high: number;
}

/** 95 % of the normal distribution. */
const NORMAL_95 = 1.6448536269514722;

/**
 * The count over T days to come has mean r T and variance v (T + T² / D): chance from day to day, and a rate that was
 * itself measured over D days only. Its 5 % and 95 % ends meet the count where (count - r T)² = z² v (T + T² / D), which
 * is a quadratic in T. Null where nothing rises. Wiener process with estimated drift (from memory).
 */
export function ageAtCount({ perDay, spread }: DailyRate, count: number): AgeAtCount | null {
  if (!(perDay > 0)) return null;
  const age = count / perDay;
  if (spread === null || spread.variancePerDay === 0) return { age, low: age, high: age };
  const noise = NORMAL_95 ** 2 * spread.variancePerDay;
  const a = perDay ** 2 - noise / spread.days;
  const b = 2 * count * perDay + noise;
  const root = Math.sqrt(Math.max(0, b * b - 4 * a * count * count));
  // The smaller root without cancellation; the larger is none where the slowest rate may be none.
  const low = (2 * count * count) / (b + root);
  return { age, low, high: a > 0 ? (b + root) / (2 * a) : Infinity };
}
