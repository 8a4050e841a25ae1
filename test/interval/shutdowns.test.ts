import { describe, expect, it } from 'vitest';
import { groupCost } from '../../lib/cost/groupCost.js';
import type { Fleet, Limit } from '../../lib/fleet/types.js';
import type { GroupedFleet } from '../../lib/group/types.js';
import { adviseIntervals } from '../../lib/interval/advise.js';
import { planShutdowns } from '../../lib/interval/shutdowns.js';
import type { IntervalAdvice, ShutdownPlan } from '../../lib/interval/types.js';
import { exact, RATIO_TEN, type TestGroup, type TestOptions, TODAY, testPlant } from './fixtures.js';

const MONEY = { ...RATIO_TEN, retightenHours: exact(0.25), recalibrationHoursPerAccessory: exact(0.5) };
/** Work of one replacement within the window: 1 h to fit, re-tightening of 0.25 h before start-up. */
const HOURS = 1.25;

function plan(
  group: TestGroup,
  days: number | null,
  options: TestOptions = {},
  change: (fleet: Fleet, grouped: GroupedFleet) => { fleet: Fleet; grouped: GroupedFleet } = (
    fleet,
    grouped,
  ) => ({ fleet, grouped }),
): ShutdownPlan {
  const made = testPlant([group], { money: MONEY, ...options });
  const { fleet, grouped } = change(made.fleet, made.grouped);
  const costs = grouped.groups.map((each) => groupCost(fleet, each));
  const advice = adviseIntervals(fleet, grouped, costs, { seed: 1 });
  return planShutdowns(
    fleet,
    grouped,
    advice.map((each): IntervalAdvice => ({ ...each, days, workDays: days })),
  );
}

const group = (ages: number[]): TestGroup => ({ shape: 3, scale: 900, ages });

