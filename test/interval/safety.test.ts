/**
 * Positions judged by their chance to hold. The case is the reference case of test/reference/ageReplacement.json:
 * fitting faults 3 % with Weibull 0.8 / 10, wear-out 3 / 900, 180 days between windows; there leaving is the safer act
 * until 131 days of age, and only ages from 11 to 65 days reach 0.98.
 */
import { describe, expect, it } from 'vitest';
import { groupCost } from '../../lib/cost/groupCost.js';
import type { Criticality } from '../../lib/fleet/types.js';
import { adviseIntervals } from '../../lib/interval/advise.js';
import { planShutdowns } from '../../lib/interval/shutdowns.js';
import type { IntervalAdvice, ShutdownPlan } from '../../lib/interval/types.js';
import reference from '../reference/ageReplacement.json' with { type: 'json' };
import { TODAY, testPlant } from './fixtures.js';

const { survivalTarget } = reference;
const WINDOW = 180;
/** Stops 180 days apart, the first ten days from now. */
const STOPS = [10, 10 + WINDOW, 10 + 2 * WINDOW].map((day, i) => ({
  name: `stop ${i + 1}`,
  start: TODAY + day,
}));

function plan(
  ageAtStop: number,
  intervalDays: number,
  target: number | null,
  criticality: Criticality = 'safety',
  shutdowns: typeof STOPS = STOPS,
): ShutdownPlan {
  const made = testPlant([{ shape: 3, scale: 900, share: 0.03, ages: [ageAtStop - 10] }], {
    shutdowns,
  });
  const { fleet, grouped } = made;
  const judged = {
    ...fleet,
    site: {
      ...fleet.site,
      targets: { ...fleet.site.targets, survival: { low: null, normal: null, high: null, safety: target } },
    },
    positions: fleet.positions.map((position) => ({ ...position, criticality })),
  };
  const own = grouped.groups.map((group) => ({
    ...group,
    draws: { ...group.draws, faultShape: 0.8, faultScale: 10 },
  }));
  const costs = own.map((each) => groupCost(judged, each));
  const advice = adviseIntervals(judged, { ...grouped, groups: own }, costs, { seed: 1 });
  return planShutdowns(
    judged,
    { ...grouped, groups: own },
    advice.map((each): IntervalAdvice => ({ ...each, days: intervalDays, workDays: intervalDays })),
    costs,
  );
}

const first = (made: ShutdownPlan): string[] =>
  made.tasks.filter(({ shutdown }) => shutdown === 'stop 1').map(({ because }) => because);

describe('positions of safety criticality', () => {
  it('are left where the one in place is more likely to hold than a fresh one, and ask again', () => {
    const age = survivalTarget.firstAgeWhereReplacingHelps - 1;
    const made = plan(age, 100, null);
    expect(first(made)).toEqual([]);
    expect(made.loads[0]?.leftInPlace).toHaveLength(1);
    expect(made.loads[0]?.leftInPlace[0]?.because).toContain('a fresh one is more likely to leak');
    expect(made.warnings.map(({ code }) => code)).toContain('left-in-place');
    // At the next stop it is 180 days older, and a fresh one is the safer.
    const next = made.tasks.find(({ shutdown }) => shutdown === 'stop 2');
    expect(next?.because).toContain('left at stop 1');
    // A position of normal criticality is replaced by its interval.
    expect(first(plan(age, 100, null, 'normal'))).toHaveLength(1);
  });

  it('are replaced from the age on from which a fresh one is the safer', () => {
    const made = plan(survivalTarget.firstAgeWhereReplacingHelps, 100, null);
    expect(first(made)).toHaveLength(1);
    expect(made.loads[0]?.leftInPlace).toEqual([]);
  });

  it('are brought forward where they miss the target and a fresh one is the safer', () => {
    // Not due for years, but at 200 days 0.94 of them hold for 180 more, and 0.96 of fresh ones.
    expect(first(plan(200, 2000, null))).toEqual([]);
    const [reason] = first(plan(200, 2000, 0.95));
    expect(reason).toContain('brought forward for its survival target');
    expect(reason).toContain('at least 96.2 % if replaced, 93.7 % if left (lower 90 % bounds)');
    expect(reason).not.toContain('neither');
    // Not due and on target: left in peace.
    expect(first(plan(200, 2000, 0.9))).toEqual([]);
  });

  it('are told where no survival target says how likely to hold is likely enough', () => {
    const codes = (made: ShutdownPlan): string[] => made.warnings.map(({ code }) => code);
    expect(codes(plan(90, 100, null))).toContain('safety-without-target');
    expect(codes(plan(90, 100, 0.98))).not.toContain('safety-without-target');
    expect(codes(plan(90, 100, null, 'normal'))).not.toContain('safety-without-target');
  });

  it('are told that nothing is compared on lines without a window', () => {
    const made = plan(90, 100, 0.98, 'safety', []);
    const warning = made.warnings.find(({ code }) => code === 'survival-not-judged');
    expect(warning?.text).toMatch(/^1 position of safety criticality or with a survival target is on lines/);
    expect(made.tasks.length).toBeGreaterThan(0);
    for (const { because } of made.tasks)
      expect(because).toContain('is not compared, because its line has no window');
    const normal = plan(90, 100, 0.98, 'normal', []);
    expect(normal.warnings.map(({ code }) => code)).not.toContain('survival-not-judged');
    for (const { because } of normal.tasks) expect(because).not.toContain('is not compared');
    expect(plan(90, 100, 0.98).warnings.map(({ code }) => code)).not.toContain('survival-not-judged');
  });

  it('say so and what would help where neither reaches the target', () => {
    const [reason] = first(plan(200, 150, 0.98));
    expect(reason).toMatch(/neither reaches the target of 98 %: a next window within \d+ days? would/);
    const days = Number(/within (\d+) day/.exec(reason ?? '')?.[1]);
    const holds = (from: number, to: number): number => {
      const survival = (t: number): number =>
        (1 - 0.03 * (1 - Math.exp(-((t / 10) ** 0.8)))) * Math.exp(-((t / 900) ** 3));
      return survival(to) / survival(from);
    };
    const best = (span: number): number => Math.max(holds(200, 200 + span), holds(0, span));
    expect(best(days)).toBeGreaterThanOrEqual(0.98);
    expect(best(days + 1)).toBeLessThan(0.98);
    expect(first(plan(200, 150, 0.99999))[0]).toContain('no window is near enough');
  });
});
