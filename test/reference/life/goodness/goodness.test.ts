/** Distances and chances of complete samples against the classical sums and scipy's Monte Carlo test (goodness.py; H5 has the same distances). */
import { expect, it } from 'vitest';
import { distance } from '../../../../lib/life/check/distance.js';
import { goodnessOfFit } from '../../../../lib/life/check/goodnessOfFit.js';
import { observedCurve } from '../../../../lib/life/check/observedCurve.js';
import { fitLife } from '../../../../lib/life/estimate/fit.js';
import { lifeSample } from '../../../../lib/life/sample.js';
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
