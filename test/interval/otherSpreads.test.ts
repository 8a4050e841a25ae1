/** The advised interval under other priors of how alike groups are: weights of the draws in, a share above the least out. */
import { describe, expect, it } from 'vitest';
import { groupCost } from '../../lib/cost/groupCost.js';
import { adviseIntervals } from '../../lib/interval/advise.js';
import { chooseAge, costRate } from '../../lib/interval/chooseAge.js';
import type { IntervalAdvice } from '../../lib/interval/types.js';
import type { SpreadWeights } from '../../lib/life/estimate/pooling/spreadWeights.js';
import { testPlant } from './fixtures.js';

const DRAWS = 1000;
/** Draws of the longer lives: the last ones. */
const LONG = 120;

/** A group whose scale is 900 or so in most of its draws, and three times that in the last. */
function advise(weighing: (d: number) => number): IntervalAdvice {
  const { fleet, grouped } = testPlant(
    [{ shape: 3, scale: 900, spread: [0.001, 0.001], failures: 30, todayDays: 730, ages: [10, 200, 300] }],
    { drawCount: DRAWS },
  );
  const groups = grouped.groups.map((group) => ({
    ...group,
    draws: { ...group.draws, scale: group.draws.scale.map((scale, d) => (isLong(d) ? 3 * scale : scale)) },
    otherSpreads: [0.25, 1].map((spread) => weightsOf(spread, weighing)),
  }));
  const costs = groups.map((each) => groupCost(fleet, each));
  return adviseIntervals(fleet, { ...grouped, groups }, costs, { seed: 1 })[0] as IntervalAdvice;
}

function isLong(d: number): boolean {
  return d >= DRAWS - LONG;
}

function weightsOf(spread: number, weighing: (d: number) => number): SpreadWeights {
  const raw = Float64Array.from({ length: DRAWS }, (_, d) => weighing(d));
  const total = raw.reduce((all, weight) => all + weight, 0);
  const weights = raw.map((weight) => weight / total);
  return { spread, weights, effectiveDraws: 1 / weights.reduce((all, weight) => all + weight * weight, 0) };
}

const warned = ({ warnings }: IntervalAdvice): boolean =>
  warnings.some((each) => each.code === 'prior-decides');

describe('the same interval under another prior', () => {
  it('costs what it costs above the least of the draws that the other prior keeps', () => {
    const advice = advise((d) => (isLong(d) ? 1 : 0));
    // Cost ratio ten, shape 3: a scale three times as long makes every age of the curve three times as old.
    const model = { kind: 'weibull', shape: 3, scale: 2700 } as const;
    const costs = { replacement: 1, leak: 10 };
    const least = chooseAge(model, costs).costRate;
    const expected = costRate(model, advice.days as number, costs) / least - 1;
    expect(advice.otherSpreads.map(({ spread }) => spread)).toEqual([0.25, 1]);
    for (const { aboveLeast } of advice.otherSpreads)
      expect((aboveLeast as number) / expected).toBeCloseTo(1, 1);
    expect(warned(advice)).toBe(true);
    expect(advice.warnings.find((each) => each.code === 'prior-decides')?.text).toMatch(/spread (0\.25|1)/);
  });

  it('says nothing where the weights change nothing', () => {
    const advice = advise(() => 1);
    for (const { aboveLeast } of advice.otherSpreads) expect(aboveLeast).toBeLessThan(0.02 + 1e-9);
    expect(warned(advice)).toBe(false);
  });

  it('says nothing where too few draws are left to tell', () => {
    const advice = advise((d) => (d < 910 ? 0 : 1));
    expect(advice.otherSpreads.map(({ aboveLeast }) => aboveLeast)).toEqual([null, null]);
    expect(warned(advice)).toBe(false);
  });
});
