import { describe, expect, it } from 'vitest';
import { compoundLaw } from '../../lib/demand/compoundLaw.js';
import { compoundPoisson } from '../../lib/demand/jobs.js';
import { convolve } from '../../lib/numeric/convolve.js';
import { negativeBinomialPmf, poissonPmf } from '../../lib/numeric/special.js';

describe('pieces of jobs', () => {
  it.each([0.001, 1, 30, 700, 5000])('jobs of one piece at a mean of %d are Poisson', (jobs) => {
    const law = compoundLaw({ jobs, sizes: [0, 1] });
    law.forEach((chance, k) => {
      const expected = poissonPmf(k, jobs);
      // Rounding adds up along the recursion.
      expect(Math.abs(chance - expected)).toBeLessThan(1e-12 * expected + 1e-22);
    });
  });
  it.each([
    [3, 12],
    [0.2, 5],
    [2000, 9000],
  ])('a negative binomial number of single pieces, mean %d and variance %d', (jobs, jobsVariance) => {
    const law = compoundLaw({ jobs, jobsVariance, sizes: [0, 1] });
    law.forEach((chance, k) => {
      const expected = negativeBinomialPmf(k, jobs, jobsVariance);
      expect(Math.abs(chance - expected)).toBeLessThan(1e-11 * expected + 1e-22);
    });
  });
  it('agrees with the recursion for few jobs, and adds up over independent parts', () => {
    const sizes = [0.1, 0.4, 0, 0.3, 0.2];
    const law = compoundLaw({ jobs: 6, sizes });
    compoundPoisson(6, sizes).forEach((chance, k) => {
      expect(Math.abs((law[k] ?? 0) - chance)).toBeLessThan(1e-15);
    });
    const two = convolve(compoundLaw({ jobs: 2, sizes }), compoundLaw({ jobs: 4, sizes }));
    law.forEach((chance, k) => {
      expect(Math.abs(chance - (two[k] ?? 0))).toBeLessThan(1e-15);
    });
  });
  it('keeps mean and variance where the chance of no job is too small for a number', () => {
    const law = compoundLaw({ jobs: 4000, jobsVariance: 9000, sizes: [0, 0, 0.5, 0, 0, 0.5] });
    let [total, mean, square] = [0, 0, 0];
    law.forEach((chance, k) => {
      total += chance;
      mean += k * chance;
      square += (k - 14_000) ** 2 * chance;
    });
    expect(total).toBeCloseTo(1, 12);
    expect(mean / 14_000).toBeCloseTo(1, 10);
    // jobs x variance of a size + variance of jobs x mean size squared
    expect(square / (4000 * 2.25 + 9000 * 12.25)).toBeCloseTo(1, 9);
  });
  it('is certain without jobs', () => {
    expect(compoundLaw({ jobs: 0, sizes: [0, 1] })[0]).toBe(1);
  });
});
