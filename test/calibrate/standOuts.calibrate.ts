/**
 * What stands out in twenty plants of each design: how much of what was planted is found, and how much is found beside it. Seeds
 * fixed before any plant was drawn. About eight minutes on one core. The table it prints is kept in standOuts.md.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { binomialLimits } from '../demo/recovery.js';
import {
  byKind,
  type Design,
  EMPTY_SEEDS,
  type KindResult,
  PLANTED_SEEDS,
  standOutTable,
  studyPlant,
} from '../demo/standOutStudy.js';

const HOUR = 3_600_000;

function study(design: Design): () => KindResult[] {
  let results: KindResult[] = [];
  beforeAll(() => {
    const seeds = design === 'no effect' ? EMPTY_SEEDS : PLANTED_SEEDS;
    results = byKind(seeds.map((seed) => studyPlant(seed, design)));
    process.stdout.write(`\n${standOutTable(design, results)}\n`);
  }, HOUR);
  return () => results;
}

describe('no effect', () => {
  const results = study('no effect');

  it('anything is found in no more plants than one in ten, kind by kind and in all', () => {
    for (const { kind, plants, plantsWithAny } of results()) {
      expect(plantsWithAny, kind).toBeLessThanOrEqual(binomialLimits(plants, 0.1)[1]);
    }
    const all = results().reduce((total, { plantsWithAny }) => total + plantsWithAny, 0);
    expect(all).toBeLessThanOrEqual(binomialLimits(4 * EMPTY_SEEDS.length, 0.1)[1]);
  });

  it('as many leaks come as are expected', () => isExpected(results()));
});

describe.each(['as the demo', 'marked'] as const)('%s', (design) => {
  const results = study(design);

  it('of those found one in ten is false at most', () => {
    for (const { kind, plants, falseShare } of results()) {
      // The share of a plant lies between 0 and 1: with mean 0.1 its variance is 0.09 at most.
      expect(falseShare, kind).toBeLessThan(0.1 + 4 * Math.sqrt(0.09 / plants));
    }
  });

  it('as many leaks come as are expected', () => isExpected(results()));

  it('what is planted is found', () => {
    const share = (kind: KindResult['kind']): number => {
      const one = results().find((each) => each.kind === kind);
      return one === undefined || one.planted === 0 ? Number.NaN : one.hits / one.planted;
    };
    // Measured: see standOuts.md.
    expect(share('position')).toBeGreaterThan(0.25);
    if (design === 'as the demo') expect(share('lot')).toBeGreaterThan(0.2);
    else for (const kind of ['lot', 'fitter', 'week'] as const) expect(share(kind)).toBeGreaterThan(0.8);
  });
});

/** Within 4 standard errors of Poisson counts. */
function isExpected(results: readonly KindResult[]): void {
  for (const { kind, leaks, expected } of results) {
    expect(Math.abs(leaks - expected), kind).toBeLessThan(4 * Math.sqrt(expected));
  }
}
