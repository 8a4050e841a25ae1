/** Twenty invented plants of 24 groups: bounds hold the truth as often as they say, on either side, and no oftener. */
import { beforeAll, describe, expect, it } from 'vitest';
import { binomialLimits, isMiss, type Recovery, recover, variance } from '../demo/recovery.js';

/** Fixed before any plant was drawn. */
const SEEDS = Array.from({ length: 20 }, (_, i) => i + 1);

describe('twenty plants whose groups each have one law', () => {
  let recovered: Recovery;
  beforeAll(() => {
    recovered = recover(SEEDS);
  }, 3_600_000);

  it.each(['shape', 'scale'] as const)('hold the %s in nine of ten', (parameter) => {
    const [fewest, most] = binomialLimits(480, 0.1);
    expect(recovered[parameter]).toHaveLength(480);
    const misses = recovered[parameter].filter(isMiss).length;
    expect(misses).toBeGreaterThanOrEqual(fewest);
    expect(misses).toBeLessThanOrEqual(most);
  });

  it.each(['shape', 'scale'] as const)(
    'miss the %s on neither side more often than they should',
    (parameter) => {
      const [fewest, most] = binomialLimits(480, 0.05);
      const above = recovered[parameter].filter(({ truth, low }) => truth < low).length;
      const below = recovered[parameter].filter(({ truth, high }) => truth > high).length;
      expect(Math.min(above, below)).toBeGreaterThanOrEqual(fewest);
      expect(Math.max(above, below)).toBeLessThanOrEqual(most);
    },
  );

  it.each(['shape', 'scale'] as const)('err in the %s by as much as they say', (parameter) => {
    const errors = recovered[parameter].map(({ standardised }) => standardised);
    // Four standard errors of a variance of 480 standard normal numbers.
    expect(Math.abs(variance(errors) - 1)).toBeLessThan(4 * Math.sqrt(2 / 480));
  });
});
