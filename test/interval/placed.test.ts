import { describe, expect, it } from 'vitest';
import { groupCosts } from '../../lib/cost/groupCost.js';
import type { Shutdown } from '../../lib/fleet/types.js';
import { adviseIntervals } from '../../lib/interval/advise.js';
import { planShutdowns } from '../../lib/interval/shutdowns.js';
import type { IntervalAdvice, ShutdownOptimum, ShutdownPlan } from '../../lib/interval/types.js';
import { exact, RATIO_TEN, type TestGroup, TODAY, testPlant } from './fixtures.js';

const MONEY = { ...RATIO_TEN, resteriliseCost: exact(300), plannedStopHours: exact(2) };
const DAYS = 365;

/** A plant whose groups have this answer and an interval of a year; one hour for a replacement. */
function planned(
  groups: TestGroup[],
  shutdowns: Partial<Shutdown>[],
  actions: IntervalAdvice['action'][] = ['replace'],
): ShutdownPlan {
  const { fleet, grouped } = testPlant(groups, { money: MONEY, shutdowns });
  const costs = groupCosts(fleet, grouped);
  const advice = adviseIntervals(fleet, grouped, costs).map(
    (each, g): IntervalAdvice => ({ ...each, action: actions[g] ?? 'replace', days: DAYS, workDays: DAYS }),
  );
  return planShutdowns(fleet, grouped, advice, costs);
}

const stop = (name: string, inDays: number, change: Partial<Shutdown> = {}): Partial<Shutdown> => ({
  name,
  start: TODAY + inDays,
  end: TODAY + inDays + 1,
  ...change,
});

const group = (ages: number[], change: Partial<TestGroup> = {}): TestGroup => ({
  shape: 3,
  scale: 900,
  ages,
  ...change,
});

const at = ({ tasks }: ShutdownPlan, name: string, fits = true): string[] =>
  tasks.filter((task) => task.shutdown === name && task.fits === fits).map(({ position }) => position);

