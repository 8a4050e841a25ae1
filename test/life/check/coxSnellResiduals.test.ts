import { describe, expect, it } from 'vitest';
import { UsageError } from '../../../lib/errors.js';
import { coxSnellResiduals } from '../../../lib/life/check/coxSnellResiduals.js';
import { falseDiscovery } from '../../../lib/life/check/falseDiscovery.js';
import { cumulativeHazard } from '../../../lib/life/distribution/functions.js';
import { turnbull } from '../../../lib/life/empirical/turnbull.js';
import { fitLife } from '../../../lib/life/estimate/fit.js';
import { lifeSample } from '../../../lib/life/sample.js';
import { SIMULATED, simulatedLives } from './simulatedLives.js';

describe('coxSnellResiduals', () => {
  it('maps every column, and keeps counts and positions', () => {
    const sample = lifeSample({
      lower: [120, 300, 410, 0, 640],
      upper: [120, Infinity, 520, 200, Infinity],
      entry: [0, 100, 200, 0, 50],
      count: [1, 3, 1, 2, 1],
      cluster: ['A', 'A', 'B', 'C', 'B'],
    });
    const fit = fitLife(sample, { kind: 'weibull' });
    const { residuals } = coxSnellResiduals(sample, fit);
    const h = (t: number): number => (t === Infinity ? Infinity : cumulativeHazard(fit.model, t));
    for (const name of ['lower', 'upper', 'entry'] as const)
      expect(residuals[name]).toEqual(sample[name].map(h));
    expect(residuals.count).toEqual(sample.count);
    expect(residuals.cluster).toEqual(sample.cluster);
    expect(turnbull(residuals, { draws: 0 }).mass.length).toBeGreaterThan(0);
    // Residuals of a Weibull are exponential with mean 1: the fit of a Weibull to them says so.
    const again = fitLife(residuals, { kind: 'weibull' }).model;
    expect(again).toMatchObject({ kind: 'weibull' });
    if (again.kind !== 'weibull') return;
    expect(Math.abs(again.shape - 1)).toBeLessThan(1e-7);
    expect(Math.abs(again.scale - 1)).toBeLessThan(1e-7);
  });

  it('has a slope of 1 for a right law, and a bend for a wrong one', () => {
    const { sample } = simulatedLives({ ...SIMULATED.right, lives: 4000, days: false }, 1);
    const right = coxSnellResiduals(sample, fitLife(sample, { kind: 'weibull' })).slope;
    // About 1700 failures: standard errors of 0.035 in each half.
    for (const slope of [right.whole, right.early, right.late])
      expect(Math.abs((slope as number) - 1)).toBeLessThan(0.14);
    const wrong = coxSnellResiduals(sample, fitLife(sample, { kind: 'exponential' })).slope;
    expect(wrong.early).toBeLessThan(0.8);
    expect(wrong.late).toBeGreaterThan(1.3);
  });

  it('gives numbers where a law has none, and null where there is nothing to tell', () => {
    const sharp = lifeSample({ lower: [1e-8, 1, 1.01, 2e7], upper: [1e-8, 1, 1.01, 2e7] });
    const fit = {
      ...fitLife(sharp, { kind: 'weibull' }),
      model: { kind: 'weibull', shape: 50, scale: 1 } as const,
    };
    const { residuals } = coxSnellResiduals(sharp, fit);
    for (const value of residuals.upper) expect(value > 0 && value < Infinity).toBe(true);
    const sound = lifeSample({ lower: [5, 6], upper: [Infinity, Infinity] });
    expect(coxSnellResiduals(sound, fit).slope).toEqual({ whole: null, early: null, late: null });
    expect(() => coxSnellResiduals({ ...sharp, otherHazard: Float64Array.of(0, 0, 1, 0) }, fit)).toThrow(
      UsageError,
    );
  });
});

describe('falseDiscovery', () => {
  it('leaves tests without an answer out, and keeps the order given', () => {
    const { adjusted, found } = falseDiscovery([0.04, null, 0.01, 0.03], 0.045);
    expect(adjusted.map((x) => x && Math.round(x * 1e6) / 1e6)).toEqual([0.04, null, 0.03, 0.04]);
    expect(found).toEqual([true, false, true, true]);
    expect(falseDiscovery([])).toEqual({ adjusted: [], found: [] });
    expect(() => falseDiscovery([1.2])).toThrow(UsageError);
    expect(() => falseDiscovery([0.2], 0)).toThrow(UsageError);
  });
});
