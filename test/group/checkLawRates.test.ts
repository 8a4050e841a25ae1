/** A small part of test/calibrate/checkLaw.calibrate.ts, which has the numbers: from records to p. */
import { expect, it } from 'vitest';
import { checkOf, OBEYS, TWO_KINDS } from './lawPlants.js';

const small = (truth: typeof OBEYS, plants: number, limit: number): number =>
  Array.from({ length: plants }, (_, i) => checkOf(truth, 20_001 + i).p ?? 1).filter((p) => p <= limit)
    .length;

it('leaves most plants alone that obey the law, and finds most that are two kinds in one', () => {
  // Binomial (14, 0.1) is above 6 in 3 of 100 000; (6, 0.05), were the law right, is above 2 in 2 of 1000.
  expect(small(OBEYS, 14, 0.1)).toBeLessThanOrEqual(6);
  expect(small(TWO_KINDS, 6, 0.05)).toBeGreaterThan(2);
});
