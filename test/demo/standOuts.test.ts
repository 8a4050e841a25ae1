/**
 * Planted stand-outs are found, and few others: three plants here, twenty of each design in `npm run calibrate`
 * (test/calibrate/standOuts.calibrate.ts), whose hits are in test/calibrate/standOuts.md.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { byKind, EMPTY_SEEDS, type KindResult, PLANTED_SEEDS, studyPlant } from './standOutStudy.js';

describe('two plants with marked effects in every kind', () => {
  let results: KindResult[];
  beforeAll(() => {
    results = byKind(PLANTED_SEEDS.slice(0, 2).map((seed) => studyPlant(seed, 'marked')));
  });

  it('show the poor lot, the poor fitter and the poor week', () => {
    // Over twenty plants 19, 20 and 19: at most one of these six is missed, of chance 0.99.
    const single = results.filter(({ kind }) => kind !== 'position');
    expect(single.map(({ planted }) => planted)).toEqual([2, 2, 2]);
    expect(single.reduce((total, { hits }) => total + hits, 0)).toBeGreaterThanOrEqual(5);
  });

  it('show some of the 25 positions that wear 2.5 times as fast', () => {
    // Over twenty plants a third. Most of the others had too few leaks for anybody to tell.
    expect(results.find(({ kind }) => kind === 'position')?.hits).toBeGreaterThanOrEqual(5);
  });

  it('show at most two others, and expect as many leaks as there are', () => {
    expect(results.reduce((total, one) => total + one.false, 0)).toBeLessThanOrEqual(2);
    for (const { leaks, expected } of results) {
      expect(Math.abs(leaks - expected)).toBeLessThan(4 * Math.sqrt(expected));
    }
  });
});

describe('a plant without effects', () => {
  it('shows at most one thing, and expects as many leaks as there are', () => {
    const results = byKind([studyPlant(EMPTY_SEEDS[0] as number, 'no effect')]);
    expect(results.reduce((total, one) => total + one.false, 0)).toBeLessThanOrEqual(1);
    for (const { leaks, expected } of results) {
      expect(Math.abs(leaks - expected)).toBeLessThan(4 * Math.sqrt(expected));
    }
  });
});
