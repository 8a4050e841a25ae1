/** Spread between positions against quadrature on a fine grid, optim and profiles in base R (spread.R). */
import { expect, it } from 'vitest';
import { positionSpread } from '../../../../lib/life/estimate/positionSpread/positionSpread.js';
import { lifeSample } from '../../../../lib/life/sample.js';
import { apart } from '../samples.js';
import cases from './spread.json' with { type: 'json' };

type Name = keyof typeof cases;

it.each(Object.keys(cases) as Name[])('%s', (name) => {
  const { lower, upper, entry, position, fit } = cases[name];
  const sample = lifeSample({ lower, upper: upper.map((t) => t ?? Infinity), entry, cluster: position });
  const got = positionSpread(sample, { kind: 'weibull' });
  // Log likelihoods of 30 to 80 positions, each integral good to about 1e-9.
  expect(Math.abs(got.logLikelihoods.spread - fit.logLikelihood)).toBeLessThan(2e-6);
  expect(Math.abs(got.logLikelihoods.alike - fit.alike)).toBeLessThan(1e-6);
  expect(apart(got.model.shape, fit.shape)).toBeLessThan(1e-5);
  expect(apart(got.model.scale, fit.scale)).toBeLessThan(1e-5);
  expect(Math.abs((got.spread as number) - fit.spread)).toBeLessThan(1e-5);
  expect(Math.abs(got.low - fit.low)).toBeLessThan(1e-5);
  expect(Math.abs(got.high - fit.high)).toBeLessThan(1e-5);
});
