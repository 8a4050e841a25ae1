/** Median ranks against scipy, lines against numpy (ranks.py), and two worked examples from memory. */
import { describe, expect, it } from 'vitest';
import { benardRank, failureRanks, medianRank } from '../../../../lib/life/empirical/ranks.js';
import { fitByRanks, type RankFitOptions } from '../../../../lib/life/estimate/rankRegression.js';
import { lifeSample } from '../../../../lib/life/sample.js';
import type { LifeSample } from '../../../../lib/life/sampleTypes.js';
import { apart } from '../samples.js';
import cases from './ranks.json' with { type: 'json' };

interface Rows {
  age: number[];
  failed: number[];
  count: number[];
}

const sampleOf = ({ age, failed, count }: Rows): LifeSample =>
  lifeSample({ lower: age, upper: age.map((t, i) => (failed[i] === 1 ? t : Infinity)), count });

it('median ranks, whole and broken order numbers up to a million lives, as scipy', () => {
  for (const { i, n, rank } of cases.median) {
    expect(Math.abs(medianRank(i, n) - rank), `${i} of ${n}`).toBeLessThan(1e-12);
    expect(apart(medianRank(i, n), rank), `${i} of ${n}, relative`).toBeLessThan(1e-11);
  }
});

describe.each(['handbook', 'sixUnits', 'ties'] as const)('%s', (name) => {
  const data = cases.lines[name];
  const sample = sampleOf(data);

  it('adjusted ranks as counted life by life', () => {
    const { order } = failureRanks(sample);
    expect(order.length).toBe(data.order.length);
    for (const [k, want] of data.order.entries()) expect(apart(order[k] as number, want)).toBeLessThan(1e-13);
  });

  it.each(data.fits.map((fit) => [fit.kind, fit.ranks, fit.regress, fit] as const))(
    '%s by %s ranks, regression of %s, as numpy',
    (_, __, ___, { kind, ranks, regress, pair, r2 }) => {
      const options = { kind, ranks, regress } as RankFitOptions;
      const fit = fitByRanks(sample, options);
      const { model } = fit;
      const got = model.kind === 'weibull' ? [model.shape, model.scale] : [model.mu, model.sigma];
      for (const [k, value] of got.entries()) expect(apart(value, pair[k] as number)).toBeLessThan(1e-10);
      expect(Math.abs(fit.r2 - r2)).toBeLessThan(1e-10);
    },
  );
});

// Abernethy, The New Weibull Handbook, ch. 2, adjusted ranks of eight lives with three suspensions; from memory.
it('D3: the worked example of adjusted ranks', () => {
  const { age, order, rank } = failureRanks(sampleOf(cases.lines.handbook), 'benard');
  expect(Array.from(age)).toEqual([30, 49, 82, 90, 96]);
  expect(Array.from(order)).toEqual([1.125, 2.4375, 3.75, 5.0625, 6.375]);
  expect(Array.from(rank, (p) => Math.round(1000 * p) / 10)).toEqual([9.8, 25.4, 41.1, 56.7, 72.3]);
  expect(rank[0]).toBe(benardRank(1.125, 8));
});

// A textbook example of six units to failure at 16, 34, 53, 75, 93 and 120 h, regression of rank on age; from memory: shape
// 1.430, scale 76.32 h, correlation 0.9956.
it('the worked example of six units', () => {
  const { model, r2 } = fitByRanks(sampleOf(cases.lines.sixUnits), { kind: 'weibull', regress: 'rank' });
  if (model.kind !== 'weibull') throw new Error('not a Weibull');
  expect(model.shape).toBeCloseTo(1.43, 3);
  expect(model.scale).toBeCloseTo(76.32, 2);
  expect(Math.sqrt(r2)).toBeCloseTo(0.9956, 4);
});
