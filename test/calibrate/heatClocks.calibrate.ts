/**
 * Verdicts on the clock of groups whose steam has two temperatures, against the truth of twenty plants of each kind. Seeds fixed before
 * any plant was drawn. About ten minutes on one core. The table it prints is kept in heatClocks.md.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { HEAT_CLOCKS, HEAT_SEEDS, type HeatHits, heatRow, heatSum, studyHeat } from '../demo/heatStudy.js';
import { binomialLimits } from '../demo/recovery.js';

const HOUR = 3_600_000;

describe.each(HEAT_CLOCKS)('wear by %s', (clock) => {
  let sum: HeatHits = heatSum([]);
  beforeAll(() => {
    const all = HEAT_SEEDS.map((seed) => studyHeat(seed, clock));
    sum = heatSum(all);
    process.stdout.write(`\n${heatRow(clock, all)}\n`);
  }, HOUR);

  it('of the clocks told at most one in twenty is wrong', () => {
    const told = sum.right + sum.nearly + sum.wrong;
    expect(sum.wrong).toBeLessThanOrEqual(binomialLimits(told, 0.05)[1]);
  });

  it('equivalent hours are told in error in at most a few groups in a hundred', () => {
    expect(sum.dose).toBeLessThanOrEqual(binomialLimits(sum.groups, 0.03)[1]);
  });
});
