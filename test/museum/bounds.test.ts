/** Samples found by drawing absurd ones, on which this library itself was once wrong. */
import { describe, expect, it } from 'vitest';
import { lifeBounds } from '../../lib/life/estimate/bounds/bounds.js';
import { fitLife } from '../../lib/life/estimate/fit.js';
import { weibullDerivatives } from '../../lib/life/estimate/weibull/weibullDerivatives.js';
import { prepareRows } from '../../lib/life/estimate/weibull/weibullLikelihood.js';
import type { WeibullModel } from '../../lib/life/model.js';
import { lifeSample } from '../../lib/life/sample.js';

/** n failures evenly spread between two ages. */
function failuresBetween(low: number, high: number, n: number): number[] {
  return Array.from({ length: n }, (_, i) => low + ((high - low) * (i + 0.5)) / n);
}

describe('failures so close together that they outweigh the prior of the shape', () => {
  // The shape was cut 5 standard deviations above the median of the prior: bounds of no width.
  it('600 failures: posterior bounds are as wide as they should be', () => {
    const ages = failuresBetween(800, 900, 600);
    const fit = fitLife(lifeSample({ lower: ages, upper: ages }), { kind: 'weibull' });
    const model = fit.model as WeibullModel;
    const { low, estimate, high } = lifeBounds(fit, { of: 'shape', method: 'posterior', level: 0.9 });
    // log shape: a normal likelihood times the normal prior. The likelihood is not quite normal, by a few hundredths of its width.
    const se = fit.parameters[0]?.standardError as number;
    const precision = 1 / se ** 2 + 4;
    const centre = (Math.log(model.shape) / se ** 2 + 4 * Math.log(2)) / precision;
    const sd = 1 / Math.sqrt(precision);
    expect(Math.abs(Math.log(estimate) - centre)).toBeLessThan(0.3 * sd);
    expect(Math.log(high / low) / (2 * 1.6449 * sd)).toBeCloseTo(1, 1);
  });
});

it('a failure known only to be before an age far beyond the scale leaves nothing to gain', () => {
  // H(upper) had no room in a number, and 0 times it was no number.
  const rows = prepareRows(lifeSample({ lower: [0], upper: [1000] }));
  const { gradient, hessian } = weibullDerivatives(rows, 50, 1e-4);
  for (const slope of [...gradient, ...hessian]) expect(Math.abs(slope)).toBe(0);
});

describe.each([50, 200])('lives of shape %s and one that failed some time before a far age', (shape) => {
  // Ages over the far one, to the power of the shape, were too small for a number: no life seemed to be at risk at all.
  it.each([2, 1e3, 1e6])('fit as without it, far being %s times the scale', (far) => {
    const ages = Array.from({ length: 40 }, (_, i) => (-Math.log((i + 0.5) / 40)) ** (1 / shape));
    const alone = fitLife(lifeSample({ lower: ages, upper: ages }), { kind: 'weibull' })
      .model as WeibullModel;
    const columns = { lower: [...ages, 0], upper: [...ages, far] };
    const model = fitLife(lifeSample(columns), { kind: 'weibull' }).model as WeibullModel;
    expect(model.shape / alone.shape).toBeCloseTo(1, 9);
    expect(model.scale / alone.scale).toBeCloseTo(1, 9);
  });
});
