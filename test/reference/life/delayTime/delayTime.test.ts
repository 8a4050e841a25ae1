/** Damage first, then a leak: fit and bounds against direct maximisation by R with quadrature (delayTime.R). */
import { describe, expect, it } from 'vitest';
import type { DelayTimeRow } from '../../../../lib/life/estimate/delayTime.js';
import { delayTimeBounds, fitDelayTime } from '../../../../lib/life/modes/fitDelayTime.js';
import values from './delayTime.json' with { type: 'json' };

const { state, age, entry, parameters, standardErrors, logLikelihood, low, high } = values;
const rows = state.map((one, i) => ({ state: one, age: age[i], entry: entry[i] }) as DelayTimeRow);

describe('fitDelayTime', () => {
  const fit = fitDelayTime(rows);

  // Damage is taken as spread evenly over each of 1 000 steps, R integrates: 3e-6 of the density, which moves little else.
  it('parameters, standard errors and likelihood', () => {
    fit.parameters.forEach(({ estimate, standardError }, i) => {
      expect(Math.abs(estimate - (parameters[i] as number))).toBeLessThan(2e-5);
      expect(Math.abs(standardError / (standardErrors[i] as number) - 1)).toBeLessThan(1e-4);
    });
    expect(Math.abs(fit.logLikelihood - logLikelihood)).toBeLessThan(1e-4);
  });

  it('profile-likelihood bounds', () => {
    const { shape, scale, delay } = delayTimeBounds(fit);
    [shape, scale, delay].forEach((bounds, i) => {
      expect(Math.abs(Math.log(bounds.low) - (low[i] as number))).toBeLessThan(1e-4);
      expect(Math.abs(Math.log(bounds.high) - (high[i] as number))).toBeLessThan(1e-4);
    });
  });
});
