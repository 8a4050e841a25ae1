/** A7, A8, A9, A10, D8, H7: constant rates, demonstration tests and trends against published.json (sources there) and handbook.py. */
import { describe, expect, it } from 'vitest';
import { bartlettTest } from '../../../../lib/life/estimate/bartlettTest.js';
import { exponentialBounds } from '../../../../lib/life/estimate/bounds/boundsChiSquare.js';
import {
  exponentialTestFactor,
  livesToDemonstrate,
  missionsToTest,
} from '../../../../lib/life/estimate/demonstration.js';
import {
  chanceMeanLifeAbove,
  gammaRateAfter,
  gammaTestLength,
  meanLifeBelief,
} from '../../../../lib/life/estimate/gammaRate.js';
import { lifeSample } from '../../../../lib/life/sample.js';
import { reversalTest } from '../../../../lib/recurrence/reversals.js';
import { apart } from '../samples.js';
import second from './handbook.json' with { type: 'json' };
import cases from './published.json' with { type: 'json' };

describe('A7: mean time between failures, NIST/SEMATECH e-Handbook 8.4.5.1', () => {
  const { data, expected, published } = cases.A7;

  it('two failures in 800 h, as printed', () => {
    const { estimate, low, high } = exponentialBounds(data, { level: 0.9 });
    expect(estimate).toBe(expected.mtbf);
    expect(low.toFixed(3)).toBe(published.lower90.toFixed(3));
    expect(high.toFixed(3)).toBe(published.upper90.toFixed(3));
    expect(apart(low, expected.lower90)).toBeLessThan(1e-10);
    expect(apart(high, expected.upper90)).toBeLessThan(1e-10);
    expect(apart(low, second.A7.low)).toBeLessThan(1e-10);
    expect(apart(high, second.A7.high)).toBeLessThan(1e-10);
  });

  it('table of factors', () => {
    const factors = (failures: number, level: number) =>
      exponentialBounds({ totalTime: failures, failures }, { level });
    for (const row of expected.factorTable) {
      for (const [level, low, high] of [
        [0.6, row.low60, row.up60],
        [0.8, row.low80, row.up80],
        [0.9, row.low90, row.up90],
        [0.95, row.low95, row.up95],
      ] as const) {
        expect(apart(factors(row.failures, level).low, low)).toBeLessThan(1e-10);
        expect(apart(factors(row.failures, level).high, high)).toBeLessThan(1e-10);
      }
    }
    for (const [failures, low, high] of second.A7.factors as [number, number, number][]) {
      expect(apart(factors(failures, 0.9).low, low)).toBeLessThan(1e-10);
      expect(apart(factors(failures, 0.9).high, high)).toBeLessThan(1e-10);
    }
    for (const [failures, printed] of [
      [1, published.factor90_r1],
      [2, published.factor90_r2],
    ] as const) {
      const { low, high } = factors(failures, 0.9);
      expect(low.toFixed(4)).toBe((printed[0] as number).toFixed(4));
      // The handbook's table has 19.4958 for one failure; both roads here give 19.495726, a unit of its last digit less.
      expect(Math.abs(high - (printed[1] as number))).toBeLessThan(1e-4);
    }
  });

  it('without failures, one-sided', () => {
    const { conf60, conf80, conf90, conf95 } = expected.zeroFailureLower_T1000;
    for (const [level, want] of [
      [0.6, conf60],
      [0.8, conf80],
      [0.9, conf90],
      [0.95, conf95],
    ] as const) {
      const got = exponentialBounds({ totalTime: 1000, failures: 0 }, { level, side: 'lower' });
      expect(apart(got.low, want)).toBeLessThan(1e-10);
      expect([got.estimate, got.high]).toEqual([Infinity, Infinity]);
    }
  });
});

