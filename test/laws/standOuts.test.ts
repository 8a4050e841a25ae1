/** Laws of what stands out: chances, ratios and their spread, whatever the counts. */
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { averagedTail, poissonTail, smallestEffect } from '../../lib/group/standOut/chance.js';
import { shrunkenRatio, spreadOfRatios } from '../../lib/group/standOut/spreadOfRatios.js';
import { poissonPmf } from '../../lib/numeric/counts.js';

const leaks = fc.integer({ min: 0, max: 400 });
const expected = fc.double({ min: 1e-9, max: 400, noNaN: true });
const SEED = { seed: 29, numRuns: 300 };

describe('chance of so many leaks or more', () => {
  it('loses the chance of exactly so many with each leak more', () => {
    fc.assert(
      fc.property(leaks, expected, (n, mean) => {
        const [here, next] = [poissonTail(n, mean), poissonTail(n + 1, mean)];
        expect(next).toBeLessThanOrEqual(here);
        expect(Math.abs(here - next - poissonPmf(n, mean))).toBeLessThan(1e-11);
      }),
      SEED,
    );
  });

  it('rises with what is expected, and lies between its ends where draws differ', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 3, max: 60 }),
        fc.array(expected, { minLength: 1, maxLength: 20 }),
        (n, draws) => {
          const p = averagedTail(n, Float64Array.from(draws));
          const slack = 1 + 1e-9;
          expect(p).toBeGreaterThanOrEqual(poissonTail(n, Math.min(...draws)) / slack);
          expect(p).toBeLessThanOrEqual(Math.min(1, poissonTail(n, Math.max(...draws)) * slack));
        },
      ),
      SEED,
    );
  });
});

describe('the smallest effect', () => {
  it('is larger among more that are tested, and smaller where more is expected', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-3, max: 50, noNaN: true }),
        fc.integer({ min: 1, max: 5000 }),
        (mean, tested) => {
          const { leaks: needed, times } = smallestEffect(mean, tested, 0.1);
          expect(needed).toBeGreaterThanOrEqual(3);
          expect(times).toBeGreaterThan(1);
          expect(smallestEffect(mean, 10 * tested, 0.1).times).toBeGreaterThanOrEqual(times);
          // Leaks come whole: doubled expectation may need the same number by luck, never a larger ratio.
          expect(smallestEffect(2 * mean, tested, 0.1).times).toBeLessThan(times);
        },
      ),
      SEED,
    );
  });
});

describe('shrunken ratios', () => {
  const k = fc.double({ min: 0.05, max: 400, noNaN: true });

  it('lie between 1 and the ratio itself, within their bounds but for the rarest', () => {
    fc.assert(
      fc.property(leaks, expected, k, (n, mean, weight) => {
        const { estimate, low, high } = shrunkenRatio(n, mean, weight);
        const plain = n / mean;
        expect(estimate).toBeGreaterThanOrEqual(Math.min(1, plain) * (1 - 1e-12));
        expect(estimate).toBeLessThanOrEqual(Math.max(1, plain) * (1 + 1e-12));
        expect(low).toBeLessThan(high);
        expect(low).toBeLessThan(estimate);
        // A gamma mean lies above the ninth tenth only where its shape is under a quarter.
        if (n + weight > 0.25) expect(high).toBeGreaterThan(estimate);
      }),
      SEED,
    );
  });

  it('have a spread that does not hang on the order of units, and none where leaks are as expected', () => {
    const rows = fc.array(
      fc.tuple(fc.integer({ min: 0, max: 20 }), fc.double({ min: 0.1, max: 10, noNaN: true })),
      {
        minLength: 2,
        maxLength: 30,
      },
    );
    fc.assert(
      fc.property(rows, (units) => {
        const of = (list: typeof units): number =>
          spreadOfRatios(
            Float64Array.from(list, ([n]) => n),
            Float64Array.from(list, ([, mean]) => mean),
          );
        const both = [of(units), of([...units].reverse())] as const;
        // The search ends at 1e-4 of log k; where the likelihood is flat it may end earlier on rounding.
        expect(Math.abs(Math.log(both[0] / both[1]))).toBeLessThan(0.02);
      }),
      SEED,
    );
    const even = Float64Array.from({ length: 40 }, () => 3);
    expect(spreadOfRatios(even, even)).toBeGreaterThan(390);
  });
});
