/** First year and years to come follow the work lists of both policies, as demand does. */
import { describe, expect, it } from 'vitest';
import { groupCosts } from '../../lib/cost/groupCost.js';
import { expectedEvents } from '../../lib/demand/path.js';
import type { Fleet } from '../../lib/fleet/types.js';
import { adviseIntervals } from '../../lib/interval/advise.js';
import { planShutdowns, practisedWorkList } from '../../lib/interval/shutdowns.js';
import type { IntervalAdvice } from '../../lib/interval/types.js';
import { sum } from '../../lib/numeric/columns.js';
import { compareCost } from '../../lib/yearly/compare.js';
import { exact, RATIO_TEN, TODAY, testPlant } from '../interval/fixtures.js';

/** 40 positions that are due in the first window; half of the work fits into each. */
const SHORT = testPlant(
  [{ shape: 3, scale: 900, todayDays: 365, ages: Array.from({ length: 40 }, (_, i) => 320 + i) }],
  {
    money: { ...RATIO_TEN, retightenHours: exact(0), fittingHours: exact(1) },
    shutdowns: [30, 120, 210, 300].map((day, i) => ({
      name: `stop ${i + 1}`,
      start: TODAY + day,
      crewHours: 20,
    })),
  },
);

function compared({ fleet, grouped }: typeof SHORT, days: number) {
  const costs = groupCosts(fleet, grouped);
  const intervals = adviseIntervals(fleet, grouped, costs, { seed: 1 }).map(
    (each): IntervalAdvice => ({ ...each, days, workDays: days }),
  );
  const { tasks } = planShutdowns(fleet, grouped, intervals, costs);
  const today = practisedWorkList(fleet, grouped, costs);
  const cost = compareCost(fleet, grouped, costs, intervals, {
    seed: 1,
    workLists: { proposed: tasks, today },
  });
  return { tasks, today, cost, free: compareCost(fleet, grouped, costs, intervals, { seed: 1 }) };
}

describe('cost along the work list', () => {
  it('has the replacements of the list in the first year, and leaks of what has to wait', () => {
    const { tasks, cost, free } = compared(SHORT, 365);
    expect(tasks.some(({ fits }) => !fits)).toBe(true);
    const policy = { name: 'proposed' as const, intervalDays: [365] };
    const [events] = expectedEvents(SHORT.fleet, SHORT.grouped, policy, 12, {
      workList: tasks,
      stepDays: 15,
    });
    const [first] = cost.proposed.years;
    expect(first?.scheduled).toBeCloseTo(sum(events?.planned ?? []), 0);
    expect(first?.leaks).toBeGreaterThan((free.proposed.years[0]?.leaks ?? Infinity) + 0.1);
    // The long run has no list.
    expect(cost.proposed.perYear).toBe(free.proposed.perYear);
  });

  it('prices today’s practice within the same crew hours: the same interval saves nothing', () => {
    const { cost } = compared(SHORT, 365);
    expect(cost.saving.firstYear.saving).toBeCloseTo(0, 9);
    expect(cost.today.years).toEqual(cost.proposed.years);
  });

  it('leaves chances to hold out of today’s list', () => {
    const fleet: Fleet = {
      ...SHORT.fleet,
      positions: SHORT.fleet.positions.map((position) => ({ ...position, criticality: 'safety' })),
    };
    for (const { because } of practisedWorkList(fleet, SHORT.grouped)) {
      expect(because).not.toContain('chance to hold');
    }
  });
});
