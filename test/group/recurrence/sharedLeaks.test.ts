/** The law of a part's leaks against sums over all its terms, and what holds for any numbers. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type SharedLeaks, sharedTails, timesAsOften } from '../../../lib/group/recurrence/sharedLeaks.js';
import { betaCdf, logGamma } from '../../../lib/numeric/special.js';

/** Every term by logarithms of gamma functions. */
function slowTails(
  own: number,
  { leaks, share, dispersion }: SharedLeaks,
): { atLeast: number; atMost: number } {
  const rho = leaks > 1 ? (dispersion - 1) / (leaks - 1) : 0;
  const size = 1 / rho - 1;
  const [a, b] = [size * share, size * (1 - share)];
  const beta = (x: number, y: number): number => logGamma(x) + logGamma(y) - logGamma(x + y);
  const chance = (k: number): number => {
    const ways = -Math.log(leaks + 1) - beta(k + 1, leaks - k + 1);
    const log =
      rho > 0
        ? beta(a + k, b + leaks - k) - beta(a, b)
        : k * Math.log(share) + (leaks - k) * Math.log(1 - share);
    return Math.exp(ways + log);
  };
  const terms = Array.from({ length: leaks + 1 }, (_, k) => chance(k));
  const sum = (from: number, to: number): number => terms.slice(from, to).reduce((x, y) => x + y, 0);
  return { atLeast: sum(own, leaks + 1), atMost: sum(0, own + 1) };
}

const laws = fc
  .record({
    leaks: fc.integer({ min: 1, max: 300 }),
    share: fc.double({ min: 0.001, max: 0.999, noNaN: true }),
    // A beta-binomial share can scatter no more than all leaks together.
    together: fc.constantFrom(0, 0.001, 0.05, 0.5),
    part: fc.double({ min: 0, max: 1, noNaN: true }),
  })
  .map(({ leaks, share, together, part }) => ({
    law: { leaks, share, dispersion: 1 + together * (leaks - 1) },
    own: Math.round(part * leaks),
  }));

describe('sharedTails', () => {
  it('are sums of binomial or beta-binomial chances', () => {
    fc.assert(
      fc.property(laws, ({ law, own }) => {
        const [quick, slow] = [sharedTails(own, law), slowTails(own, law)];
        // Logarithms of gamma functions of 1e5 leave 1e-10 of a term.
        expect(Math.abs(quick.atLeast - slow.atLeast)).toBeLessThan(1e-8);
        expect(Math.abs(quick.atMost - slow.atMost)).toBeLessThan(1e-8);
      }),
      { seed: 71_001, numRuns: 300 },
    );
  });

  it('keep their digits far out: 40 of 40 leaks on a tenth of the plant', () => {
    const { atLeast } = sharedTails(40, { leaks: 40, share: 0.1, dispersion: 1 });
    expect(atLeast / 1e-40).toBeCloseTo(1, 9);
  });
});

describe('timesAsOften', () => {
  it('has the bounds of Clopper and Pearson where leaks are independent', () => {
    const { estimate, low, high } = timesAsOften(7, { leaks: 20, share: 0.2, dispersion: 1 }, 0.9);
    expect(estimate).toBeCloseTo((7 / 13) * 4, 12);
    // At these ratios the share is that of the bounds of 7 in 20, by the incomplete beta function.
    const shareAt = (times: number): number => (0.2 * times) / (0.2 * times + 0.8);
    expect(betaCdf(shareAt(low), 7, 14)).toBeCloseTo(0.05, 7);
    expect(betaCdf(shareAt(high as number), 8, 13)).toBeCloseTo(0.95, 7);
  });

  it('holds the estimate between its bounds; no leak has a low bound of 0, no leak elsewhere no high one', () => {
    fc.assert(
      fc.property(laws, ({ law, own }) => {
        const { estimate, low, high } = timesAsOften(own, law, 0.9);
        expect(low === 0).toBe(own === 0);
        expect(high === null).toBe(own === law.leaks);
        expect(low).toBeGreaterThanOrEqual(0);
        if (estimate !== null && law.dispersion === 1) {
          expect(estimate).toBeGreaterThanOrEqual(low);
          expect(estimate).toBeLessThanOrEqual(high as number);
        }
      }),
      { seed: 71_002, numRuns: 200 },
    );
  });
});
