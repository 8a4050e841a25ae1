/** Bounds against published.json (G1, G2, G4, G5, D7: R 4.2) and, by another road, recomputed.json; robust covariance against R. */
import { describe, expect, it } from 'vitest';
import { lifeBounds } from '../../../lib/life/estimate/bounds/bounds.js';
import { fixedShapeBounds } from '../../../lib/life/estimate/bounds/boundsChiSquare.js';
import { clusterInflation, robustCovariance } from '../../../lib/life/estimate/bounds/robust.js';
import { fitLife } from '../../../lib/life/estimate/fit.js';
import { lifeSample } from '../../../lib/life/sample.js';
import curves from './curves.json' with { type: 'json' };
import cases from './published.json' with { type: 'json' };
import recomputed from './recomputed.json' with { type: 'json' };
import { apart, sampleOf, sampleOfCase } from './samples.js';

/** The published bounds are good to 1e-6; profiles stop at about 1e-10. */
const close = (got: { low: number; high: number }, want: readonly number[], tolerance = 1e-6): void => {
  expect(apart(got.low, want[0] as number)).toBeLessThan(tolerance);
  expect(apart(got.high, want[1] as number)).toBeLessThan(tolerance);
};

describe.each(['G1', 'G2', 'G4'] as const)('%s', (name) => {
  const { data, expected, inputs } = cases[name];
  const fit = fitLife(sampleOfCase(data), { kind: 'weibull' });
  const at = inputs.reliabilityAt;
  const second = recomputed.bounds[name];

  it.each(['c90', 'c95'] as const)('normal and likelihood bounds, %s', (key) => {
    const { conf: level, fisher, likelihoodRatio } = expected[key];
    for (const [of, normal, ratio] of [
      ['shape', fisher.shape, likelihoodRatio.shape],
      ['scale', fisher.scale, likelihoodRatio.scale],
      [{ quantile: 0.1 }, fisher.B10, likelihoodRatio.B10],
      [{ survival: at }, fisher.R_cloglog, likelihoodRatio.R],
    ] as const) {
      close(lifeBounds(fit, { of, level, method: 'normal' }), normal);
      close(lifeBounds(fit, { of, level, method: 'likelihood' }), ratio);
    }
  });

  it('likelihood bounds by the second road', () => {
    const bounds = (of: Parameters<typeof lifeBounds>[1]['of']) =>
      lifeBounds(fit, { of, method: 'likelihood' });
    close(bounds('shape'), second.shape, 1e-8);
    close(bounds('scale'), second.scale, 1e-8);
    close(bounds({ quantile: 0.1 }), second.B, 1e-8);
    close(bounds({ survival: at }), second.R, 1e-8);
  });

  it('one side at level 0.95 is the same end as two sides at 0.9', () => {
    const both = lifeBounds(fit, { of: { quantile: 0.1 }, level: 0.9 });
    const lower = lifeBounds(fit, { of: { quantile: 0.1 }, level: 0.95, side: 'lower' });
    expect(apart(lower.low, both.low)).toBeLessThan(1e-9);
    expect(lower.high).toBe(Infinity);
  });
});

it('G5: exact, normal and likelihood bounds of an exponential mean', () => {
  const { data, expected } = cases.G5;
  const sample = lifeSample({
    lower: [data.totalTime / data.failures, data.totalTime / data.failures],
    upper: [data.totalTime / data.failures, Infinity],
    count: [data.failures - 1, 1],
  });
  // Only total time and failures count: give them in one row each, the last failure as its time and an early failure.
  const one = lifeSample({
    lower: [1e-9, data.totalTime],
    upper: [1e-9, Infinity],
    count: [data.failures, 1],
  });
  const fit = fitLife(one, { kind: 'exponential' });
  expect(sample.lower.length).toBe(2);
  close(lifeBounds(fit, { of: 'mean', level: 0.95, method: 'normal' }), expected.logNormal, 1e-9);
  close(lifeBounds(fit, { of: 'mean', level: 0.95, method: 'likelihood' }), expected.likelihoodRatio, 1e-9);
  close(fixedShapeBounds(one, 1, { level: 0.95 }), expected.chisq_timeTruncated, 1e-9);
  close(fixedShapeBounds(one, 1, { level: 0.95, ended: 'failure' }), expected.chisq_2r, 1e-9);
});

