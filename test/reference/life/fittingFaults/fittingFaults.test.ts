/** Expectation and maximisation of fitting faults against direct maximisation by R (fittingFaults.R). */
import { describe, expect, it } from 'vitest';
import { fitFittingFaults } from '../../../../lib/life/modes/fitFittingFaults.js';
import { lifeSample } from '../../../../lib/life/sample.js';
import cases from './fittingFaults.json' with { type: 'json' };

describe.each(['estimated', 'prior'] as const)('%s', (name) => {
  const { lower, upper, entry, count, parameters, standardErrors, logLikelihood } = cases[name];
  const sample = lifeSample({ lower, upper: upper.map((t) => t ?? Infinity), entry, count });
  const fit = fitFittingFaults(sample);

  // Both end with Newton steps by differences; standard errors come from second differences.
  it('parameters, standard errors and likelihood', () => {
    expect(fit.converged).toBe(true);
    expect(fit.identified).toBe(name === 'estimated');
    expect(fit.parameters).toHaveLength(parameters.length);
    fit.parameters.forEach(({ estimate, standardError }, i) => {
      expect(Math.abs(estimate - (parameters[i] as number))).toBeLessThan(1e-6);
      expect(Math.abs(standardError / (standardErrors[i] as number) - 1)).toBeLessThan(1e-5);
    });
    expect(Math.abs(fit.logLikelihood - logLikelihood)).toBeLessThan(1e-8);
  });

  it('the rounds alone come close, and never lower the likelihood', () => {
    const last = fit.trace[fit.trace.length - 1] as number;
    const share = Math.log(fit.model.fault?.share as number);
    const penalty = name === 'prior' ? 0.5 * ((share - Math.log(0.01)) / 0.9375) ** 2 : 0;
    expect(Math.abs(last - (fit.logLikelihood - penalty))).toBeLessThan(1e-5);
    expect(last).toBeGreaterThan((fit.trace[0] as number) + 1e-3);
    for (let i = 1; i < fit.trace.length; i++) {
      expect(fit.trace[i] as number).toBeGreaterThan((fit.trace[i - 1] as number) - 1e-9);
    }
  });
});
