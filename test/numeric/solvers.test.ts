/** Roots, minima, integrals, sums of counts and small matrices, each where it could break. */
import { describe, expect, it } from 'vitest';
import { UsageError } from '../../lib/errors.js';
import { convolve, poissonBinomial } from '../../lib/numeric/convolve.js';
import { invertSymmetric, multiply, solveLinear } from '../../lib/numeric/matrix.js';
import { minimiseOnInterval, minimiseSimplex } from '../../lib/numeric/minimise.js';
import { gaussLegendre, integrate, integrateByRule } from '../../lib/numeric/quadrature.js';
import { findRoot, findRootBySlope } from '../../lib/numeric/roots.js';
import { significant } from '../../lib/numeric/round.js';
import { binomialPmf, poissonPmf } from '../../lib/numeric/special.js';

describe('findRoot', () => {
  it('finds simple, flat and tiny roots', () => {
    expect(findRoot((x) => x * x - 2, 0, 2).root).toBeCloseTo(Math.SQRT2, 13);
    // A triple root is flat: x³ leaves the double range of signs only near 0.
    expect(Math.abs(findRoot((x) => (x - 1) ** 3, 0, 3, { relative: 1e-6 }).root - 1)).toBeLessThan(1e-5);
    const tiny = findRoot((x) => x - 1e-30, 0, 1);
    expect(tiny.root / 1e-30).toBeCloseTo(1, 12);
  });

  it('says why it found none', () => {
    expect(findRoot((x) => x * x + 1, -1, 1)).toMatchObject({ converged: false, reason: /one sign/ });
    // Halving alone reaches no root at 1e-200 in 200 steps, and says so.
    expect(findRoot((x) => x - 1e-200, 0, 1)).toMatchObject({ converged: false, reason: /limit/ });
    expect(findRoot(() => Number.NaN, 0, 1)).toMatchObject({ converged: false, reason: /not a number/ });
  });
});

describe('findRootBySlope', () => {
  const cube = (x: number, out: { slope: number }): number => {
    out.slope = 3 * x * x;
    return x ** 3 - 2;
  };

  it('takes few steps where the slope is good, and stays in the bracket where it is not', () => {
    const found = findRootBySlope(cube, 0, 2);
    expect(found.root).toBeCloseTo(Math.cbrt(2), 14);
    expect(found.iterations).toBeLessThan(10);
    // The slope at 0 is 0 and that of the arc tangent far out sends Newton's method away: both are halved instead.
    expect(findRootBySlope(cube, -5, 5).root).toBeCloseTo(Math.cbrt(2), 14);
    const bent = (x: number, out: { slope: number }): number => {
      out.slope = 1 / (1 + x * x);
      return Math.atan(x);
    };
    expect(Math.abs(findRootBySlope(bent, -30, 50, { absolute: 1e-12 }).root)).toBeLessThan(1e-11);
  });

  it('says why it found none', () => {
    expect(findRootBySlope(() => Number.NaN, 0, 1)).toMatchObject({
      converged: false,
      reason: /not a number/,
    });
    expect(findRootBySlope(cube, 0, 2, { maxIterations: 2 })).toMatchObject({
      converged: false,
      reason: /limit/,
    });
  });
});

describe('minimise', () => {
  it('on an interval, at an end too', () => {
    expect(minimiseOnInterval((x) => (x - 0.3) ** 2 + 1, 0, 5).at).toBeCloseTo(0.3, 7);
    expect(minimiseOnInterval((x) => x, 2, 5).at).toBeCloseTo(2, 5);
    expect(minimiseOnInterval(() => Number.NaN, 0, 1).converged).toBe(false);
  });

  it('over several variables: the banana of Rosenbrock 1960', () => {
    const banana = ([x, y]: readonly number[]): number =>
      100 * ((y as number) - (x as number) ** 2) ** 2 + (1 - (x as number)) ** 2;
    const found = minimiseSimplex(banana, [-1.2, 1]);
    expect(found.converged).toBe(true);
    expect(found.at[0]).toBeCloseTo(1, 6);
    expect(found.at[1]).toBeCloseTo(1, 6);
  });
});

