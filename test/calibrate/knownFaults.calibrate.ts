/**
 * How often the test of fit rejects a law beside fitting faults that are known and held: whole plants with lives already running when the records
 * begin, openings for other work and replacements on schedule, each with and without the others. Seeds fixed beforehand. Three minutes.
 */
import { describe, expect, it } from 'vitest';
import { readHistory } from '../../lib/group/history.js';
import { sampleOf } from '../../lib/group/samples.js';
import { goodnessOfFit } from '../../lib/life/check/goodnessOfFit.js';
import { fitLife } from '../../lib/life/estimate/fit.js';
import { columnOf, floatAt } from '../../lib/numeric/columns.js';
import { DATA_UNTIL, type GroupTruth, simulatedPlant } from '../group/plant.js';

const PLANTS = 200;
const FIRST_SEED = 40_001;
const FAULT = { shape: 0.8, scale: 15, share: 0.03 };
const ALIKE: GroupTruth = {
  material: 'EPDM',
  size: 25,
  positions: 60,
  shape: 2.5,
  scale: 800,
  scheduled: 730,
};

interface Watch {
  groups?: GroupTruth[];
  faulty?: boolean;
  /** Days of service before the records begin. */
  before?: number;
  openings?: number;
}

function chanceOf(
  { groups = [ALIKE], faulty = true, before = 700, openings = 0.1 }: Watch,
  seed: number,
): number {
  const share = faulty ? FAULT.share : 0;
  const fleet = simulatedPlant(
    {
      groups,
      years: 5,
      faultShare: () => share,
      fault: FAULT,
      openingsPerYear: openings,
      reasonLost: 0,
      before,
    },
    seed,
  );
  const history = readHistory(fleet);
  const rows = Array.from({ length: history.length }, (_, i) => i);
  const sample = sampleOf(history, rows, { condition: 'leak', unknownOdds: 1, faultsCensored: false });
  const closing = columnOf(rows, (i) =>
    Math.max(0.5, DATA_UNTIL - floatAt(fleet.lives.fitted, history.life[i] as number)),
  );
  const fit = fitLife(sample, { kind: 'weibull', ...(faulty ? { fault: FAULT } : {}) });
  return goodnessOfFit(sample, fit, { seed, resamples: 99, enough: 30, closing }).p ?? 1;
}

const chances = (watch: Watch): number[] =>
  Array.from({ length: PLANTS }, (_, k) => chanceOf(watch, FIRST_SEED + k));

const shareUpTo = (values: readonly number[], limit: number): number =>
  values.filter((p) => p <= limit + 1e-9).length / values.length;

describe('a law that is right', () => {
  it.each([
    ['with all of it', {}],
    ['without entries', { before: 0 }],
    ['without openings', { openings: 0 }],
    ['without faults', { faulty: false }],
  ] as const)('%s, is rejected as often as it says', (_, watch) => {
    const found = chances(watch);
    for (const limit of [0.05, 0.1, 0.25]) {
      const standardError = Math.sqrt((limit * (1 - limit)) / PLANTS);
      expect(
        Math.abs(shareUpTo(found, limit) - limit) / standardError,
        `up to ${limit}: ${shareUpTo(found, limit)}`,
      ).toBeLessThan(4);
    }
  });
});

it('two kinds of lives in one are found in most plants', () => {
  const groups = [
    { ...ALIKE, positions: 8, scale: 300, scheduled: Infinity },
    { ...ALIKE, positions: 40, scale: 1500, scheduled: Infinity },
  ];
  const found = chances({ groups });
  expect(shareUpTo(found, 0.05), `${shareUpTo(found, 0.05)}`).toBeGreaterThan(0.6);
});
