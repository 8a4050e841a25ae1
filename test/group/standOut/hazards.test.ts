/** Hazards by draw against the formula, at laws from known well to hardly known. */
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { groupHazards } from '../../../lib/group/standOut/hazards.js';
import type { LifeDraws } from '../../../lib/life/sampleTypes.js';
import { floatAt } from '../../../lib/numeric/columns.js';
import { randomStream } from '../../../lib/numeric/random.js';

const EARLY = { faultShape: 0.7, faultScale: 20 };

function drawsOf(rows: readonly { shape: number; scale: number; share: number }[]): LifeDraws {
  const column = (of: 'shape' | 'scale' | 'share'): Float64Array => Float64Array.from(rows, (row) => row[of]);
  return { shape: column('shape'), scale: column('scale'), share: column('share'), ...EARLY };
}

/** The formula of the head of hazards.ts. */
function hazardOf({ shape, scale, share }: { shape: number; scale: number; share: number }, age: number) {
  const faulty = 1 - Math.exp(-((age / EARLY.faultScale) ** EARLY.faultShape));
  return { wear: (age / scale) ** shape, fault: -Math.log1p(-share * faulty) };
}

describe('hazards of a group', () => {
  const law = fc.record({
    shape: fc.double({ min: 0.05, max: 50, noNaN: true }),
    scale: fc.double({ min: 30, max: 20_000, noNaN: true }),
    share: fc.double({ min: 1e-6, max: 0.6, noNaN: true }),
  });
  const span = fc.tuple(fc.integer({ min: 0, max: 400 }), fc.integer({ min: 1, max: 2000 }));

  it('are those of the formula, summed over lives', () => {
    fc.assert(
      fc.property(
        fc.array(law, { minLength: 1, maxLength: 5 }),
        fc.array(span, { minLength: 1 }),
        (laws, spans) => {
          const hazards = groupHazards({ draws: drawsOf(laws) });
          const sums = hazards.none();
          for (const [from, more] of spans) hazards.add(sums, from, from + more);
          const [wear, fault] = [hazards.wearByDraw(sums), hazards.faultByDraw(sums)];
          laws.forEach((each, d) => {
            const want = { wear: 0, fault: 0 };
            let largest = 0;
            for (const [from, more] of spans) {
              const [before, after] = [hazardOf(each, from), hazardOf(each, from + more)];
              want.wear += after.wear - before.wear;
              want.fault += after.fault - before.fault;
              largest = Math.max(largest, after.wear);
            }
            expect(Math.abs(floatAt(wear, d) - want.wear)).toBeLessThanOrEqual(
              1e-11 * spans.length * largest,
            );
            // 60 terms of shares up to 0.6 leave less than 1e-9 a life.
            expect(Math.abs(floatAt(fault, d) - want.fault)).toBeLessThan(2e-9 * spans.length);
          });
        },
      ),
      { seed: 5, numRuns: 200 },
    );
  });

  it('mean over the draws is that of the columns', () => {
    const laws = [
      { shape: 2.8, scale: 900, share: 0.02 },
      { shape: 1.9, scale: 1300, share: 0.04 },
    ];
    const hazards = groupHazards({ draws: drawsOf(laws) });
    for (const age of [0.5, 60, 365, 1500]) {
      const all = laws.map((each) => hazardOf(each, age));
      expect(hazards.meanWear(age) / ((all[0]?.wear ?? 0) / 2 + (all[1]?.wear ?? 0) / 2)).toBeCloseTo(1, 12);
      expect(hazards.meanFault(age) / ((all[0]?.fault ?? 0) / 2 + (all[1]?.fault ?? 0) / 2)).toBeCloseTo(
        1,
        8,
      );
    }
    expect(hazards.meanWear(0)).toBe(0);
  });

  it('know as many leaks as the draws were made from', () => {
    // Given the shape, (1 / scale)^shape of n leaks is a gamma variable of shape n; so is a share of few faulty fittings.
    const random = randomStream(17, 'known');
    const gamma = (n: number): number => {
      let total = 0;
      for (let i = 0; i < n; i++) total -= Math.log(random.uniform());
      return total / n;
    };
    const laws = Array.from({ length: 100 }, () => {
      const shape = 2 + 0.3 * random.normal();
      return { shape, scale: 365.25 * gamma(25) ** (-1 / shape), share: 0.02 * gamma(9) };
    });
    const { covariance, shape, faultKnown } = groupHazards({ draws: drawsOf(laws) });
    // Variances from 100 draws are good to a seventh (standard error sqrt(2 / 100)); the log of a gamma of shape n varies by about 1 / (n - 0.5).
    const room = 4 * Math.sqrt(2 / 100);
    expect(Math.abs(Math.log(covariance[0] * 24.5))).toBeLessThan(room);
    expect(Math.abs(Math.log(covariance[2] / 0.09))).toBeLessThan(room);
    expect(Math.abs(shape - 2)).toBeLessThan(4 * 0.03);
    expect(Math.abs(Math.log(faultKnown / 8.5))).toBeLessThan(room);
  });

  it('has the moments of the mean law', () => {
    const laws = [
      { shape: 2, scale: 900, share: 0.02 },
      { shape: 3, scale: 900, share: 0.02 },
    ];
    // Level at one year: the mean of shape times log(year / scale).
    const u = Math.log(700 / 365.25);
    const hazard = Math.exp(2.5 * Math.log(365.25 / 900) + 2.5 * u);
    const got = groupHazards({ draws: drawsOf(laws) }).moments(700);
    [hazard, hazard * u, hazard * u * u].forEach((want, j) => {
      expect((got[j] as number) / want).toBeCloseTo(1, 12);
    });
  });
});
