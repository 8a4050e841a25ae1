/** Power-law process and trend tests against published and recomputed values (published.json names the sources). */
import { describe, expect, it } from 'vitest';
import { fitPowerLaw } from '../../../lib/recurrence/fitPowerLaw.js';
import { powerLawGoodness } from '../../../lib/recurrence/powerLawGoodness.js';
import { trendTests } from '../../../lib/recurrence/trendTests.js';
import second from '../life/handbook/handbook.json' with { type: 'json' };
import lives from '../life/handbook/published.json' with { type: 'json' };
import cases from './published.json' with { type: 'json' };

/** Closed forms agree to rounding. */
const close = (got: number | null | undefined, want: number, digits = 10): void =>
  expect((got as number) / want).toBeCloseTo(1, digits);

describe('A6 and A10: one system to a fixed age (NIST/SEMATECH e-Handbook 8.4.5.2)', () => {
  const { eventAge, end, expected, published, trend } = cases.handbook;
  const events = { system: [1], end: [end], eventSystem: eventAge.map(() => 1), eventAge };
  const fit = fitPowerLaw(events, { level: 0.8 });

  it('has the printed shape, rate and mean time between events, with bounds', () => {
    const shape = fit.shapeUnbiased as number;
    expect(shape.toFixed(6)).toBe(published.b.toFixed(6));
    expect((1 - shape).toFixed(6)).toBe(published.growthSlope.toFixed(6));
    expect((eventAge.length / end ** shape).toFixed(7)).toBe(published.a.toFixed(7));
    expect(fit.betweenAtEnd?.estimate.toFixed(3)).toBe(published.mtbf.toFixed(3));
    expect(fit.betweenAtEnd?.low.toFixed(4)).toBe(published.lower.toFixed(4));
    expect(fit.betweenAtEnd?.high.toFixed(4)).toBe(published.upper.toFixed(4));
  });

  it('has the maximum likelihood values and exact bounds of the shape', () => {
    close(fit.shape, expected.b_mle);
    close(fit.rate, expected.a_mle);
    close(fit.logLikelihood, expected.logLik_mle);
    close(fit.shapeBounds.low, expected.b_lower80_chisq);
    close(fit.shapeBounds.high, expected.b_upper80_chisq);
    expect(fit.shapeBounds.method).toBe('chi-square');
  });

  it('has both trend tests', () => {
    const tests = trendTests(events);
    close(tests.laplace.statistic, trend.laplaceU);
    close(tests.laplace.pValue, 2 * trend.laplace_lowerTailP, 9);
    close(tests.handbook.statistic, trend.milHandbookChi2);
    expect(tests.handbook.df).toBe(trend.df);
    close(tests.handbook.pValue, 2 * trend.milHandbook_upperTailP, 9);
    expect(tests.laplace.direction).toBe('less often');
    expect(tests.handbook.direction).toBe('less often');
  });
});

describe('C6: three systems to 200 hours (Crow 1974)', () => {
  const { systems, end, expected, published } = cases.threeSystems;
  const eventAge = systems.flat();
  const eventSystem = systems.flatMap((ages, k) => ages.map(() => k));
  const fit = fitPowerLaw({ system: [0, 1, 2], end: [end, end, end], eventSystem, eventAge });

  it('has the printed shape and rate', () => {
    expect(fit.shape.toFixed(3)).toBe(published.b.toFixed(3));
    expect(fit.rate.toFixed(3)).toBe(published.a.toFixed(3));
  });

  it('has likelihood, unbiased shape and exact 90 % bounds', () => {
    close(fit.shape, expected.b_mle);
    close(fit.rate, expected.a_mle);
    close(fit.shapeUnbiased, expected.b_unbiased);
    close(fit.logLikelihood, expected.logLik);
    close(fit.shapeBounds.low, expected.b_lower90);
    close(fit.shapeBounds.high, expected.b_upper90);
    expect(fit.betweenAtEnd).toBeNull();
  });

  it('has the distance of Cramér and von Mises, and its chance as drawn by numpy (handbook.py)', () => {
    const got = powerLawGoodness(
      { system: [0, 1, 2], end: [end, end, end], eventSystem, eventAge },
      { seed: 1 },
    );
    close(got.statistic, lives.C6.expected.cramerVonMises, 9);
    close(got.statistic, second.C6.cramerVonMises, 9);
    expect(got.events).toBe(36);
    // Drawn 10 000 times here, 200 000 there: a standard error of 0.0043 between them at this chance.
    expect(Math.abs(got.p - second.C6.p)).toBeLessThan(
      4 * Math.sqrt(second.C6.p * (1 - second.C6.p) * 1.05e-4),
    );
  });

  it.each([0, 1, 2])('has fit and trend tests of system %s alone', (k) => {
    const ages = systems[k] as number[];
    const want = expected.perSystem[k] as (typeof expected.perSystem)[number];
    const alone = { system: ['only'], end: [end], eventSystem: ages.map(() => 'only'), eventAge: ages };
    close(fitPowerLaw(alone).shape, want.b);
    close(fitPowerLaw(alone).rate, want.a);
    close(trendTests(alone).laplace.statistic, want.laplaceU);
    close(trendTests(alone).handbook.statistic, want.milChi2);
  });
});

describe('B7: valve seats of 41 engines, watched to different ages', () => {
  const seats = cases.valveSeat;
  const fit = fitPowerLaw(seats);
  const { b, a, logLik, var_logA_logB: variance } = seats.powerLaw;

  it('has shape, rate and likelihood as recomputed', () => {
    close(fit.shape, b, 6);
    close(fit.rate, a, 5);
    close(fit.logLikelihood, logLik, 9);
  });

  it('has the covariance as recomputed, turned from log rate to log scale', () => {
    // log scale = -log rate / shape.
    const [byShape, byRate] = [Math.log(a) / b, -1 / b];
    const [[aa, ab], [, bb]] = variance as [[number, number], [number, number]];
    close(fit.covariance[0], bb, 5);
    close(fit.covariance[1], byShape * bb + byRate * ab, 4);
    close(fit.covariance[3], byShape ** 2 * bb + 2 * byShape * byRate * ab + byRate ** 2 * aa, 4);
  });
});
