import { describe, expect, it } from 'vitest';
import { groupCosts } from '../../lib/cost/groupCost.js';
import { adviseIntervals } from '../../lib/interval/advise.js';
import type { BeyondCalendar } from '../../lib/interval/beyondCalendar.js';
import { planShutdowns } from '../../lib/interval/shutdowns.js';
import type { IntervalAdvice } from '../../lib/interval/types.js';
import { exact, RATIO_TEN, TODAY, testPlant } from './fixtures.js';

const MONEY = { ...RATIO_TEN, resteriliseCost: exact(300), plannedStopHours: exact(2) };

/** One window a year, ten days from now, and intervals of a year: all are due in it each time, one hour each. */
function beyond(crewHours: number | null, placed: number, byRule = 0): BeyondCalendar | undefined {
  const kinds = [{ shape: 3, scale: 900, ages: new Array<number>(placed).fill(200) }];
  if (byRule > 0) kinds.push({ shape: 3, scale: 900, ages: new Array<number>(byRule).fill(200) });
  const groups = kinds.map((kind, g) => ({ ...kind, ...(g === 1 ? { size: 50 } : {}) }));
  // What goes by the due rule is done first.
  const must = Array.from({ length: byRule }, (_, i) => `V-${placed + i + 1}`);
  const shutdowns = [{ name: 'a', start: TODAY + 10, end: TODAY + 11, crewHours, must }];
  const { fleet, grouped } = testPlant(groups, { money: MONEY, shutdowns });
  const costs = groupCosts(fleet, grouped);
  const advice = adviseIntervals(fleet, grouped, costs).map((each, g): IntervalAdvice => {
    return { ...each, action: g === 0 ? 'replace' : 'keep', days: 365, workDays: 365 };
  });
  return planShutdowns(fleet, grouped, advice, costs).optimum?.beyondCalendar;
}

describe('windows after the end of the calendar', () => {
  it('have room for what the plan would do there, or no limit', () => {
    const room = { windows: 1, overfull: 0, mostHours: null, hours: null };
    expect(beyond(4, 4)).toEqual(room);
    expect(beyond(null, 4)).toEqual(room);
  });

  it('are overfull where the hours of the window that they repeat are not enough: what was left waits there too', () => {
    expect(beyond(2, 4)).toEqual({ windows: 1, overfull: 1, mostHours: 4, hours: 2 });
  });

  it('have the hours that other work leaves', () => {
    expect(beyond(2, 2, 1)).toEqual({ windows: 1, overfull: 1, mostHours: 2, hours: 1 });
    expect(beyond(3, 2, 1)?.overfull).toBe(0);
  });
});