describe('D7: shape known', () => {
  const { data, expected, inputs } = cases.D7;
  const { shape } = inputs;
  const none = sampleOf(
    data.unfailedAges,
    data.unfailedAges.map(() => 0),
  );
  const two = sampleOf([...data.failures2, ...data.suspensions2], [1, 1, 0, 0, 0, 0, 0, 0]);

  it('without failures gives the lower bound of IEC 61649', () => {
    const fit = fitLife(none, { kind: 'weibull', shape });
    const lower = (level: number): number => lifeBounds(fit, { of: 'scale', level, side: 'lower' }).low;
    expect(apart(lower(0.5), expected.zeroFailure.conf50)).toBeLessThan(1e-10);
    expect(apart(lower(0.9), expected.zeroFailure.conf90)).toBeLessThan(1e-10);
    expect(apart(lower(0.95), expected.zeroFailure.conf95)).toBeLessThan(1e-10);
    const b10 = lifeBounds(fit, { of: { quantile: 0.1 }, level: 0.9, side: 'lower' });
    const reliability = lifeBounds(fit, { of: { survival: 500 }, level: 0.9, side: 'lower' });
    expect(apart(b10.low, expected.zeroFailureB10_lower90)).toBeLessThan(1e-10);
    expect(apart(reliability.low, expected.reliabilityAt500_lower90)).toBeLessThan(1e-10);
    expect([reliability.estimate, reliability.high, b10.method]).toEqual([1, 1, 'chi-square']);
  });

  it('with two failures gives both conventions', () => {
    const fit = fitLife(two, { kind: 'weibull', shape });
    expect(apart(Math.exp(fit.parameters[0]?.estimate as number), expected.twoFailures.mle)).toBeLessThan(
      1e-10,
    );
    const bound = (ended: 'age' | 'failure') => fixedShapeBounds(two, shape, { level: 0.8, ended });
    expect(apart(bound('age').low, expected.twoFailures.lower90_2rPlus2)).toBeLessThan(1e-10);
    expect(apart(bound('failure').low, expected.twoFailures.lower90_2r)).toBeLessThan(1e-10);
    expect(apart(bound('age').high, expected.twoFailures.upper90_2r)).toBeLessThan(1e-10);
  });

  it('the posterior with a flat log scale is the chi-square with 2 r degrees of freedom', () => {
    const fit = fitLife(two, { kind: 'weibull', shape });
    const posterior = lifeBounds(fit, { of: 'scale', level: 0.8, method: 'posterior' });
    // The flat prior ends at a factor of 20 either way, which cuts off next to nothing here.
    expect(apart(posterior.low, expected.twoFailures.lower90_2r)).toBeLessThan(1e-4);
    expect(apart(posterior.high, expected.twoFailures.upper90_2r)).toBeLessThan(1e-4);
  });
});

it('the position-robust covariance is that of R survreg with cluster', () => {
  const { age, failed, position, robust, naive } = curves.robust;
  const sample = lifeSample({
    lower: age,
    upper: age.map((t, i) => (failed[i] === 1 ? t : Infinity)),
    cluster: position,
  });
  const fit = fitLife(sample, { kind: 'weibull' });
  // R's order is intercept, log sigma: log scale and minus log shape.
  const swap = (m: readonly number[]): number[] =>
    [m[3], -(m[1] as number), -(m[2] as number), m[0]] as number[];
  swap(fit.covariance).forEach((value, i) => {
    expect(apart(value, naive[i] as number)).toBeLessThan(1e-6);
  });
  swap(robustCovariance(fit)).forEach((value, i) => {
    expect(apart(value, robust[i] as number)).toBeLessThan(1e-6);
  });
  expect(clusterInflation(fit)).toBeGreaterThan(1);
  const [plain, wide] = [false, true].map((on) =>
    lifeBounds(fit, { of: 'scale', method: 'normal', robust: on }),
  );
  const z = 1.6448536269514722;
  expect(
    apart(Math.log((wide?.high as number) / (wide?.estimate as number)) / z, Math.sqrt(robust[0] as number)),
  ).toBeLessThan(1e-6);
  expect(
    apart(Math.log((plain?.high as number) / (plain?.estimate as number)) / z, Math.sqrt(naive[0] as number)),
  ).toBeLessThan(1e-6);
});
