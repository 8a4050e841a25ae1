/** Regressions of log age against R survreg, and against R optim where entry is delayed (regression.R). */
import { describe, expect, it } from 'vitest';
import { fitRegression } from '../../../../lib/life/estimate/regression/fitRegression.js';
import { predictLife } from '../../../../lib/life/estimate/regression/predictLife.js';
import { regressionTest } from '../../../../lib/life/estimate/regression/regressionTest.js';
import type {
  Covariates,
  RegressionFit,
  RegressionOptions,
} from '../../../../lib/life/estimate/regression/types.js';
import { lifeSample } from '../../../../lib/life/sample.js';
import reference from './regression.json' with { type: 'json' };

interface Case {
  kind: RegressionOptions['kind'];
  lower: number[];
  /** null where a life was still sound. */
  upper: (number | null)[];
  entry: number[];
  count: number[];
  cluster?: number[];
  covariates: Covariates;
  options: Omit<RegressionOptions, 'kind'>;
  coefficients: number[];
  covariance: number[];
  logLikelihood: number;
}

const cases = reference.cases as unknown as Record<string, Case>;
/** R stops its search when the log-likelihood changes by less than 1e-13 of itself, and covariances then agree to 1e-8. */
const COEFFICIENT = 1e-6;
/** optim's curvature is by differences of the gradient. */
const BY_DIFFERENCES = 1e-5;

function fitOf({ lower, upper, entry, count, cluster, covariates, kind, options }: Case): RegressionFit {
  const sample = lifeSample({
    lower,
    upper: upper.map((age) => age ?? Infinity),
    entry,
    count,
    ...(cluster && { cluster }),
  });
  return fitRegression(sample, covariates, { kind, ...options });
}

/** Largest difference, relative to the standard errors that belong to it. */
function apart(got: readonly number[], want: readonly number[]): number {
  const size = Math.sqrt(want.length);
  const sd = (i: number): number => Math.sqrt(want[i * size + i] as number);
  return Math.max(
    ...want.map((value, k) => {
      const scale = sd(Math.floor(k / size)) * sd(k % size);
      return Math.abs((got[k] as number) - value) / scale;
    }),
  );
}

describe.each(Object.keys(cases))('%s', (name) => {
  const data = cases[name] as Case;
  const fit = fitOf(data);
  const size = data.coefficients.length;

  it('has the coefficients of R', () => {
    const got = Object.values(fit.coefficients);
    expect(got).toHaveLength(size);
    data.coefficients.forEach((value, j) => {
      const error = Math.sqrt(data.covariance[j * size + j] as number);
      // Relative to the value, or to a thousandth of its standard error where the value is next to 0.
      const scale = Math.max(Math.abs(value), 1e-3 * error);
      expect(Math.abs((got[j] as number) - value) / scale).toBeLessThan(COEFFICIENT);
    });
  });

  it('has the covariance of R, robust where positions have several lives', () => {
    expect(fit.robust).toBe(data.cluster !== undefined);
    const tolerance = name.startsWith('late') ? BY_DIFFERENCES : COEFFICIENT;
    expect(apart(fit.covariance, data.covariance)).toBeLessThan(tolerance);
    Object.values(fit.standardErrors).forEach((error, j) => {
      expect(error / Math.sqrt(data.covariance[j * size + j] as number)).toBeCloseTo(1, 5);
    });
  });

  it('has the log-likelihood of R', () => {
    expect(Math.abs(fit.logLikelihood / data.logLikelihood - 1)).toBeLessThan(1e-9);
    expect(fit.aic).toBeCloseTo(2 * size - 2 * data.logLikelihood, 5);
    expect(fit.converged).toBe(true);
  });
});

describe('names', () => {
  it('are those of the covariates, levels in sorted order without the first, and spreads last', () => {
    const names = (name: string): string[] => Object.keys(fitOf(cases[name] as Case).coefficients);
    expect(names('lungInteraction')).toEqual([
      'intercept',
      'age',
      'sex=male',
      'ph.ecog',
      'age:sex=male',
      'logSigma',
    ]);
    expect(names('diabeticRobust').slice(-2)).toEqual(['logSigma:laser=argon', 'logSigma:laser=xenon']);
    expect(names('ovarianExponential')).toEqual(['intercept', 'age', 'rx']);
  });
});

describe('beyond the coefficients', () => {
  const data = cases.lungWeibull as Case;
  const { beyond } = reference;

  it('quantiles and their bounds as R predict', () => {
    const at = { age: 60, sex: 'male', 'ph.ecog': 1 };
    const { quantiles } = predictLife(fitOf(data), at, { quantiles: beyond.p, level: 0.9 });
    beyond.p.forEach((_, i) => {
      expect((quantiles.age[i] as number) / (beyond.age[i] as number)).toBeCloseTo(1, 7);
      expect((quantiles.low[i] as number) / (beyond.low[i] as number)).toBeCloseTo(1, 7);
      expect((quantiles.high[i] as number) / (beyond.high[i] as number)).toBeCloseTo(1, 7);
    });
  });

  it('likelihood-ratio test as R anova', () => {
    const { age, sex } = data.covariates as Record<string, string[]>;
    const less = fitOf({ ...data, covariates: { age, sex } as unknown as Covariates });
    const test = regressionTest(fitOf(data), less);
    expect(test.statistic).toBeCloseTo(beyond.statistic, 7);
    expect(test.df).toBe(beyond.df);
    expect(test.pValue / beyond.pValue).toBeCloseTo(1, 6);
  });
});
