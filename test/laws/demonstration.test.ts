/** Laws of demonstration tests and of a constant rate with a gamma prior, over all inputs. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  exponentialTestFactor,
  livesToDemonstrate,
  missionsToTest,
} from '../../lib/life/estimate/demonstration.js';
import {
  chanceMeanLifeAbove,
  type GammaRate,
  gammaRateAfter,
  gammaTestLength,
  meanLifeBelief,
} from '../../lib/life/estimate/gammaRate.js';
import { betaCdf } from '../../lib/numeric/special.js';

const RUNS = { numRuns: 300, seed: 20_271, endOnFailure: true };
const share = (min: number, max: number): fc.Arbitrary<number> =>
  fc.double({ min, max, noNaN: true, minExcluded: true, maxExcluded: true });
/** Even on the log axis. */
const size = (min: number, max: number): fc.Arbitrary<number> =>
  fc.double({ min: Math.log(min), max: Math.log(max), noNaN: true }).map(Math.exp);
const failures = fc.integer({ min: 0, max: 30 });
const near = (got: number, want: number, relative: number): void =>
  expect(Math.abs(got - want)).toBeLessThanOrEqual(relative * Math.abs(want));

describe('demonstration tests', () => {
  it('the factor of test time grows with failures allowed and with certainty, and is the chance it says', () => {
    fc.assert(
      fc.property(failures, share(1e-6, 0.999999), share(1e-6, 0.999999), (r, one, other) => {
        const [low, high] = [Math.min(one, other), Math.max(one, other)];
        const factor = exponentialTestFactor(r, low);
        expect(factor).toBeLessThanOrEqual(exponentialTestFactor(r, high));
        expect(factor).toBeLessThan(exponentialTestFactor(r + 1, low));
        // More than r events of mean `factor` come with chance `low`: by the Poisson sum.
        let [term, upTo] = [Math.exp(-factor), 0];
        for (let k = 0; k <= r; k++) {
          upTo += term;
          term *= factor / (k + 1);
        }
        expect(Math.abs(1 - upTo - low)).toBeLessThan(1e-10);
      }),
      RUNS,
    );
  });

  it('is the least number of lives that shows the share, and more for a harder demand', () => {
    fc.assert(
      fc.property(share(0.01, 0.9999), share(0.01, 0.9999), failures, (survival, level, r) => {
        const demand = { survival, level, failures: r };
        const n = livesToDemonstrate(demand);
        const atMost = (lives: number): number => betaCdf(survival, lives - r, r + 1);
        expect(n).toBeGreaterThan(r);
        expect(atMost(n)).toBeLessThanOrEqual((1 - level) * (1 + 1e-9));
        if (n > r + 1) expect(atMost(n - 1)).toBeGreaterThan((1 - level) * (1 - 1e-9));
        expect(livesToDemonstrate({ ...demand, failures: r + 1 })).toBeGreaterThan(n);
        expect(livesToDemonstrate({ ...demand, level: 0.5 * (1 + level) })).toBeGreaterThanOrEqual(n);
        expect(livesToDemonstrate({ ...demand, survival: 0.5 * (1 + survival) })).toBeGreaterThanOrEqual(n);
      }),
      RUNS,
    );
  });

  it('lives are paid for with missions: one mission is what the least number needs, and the shape says how dearly', () => {
    fc.assert(
      fc.property(
        share(0.05, 0.999),
        share(0.05, 0.999),
        fc.integer({ min: 0, max: 10 }),
        size(0.3, 20),
        fc.integer({ min: 1, max: 200 }),
        (survival, level, r, shape, more) => {
          const demand = { survival, level, failures: r, shape };
          const n = livesToDemonstrate(demand);
          expect(missionsToTest({ ...demand, lives: n })).toBeLessThanOrEqual(1 + 1e-9);
          if (n > r + 1) expect(missionsToTest({ ...demand, lives: n - 1 })).toBeGreaterThan(1 - 1e-9);
          const lives = r + more;
          const missions = missionsToTest({ ...demand, lives });
          expect(missions).toBeGreaterThan(missionsToTest({ ...demand, lives: lives + 1 }));
          expect(missions).toBeLessThan(
            missionsToTest({ ...demand, failures: r + 1, lives: lives + 1 }) + 1e-300,
          );
          // Twice the shape is the square root.
          near(missionsToTest({ ...demand, lives, shape: 2 * shape }), Math.sqrt(missions), 1e-12);
          // Without failures: n x^shape log(survival) = log(1 - level).
          const alone = missionsToTest({ ...demand, failures: 0, lives });
          near(lives * alone ** shape * Math.log(survival), Math.log1p(-level), 1e-9);
        },
      ),
      RUNS,
    );
  });
});

