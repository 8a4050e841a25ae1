/** What not knowing the model costs: draws in, regret and the worst tenth out. */
import { describe, expect, it } from 'vitest';
import { groupCost } from '../../lib/cost/groupCost.js';
import { chooseAge, costRate } from '../../lib/interval/chooseAge.js';
import { riskOf } from '../../lib/interval/risk.js';
import { type Weighed, weigh } from '../../lib/interval/weigh.js';
import { DAYS_PER_YEAR } from '../../lib/numeric/day.js';
import { testPlant } from './fixtures.js';

/** Ten draws: the first nine of one scale, the last of another. Cost ratio ten, replacement 100. */
function weighed(scales: number[], todayDays: number | null): Weighed {
  const { fleet, grouped } = testPlant(
    [{ shape: 3, scale: 900, spread: [0.001, 0.001], failures: 30, todayDays, ages: [10, 200, 300] }],
    { drawCount: scales.length },
  );
  const [group] = grouped.groups;
  if (group === undefined) throw new Error('no group');
  const draws = {
    ...group.draws,
    shape: Float64Array.from(scales, () => 3),
    scale: Float64Array.from(scales),
    share: new Float64Array(scales.length),
  };
  return weigh({ ...group, draws }, groupCost(fleet, group), null);
}

const law = (scale: number) => ({ kind: 'weibull', shape: 3, scale }) as const;
const COSTS = { replacement: 100, leak: 1000 };
const rate = (scale: number, days: number): number => costRate(law(scale), days, COSTS) * DAYS_PER_YEAR;

describe('risk of an interval', () => {
  const scales = [900, 900, 900, 900, 900, 900, 900, 900, 900, 300];

  it('is the mean distance from each draw’s own best', () => {
    const best = (scale: number): number => chooseAge(law(scale), COSTS).costRate * DAYS_PER_YEAR;
    const expected = 0.9 * (rate(900, 300) - best(900)) + 0.1 * (rate(300, 300) - best(300));
    // The best of a draw is looked for at the ages of the cycle only.
    expect(riskOf(weighed(scales, 730), 300).expectedRegret / expected).toBeCloseTo(1, 1);
    expect(riskOf(weighed(scales, 730), 300).expectedRegret).toBeLessThanOrEqual(expected * (1 + 1e-9));
  });

  it('has the draw in which the interval does worst against today as its worst tenth', () => {
    const atOnce = riskOf(weighed(scales, 100), 300).worstTenth;
    expect(atOnce / (rate(300, 300) - rate(300, 100))).toBeCloseTo(1, 5);
    expect(atOnce).toBeGreaterThan(0);
    // From 730 days, 300 saves in every draw.
    const always = riskOf(weighed(scales, 730), 300).worstTenth;
    expect(always).toBeLessThan(0);
    expect(always / Math.max(...[300, 900].map((s) => rate(s, 300) - rate(s, 730)))).toBeCloseTo(1, 5);
  });

  it('is nothing where the model is known and the interval is its best', () => {
    const known = weighed([900, 900], 730);
    expect(known.best.age).not.toBeNull();
    const { expectedRegret, worstTenth } = riskOf(known, known.best.age);
    expect(Math.abs(expectedRegret)).toBeLessThan(1e-6 * known.best.rate * DAYS_PER_YEAR);
    expect(worstTenth / (rate(900, known.best.age ?? 0) - rate(900, 730))).toBeCloseTo(1, 5);
  });
});
