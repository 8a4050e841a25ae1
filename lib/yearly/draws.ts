/** What draws of an amount say. */
import { quantileSorted } from 'simple-statistics';
import { floatAt } from '../numeric/columns.js';

/** 5th and 95th percentile; zeros without a draw. */
export function ends(values: Float64Array): [number, number] {
  if (values.length === 0) return [0, 0];
  const sorted = Array.from(values).sort((a, b) => a - b);
  return [quantileSorted(sorted, 0.05), quantileSorted(sorted, 0.95)];
}

/**
 * 5th and 95th percentile as values that are among those given, because none lies between two years, nor between an amount and
 * Infinity; `none` without a value.
 */
export function wholeEnds(values: readonly number[], none: number): [number, number] {
  const sorted = [...values].sort((a, b) => a - b);
  const at = (share: number): number => sorted[Math.max(0, Math.ceil(share * sorted.length) - 1)] ?? none;
  return [at(0.05), at(0.95)];
}

/** a minus b, draw by draw. */
export function differences(a: Float64Array, b: Float64Array): Float64Array {
  return a.map((value, d) => value - floatAt(b, d));
}

/** Share of the draws above a limit; 0 without a draw. */
export function shareAbove(values: Float64Array, limit: number): number {
  const above = values.filter((value) => value > limit).length;
  return values.length === 0 ? 0 : above / values.length;
}
