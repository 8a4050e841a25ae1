/**
 * The truth is recovered. Four of the twenty plants run here; all twenty in `npm run calibrate`
 * (test/calibrate/recovery.calibrate.ts).
 */
import { describe, expect, it } from 'vitest';
import { demoPlant } from '../../data-demo/plant/demo.js';
import { groupFleet } from '../../lib/group/groupFleet.js';
import { readPlant } from './plant.js';
import { binomialLimits, compare, isMiss, recover, variance } from './recovery.js';

/** The first of the seeds 1 to 20, which were fixed before any plant was drawn. */
const SEEDS = [1, 2, 3, 4];

describe('the demo plant, worse positions and poor lot included', () => {
  const { fleet, truth } = readPlant({ seed: demoPlant().truth.seed });
  const { groups } = groupFleet(fleet, { seed: 1 });

  it('is found to be the 24 groups that it is', () => {
    expect(groups.map(({ name }) => name).sort()).toEqual(truth.groups.map(({ name }) => name).sort());
  });

  it('misses its truth in at most 12 of 48 bounds at 90 %', () => {
    // The truth of a group is that of its sound positions: the law that a plan should be made on. More than 12 of 48 has
    // chance 0.0007 where bounds are right; the worse positions and the poor lot use up part of that room.
    const both = (['shape', 'scale'] as const).flatMap((parameter) =>
      compare(truth.seed, truth.groups, groups, parameter),
    );
    expect(both).toHaveLength(48);
    expect(both.filter(isMiss).length).toBeLessThanOrEqual(12);
  });
});

describe('four plants whose groups each have one law', () => {
  const recovered = recover(SEEDS);

  it.each(['shape', 'scale'] as const)('hold the %s as often as bounds at 90 % should', (parameter) => {
    const misses = recovered[parameter].filter(isMiss).length;
    const [fewest, most] = binomialLimits(recovered[parameter].length, 0.1);
    expect(misses).toBeGreaterThanOrEqual(fewest);
    expect(misses).toBeLessThanOrEqual(most);
  });

  it.each(['shape', 'scale'] as const)('err in the %s by as much as they say', (parameter) => {
    const errors = recovered[parameter].map(({ standardised }) => standardised);
    // Four standard errors of a variance of 96 standard normal numbers: 4 sqrt(2 / 96).
    expect(Math.abs(variance(errors) - 1)).toBeLessThan(4 * Math.sqrt(2 / errors.length));
  });
});

describe('binomial limits', () => {
  it('are those of scipy', () => {
    // scipy.stats.binom.ppf([0.0005, 0.9995], n, p)
    expect(binomialLimits(480, 0.1)).toEqual([28, 71]);
    expect(binomialLimits(480, 0.05)).toEqual([10, 41]);
  });
});