describe('integrate', () => {
  it('smooth, singular at an end, endless and narrow', () => {
    expect(integrate(Math.sin, 0, Math.PI).value).toBeCloseTo(2, 13);
    expect(integrate((x) => 1 / Math.sqrt(x), 0, 1, { relative: 1e-8 }).value).toBeCloseTo(2, 7);
    expect(integrate((x) => Math.exp(-x), 0, Infinity).value).toBeCloseTo(1, 12);
    const narrow = integrate((x) => Math.exp(-0.5 * ((x - 3) / 1e-3) ** 2), 0, 1e6, {
      points: [2.99, 3, 3.01],
    });
    expect(narrow.value / (1e-3 * Math.sqrt(2 * Math.PI))).toBeCloseTo(1, 9);
  });

  it('turns the sign with the ends, and says when it did not converge', () => {
    expect(integrate((x) => x, 1, 0).value).toBeCloseTo(-0.5, 15);
    expect(integrate((x) => Math.sin(1e6 * x) + 1, 0, 1, { maxPieces: 5, relative: 1e-14 }).converged).toBe(
      false,
    );
  });

  it('by a fixed rule is exact up to degree 2 n - 1', () => {
    const rule = gaussLegendre(8);
    expect(integrateByRule((x) => x ** 15 + x ** 14, 0, 1, rule)).toBeCloseTo(1 / 16 + 1 / 15, 14);
    expect(rule.weights.reduce((total, w) => total + w, 0)).toBeCloseTo(2, 14);
  });
});

describe('sums of counts', () => {
  it('two dice', () => {
    const die = [0, ...new Array<number>(6).fill(1 / 6)];
    expect(convolve(die, die)[7]).toBeCloseTo(6 / 36, 15);
  });

  it('events of unlike chances, one by one and in groups', () => {
    // By hand: chances 0.5 and 0.2: 0.4, 0.5, 0.1.
    expect(Array.from(poissonBinomial([0.5, 0.2])).map((p) => significant(p, 12))).toEqual([0.4, 0.5, 0.1]);
    const chances = [0.02, 0.3, 0.75];
    const counts = [40, 25, 3];
    const grouped = poissonBinomial(chances, counts);
    const single = poissonBinomial(chances.flatMap((p, i) => new Array<number>(counts[i] as number).fill(p)));
    grouped.forEach((p, k) => {
      expect(Math.abs(p - (single[k] as number))).toBeLessThan(1e-15);
    });
    expect(poissonBinomial([0.3], [50])[15]).toBeCloseTo(binomialPmf(15, 50, 0.3), 15);
  });

  it('a hundred thousand valves keep their whole chance', () => {
    const pmf = poissonBinomial([0.01, 0.3, 0], [60_000, 40_000, 30_000]);
    expect(pmf.length).toBe(130_001);
    expect(pmf.reduce((total, p) => total + p, 0)).toBeCloseTo(1, 11);
    const mean = pmf.reduce((total, p, k) => total + k * p, 0);
    expect(mean).toBeCloseTo(12_600, 6);
  });

  it('rare events among many are nearly Poisson', () => {
    const pmf = poissonBinomial([1e-6], [1_000_000]);
    expect(Math.abs((pmf[2] as number) - poissonPmf(2, 1))).toBeLessThan(1e-6);
  });

  it('refuse chances and counts that are none', () => {
    expect(() => poissonBinomial([1.2])).toThrow(UsageError);
    expect(() => poissonBinomial([0.5], [1.5])).toThrow(/whole number/);
    expect(() => convolve([], [1])).toThrow(UsageError);
  });
});

it('small matrices: inverse and solution undo the product', () => {
  const matrix = [4, 1, 0.5, 1, 3, 0.2, 0.5, 0.2, 2];
  multiply(matrix, invertSymmetric(matrix, 3), 3).forEach((x, i) => {
    expect(x).toBeCloseTo(i % 4 === 0 ? 1 : 0, 14);
  });
  expect(solveLinear([0, 2, 1, 1], [4, 5])).toEqual([3, 2]);
  expect(() => solveLinear([1, 2, 2, 4], [1, 1])).toThrow(UsageError);
  expect(() => invertSymmetric([1, 2, 2, 1], 2)).toThrow(/positive definite/);
});