describe('positions placed by the fleet plan', () => {
  it('are brought forward where the window of their interval has no hours, and say so', () => {
    const ages = [200, 210, 220, 230];
    const windows = [
      stop('a', 10, { crewHours: 3 }),
      stop('b', 100, { crewHours: 2 }),
      stop('c', 300, { crewHours: 9 }),
    ];
    const plan = planned([group(ages)], windows);
    // All four are due at b: from there to c each would get past its year by more than 5 %.
    expect(
      at(
        planned(
          [group(ages)],
          windows.map((each) => ({ ...each, crewHours: 9 })),
        ),
        'b',
      ),
    ).toHaveLength(4);
    expect(at(plan, 'a')).toHaveLength(2);
    expect(at(plan, 'b')).toHaveLength(2);
    expect(plan.tasks.every(({ fits }) => fits)).toBe(true);
    // The older ones go first: their leaks are the more likely.
    expect(at(plan, 'a').sort()).toEqual(['V-3', 'V-4']);
    const early = plan.tasks.find(({ shutdown }) => shutdown === 'a');
    expect(early?.because).toContain('done here because b has no hours to spare');
    const limit = plan.optimum?.limits.find(({ shutdown }) => shutdown === 'b');
    expect(limit?.savingPerHour).toBeGreaterThan(0);
    expect(plan.warnings.map(({ code }) => code)).toContain('crew-hours-bind');
  });

  it('are done where the line stops anyway, and say that it would have to be stopped', () => {
    const windows = [stop('a', 10), stop('b', 100, { stopFor: 'replacements' }), stop('c', 300)];
    const plan = planned([group([220])], windows);
    expect(at(plan, 'a')).toEqual(['V-1']);
    expect(plan.tasks[0]?.because).toContain(
      'done here because the line would have to be stopped for it at b',
    );
    expect(plan.optimum?.cost).toBeLessThan(plan.optimum?.byDueRule ?? 0);
    // A position that goes by the due rule opens the line there: then its stop is paid, and both are done in it.
    const both = planned([group([220]), group([220], { size: 50 })], windows, ['replace', 'keep']);
    expect(at(both, 'b').sort()).toEqual(['V-1', 'V-2']);
  });

  it('never get past their interval where hours allow, and never take more hours than there are', () => {
    const ages = Array.from({ length: 30 }, (_, i) => 20 + 12 * i);
    const windows = [0, 1, 2, 3, 4, 5].map((i) => stop(`s${i}`, 20 + 120 * i, { crewHours: 14 }));
    const plan = planned([group(ages)], windows);
    for (const load of plan.loads) expect(load.hoursPlanned).toBeLessThanOrEqual(14);
    // What is past its interval already can only go to the first window.
    for (const { shutdown, overdueDays } of plan.tasks) {
      if (shutdown !== 's0') expect(overdueDays).toBeLessThanOrEqual(0.05 * DAYS);
    }
    expect(plan.tasks.length).toBeGreaterThan(45);
    const { cost, lowerBound, gap, pastInterval } = plan.optimum ?? {
      cost: 0,
      lowerBound: 1,
      gap: 1,
      pastInterval: 1,
    };
    expect(lowerBound).toBeLessThanOrEqual(cost);
    expect(gap).toBeCloseTo((cost - lowerBound) / cost, 9);
    expect(gap).toBeLessThan(0.05);
    expect(pastInterval).toBe(0);
  });

  it('that do not fit at all are listed as such, the highest criticality first, then by cost', () => {
    const windows = [stop('a', 10, { crewHours: 1 }), stop('b', 110, { crewHours: 1 })];
    const groups = [group([360, 380]), group([370], { size: 50, criticality: 'high' })];
    const plan = planned(groups, windows, ['replace', 'replace']);
    expect(at(plan, 'a')).toEqual(['V-3']);
    expect(at(plan, 'a', false).sort()).toEqual(['V-1', 'V-2']);
    expect(at(plan, 'b')).toEqual(['V-2']);
    expect(plan.tasks.find(({ shutdown }) => shutdown === 'b')?.because).toContain('did not fit at a');
    expect(plan.optimum?.pastInterval).toBe(2);
    expect(plan.optimum?.limits[0]?.savingPerHour).toBeGreaterThan(0);
    // Two that go first and one hour: then an hour has no price of money.
    const both = [group([370, 375], { criticality: 'high' })];
    const firsts = planned(both, windows, ['replace']).optimum;
    expect(firsts?.limits.map(({ savingPerHour }) => savingPerHour)).toContain(null);
    expect(plan.warnings.map(({ code }) => code)).toContain('crew-hours-short');
  });

  it('are none where the data could not judge: these keep to the due rule and to what is left of the hours', () => {
    const windows = [
      stop('a', 10, { crewHours: 1 }),
      stop('b', 100, { stopFor: 'replacements', crewHours: 9 }),
    ];
    const kept = planned([group([250])], windows, ['keep']);
    expect(kept.optimum).toBeNull();
    expect(at(kept, 'b')).toEqual(['V-1']);
    const unlimited = planned([group([290])], [], ['replace']);
    expect(unlimited.optimum).toBeNull();
  });

  it('go by the due rule again after the windows that are planned at once', () => {
    const windows = Array.from({ length: 130 }, (_, i) => stop(`s${i}`, 30 + 10 * i));
    const plan = planned([group([100])], windows);
    const times = plan.tasks.map(({ start }) => start);
    expect(times).toEqual([...new Set(times)].sort());
    expect(plan.tasks.length).toBeGreaterThanOrEqual(2);
    for (const { overdueDays } of plan.tasks) expect(overdueDays).toBeLessThanOrEqual(0.05 * DAYS);
  });

  it('are placed where a line has two windows on one day, in the first by name', () => {
    const windows = [stop('b', 30), stop('a', 30), stop('c', 300)];
    const plan = planned([group([300])], windows);
    expect(at(plan, 'a')).toEqual(['V-1']);
    expect(at(plan, 'b')).toEqual([]);
    expect(plan.optimum?.pastInterval).toBe(0);
    expect(plan.warnings.find(({ code }) => code === 'two-windows-on-one-day')?.text).toContain('a and b');
    // One covers other lines too: they are not one, and the first takes the work.
    const part = planned([group([300])], [stop('b', 30), stop('a', 30, { lines: ['L1', 'L9'] })]);
    expect(part.warnings.find(({ code }) => code === 'two-windows-on-one-day')?.text).toContain(
      'only the first',
    );
    const apart = [stop('a', 30, { lines: ['L9'] }), stop('b', 30, { lines: ['L8'] })];
    const codes = planned([group([300])], apart).warnings.map(({ code }) => code);
    expect(codes).not.toContain('two-windows-on-one-day');
    // One of the two stops the line anyway: then there is no stop to pay.
    const made = (other: Partial<Shutdown>) =>
      planned([group([300])], [stop('a', 30, { stopFor: 'replacements' }), other, stop('c', 900)]).optimum
        ?.cost ?? 0;
    expect(made(stop('b', 30))).toBeLessThan(made(stop('b', 30, { stopFor: 'replacements' })));
  });

  it.each([0, 0.5])(
    'with %s hours everywhere: the bound is one of money, and it is said that nothing fits',
    (crewHours) => {
      const ages = Array.from({ length: 12 }, (_, i) => 200 + 15 * i);
      const windows = [0, 1, 2, 3, 4, 5].map((i) => stop(`s${i}`, 20 + 120 * i, { crewHours }));
      const plan = planned([group(ages, { criticality: 'high' })], windows);
      const { cost, lowerBound, gap, pastInterval, limits } = plan.optimum as ShutdownOptimum;
      expect(plan.tasks.some(({ fits }) => fits)).toBe(false);
      expect(pastInterval).toBe(12);
      // What an interval kept counts is far above any cost: with it the bound was below 0 and the gap above 1.
      expect(lowerBound).toBeGreaterThan(0);
      expect(lowerBound).toBeLessThanOrEqual(cost);
      expect(gap).toBeCloseTo((cost - lowerBound) / cost, 9);
      for (const { hoursUsed } of limits) expect(hoursUsed).toBe(0);
      const few = plan.warnings.find(({ code }) => code === 'crew-hours-below-one-task');
      expect(few?.text).toContain('Fewer crew hours than one replacement takes (1 h or more)');
      expect(few?.text).toContain(`s0 (${crewHours} h)`);
      const enough = planned(
        [group(ages)],
        windows.map((each) => ({ ...each, crewHours: 1 })),
      );
      expect(enough.warnings.map(({ code }) => code)).not.toContain('crew-hours-below-one-task');
    },
  );
});
