/** Difference of two mean cumulative numbers, and trend tests of many systems, against R (difference.R); K12 of the method checks. */
import { describe, expect, it } from 'vitest';
import { floatAt } from '../../../lib/numeric/columns.js';
import { randomStream } from '../../../lib/numeric/random.js';
import { meanCumulative } from '../../../lib/recurrence/meanCumulative.js';
import { meanCumulativeDifference } from '../../../lib/recurrence/meanCumulativeDifference.js';
import { trendTests } from '../../../lib/recurrence/trendTests.js';
import cases from './difference.json' with { type: 'json' };

describe('infections of children, placebo less treated', () => {
  const curve = (rows: typeof cases.placebo) => meanCumulative(rows, { fewestAtRisk: 1 });
  const got = meanCumulativeDifference(curve(cases.placebo), curve(cases.treated), { level: 0.95 });

  it('has difference and standard error of R at every age', () => {
    expect(Array.from(got.age)).toEqual(cases.age);
    // Both add up the same hundred terms.
    cases.difference.forEach((want, k) => {
      expect(Math.abs(floatAt(got.difference, k) - want)).toBeLessThan(1e-11);
      expect(Math.abs(floatAt(got.standardError, k) - (cases.standardError[k] as number))).toBeLessThan(
        1e-11,
      );
    });
  });

  it('has normal bounds, and tells the arms apart at the end', () => {
    const last = got.age.length - 1;
    const width = 1.959963984540054 * floatAt(got.standardError, last);
    expect(floatAt(got.low, last)).toBeCloseTo(floatAt(got.difference, last) - width, 10);
    expect(floatAt(got.high, last)).toBeCloseTo(floatAt(got.difference, last) + width, 10);
    expect(floatAt(got.low, last)).toBeGreaterThan(0);
  });

  it.each(['placebo', 'treated'] as const)('has both trend tests of the %s arm', (arm) => {
    const want = cases.trends[arm];
    const { laplace, handbook } = trendTests(cases[arm]);
    expect(laplace.statistic).toBeCloseTo(want.laplace, 10);
    expect(laplace.pValue).toBeCloseTo(want.laplaceP, 10);
    expect(handbook.statistic / want.chi).toBeCloseTo(1, 10);
    expect(handbook.df).toBe(want.df);
    expect(handbook.pValue).toBeCloseTo(want.chiP, 10);
  });
});

/** Ten lives of one position, watched until the tenth leak: how often Laplace's test rejects at nominal 5 % (simulated outside, K12). */
describe('K12: one position of ten lives under pure renewal', () => {
  const RUNS = 4000;

  it.each([
    { shape: 3, rejected: 0, seed: 1 },
    { shape: 1, rejected: 0.0475475475475, seed: 2 },
    { shape: 0.7, rejected: 0.148559878727, seed: 3 },
  ])('shape $shape', ({ shape, rejected, seed }) => {
    const random = randomStream(seed, 'K12');
    let hits = 0;
    for (let run = 0; run < RUNS; run++) {
      let age = 0;
      const eventAge = Array.from(
        { length: 10 },
        () => (age += (-Math.log(random.uniform())) ** (1 / shape)),
      );
      const events = { system: [0], end: [age], eventSystem: eventAge.map(() => 0), eventAge };
      if (trendTests(events, { endedBy: 'failure' }).laplace.pValue < 0.05) hits++;
    }
    // The outside value rests on 2000 runs or more.
    const error = Math.sqrt(Math.max(rejected * (1 - rejected), 1e-3) * (1 / RUNS + 1 / 2000));
    expect(Math.abs(hits / RUNS - rejected)).toBeLessThan(4 * error);
  });
});