it('A8: gamma prior, NIST/SEMATECH e-Handbook 8.3.1.5 and 8.4.6', () => {
  const { data, inputs, expected, published } = cases.A8;
  const prior = { shape: data.priorA, time: data.priorB };
  const { failures, objectiveMTBF: objective } = data;
  const testTime = gammaTestLength(prior, { objective, failures, level: inputs.confPlan });
  const after = gammaRateAfter(prior, { totalTime: published.plannedTestTime, failures });
  const both = meanLifeBelief(after, { level: 0.8 });
  const lower = meanLifeBelief(after, { level: 0.8, side: 'lower' });
  expect(after).toEqual({ shape: expected.posteriorA, time: expected.posteriorB_usingT1909 });
  for (const [got, want, printed, road] of [
    [testTime, expected.plannedTestTime, published.plannedTestTime, second.A8.testTime],
    [both.median, expected.medianMTBF, published.medianMTBF, second.A8.median],
    [both.reciprocalMeanRate, expected.reciprocalMeanMTBF, published.reciprocalMeanMTBF, 3309 / 4],
    [lower.low, expected.lower80, published.lower80, second.A8.low],
    [both.low, expected.credible80[0], published.credible80[0], second.A8.credible[0]],
    [both.high, expected.credible80[1], published.credible80[1], second.A8.credible[1]],
  ] as [number, number, number, number][]) {
    expect(apart(got, want)).toBeLessThan(1e-10);
    expect(apart(got, road)).toBeLessThan(1e-10);
    expect(Math.round(got)).toBe(printed);
  }
  expect(lower.high).toBe(Infinity);
  expect(apart(chanceMeanLifeAbove(after, 500), expected.probMTBFgt500)).toBeLessThan(1e-10);
  expect(apart(chanceMeanLifeAbove(after, 500), second.A8.above500)).toBeLessThan(1e-10);
});

it('A9: factors of the test length, NIST/SEMATECH e-Handbook 8.3.1.1', () => {
  const { data, expected, published } = cases.A9;
  data.r.forEach((r, i) => {
    data.conf.forEach((level, j) => {
      const got = exponentialTestFactor(r, level);
      expect(apart(got, expected.factors[i]?.[j] as number)).toBeLessThan(1e-10);
      expect(apart(got, second.A9[i]?.[j] as number)).toBeLessThan(1e-10);
      const printed = [published.r0, published.r1, published.r2][i]?.[j];
      if (printed !== undefined) expect(Number(got.toPrecision(3))).toBe(printed);
    });
  });
});

describe('D8: success run and Weibull trade-off (from memory; binomial sums of scipy)', () => {
  const { expected, published } = cases.D8;

  it('lives to test', () => {
    expect(livesToDemonstrate({ survival: 0.9, level: 0.9 })).toBe(published.n_R90_C90);
    expect(livesToDemonstrate({ survival: 0.95, level: 0.9 })).toBe(published.n_R95_C90);
    expect(livesToDemonstrate({ survival: 0.99, level: 0.95 })).toBe(published.n_R99_C95);
    expect(livesToDemonstrate({ survival: 0.9, level: 0.9, failures: 1 })).toBe(
      expected.binomial_n_R90_C90_1fail,
    );
    for (const [survival, level, failures, lives] of second.D8.lives as [number, number, number, number][]) {
      expect(livesToDemonstrate({ survival, level, failures })).toBe(lives);
    }
  });

  it('missions to test', () => {
    const five = missionsToTest({ survival: 0.9, level: 0.9, lives: 5, shape: 2 });
    expect(apart(five, expected.lifeRatio_n5_R90_C90_shape2)).toBeLessThan(1e-12);
    // One life on its own at shape 1 is tested for the broken number of lives of a success run.
    for (const [survival, level, want] of [
      [0.9, 0.9, expected.n_R90_C90],
      [0.95, 0.9, expected.n_R95_C90],
      [0.99, 0.95, expected.n_R99_C95],
    ] as const) {
      expect(apart(missionsToTest({ survival, level, lives: 1, shape: 1 }), want)).toBeLessThan(1e-12);
    }
    for (const [survival, level, failures, lives, shape, want] of second.D8.missions as number[][] as [
      number,
      number,
      number,
      number,
      number,
      number,
    ][]) {
      expect(apart(missionsToTest({ survival, level, failures, lives, shape }), want)).toBeLessThan(1e-10);
    }
  });

  it('refuses what makes no sense', () => {
    expect(() => livesToDemonstrate({ survival: 1, level: 0.9 })).toThrow(/survival must be between 0 and 1/);
    expect(() => missionsToTest({ survival: 0.9, level: 0.9, failures: 3, lives: 3, shape: 2 })).toThrow(
      /above the failures allowed/,
    );
    expect(() => exponentialTestFactor(0.5, 0.9)).toThrow(/whole number/);
  });
});

