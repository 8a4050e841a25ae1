/** When each position is due: by its interval, by its own rate of use, and by what is known of its age. */
import { describe, expect, it } from 'vitest';
import { groupCost } from '../../lib/cost/groupCost.js';
import type { Fleet } from '../../lib/fleet/types.js';
import { adviseIntervals } from '../../lib/interval/advise.js';
import { type DueDate, dueDates } from '../../lib/interval/dueDates.js';
import type { IntervalAdvice, ShutdownTask } from '../../lib/interval/types.js';
import { conditionalSurvival } from '../../lib/life/distribution/index.js';
import { textFromDay } from '../../lib/numeric/day.js';
import { type TestOptions, TODAY, testPlant } from './fixtures.js';

const AGES = [10, 200, 300, 500];

function rowsOf(
  change: (fleet: Fleet) => Fleet = (fleet) => fleet,
  options: TestOptions = {},
  tasks: ShutdownTask[] = [],
): { rows: DueDate[]; advice: IntervalAdvice } {
  const plant = testPlant(
    [{ shape: 3, scale: 900, spread: [0.001, 0.001], failures: 30, todayDays: 730, ages: AGES }],
    options,
  );
  const fleet = change(plant.fleet);
  const costs = plant.grouped.groups.map((group) => groupCost(fleet, group));
  const advice = adviseIntervals(fleet, plant.grouped, costs);
  return { rows: dueDates(fleet, plant.grouped, advice, tasks), advice: advice[0] as IntervalAdvice };
}

const day = (offset: number): string => textFromDay(TODAY + offset);

describe('due dates', () => {
  it('count the interval from the day of fitting, soonest first, with the 2 % span round it', () => {
    const { rows, advice } = rowsOf();
    const days = advice.days as number;
    expect(days).toBeGreaterThan(100);
    expect(rows.map(({ due }) => due)).toEqual([500, 300, 200, 10].map((age) => day(days - age)));
    const [low, high] = advice.within2percent as [number, number];
    const last = rows[3] as DueDate;
    expect(last.dueRange).toEqual([day(Math.floor(low - 10)), day(Math.floor(high - 10))]);
    expect(last.dueFor).toBe('interval');
    const first = rows[0] as DueDate;
    expect(first.overdueDays).toBe(Math.max(0, 500 - days));
    expect(first.leakBeforeDue).toEqual(days < 500 ? null : expect.any(Number));
  });

  it('give the chance of a leak before, from the age it has', () => {
    const { rows, advice } = rowsOf();
    const row = rows[3] as DueDate;
    const law = { kind: 'weibull', shape: 3, scale: 900 } as const;
    const days = (advice.days as number) - 10;
    expect(row.leakBeforeDue).toBeCloseTo(1 - conditionalSurvival(law, 10 + days, 10), 3);
    expect(row.leakWithinYear).toBeCloseTo(1 - conditionalSurvival(law, 10 + 365, 10), 3);
  });

  it('give what is due already its chance until the next window of its line', () => {
    const limits = [{ material: 'EPDM', size: null, maxDays: 100, maxStrokes: null, maxSteamCycles: null }];
    const shutdowns = [
      { start: TODAY + 90, end: TODAY + 91 },
      { start: TODAY + 40, end: TODAY + 41, lines: ['other'] },
    ];
    const { rows } = rowsOf(
      (fleet) => ({
        ...fleet,
        site: {
          ...fleet.site,
          limits: limits.map((limit) => ({ ...limit, material: fleet.items[0]?.material ?? '' })),
        },
      }),
      { shutdowns },
    );
    const law = { kind: 'weibull', shape: 3, scale: 900 } as const;
    const [oldest] = rows as [DueDate];
    expect(oldest.overdueDays).toBe(500 - (oldest.intervalDays ?? 0));
    expect(oldest.overdueDays).toBeGreaterThan(400);
    expect(oldest.leakBeforeDue).toBeCloseTo(1 - conditionalSurvival(law, 590, 500), 3);
    expect(oldest.leakBeforeDue).toBeGreaterThan(0.05);
  });

  it('come forward where a limit in steam cycles is reached first at the position’s own rate', () => {
    const steamed = (fleet: Fleet): Fleet => ({
      ...fleet,
      positions: fleet.positions.map((position, i) => ({
        ...position,
        steamCyclesPerWeek: i === 0 ? 14 : 1,
      })),
    });
    const { rows, advice } = rowsOf(steamed, {
      limits: [{ material: 'EPDM', size: null, maxDays: null, maxStrokes: null, maxSteamCycles: 100 }],
    });
    // Two a day: 100 in 50 days, of which 10 are gone; the interval of the whole group keeps below that too.
    const own = rows.find(({ ageDays }) => ageDays === 10) as DueDate;
    expect(advice.days).toBeLessThanOrEqual(50);
    expect(own.due).toBe(day((advice.days as number) - 10));
    // One a week: 700 days.
    const slow = rows.find(({ ageDays }) => ageDays === 200) as DueDate;
    expect(slow.dueFor).toBe('interval');
  });

  it('end where the position does, and follow the work list', () => {
    const ends = (fleet: Fleet): Fleet => ({
      ...fleet,
      positions: fleet.positions.map((position, i) => ({
        ...position,
        outOfServiceSince: i === 0 ? TODAY + 30 : null,
      })),
    });
    const { rows } = rowsOf(ends);
    const gone = rows[rows.length - 1] as DueDate;
    expect(gone).toMatchObject({
      ageDays: 10,
      due: null,
      dueRange: null,
      leakBeforeDue: null,
      dueFor: `out of service from ${day(30)}`,
    });
    const name = (rows[0] as DueDate).position;
    const task = (shutdown: string, start: string, fits: boolean) =>
      ({ position: name, shutdown, start, fits }) as ShutdownTask;
    const listed = rowsOf(undefined, {}, [
      task('Later', day(200), true),
      task('Full', day(20), false),
      task('Autumn', day(90), true),
    ]).rows.find(({ position }) => position === name) as DueDate;
    expect(listed.planned).toEqual({ shutdown: 'Autumn', start: day(90) });
  });

  it('say why there is none where no interval is kept', () => {
    const plant = testPlant([{ shape: 3, scale: 900, failures: 0, todayDays: null, ages: AGES }]);
    const costs = plant.grouped.groups.map((group) => groupCost(plant.fleet, group));
    const advice = adviseIntervals(plant.fleet, plant.grouped, costs).map(
      (each): IntervalAdvice => ({ ...each, action: 'keep', days: null }),
    );
    const [row] = dueDates(plant.fleet, plant.grouped, advice, []);
    expect(row).toMatchObject({
      due: null,
      dueRange: null,
      dueFor: 'none: no interval is kept or can be named',
    });
  });
});
