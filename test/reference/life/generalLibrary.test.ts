/**
 * Survival, density, quantile and mean against a general-purpose statistics library (jStat), at ordinary points where it
 * is good (its gamma function, and so its mean, to 3e-9 only). Fragile points are held against R elsewhere: jStat is not exact there.
 */
import jStat from 'jstat';
import { describe, expect, it } from 'vitest';
import { density, meanLife, quantile, survival } from '../../../lib/life/distribution/index.js';

const CASES = [
  { shape: 0.8, scale: 400 },
  { shape: 1, scale: 730 },
  { shape: 2.2, scale: 900 },
  { shape: 4.5, scale: 1500 },
];
const SHARES = [0.05, 0.1, 0.5, 0.632, 0.9];

function relative(ours: number, theirs: number): number {
  return Math.abs(ours / theirs - 1);
}

describe.each(CASES)('Weibull $shape / $scale', ({ shape, scale }) => {
  const model = { kind: 'weibull', shape, scale } as const;

  it.each(SHARES)('agrees where a share of %d has leaked', (share) => {
    const age = quantile(model, share);
    expect(relative(age, jStat.weibull.inv(share, scale, shape))).toBeLessThan(1e-12);
    expect(relative(1 - survival(model, age), jStat.weibull.cdf(age, scale, shape))).toBeLessThan(1e-12);
    expect(relative(density(model, age), jStat.weibull.pdf(age, scale, shape))).toBeLessThan(1e-12);
  });

  it('has the same mean', () => {
    expect(relative(meanLife(model), jStat.weibull.mean(scale, shape))).toBeLessThan(3e-9);
  });
});
