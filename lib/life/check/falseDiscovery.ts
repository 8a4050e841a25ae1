/** Many tests at once: which of them to act on, so that few of these are false. */
import { UsageError } from '../../errors.js';

export interface Discoveries {
  /** Smallest rate at which each test would be acted on; null where it has no p. In the order given. */
  adjusted: (number | null)[];
  /** Whether to act on it. */
  found: boolean[];
}

/**
 * Of the tests acted on, no more than a share `rate` is false, on average (Benjamini & Hochberg 1995; for tests that are independent
 * or go together). Tests without an answer (null) are not counted.
 * @throws UsageError for a p or a rate that is no chance
 */
export function falseDiscovery(p: readonly (number | null)[], rate = 0.1): Discoveries {
  if (!(rate > 0 && rate < 1)) throw new UsageError('falseDiscovery', 'rate must be between 0 and 1.', rate);
  for (const value of p) {
    if (value !== null && !(value >= 0 && value <= 1)) {
      throw new UsageError('falseDiscovery', 'each p must be a chance from 0 to 1, or null.', value);
    }
  }
  const answered = Array.from(p.keys()).filter((i) => p[i] !== null);
  const order = answered.sort((i, j) => (p[j] as number) - (p[i] as number));
  const adjusted: (number | null)[] = p.map(() => null);
  let least = 1;
  order.forEach((i, k) => {
    // The k-th largest is the (tests - k)-th smallest.
    least = Math.min(least, ((p[i] as number) * order.length) / (order.length - k));
    adjusted[i] = least;
  });
  return { adjusted, found: adjusted.map((value) => value !== null && value <= rate) };
}
