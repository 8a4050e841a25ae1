/** Renewal function against published.json (E4, E5, E8) and, by another road, the power series in 300 digits (renewalSeries.py). */
import { describe, expect, it } from 'vitest';
import { renewalCount, renewalFunction } from '../../../lib/life/renewal.js';
import { gammaCdf, gammaQuantile, logGamma } from '../../../lib/numeric/special.js';
import cases from './published.json' with { type: 'json' };
import series from './renewalSeries.json' with { type: 'json' };
import { apart } from './samples.js';

describe('renewalCount', () => {
  it('E4: Weibull lives', () => {
    for (const { shape, t, M } of cases.E4.expected.rows) {
      expect(apart(renewalCount({ kind: 'weibull', shape, scale: 1 }, t), M)).toBeLessThan(1e-9);
    }
  });

  it('E5: Weibull lives with mean one', () => {
    for (const { shape, meanOneTime, M } of cases.E5.expected.rows) {
      const scale = Math.exp(-logGamma(1 + 1 / shape));
      expect(apart(renewalCount({ kind: 'weibull', shape, scale }, meanOneTime), M)).toBeLessThan(1e-9);
    }
  });

  it('E8: closed forms', () => {
    const gamma2 = {
      failed: (t: number) => gammaCdf(t, 2),
      density: (t: number) => t * Math.exp(-t),
      quantile: (p: number) => gammaQuantile(p, 2),
      mean: 2,
      variance: 2,
    };
    for (const { t, M } of cases.E8.expected.gamma2)
      expect(apart(renewalFunction(gamma2, t), M)).toBeLessThan(1e-11);
    const uniform = {
      failed: (t: number) => Math.min(1, t),
      density: (t: number) => (t <= 1 ? 1 : 0),
      quantile: (p: number) => p,
      mean: 0.5,
      variance: 1 / 12,
      turns: [1],
    };
    for (const { t, M } of cases.E8.expected.uniform)
      expect(apart(renewalFunction(uniform, t), M)).toBeLessThan(1e-11);
    expect(renewalCount({ kind: 'exponential', scale: 4 }, 10)).toBe(2.5);
  });

  it('keeps to the power series, shape 0.5 included', () => {
    for (const { shape, t, M } of series) {
      expect(apart(renewalCount({ kind: 'weibull', shape, scale: 1 }, t), M)).toBeLessThan(1e-8);
    }
  });

  it('long after is the straight line t / mean + (variance / mean² - 1) / 2', () => {
    const model = { kind: 'lognormal', mu: 0, sigma: 0.5 } as const;
    const square = Math.exp(0.25) - 1;
    expect(apart(renewalCount(model, 1e4), 1e4 / Math.exp(0.125) + (square - 1) / 2)).toBeLessThan(1e-9);
  });
});