describe('a gamma belief about a rate', () => {
  const belief: fc.Arbitrary<GammaRate> = fc.record({ shape: size(0.05, 500), time: size(1e-6, 1e9) });
  const level = share(0.01, 0.999);

  it('learns the same at once and in parts, and counts in any unit', () => {
    fc.assert(
      fc.property(
        belief,
        failures,
        failures,
        size(1e-6, 1e9),
        size(1e-6, 1e9),
        level,
        (prior, a, b, s, t, c) => {
          const once = gammaRateAfter(prior, { totalTime: s + t, failures: a + b });
          const first = gammaRateAfter(prior, { totalTime: s, failures: a });
          const parts = gammaRateAfter(first, { totalTime: t, failures: b });
          near(parts.shape, once.shape, 1e-14);
          near(parts.time, once.time, 1e-14);
          expect(gammaRateAfter(prior, { totalTime: 0, failures: 0 })).toEqual(prior);
          const lives = meanLifeBelief(prior, { level: c });
          const inHours = meanLifeBelief({ ...prior, time: 24 * prior.time }, { level: c });
          for (const key of ['median', 'low', 'high', 'reciprocalMeanRate'] as const) {
            near(inHours[key], 24 * lives[key], 1e-12);
          }
        },
      ),
      RUNS,
    );
  });

  it('has the chance between its bounds that it says, one-sided ones at the ends of wider two-sided ones', () => {
    fc.assert(
      fc.property(fc.record({ shape: size(0.5, 500), time: size(1e-6, 1e9) }), level, (one, c) => {
        const { low, median, high } = meanLifeBelief(one, { level: c });
        expect(low).toBeLessThan(median);
        expect(median).toBeLessThan(high);
        const above = (life: number): number => chanceMeanLifeAbove(one, life);
        expect(Math.abs(above(low) - above(high) - c)).toBeLessThan(1e-10);
        expect(Math.abs(above(median) - 0.5)).toBeLessThan(1e-10);
        const lower = meanLifeBelief(one, { level: 0.5 + c / 2, side: 'lower' });
        const upper = meanLifeBelief(one, { level: 0.5 + c / 2, side: 'upper' });
        expect([lower.high, upper.low]).toEqual([Infinity, 0]);
        near(lower.low, low, 1e-9);
        near(upper.high, high, 1e-9);
      }),
      RUNS,
    );
  });

  it('is the longer sure of a life the shorter it is, and more failures take from it, more time adds', () => {
    fc.assert(
      fc.property(belief, size(1e-3, 1e3), size(1, 1e3), (one, ratio, more) => {
        const life = (ratio * one.time) / one.shape;
        const chance = chanceMeanLifeAbove(one, life);
        expect(chance).toBeGreaterThanOrEqual(0);
        expect(chance).toBeLessThanOrEqual(1);
        expect(chanceMeanLifeAbove(one, life * more)).toBeLessThanOrEqual(chance + 1e-12);
        const chanceAfter = (totalTime: number, count: number): number =>
          chanceMeanLifeAbove(gammaRateAfter(one, { totalTime, failures: count }), life);
        expect(chanceAfter(more * one.time, 0)).toBeGreaterThanOrEqual(chance - 1e-12);
        expect(chanceAfter(0, 1)).toBeLessThanOrEqual(chance + 1e-12);
        // With a whole shape k: of a Poisson count of mean time / life, the chance to be k or more.
        const k = 1 + Math.floor(Math.min(one.shape, 30));
        const mean = k / Math.min(ratio, 30);
        let [term, fewer] = [Math.exp(-mean), 0];
        for (let j = 0; j < k; j++) {
          fewer += term;
          term *= mean / (j + 1);
        }
        expect(
          Math.abs(chanceMeanLifeAbove({ shape: k, time: mean * life }, life) - (1 - fewer)),
        ).toBeLessThan(1e-10);
      }),
      RUNS,
    );
  });

  it('a test of the length asked for shows the objective with the certainty asked for, none where the prior does', () => {
    fc.assert(
      fc.property(belief, size(1e-2, 1e2), failures, level, (prior, ratio, r, c) => {
        const objective = (ratio * prior.time) / prior.shape;
        const length = gammaTestLength(prior, { objective, failures: r, level: c });
        const chanceAfter = (totalTime: number): number =>
          chanceMeanLifeAbove(gammaRateAfter(prior, { totalTime, failures: r }), objective);
        expect(chanceAfter(length)).toBeGreaterThan(c - 1e-9);
        if (length > 1e-6 * prior.time) expect(Math.abs(chanceAfter(length) - c)).toBeLessThan(1e-9);
        expect(gammaTestLength(prior, { objective, failures: r + 1, level: c })).toBeGreaterThanOrEqual(
          length,
        );
        expect(
          gammaTestLength(prior, { objective: 2 * objective, failures: r, level: c }),
        ).toBeGreaterThanOrEqual(length);
      }),
      RUNS,
    );
  });
});
