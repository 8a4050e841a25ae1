/**
 * Gamma, generalised gamma, failure-free and two-part fits, and delayed entry with every family, against scipy (likelihood.json, computed by
 * likelihood.py beside this file: its own likelihood, another search, derivatives by differences of another order).
 */
import { describe, expect, it } from 'vitest';
import { fitLife } from '../../../../lib/life/estimate/fit.js';
import type { LifeFit } from '../../../../lib/life/estimate/fitTypes.js';
import { fitMixture, type MixtureFit } from '../../../../lib/life/estimate/mixture/fitMixture.js';
import type { FittedKind } from '../../../../lib/life/model.js';
import { lifeSample } from '../../../../lib/life/sample.js';
import { apart } from '../samples.js';
import cases from './likelihood.json' with { type: 'json' };

interface Case {
  kind: string;
  rows: (number | null)[][];
  parameters: number[];
  covariance: number[];
  logLikelihood: number;
}

function fitOf({ kind, rows }: Case): LifeFit | MixtureFit {
  const column = (k: number): number[] => rows.map((row) => row[k] ?? Infinity);
  const sample = lifeSample({ lower: column(0), upper: column(1), entry: column(2), count: column(3) });
  if (kind === 'mixture') return fitMixture(sample);
  if (kind === 'weibullAfter') return fitLife(sample, { kind: 'weibull', failureFree: 'estimate' });
  return fitLife(sample, { kind: kind as FittedKind });
}

describe.each(Object.entries(cases as Record<string, Case>))('%s', (_, data) => {
  const fit = fitOf(data);
  const size = data.parameters.length;
  const se = (i: number): number => Math.sqrt(data.covariance[i * (size + 1)] as number);

  it('parameters, of a standard error, and log likelihood', () => {
    expect(fit.parameters).toHaveLength(size);
    fit.parameters.forEach(({ estimate }, i) => {
      expect(Math.abs(estimate - (data.parameters[i] as number)) / se(i)).toBeLessThan(1e-6);
    });
    expect(apart(fit.logLikelihood, data.logLikelihood)).toBeLessThan(1e-9);
  });

  it('covariance, of two standard errors', () => {
    // Both sides are differences of log likelihoods, good to about 1e-7 here.
    fit.covariance.forEach((value, k) => {
      const unit = se(Math.floor(k / size)) * se(k % size);
      expect(Math.abs(value - (data.covariance[k] as number)) / unit).toBeLessThan(1e-6);
    });
  });
});
