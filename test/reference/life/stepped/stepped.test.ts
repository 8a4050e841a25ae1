/** Exposure that changes in steps against R: optim on the likelihood written out there, and glm (stepped.R). */
import { describe, expect, it } from 'vitest';
import { fitSteppedExposure } from '../../../../lib/life/estimate/stepped/fitSteppedExposure.js';
import type { ExposureSteps } from '../../../../lib/life/estimate/stepped/readSteps.js';
import { lifeSample } from '../../../../lib/life/sample.js';
import type { LifeSample } from '../../../../lib/life/sampleTypes.js';
import reference from './stepped.json' with { type: 'json' };

const KINDS = ['weibull', 'exponential', 'lognormal', 'loglogistic'] as const;
/** R's curvature is by differences of differences: its covariance has some seven digits. */
const BY_DIFFERENCES = 1e-6;

const n = reference.lower.length;
const pick = <T>(column: readonly T[], rows: readonly number[]): T[] => rows.map((i) => column[i] as T);

function livesOf(rows: readonly number[]): LifeSample {
  return lifeSample({
    lower: pick(reference.lower, rows),
    upper: pick(reference.upper, rows).map((age) => age ?? Infinity),
    entry: pick(reference.entry, rows),
    cluster: pick(reference.position, rows),
  });
}

/** Three steps a life; columns of R's matrices one after the other. */
function stepsOf(rows: readonly number[]): ExposureSteps {
  const three = [0, 1, 2];
  const from = (i: number): number[] => [0, reference.cut1[i] as number, reference.cut2[i] as number];
  const of = (matrix: readonly number[]): number[] =>
    rows.flatMap((i) => three.map((k) => matrix[k * n + i] as number));
  return {
    life: rows.flatMap((_, row) => three.map(() => row)),
    from: rows.flatMap(from),
    values: { load: of(reference.load), steam: of(reference.steam) },
  };
}

const all = Array.from({ length: n }, (_, i) => i);

function apart(got: readonly number[], want: readonly number[], covariance: readonly number[]): number {
  const size = Math.sqrt(covariance.length);
  const sd = (i: number): number => Math.sqrt(covariance[i * size + i] as number);
  const scale = (k: number): number =>
    want.length === size ? sd(k) : sd(Math.floor(k / size)) * sd(k % size);
  return Math.max(...want.map((value, k) => Math.abs((got[k] as number) - value) / scale(k)));
}

describe.each(KINDS)('%s', (kind) => {
  const want = reference[kind];
  const fit = fitSteppedExposure(livesOf(all), stepsOf(all), { kind });

  it('has the coefficients and the log-likelihood of R', () => {
    expect(apart(Object.values(fit.coefficients), want.coefficients, want.covariance)).toBeLessThan(1e-6);
    expect(fit.logLikelihood / want.logLikelihood).toBeCloseTo(1, 11);
  });

  it('has its covariance, plain and by position', () => {
    expect(fit.robust).toBe(true);
    expect(apart(fit.plainCovariance, want.covariance, want.covariance)).toBeLessThan(BY_DIFFERENCES);
    expect(apart(fit.covariance, want.robust, want.robust)).toBeLessThan(BY_DIFFERENCES);
  });
});

describe('exponential lives', () => {
  it('are a Poisson regression of the pieces of exposure, as R glm', () => {
    const { rows, coefficients, covariance } = reference.poisson;
    const fit = fitSteppedExposure(livesOf(rows), stepsOf(rows), {
      kind: 'exponential',
      covariance: 'plain',
    });
    expect(apart(Object.values(fit.coefficients), coefficients, covariance)).toBeLessThan(1e-7);
    // glm's information is the expected one, which for a Poisson law with log link is the observed one.
    expect(apart(fit.covariance, covariance, covariance)).toBeLessThan(1e-7);
  });
});
