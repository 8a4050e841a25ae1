/** Early leaks of one age: the law of fitting faults shrank onto it, and what was reported was wherever the search stood then. */
import { expect, it } from 'vitest';
import { quantile } from '../../lib/life/distribution/functions.js';
import { fitFittingFaults } from '../../lib/life/modes/fitFittingFaults.js';
import { lifeSample } from '../../lib/life/sample.js';

// Was an early law of shape 60 with a log-likelihood 22 too high to be one, and another of them where each life is counted twice;
// in other samples a log-likelihood of -Infinity.
it('five leaks at exactly 6.25 days beside wear-out: the early law is held, and said to be', () => {
  const wear = { kind: 'weibull', shape: 2.5, scale: 900 } as const;
  const leaked = Array.from({ length: 40 }, (_, i) => quantile(wear, (i + 0.5) / 40));
  const sample = lifeSample({
    lower: [...leaked, 6.25, 500],
    upper: [...leaked, 6.25, Infinity],
    count: [...leaked.map(() => 1), 5, 30],
  });
  const fit = fitFittingFaults(sample);
  expect(fit.model.fault).toMatchObject({ shape: 0.8, scale: 10 });
  expect(fit.model.fault?.share).toBeGreaterThan(0.05);
  expect(fit.model.fault?.share).toBeLessThan(0.08);
  expect(fit.identified).toBe(true);
  expect(fit.converged).toBe(true);
  expect(fit.warnings.map(({ code }) => code)).toEqual(['fault-share-estimated', 'fault-law-held']);
  const twice = fitFittingFaults({ ...sample, count: sample.count.map((count) => 2 * count) });
  expect(twice.logLikelihood / fit.logLikelihood).toBeCloseTo(2, 9);
  fit.parameters.forEach(({ estimate }, i) => {
    expect(twice.parameters[i]?.estimate).toBeCloseTo(estimate, 6);
  });
});
