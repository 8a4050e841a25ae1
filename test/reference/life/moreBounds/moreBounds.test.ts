/** BCa ends against R's package boot, and bounds of conditional survival against profiles by base R (moreBounds.R). */
import { describe, expect, it } from 'vitest';
import { bcaEnds } from '../../../../lib/life/estimate/bounds/bcaEnds.js';
import { lifeBounds } from '../../../../lib/life/estimate/bounds/bounds.js';
import { fitLife } from '../../../../lib/life/estimate/fit.js';
import { apart, sampleOf } from '../samples.js';
import cases from './moreBounds.json' with { type: 'json' };

it.each([
  ['c80', 0.1],
  ['c90', 0.05],
  ['c95', 0.025],
] as const)('BCa ends of the same resamples, %s', (key, tail) => {
  const { values, estimate, leftOut } = cases.bca;
  const left = { value: Float64Array.from(leftOut), count: new Float64Array(leftOut.length).fill(1) };
  const { low, high } = bcaEnds(values, estimate, left, { below: tail, above: tail });
  expect(apart(low, cases.bca[key][0] as number)).toBeLessThan(1e-12);
  expect(apart(high, cases.bca[key][1] as number)).toBeLessThan(1e-12);
});

describe.each(['weibull', 'lognormal', 'loglogistic'] as const)('%s', (kind) => {
  it('profile bounds of the chance to last 3000 hours more at 5000', () => {
    const fit = fitLife(sampleOf(cases.hours, cases.status), { kind });
    const got = lifeBounds(fit, { of: { conditionalSurvival: [5000, 3000] }, method: 'likelihood' });
    const want = cases[kind];
    // R's searches stop at about 1e-8 in the location, its profile at 1e-9.
    expect(apart(got.estimate, want.estimate)).toBeLessThan(1e-6);
    expect(apart(got.low, want.likelihood[0] as number)).toBeLessThan(1e-6);
    expect(apart(got.high, want.likelihood[1] as number)).toBeLessThan(1e-6);
  });
});
