import { describe, expect, it } from 'vitest';
import { groupCosts } from '../../lib/cost/groupCost.js';
import type { Shutdown } from '../../lib/fleet/types.js';
import { adviseIntervals } from '../../lib/interval/advise.js';
import { planShutdowns } from '../../lib/interval/shutdowns.js';
import type { IntervalAdvice, ShutdownPlan } from '../../lib/interval/types.js';
import { exact, RATIO_TEN, TODAY, testPlant } from './fixtures.js';

const MONEY = { ...RATIO_TEN, resteriliseCost: exact(300), plannedStopHours: exact(2) };

/** Ten positions of one line with an interval of a year, one hour each, all due in 30 days. */
function planned(shutdowns: Partial<Shutdown>[]): ShutdownPlan {
  const ages = Array.from({ length: 10 }, (_, i) => 330 + i);
  const { fleet, grouped } = testPlant([{ shape: 3, scale: 900, ages }], { money: MONEY, shutdowns });
  const costs = groupCosts(fleet, grouped);
  const advice = adviseIntervals(fleet, grouped, costs).map(
    (each): IntervalAdvice => ({ ...each, action: 'replace', days: 365, workDays: 365 }),
  );
  return planShutdowns(fleet, grouped, advice, costs);
}

const stop = (name: string, inDays: number, change: Partial<Shutdown> = {}): Partial<Shutdown> => ({
  name,
  start: TODAY + inDays,
  end: TODAY + inDays + 1,
  ...change,
});

const done = ({ tasks }: ShutdownPlan): string[] =>
  tasks.map(({ position, start, fits }) => `${position} ${start} ${fits}`).sort();

describe('shutdowns of the same lines on one day', () => {
  it('are planned as one row with the hours of both, each task listed once and within the hours of its own', () => {
    const two = planned([
      stop('b', 30, { crewHours: 4 }),
      stop('a', 30, { crewHours: 3 }),
      stop('c', 300, { crewHours: 9 }),
    ]);
    const one = planned([stop('both', 30, { crewHours: 7 }), stop('c', 300, { crewHours: 9 })]);
    expect(done(two)).toEqual(done(one));
    const loads = two.loads.map(({ shutdown, hoursPlanned }) => [shutdown, hoursPlanned]);
    expect(loads.slice(0, 2)).toEqual([
      ['a', 3],
      ['b', 4],
    ]);
    expect(two.optimum?.cost).toBeCloseTo(one.optimum?.cost ?? 0, 6);
    expect(two.warnings.find(({ code }) => code === 'two-windows-on-one-day')?.text).toContain(
      'planned as one, with the hours of both: a and b',
    );
  });

  it('have no limit where one of them has none, the larger number of lines, and what either must or must not do', () => {
    const plan = planned([
      stop('a', 30, { crewHours: 3, must: ['V-1'], mostReplacements: 2 }),
      stop('b', 30, { crewHours: null, notOn: ['V-2'], mostReplacements: 3 }),
      stop('c', 300),
    ]);
    const first = plan.tasks.filter(({ shutdown, fits }) => fits && shutdown !== 'c');
    expect(first).toHaveLength(5);
    const positions = first.map(({ position }) => position);
    expect(positions).toContain('V-1');
    expect(positions).not.toContain('V-2');
    expect(first.find(({ position }) => position === 'V-1')?.shutdown).toBe('a');
    expect(new Set(positions).size).toBe(5);
  });
});
