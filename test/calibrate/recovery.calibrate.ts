/**
 * Forty invented plants of 24 groups: bounds hold the truth as often as they say, on either side, and no oftener. Twenty plants
 * served while the methods were made; the other twenty were drawn first when the draws were added to what is compared.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import {
  binomialLimits,
  DESCRIBED,
  type Described,
  isMiss,
  missedSides,
  PARAMETERS,
  type Recovered,
  type Recovery,
  recover,
  variance,
} from '../demo/recovery.js';

/** Fixed before any plant was drawn. */
const PLANTS = [
  { set: 'seeds 1 to 20', seeds: Array.from({ length: 20 }, (_, i) => i + 1) },
  { set: 'seeds 21 to 40', seeds: Array.from({ length: 20 }, (_, i) => i + 21) },
];
const EACH = DESCRIBED.flatMap((described) => PARAMETERS.map((parameter) => ({ described, parameter })));

/**
 * Draws may be missed less often than they say: in these plants the sizes and duties of a material have one shape exactly,
 * and what the groups lend each other allows for shapes that differ.
 */
function leastOf(described: Described, fewest: number): number {
  return described === 'draws' ? 0 : fewest;
}

describe.each(PLANTS)('twenty plants whose groups each have one law, $set', ({ seeds }) => {
  let all: Recovery;
  beforeAll(() => {
    all = recover(seeds);
  }, 3_600_000);

  describe.each(EACH)('$parameter by $described', ({ described, parameter }) => {
    const recovered = (): Recovered[] => all[described][parameter];

    it('is held in nine of ten', () => {
      const [fewest, most] = binomialLimits(480, 0.1);
      expect(recovered()).toHaveLength(480);
      const misses = recovered().filter(isMiss).length;
      expect(misses).toBeGreaterThanOrEqual(leastOf(described, fewest));
      expect(misses).toBeLessThanOrEqual(most);
    });

    it('is missed on neither side more or less often than it should', () => {
      const [fewest, most] = binomialLimits(480, 0.05);
      const { below, above } = missedSides(recovered());
      expect(
        [below, above].filter((misses) => misses < leastOf(described, fewest) || misses > most),
        `${below} below, ${above} above`,
      ).toEqual([]);
    });

    it('is off by as much as its bounds say', () => {
      const errors = recovered().map(({ standardised }) => standardised);
      // Four standard errors of a variance of 480 standard normal numbers.
      const room = 4 * Math.sqrt(2 / 480);
      expect(variance(errors) - 1).toBeLessThan(room);
      if (described === 'own data') expect(variance(errors) - 1).toBeGreaterThan(-room);
    });
  });
});