describe("H7: Bartlett's test of exponentiality", () => {
  const { data, expected } = cases.H7;
  const test = (ages: readonly number[]) => bartlettTest(lifeSample({ lower: ages, upper: ages }));

  it('air conditioning and bearings', () => {
    const air = test(data.airConditioning);
    const bearings = test(data.bearings);
    expect(apart(air.statistic, expected.airConditioning)).toBeLessThan(1e-10);
    expect(apart(air.statistic, second.H7.airConditioning)).toBeLessThan(1e-10);
    expect(apart(air.pFalling, expected.airP_upper)).toBeLessThan(1e-10);
    expect(air.degreesOfFreedom).toBe(29);
    expect(apart(bearings.statistic, expected.bearings)).toBeLessThan(1e-10);
    expect(apart(bearings.statistic, second.H7.bearings)).toBeLessThan(1e-10);
    expect(apart(bearings.pRising, expected.bearings_lowerP)).toBeLessThan(1e-10);
  });

  it('does not depend on the unit, and refuses censored lives and ages of 0', () => {
    const tiny = test(data.bearings.map((t) => t * 1e-300));
    expect(apart(tiny.statistic, expected.bearings)).toBeLessThan(1e-10);
    expect(() => bartlettTest(lifeSample({ lower: [1, 2], upper: [1, Infinity] }))).toThrow(/row 2|failures/);
    expect(() => bartlettTest(lifeSample({ lower: [1, 2, 3], upper: [1, 2, Infinity] }))).toThrow(/row 3/);
  });
});

describe('A10: reverse arrangements, NIST/SEMATECH e-Handbook 8.2.3.4', () => {
  const { data, expected } = cases.A10;
  const gaps = data.failureAges.map((age, k) => age - (data.failureAges[k - 1] ?? 0));

  it('case study of ten repairs', () => {
    const got = reversalTest(gaps);
    expect([got.reversals, got.expected]).toEqual([expected.reversals, expected.expectedReversals]);
    // Two times are 35 h. The source counts this pair as no reversal, and so do we.
    expect(got.ties).toBe(1);
    expect(apart(got.pGrowing, expected.reversals_exactUpperTailP)).toBeLessThan(1e-10);
    const plain = (got.reversals - got.expected) / Math.sqrt((25 * 9 * 10) / 72);
    expect(apart(plain, expected.reversals_z_plain)).toBeLessThan(1e-10);
  });

  it('the exact law is that of all orders of eight', () => {
    // k reversals: the longest first k places up in a falling row of eight.
    const falling = [8, 7, 6, 5, 4, 3, 2, 1];
    for (let k = 0; k < 8; k++) {
      const row = falling.slice(1);
      row.splice(k, 0, 8);
      const got = reversalTest(row);
      expect(got.reversals).toBe(k);
      const below = second.reversalsOfEight.slice(0, k + 1).reduce((p, x) => p + x, 0);
      expect(apart(got.pShrinking, below)).toBeLessThan(1e-12);
    }
  });
});
