import { describe, expect, it } from 'vitest';
import { edfStatistics } from '../../../lib/life/check/edfStatistics.js';
import { lifeSample } from '../../../lib/life/sample.js';

const law = { kind: 'exponential', scale: 100 } as const;

describe('edfStatistics', () => {
  it('by hand: two lives, shares 1 - exp(-0.2) and 1 - exp(-1.5)', () => {
    const got = edfStatistics(lifeSample({ lower: [150, 20], upper: [150, 20] }), law);
    const [u, v] = [1 - Math.exp(-0.2), 1 - Math.exp(-1.5)];
    expect(got.lives).toBe(2);
    expect(got.above).toBeCloseTo(0.5 - u, 14);
    expect(got.below).toBeCloseTo(v - 0.5, 14);
    expect(got.cramerVonMises).toBeCloseTo(1 / 24 + (u - 0.25) ** 2 + (v - 0.75) ** 2, 14);
    // -n - sum of (2 i - 1) [log u_i + log(1 - u_(n + 1 - i))] / n.
    const sum = Math.log(u) + Math.log(1 - v) + 3 * (Math.log(v) + Math.log(1 - u));
    expect(got.andersonDarling).toBeCloseTo(-2 - sum / 2, 13);
  });

  it('counts rows as so many lives, in any order', () => {
    const merged = lifeSample({ lower: [20, 150], upper: [20, 150], count: [2, 3] });
    const each = [150, 20, 150, 20, 150];
    const [a, b] = [edfStatistics(merged, law), edfStatistics(lifeSample({ lower: each, upper: each }), law)];
    for (const key of ['andersonDarling', 'cramerVonMises', 'above', 'below', 'kolmogorovSmirnov'] as const) {
      expect(a[key]).toBeCloseTo(b[key], 13);
    }
  });

  it('keeps its digits where none is left by the law, and refuses lives that did not fail at a known age', () => {
    const far = edfStatistics(lifeSample({ lower: [50_000, 1e-9], upper: [50_000, 1e-9] }), law);
    // log(1 - u) = -500 and log u = log 1e-11.
    expect(far.andersonDarling).toBeCloseTo(-2 - (Math.log(1e-11) - 500 + 3 * (0 - 1e-11)) / 2, 9);
    for (const [lower, upper, entry] of [
      [5, Infinity, 0],
      [5, 6, 0],
      [5, 5, 1],
    ] as const) {
      const sample = lifeSample({ lower: [3, lower], upper: [3, upper], entry: [0, entry] });
      expect(() => edfStatistics(sample, law)).toThrow('edfStatistics: row 2');
    }
  });
});
