import { describe, expect, it } from 'vitest';
import { groupCost } from '../../lib/cost/groupCost.js';
import { meanOf } from '../../lib/cost/spread.js';
import { adviseIntervals } from '../../lib/interval/advise.js';
import { holdingOf } from '../../lib/interval/holding.js';
import { shortfallWords } from '../../lib/interval/shortfall.js';
import { planShutdowns } from '../../lib/interval/shutdowns.js';
import type { IntervalAdvice, ShutdownPlan, ShutdownTask } from '../../lib/interval/types.js';
import type { LifeDraws } from '../../lib/life/sampleTypes.js';
import { RATIO_TEN, type TestGroup, type TestOptions, TODAY, testPlant } from './fixtures.js';

/** Draws that differ widely, and every twentieth fitting faulty. */
const GROUP: TestGroup = { shape: 3, scale: 900, spread: [0.3, 0.2], share: 0.05, ages: [500] };

function planOf(groups: TestGroup[], days: number, options: TestOptions) {
  const { fleet, grouped } = testPlant(groups, { money: RATIO_TEN, ...options });
  const costs = grouped.groups.map((each) => groupCost(fleet, each));
  const advice = adviseIntervals(fleet, grouped, costs, { seed: 1 });
  const plan: ShutdownPlan = planShutdowns(
    fleet,
    grouped,
    advice.map((each): IntervalAdvice => ({ ...each, days, workDays: days })),
    costs,
  );
  return { plan, grouped, costs, fleet };
}

/** Survival of one draw, written out. */
function survives(draws: LifeDraws, d: number, age: number): number {
  const early = 1 - Math.exp(-((age / draws.faultScale) ** draws.faultShape));
  const worn = Math.exp(-((age / (draws.scale[d] as number)) ** (draws.shape[d] as number)));
  return (1 - (draws.share[d] as number) * early) * worn;
}

const meanOver = (draws: LifeDraws, of: (d: number) => number): number =>
  draws.shape.reduce((sum, _, d) => sum + of(d), 0) / draws.shape.length;

describe('what waiting costs', () => {
  it('is averaged over the draws of the plan, less the leaks of a fresh diaphragm over the same time', () => {
    const { plan, grouped, costs } = planOf([GROUP], 400, {
      shutdowns: [
        { name: 'a', start: TODAY + 20 },
        { name: 'b', start: TODAY + 113 },
      ],
    });
    const { draws, model } = grouped.groups[0] as (typeof grouped.groups)[number];
    const cost = costs[0] as (typeof costs)[number];
    const extra = meanOf(cost.leak) - meanOf(cost.replacement);
    const holds = (days: number): number =>
      meanOver(draws, (d) => survives(draws, d, 500 + days) / survives(draws, d, 500));
    const left = (1 - holds(113) / holds(20)) * extra;
    const fresh = (1 - meanOver(draws, (d) => survives(draws, d, 93))) * extra;
    const task = plan.tasks[0] as ShutdownTask;
    expect(task.costOfWaiting).toBeCloseTo(left - fresh, 9);
    expect(task.chanceStillDue).toBeCloseTo(holds(20), 12);
    // The displayed model says something else, so that this test tells the two apart.
    const shown =
      (1 - Math.exp((520 / model.scale) ** model.shape - (613 / model.scale) ** model.shape)) * extra;
    expect(Math.abs(shown - left)).toBeGreaterThan(0.05 * left);
    expect(task.because).toContain(
      `leaving it until the next window (93 days) costs ${Math.round(left - fresh)} EUR on average (leaks ${Math.round(left)} EUR if left, ${Math.round(fresh)} EUR if fresh)`,
    );
  });

  it('says that waiting costs nothing where a fresh one leaks more', () => {
    const { plan } = planOf([{ ...GROUP, share: 0.3, ages: [200] }], 150, {
      shutdowns: [
        { name: 'a', start: TODAY + 5 },
        { name: 'b', start: TODAY + 35 },
      ],
    });
    const task = plan.tasks[0] as ShutdownTask;
    expect(task.costOfWaiting).toBeLessThan(0);
    expect(task.because).toContain('costs nothing on average');
  });

  it('gives crew hours to what is dearest to leave on balance, not to what leaks most', () => {
    // V-1 leaks more if left, but a fresh one of its kind leaks nearly as much: it waits.
    const faulty: TestGroup = { shape: 3, scale: 700, share: 0.4, ages: [300] };
    const sound: TestGroup = { shape: 3, scale: 900, share: 0, ages: [330] };
    const { plan } = planOf([faulty, sound], 250, {
      shutdowns: [
        { name: 'a', start: TODAY + 10, crewHours: 1 },
        { name: 'b', start: TODAY + 100 },
      ],
    });
    const rows = plan.tasks.filter(({ shutdown }) => shutdown === 'a');
    expect(rows.map(({ position, fits }) => [position, fits])).toEqual([
      ['V-2', true],
      ['V-1', false],
    ]);
  });

  it('counts one day as one day, and names small amounts in money', () => {
    const { plan } = planOf([{ ...GROUP, spread: [0.001, 0.001], share: 0, scale: 90_000 }], 519, {
      shutdowns: [
        { name: 'a', start: TODAY + 20 },
        { name: 'b', start: TODAY + 113 },
      ],
    });
    const reason = plan.tasks[0]?.because ?? '';
    expect(reason).toMatch(/^interval 17 months, passed by 1 day;/);
    expect(reason).toContain('costs under 1 EUR on average');
    expect(reason).not.toMatch(/0\.0|\b1 days/);
  });
});

describe('holding', () => {
  it('keeps a chance for a life far beyond its model, and lower bounds below the mean', () => {
    const draws: LifeDraws = {
      shape: Float64Array.of(3, 3, 2),
      scale: Float64Array.of(100, 120, 150),
      share: Float64Array.of(0.1, 0, 1),
      faultShape: 0.7,
      faultScale: 20,
    };
    const holding = holdingOf(draws);
    expect(holding.mean(5000, 1)).toBeGreaterThan(0);
    expect(holding.mean(5000, 1)).toBeLessThan(1);
    expect(holding.mean(30, 0)).toBe(1);
    expect(holding.bound(30, 10, 0)).toBeLessThanOrEqual(holding.mean(30, 10));
    const middle = [0, 1, 2].map((d) => survives(draws, d, 40) / survives(draws, d, 30)).sort()[1];
    expect(holding.bound(30, 10, 0.5)).toBeCloseTo(middle as number, 12);
  });
});

describe('what does not fit, counted one way', () => {
  const task = (shutdown: string, position: string, fits = false): ShutdownTask =>
    ({ shutdown, start: shutdown, position, fits }) as ShutdownTask;

  it('names shutdowns, and positions that miss both', () => {
    expect(shortfallWords([task('a', 'V-1', true)])).toBeNull();
    expect(shortfallWords([task('a', 'V-1'), task('a', 'V-2'), task('b', 'V-1')])).toBe(
      '2 in a and 1 in b, 1 position among them at both',
    );
    const many = ['a', 'b', 'c', 'd', 'e'].map((name) => task(name, 'V-1'));
    expect(shortfallWords(many)).toBe(
      '5 replacements over 5 shutdowns, first 1 in a, 1 position among them more than once',
    );
  });
});
