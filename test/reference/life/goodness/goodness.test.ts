/** Distances and chances of complete samples against the classical sums and scipy's Monte Carlo test (goodness.py; H5 has the same distances). */
import { expect, it } from 'vitest';
import { distance } from '../../../../lib/life/check/distance.js';
import { edfStatistics } from '../../../../lib/life/check/edfStatistics.js';
import { goodnessOfFit } from '../../../../lib/life/check/goodnessOfFit.js';
import { observedCurve } from '../../../../lib/life/check/observedCurve.js';
import { fitLife } from '../../../../lib/life/estimate/fit.js';
import { lifeSample } from '../../../../lib/life/sample.js';
import second from '../handbook/handbook.json' with { type: 'json' };
import published from '../handbook/published.json' with { type: 'json' };
import { apart } from '../samples.js';
import cases from './goodness.json' with { type: 'json' };

const sampleOf = (ages: readonly number[]) => lifeSample({ lower: ages, upper: ages });

it('H5: with the law given, the classical statistic', () => {
  const curve = observedCurve(sampleOf(cases.bearings));
  expect(apart(distance(curve, { kind: 'weibull', shape: 2, scale: 80 }, 23), cases.given)).toBeLessThan(
    1e-12,
  );
});

it.each(cases.fits)('H5: $kind, $data', ({ data, kind, statistic, p }) => {
  const sample = sampleOf(cases[data as 'bearings' | 'two']);
  const fit = fitLife(sample, { kind: kind as 'weibull' | 'lognormal' });
  const got = goodnessOfFit(sample, fit, { seed: 7, resamples: 399 });
  // The searches behind both agree to 1e-7, and the distance is nearly flat there.
  expect(apart(got.statistic as number, statistic)).toBeLessThan(1e-7);
  // Two Monte Carlo tests: ours within 4 of their standard errors taken together, at the chance that they give together.
  const both = (p * 5000 + (got.p as number) * 400) / 5400;
  const error = Math.sqrt(both * (1 - both) * (1 / 5000 + 1 / 400));
  expect(Math.abs((got.p as number) - p)).toBeLessThan(4 * error);
  expect(got.verdict.code).toBe(p > 0.05 ? 'fits' : 'does-not-fit');
});

const { mu, sigma } = second.H5.lognormalSampleSd;

it.each([
  ['givenShape2Scale80', () => ({ kind: 'weibull', shape: 2, scale: 80 }) as const],
  ['fittedMLE', () => fitLife(sampleOf(cases.bearings), { kind: 'weibull' }).model],
  ['lognormalMLE', () => fitLife(sampleOf(cases.bearings), { kind: 'lognormal' }).model],
  ['lognormalSampleSd', () => ({ kind: 'lognormal', mu, sigma }) as const],
] as const)('H5: all classical distances, %s', (name, law) => {
  const got = edfStatistics(sampleOf(cases.bearings), law());
  const want = published.H5.expected[name];
  // A maximum is good to 1e-7 there, at which D moves most; given laws agree to rounding.
  const tolerance = name === 'fittedMLE' ? 1e-7 : 1e-10;
  expect(apart(got.andersonDarling, want.A2)).toBeLessThan(tolerance);
  expect(apart(got.cramerVonMises, want.W2)).toBeLessThan(tolerance);
  expect(apart(got.above, want.Dplus)).toBeLessThan(tolerance);
  expect(apart(got.below, want.Dminus)).toBeLessThan(tolerance);
  expect(got.kolmogorovSmirnov).toBe(Math.max(got.above, got.below));
  if (name === 'fittedMLE') {
    // The factor for a table of fitted Weibull laws; chances here are drawn, so that no table is needed.
    expect(
      apart(got.andersonDarling * (1 + 0.2 / Math.sqrt(23)), published.H5.expected[name].A2star_02),
    ).toBeLessThan(1e-7);
    return;
  }
  const road = second.H5[name];
  // By scipy's tests, and by quadrature to 1e-12.
  expect(apart(got.andersonDarling, road.A2)).toBeLessThan(1e-9);
  expect(apart(got.cramerVonMises, road.W2)).toBeLessThan(1e-10);
  expect(apart(got.above, road.Dplus)).toBeLessThan(1e-10);
  expect(apart(got.below, road.Dminus)).toBeLessThan(1e-10);
});
