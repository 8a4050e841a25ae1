/** Residuals of fits and their cumulative hazard, and false-discovery rates, against R (residuals.R). */
import { describe, expect, it } from 'vitest';
import { coxSnellResiduals } from '../../../../lib/life/check/coxSnellResiduals.js';
import { falseDiscovery } from '../../../../lib/life/check/falseDiscovery.js';
import { kaplanMeier } from '../../../../lib/life/empirical/kaplanMeier.js';
import { nelsonAalen } from '../../../../lib/life/empirical/nelsonAalen.js';
import { fitLife } from '../../../../lib/life/estimate/fit.js';
import { apart, sampleOf } from '../samples.js';
import cases from './residuals.json' with { type: 'json' };

describe.each(['weibull', 'lognormal', 'loglogistic'] as const)('%s', (kind) => {
  const sample = sampleOf(cases.time, cases.failed);
  const got = coxSnellResiduals(sample, fitLife(sample, { kind }));
  const want = cases[kind];

  it('residuals are -log S of survreg', () => {
    // Both fits are good to about 1e-8; the residual of a young life doubles that.
    got.residuals.lower.forEach((value, i) => {
      expect(apart(value, want.residual[i] as number)).toBeLessThan(1e-6);
    });
    expect(Array.from(got.residuals.upper, (upper) => (upper === Infinity ? 0 : 1))).toEqual(cases.failed);
  });

  it('their cumulative hazard is that of survfit', () => {
    expect(got.residual).toHaveLength(want.at.length);
    got.residual.forEach((value, j) => {
      expect(apart(value, want.at[j] as number)).toBeLessThan(1e-6);
      expect(
        Math.abs((got.cumulativeHazard[j] as number) - (want.cumulativeHazard[j] as number)),
      ).toBeLessThan(1e-13);
    });
    expect(nelsonAalen(got.residuals).cumulativeHazard).toEqual(got.cumulativeHazard);
    expect(kaplanMeier(got.residuals).survival).toEqual(kaplanMeier(sample).survival);
  });
});

it('false-discovery rates are those of p.adjust', () => {
  const { adjusted, found } = falseDiscovery(cases.p, 0.05);
  adjusted.forEach((value, i) => {
    expect(Math.abs((value as number) - (cases.adjusted[i] as number))).toBeLessThan(1e-14);
  });
  expect(found).toEqual(cases.adjusted.map((value) => value <= 0.05));
});
