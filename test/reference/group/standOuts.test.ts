/** Chances, spread and ratios of what stands out against scipy (standOuts.py), and its size and power against K30 (published.json). */
import { describe, expect, it } from 'vitest';
import { averagedTail, poissonTail, smallestEffect } from '../../../lib/group/standOut/chance.js';
import { shrunkenRatio, spreadOfRatios } from '../../../lib/group/standOut/spreadOfRatios.js';
import { randomStream } from '../../../lib/numeric/random.js';
import published from './published.json' with { type: 'json' };
import cases from './standOuts.json' with { type: 'json' };

describe('Poisson tail', () => {
  it.each(cases.tails as [number, number, number][])('%s or more of %s', (leaks, expected, want) => {
    // The exponent of a tail of 1e-280 is 650: eps times that.
    expect(Math.abs(poissonTail(leaks, expected) / want - 1)).toBeLessThan(2e-12);
  });

  it('is certain of none, and impossible where nothing is expected', () => {
    expect([poissonTail(0, 0), poissonTail(0, 3), poissonTail(1, 0)]).toEqual([1, 1, 0]);
  });

  it('averaged over draws is their mean, and says nothing on two leaks', () => {
    const draws = Float64Array.of(0.2, 0.9);
    expect(averagedTail(3, draws)).toBeCloseTo((poissonTail(3, 0.2) + poissonTail(3, 0.9)) / 2, 15);
    expect(averagedTail(2, Float64Array.of(1e-9))).toBe(1);
  });
});

describe('spread of ratios', () => {
  it.each(Object.entries(cases.spreads))('%s', (_name, { leaks, expected, k }) => {
    const got = spreadOfRatios(Float64Array.from(leaks), Float64Array.from(expected));
    // The search ends at 1e-4 of log k.
    expect(Math.abs(Math.log(got / k))).toBeLessThan(2e-3);
  });

  it('leaves out those of whom nothing is expected', () => {
    const { leaks, expected } = cases.spreads['few bad ones'];
    const more = (column: number[], value: number): Float64Array =>
      Float64Array.from([...column, value, value]);
    expect(spreadOfRatios(more(leaks, 0), more(expected, 0))).toBe(
      spreadOfRatios(Float64Array.from(leaks), Float64Array.from(expected)),
    );
  });

  it.each(cases.ratios as number[][])(
    'ratio of %s leaks to %s expected at k %s',
    (leaks, expected, k, ...want) => {
      const { estimate, low, high } = shrunkenRatio(leaks as number, expected as number, k as number);
      const got = [estimate, low, high].map((value, i) => value / (want[i] as number));
      for (const ratio of got) expect(ratio).toBeCloseTo(1, 9);
    },
  );
});

const { K30 } = published;

describe('K30: positions with known laws', () => {
  const HISTORIES = 10_000;

  it.each([
    ['shape3', 3, 730, 1],
    ['shape1', 1, 730, 2],
    ['shape3NoChange', 3, Infinity, 3],
  ] as const)('size of the test at 5 %%: %s', (name, shape, change, seed) => {
    const { p } = histories(shape, change, 1, seed);
    isNear(p.filter((each) => each < K30.size.nominal).length, K30.size[name]);
  });

  it.each(K30.power)('power at 1e-3, lives $lifeFactor times as long', ({ lifeFactor, ...want }) => {
    const { p, leaks, expected } = histories(3, 730, lifeFactor, 10 + 100 * lifeFactor);
    isNear(p.filter((each) => each < 1e-3).length, want.below);
    // Counts of leaks vary by less than Poisson; both are means over histories.
    expect(Math.abs(leaks - want.meanLeaks)).toBeLessThan(4 * Math.sqrt((2 * want.meanLeaks) / HISTORIES));
    expect(Math.abs(expected - want.expected)).toBeLessThan(4 * Math.sqrt((2 * want.expected) / HISTORIES));
  });

  it('the smallest effect named is found in four of five', () => {
    // Poisson counts at the rate named: a fifth must fall short of the leaks it takes.
    for (const expected of [0.05, 0.84, 6]) {
      const { leaks, times } = smallestEffect(expected, 600, 0.1);
      expect(poissonTail(leaks, times * expected)).toBeCloseTo(0.8, 8);
      expect(poissonTail(leaks, expected)).toBeLessThanOrEqual(0.1 / 600);
      if (leaks > 3) expect(poissonTail(leaks - 1, expected)).toBeGreaterThan(0.1 / 600);
    }
    // At 1e-3 a position as in K30 whose lives are half as long (8 times the hazard) is near the edge: power 0.86.
    const { times } = smallestEffect(0.8444, 1, 1e-3);
    expect(times).toBeGreaterThan(8);
    expect(times).toBeLessThan(10);
  });

  /** Within 4 standard errors of the difference of two shares of as many histories. */
  function isNear(hits: number, want: number): void {
    const error = Math.sqrt((2 * Math.max(want * (1 - want), 1 / HISTORIES)) / HISTORIES);
    expect(Math.abs(hits / HISTORIES - want)).toBeLessThan(4 * error);
  }

  /** Positions renewed at each leak and at the age of change; the hazard of the law is added up until each life ends. */
  function histories(
    shape: number,
    change: number,
    lifeFactor: number,
    seed: number,
  ): { p: number[]; leaks: number; expected: number } {
    const random = randomStream(seed, 'K30');
    const end = 8 * 365;
    const total = { leaks: 0, expected: 0 };
    const p = Array.from({ length: HISTORIES }, () => {
      let [day, leaks, expected] = [0, 0, 0];
      while (day < end) {
        const life = 900 * lifeFactor * (-Math.log(random.uniform())) ** (1 / shape);
        const stop = Math.min(change, end - day);
        expected += (Math.min(life, stop) / 900) ** shape;
        if (life < stop) leaks++;
        day += Math.min(life, stop);
      }
      total.leaks += leaks / HISTORIES;
      total.expected += expected / HISTORIES;
      return poissonTail(leaks, expected);
    });
    return { p, ...total };
  }
});
