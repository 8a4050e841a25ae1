/** Fits of five families against R's survreg over 21 data sets (survreg.json, computed by survreg.R beside this file). */
import { describe, expect, it } from 'vitest';
import { fitLife } from '../../../../lib/life/estimate/fit.js';
import type { LifeFit } from '../../../../lib/life/estimate/fitTypes.js';
import type { FittedKind } from '../../../../lib/life/model.js';
import { lifeSample } from '../../../../lib/life/sample.js';
import { apart } from '../samples.js';
import cases from './survreg.json' with { type: 'json' };

interface Case {
  lower: number[];
  upper: (number | null)[];
  count: number[];
  fits: Record<string, Outside | null>;
}

interface Outside {
  intercept: number;
  logScale: number;
  covariance: number[];
  logLikelihood: number;
}

const KINDS: Record<string, FittedKind> = {
  weibull: 'weibull',
  exponential: 'exponential',
  lognormal: 'lognormal',
  loglogistic: 'loglogistic',
  extreme: 'smallestValue',
};

const sampleOf = ({ lower, upper, count }: Case) =>
  lifeSample({ lower, upper: upper.map((t) => t ?? Infinity), count });

/** Our parameters and covariance as survreg has them: intercept and log of its scale. */
function asSurvreg(fit: LifeFit): { place: number[]; covariance: readonly number[] } {
  const [first = Number.NaN, second = Number.NaN] = fit.parameters.map(({ estimate }) => estimate);
  if (fit.kind === 'exponential') return { place: [first], covariance: fit.covariance };
  if (fit.kind === 'lognormal' || fit.kind === 'smallestValue') {
    return { place: [first, second], covariance: fit.covariance };
  }
  const [shapes = 0, both = 0, , scales = 0] = fit.covariance;
  return { place: [second, -first], covariance: [scales, -both, -both, shapes] };
}

const all = Object.entries(cases as unknown as Record<string, Case>);

describe.each(all)('%s', (_, data) => {
  const fits = Object.entries(data.fits).flatMap(([name, want]) => (want === null ? [] : [{ name, want }]));

  it.each(fits)('$name', ({ name, want }) => {
    const fit = fitLife(sampleOf(data), { kind: KINDS[name] as FittedKind });
    const { place, covariance } = asSurvreg(fit);
    const size = place.length;
    const se = (i: number): number => Math.sqrt(want.covariance[i * (size + 1)] as number);
    place.forEach((value, i) => {
      // Of a standard error: an intercept may be near 0, and digits far below the error say nothing.
      const outside = i === 0 ? want.intercept : want.logScale;
      expect(Math.abs(value - outside) / se(i), `parameter ${i}`).toBeLessThan(1e-6);
    });
    covariance.forEach((value, k) => {
      const unit = se(Math.floor(k / size)) * se(k % size);
      const outside = want.covariance[k] as number;
      expect(Math.abs(value - outside) / unit, `covariance ${k}`).toBeLessThan(1e-6);
    });
    expect(apart(fit.logLikelihood, want.logLikelihood)).toBeLessThan(1e-9);
    expect(fit.converged).toBe(true);
  });
});

it('there are a hundred fits or more, and survreg itself ends in all but two', () => {
  const fits = all.flatMap(([, data]) => Object.values(data.fits));
  expect(fits.length).toBeGreaterThanOrEqual(100);
  expect(fits.filter((fit) => fit === null)).toHaveLength(2);
});