describe('shutdown plan', () => {
  it('takes no window past the maker’s limit, though a window may be late by 5 % of an interval', () => {
    // Fitted 350 days ago. The second window, in 25 days, is within 5 % of 365 days and past the limit.
    const shutdowns = [
      { name: 'a', start: TODAY + 5 },
      { name: 'b', start: TODAY + 25 },
      { name: 'c', start: TODAY + 400 },
    ];
    const firstOf = (limits: Limit[]): string | undefined => {
      const made = testPlant([{ ...group([350]), todayDays: 365, failures: 0, supportedAge: null }], {
        money: MONEY,
        shutdowns,
        limits,
      });
      const costs = made.grouped.groups.map((each) => groupCost(made.fleet, each));
      const advice = adviseIntervals(made.fleet, made.grouped, costs);
      expect(advice[0]?.days).toBe(365);
      return planShutdowns(made.fleet, made.grouped, advice).tasks[0]?.shutdown;
    };
    const maker = { material: 'EPDM', size: null, maxDays: 366, maxSteamCycles: null, maxStrokes: null };
    expect(firstOf([])).toBe('b');
    expect(firstOf([maker])).toBe('a');
  });

  it('replaces each position at the last window before it would be late, and again later', () => {
    // Interval 400. Fitted 350 ago: due in 50 days. Windows in 40, 240 and 440 days: waiting for 240 is too late.
    const { tasks, overdueNow, backlogGoneAfter } = plan(group([350, 100]), 400, {
      shutdowns: [
        { name: 'a', start: TODAY + 40 },
        { name: 'b', start: TODAY + 240 },
        { name: 'c', start: TODAY + 440 },
      ],
    });
    const shown = tasks.map(({ position, shutdown, ageDays, overdueDays }) => [
      position,
      shutdown,
      ageDays,
      overdueDays,
    ]);
    // V-2 is 340 at b and would be 540 at c: b. V-1, fitted at a, is 400 at c. After c the calendar repeats two years
    // on, in 771 days: V-2, fitted at b, would be 531 then, so that it is replaced at c although it is only 200.
    expect(shown).toEqual([
      ['V-1', 'a', 390, -10],
      ['V-2', 'b', 340, -60],
      ['V-1', 'c', 400, 0],
      ['V-2', 'c', 200, -200],
    ]);
    expect(overdueNow).toBe(0);
    expect(backlogGoneAfter).toBeNull();
  });

  it('replaces nothing that is out of service before it would be late, on lines with and without windows', () => {
    const shutdowns = [60, 240, 420].map((days, i) => ({ name: `stop ${i + 1}`, start: TODAY + days }));
    const ending = (days: number | null) => (fleet: Fleet, grouped: GroupedFleet) => ({
      fleet: {
        ...fleet,
        positions: fleet.positions.map((position) => ({
          ...position,
          outOfServiceSince: days === null ? null : TODAY + days,
        })),
      },
      grouped,
    });
    const stops = (days: number | null, windows = shutdowns): string[] =>
      plan(group([350]), 400, { shutdowns: windows }, ending(days)).tasks.map(({ shutdown }) => shutdown);
    // Fitted 350 days ago under 400, late from day 70 on: stop 1 takes it.
    expect(stops(null)).toEqual(['stop 1']);
    expect(stops(300)).toEqual(['stop 1']);
    expect(stops(65)).toEqual([]);
    expect(stops(50)).toEqual([]);
    expect(stops(null, [])).toHaveLength(2);
    expect(stops(300, [])).toHaveLength(1);
    expect(stops(50, [])).toEqual([]);
  });

  it('does not carry a position that did not fit beyond its end, and prices waiting up to it', () => {
    const shutdowns = [60, 240, 420].map((days, i) => ({
      name: `stop ${i + 1}`,
      start: TODAY + days,
      crewHours: 0,
    }));
    const shown = (ends: number | null) =>
      plan(group([380]), 400, { shutdowns }, (fleet, grouped) => ({
        fleet: {
          ...fleet,
          positions: fleet.positions.map((each) => ({
            ...each,
            outOfServiceSince: ends === null ? null : TODAY + ends,
          })),
        },
        grouped,
      })).tasks;
    expect(shown(null).map(({ shutdown }) => shutdown)).toEqual(['stop 1', 'stop 2', 'stop 3']);
    const short = shown(150);
    expect(short.map(({ shutdown }) => shutdown)).toEqual(['stop 1']);
    expect(short[0]?.costOfWaiting).toBeGreaterThan(0);
    expect(short[0]?.costOfWaiting).toBeLessThan(0.6 * (shown(null)[0]?.costOfWaiting ?? 0));
  });

  it('gives hours by craft, tasks, item and the chance that it is still due', () => {
    const { tasks } = plan(
      { ...group([350]), openingsPerYear: 0.2 },
      400,
      { shutdowns: [{ start: TODAY + 40 }] },
      (fleet, grouped) => ({
        fleet: { ...fleet, positions: fleet.positions.map((position) => ({ ...position, accessories: 2 })) },
        grouped,
      }),
    );
    expect(tasks).toHaveLength(1);
    expect(tasks[0]).toMatchObject({
      item: 'P-1',
      fitterHours: HOURS,
      instrumentHours: 1,
      afterStartUpHours: 0.25,
      fits: true,
    });
    expect(tasks[0]?.tasks).toEqual([
      'replace',
      're-tighten before start-up',
      're-tighten after first steam cycle',
      'recalibrate 2 accessories',
    ]);
    const alive = Math.exp(-((390 / 900) ** 3) + (350 / 900) ** 3) * Math.exp((-0.2 / 365.25) * 40);
    expect(tasks[0]?.chanceStillDue).toBeCloseTo(alive, 12);
  });

  it('fills crew hours by criticality, then by what waiting costs, and carries the rest', () => {
    const { tasks, loads, warnings } = plan(
      group([500, 600, 700, 450]),
      400,
      {
        shutdowns: [
          { name: 'a', start: TODAY + 10, crewHours: 2 * HOURS },
          { name: 'b', start: TODAY + 110, crewHours: 2 * HOURS },
        ],
      },
      (fleet, grouped) => ({
        fleet: {
          ...fleet,
          positions: fleet.positions.map((position, i) =>
            i === 3 ? { ...position, criticality: 'high' as const } : position,
          ),
        },
        grouped,
      }),
    );
    const at = (name: string): [string, boolean][] =>
      tasks.filter((task) => task.shutdown === name).map(({ position, fits }) => [position, fits]);
    expect(at('a')).toEqual([
      ['V-4', true],
      ['V-3', true],
      ['V-2', false],
      ['V-1', false],
    ]);
    expect(at('b')).toEqual([
      ['V-2', true],
      ['V-1', true],
    ]);
    expect(loads[0]).toMatchObject({
      hoursNeeded: 4 * HOURS,
      hoursPlanned: 2 * HOURS,
      hoursAfterStartUp: 2 * 0.25,
      replacements: 2,
      doNotFit: 2,
    });
    expect(tasks.find((task) => task.position === 'V-1' && task.fits)?.because).toContain('did not fit at a');
    expect(warnings.map((warning) => warning.code)).toEqual(['crew-hours-short']);
    expect(warnings[0]?.text).toBe('Replacements that do not fit into the crew hours: 2 in a.');
  });

  it('names the shutdown after which nothing is overdue', () => {
    const stops = [
      { name: 'a', start: TODAY + 10, crewHours: HOURS },
      { name: 'b', start: TODAY + 30, crewHours: HOURS },
    ];
    expect(plan(group([500, 600]), 400, { shutdowns: stops })).toMatchObject({
      overdueNow: 2,
      backlogGoneAfter: 'b',
    });
    expect(plan(group([500, 600, 700]), 400, { shutdowns: stops })).toMatchObject({
      overdueNow: 3,
      backlogGoneAfter: null,
    });
  });

  it('lists by month of due date without a calendar, and on lines without a window', () => {
    const bare = plan(group([390, 100]), 400);
    expect(bare.tasks.map(({ shutdown, position }) => [shutdown, position])).toEqual([
      ['due 2026-01', 'V-1'],
      ['due 2026-10', 'V-2'],
      ['due 2027-02', 'V-1'],
      ['due 2027-12', 'V-2'],
    ]);
    expect(bare.warnings.map((warning) => warning.code)).toEqual(['no-calendar']);
    const other = plan(group([390]), 400, { shutdowns: [{ start: TODAY + 20, lines: ['B'] }] });
    expect(other.tasks[0]?.shutdown).toBe('due 2026-01');
    expect(other.warnings.map((warning) => warning.code)).toEqual(['lines-without-window']);
  });

  it('plans nothing for what runs until it leaks', () => {
    expect(plan(group([390]), null, { shutdowns: [{ start: TODAY + 20 }] }).tasks).toEqual([]);
    expect(plan(group([390]), null).tasks).toEqual([]);
  });

  it('averages over ages that fit the records where the day of fitting is not known', () => {
    const { tasks, overdueNow } = plan(
      group([300]),
      400,
      { shutdowns: [{ start: TODAY + 50 }] },
      (fleet, grouped) => ({
        fleet,
        grouped: {
          ...grouped,
          running: grouped.running.map((life) => ({
            ...life,
            fitted: null,
            ages: [
              { age: 200, chance: 0.4 },
              { age: 600, chance: 0.6 },
            ],
          })),
        },
      }),
    );
    const held = (age: number): number => Math.exp((age / 900) ** 3 - ((age + 50) / 900) ** 3);
    expect(overdueNow).toBe(1);
    expect(tasks[0]).toMatchObject({ ageDays: null, overdueDays: null });
    expect(tasks[0]?.chanceStillDue).toBeCloseTo(0.4 * held(200) + 0.6 * held(600), 12);
  });
});
