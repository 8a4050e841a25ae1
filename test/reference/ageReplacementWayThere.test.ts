/**
 * The first year after an interval is shortened from 730 to 400 days: 600 positions, shape 3, scale 900, in the age mix
 * that replacing at 730 days makes. Values from ageReplacement.py (a renewal recursion by day and scipy quadrature).
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { groupCost } from '../../lib/cost/groupCost.js';
import { expectedEvents } from '../../lib/demand/path.js';
import { adviseIntervals } from '../../lib/interval/advise.js';
import { planShutdowns } from '../../lib/interval/shutdowns.js';
import type { IntervalAdvice } from '../../lib/interval/types.js';
import { survival } from '../../lib/life/distribution/index.js';
import { compareCost } from '../../lib/yearly/compare.js';
import { testPlant } from '../interval/fixtures.js';

interface WayThere {
  overdueOnDayOne: number;
  perYearToday: number;
  perYearProposed: number;
  firstYear: number;
}

const { wayThere } = JSON.parse(readFileSync(new URL('./ageReplacement.json', import.meta.url), 'utf8')) as {
  wayThere: WayThere;
};

/** 600 positions whose ages are spread as a schedule of 730 days leaves them. */
function stationary() {
  const model = { kind: 'weibull' as const, shape: 3, scale: 900 };
  const days = Array.from({ length: 730 }, (_, age) => survival(model, age + 0.5));
  const total = days.reduce((sum, share) => sum + share, 0);
  const ages = days.map((share, age) => ({ age: age + 0.5, chance: share / total }));
  const made = testPlant([{ ...model, todayDays: 730, ages: Array.from({ length: 600 }, () => 0) }]);
  const running = made.grouped.running.map((life) => ({ ...life, fitted: null, ages }));
  return { fleet: made.fleet, grouped: { ...made.grouped, running } };
}

describe('K19: the way from 730 to 400 days', () => {
  const { fleet, grouped } = stationary();
  const costs = grouped.groups.map((group) => groupCost(fleet, group));
  const intervals = adviseIntervals(fleet, grouped, costs, { seed: 1 }).map(
    (each): IntervalAdvice => ({ ...each, days: 400, workDays: 400 }),
  );

  it('starts with 39 % overdue', () => {
    expect(planShutdowns(fleet, grouped, intervals).overdueNow).toBe(Math.round(wayThere.overdueOnDayOne));
    expect(wayThere.overdueOnDayOne / 600).toBeCloseTo(0.39, 2);
  });

  it('takes 591 replacements in year one against 339 a year before and 560 a year after', () => {
    const { today, proposed } = compareCost(fleet, grouped, costs, intervals, { seed: 1 });
    expect(today.replacementsPerYear / wayThere.perYearToday).toBeCloseTo(1, 6);
    expect(proposed.replacementsPerYear / wayThere.perYearProposed).toBeCloseTo(1, 6);
    expect(Math.abs((proposed.years[0]?.replacements ?? 0) / wayThere.firstYear - 1)).toBeLessThan(0.01);
    expect(Math.abs((today.years[0]?.replacements ?? 0) / wayThere.perYearToday - 1)).toBeLessThan(0.01);
  });

  it('and to 0.1 % by the fine recursion over months', () => {
    const [events] = expectedEvents(fleet, grouped, { name: 'proposed', intervalDays: [400] }, 12, {
      stepDays: 1,
    });
    const sum = (column?: Float64Array): number =>
      (column ?? new Float64Array(0)).reduce((total, x) => total + x, 0);
    const all = sum(events?.planned) + sum(events?.leaks) + sum(events?.opened);
    expect(Math.abs(all / wayThere.firstYear - 1)).toBeLessThan(0.001);
  });
});
