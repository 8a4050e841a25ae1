/**
 * Verdicts on the clock of groups, and ranges of relative life, against the truth of twenty plants of each design. Seeds fixed before
 * any plant was drawn. About ten minutes on one core. The table it prints is kept in wearClocks.md.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { binomialLimits } from '../demo/recovery.js';
import {
  studyWear,
  WEAR_DESIGNS,
  WEAR_SEEDS,
  type WearDesign,
  type WearHits,
  wearSum,
  wearTable,
} from '../demo/wearStudy.js';

const HOUR = 3_600_000;

describe.each(Object.keys(WEAR_DESIGNS) as WearDesign[])('%s', (design) => {
  let sums: WearHits[] = [];
  beforeAll(() => {
    sums = wearSum(WEAR_SEEDS.map((seed) => studyWear(seed, design)));
    process.stdout.write(`\n${wearTable(design, WEAR_SEEDS.length, sums)}\n`);
  }, HOUR);

  it('of the clocks told at most one in twenty is wrong', () => {
    for (const { truth, right, nearly, wrong } of sums) {
      expect(wrong, truth).toBeLessThanOrEqual(binomialLimits(right + nearly + wrong, 0.05)[1]);
    }
  });
});
