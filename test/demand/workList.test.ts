/** Demand under a work list: what does not fit into the crew hours is needed at the shutdown it is carried to. */
import { describe, expect, it } from 'vitest';
import { carriedOut, nextCarriedOut } from '../../lib/demand/carriedOut.js';
import { forecastDemand } from '../../lib/demand/forecast.js';
import type { PlannedNeed } from '../../lib/demand/types.js';
import { lineWindows } from '../../lib/fleet/calendar.js';
import type { Fleet } from '../../lib/fleet/types.js';
import type { GroupedFleet } from '../../lib/group/types.js';
import { planShutdowns } from '../../lib/interval/shutdowns.js';
import type { IntervalAdvice, ShutdownPlan, ShutdownTask } from '../../lib/interval/types.js';
import { randomStream } from '../../lib/numeric/random.js';
import { ordinaryPlan } from '../fixtures/plan.js';
import { NO_MONEY } from './empty.js';
import { plant, TODAY } from './plant.js';
import { walkPosition } from './walk.js';

const SHUTDOWNS = [
  { name: 'first', inDays: 60 },
  { name: 'second', inDays: 240 },
  { name: 'third', inDays: 430 },
  { name: 'fourth', inDays: 610 },
];
const POLICY = { name: 'proposed', intervalDays: [180, 180] } as const;

/** Two items of 20 positions each, all due at the first shutdown; one hour a replacement. */
function busyPlant(crewHours: number | null): { fleet: Fleet; grouped: GroupedFleet; list: ShutdownPlan } {
  const ages = Array.from({ length: 20 }, (_, i) => 150 + i);
  const made = plant(
    [
      { shape: 3, scale: 900, ages },
      { size: 40, shape: 2, scale: 700, ages },
    ],
    {
      shutdowns: SHUTDOWNS,
      items: [
        { item: 'A', size: 25 },
        { item: 'B', size: 40 },
      ],
    },
  );
  made.fleet.site.money = { ...NO_MONEY, fittingHours: { low: 1, likely: 1, high: 1 } };
  for (const shutdown of made.fleet.shutdowns) shutdown.crewHours = crewHours;
  const [advice] = ordinaryPlan().intervals;
  if (advice === undefined) throw new Error('the fixture has intervals');
  const intervals = POLICY.intervalDays.map((days): IntervalAdvice => ({ ...advice, days, workDays: days }));
  return { ...made, list: planShutdowns(made.fleet, made.grouped, intervals) };
}

function kitsOf(
  fleet: Fleet,
  grouped: GroupedFleet,
  workList?: readonly ShutdownTask[],
): Map<string, PlannedNeed> {
  const policy = { name: POLICY.name, intervalDays: [...POLICY.intervalDays] };
  const options = workList === undefined ? { seed: 1 } : { seed: 1, workList };
  const { items } = forecastDemand(fleet, grouped, policy, options);
  return new Map(items.flatMap(({ item, planned }) => planned.map((need) => [`${item} ${need.name}`, need])));
}

describe('a forecast that follows the work list', () => {
  it('has the replacements that fit in every kit, and no others', () => {
    const { fleet, grouped, list } = busyPlant(25);
    const kits = kitsOf(fleet, grouped, list.tasks);
    expect(list.tasks.filter(({ fits }) => !fits).length).toBeGreaterThan(0);
    for (const { name } of SHUTDOWNS) {
      for (const item of ['A', 'B']) {
        const fitting = list.tasks.filter(
          (task) => task.shutdown === name && task.item === item && task.fits,
        ).length;
        expect(kits.get(`${item} ${name}`)?.ifNothingLeaks).toBeCloseTo(fitting, 9);
      }
    }
  });
  it('is the forecast without a list where the crew has no limit', () => {
    const { fleet, grouped, list } = busyPlant(null);
    const [free, listed] = [kitsOf(fleet, grouped), kitsOf(fleet, grouped, list.tasks)];
    for (const [key, need] of free) {
      expect(listed.get(key)?.expected).toBeCloseTo(need.expected, 6);
      expect(listed.get(key)?.kit).toBe(need.kit);
    }
  });
  it('needs fewer at the shutdown that is full and more at the next one', () => {
    const { fleet, grouped, list } = busyPlant(25);
    const [free, listed] = [kitsOf(fleet, grouped), kitsOf(fleet, grouped, list.tasks)];
    const expected = (kits: Map<string, PlannedNeed>, name: string): number =>
      ['A', 'B'].reduce((sum, item) => sum + (kits.get(`${item} ${name}`)?.expected ?? 0), 0);
    // 25 of 40 fit. What leaks before the first shutdown may be due there again, hence a little above 25.
    expect(expected(free, 'first')).toBeGreaterThan(38);
    expect(expected(listed, 'first')).toBeLessThan(26);
    const waiting = list.tasks.filter(({ shutdown, fits }) => shutdown === 'first' && !fits).length;
    expect(waiting).toBe(15);
  });
  it('agrees with a plain simulation where all wait for the second shutdown', () => {
    const group = { shape: 2.5, scale: 500, ages: Array<number>(30).fill(150) };
    // With a window soon after the second, one fitted shortly before it is not due there.
    const shutdowns = [...SHUTDOWNS, { name: 'extra', inDays: 300 }];
    const { fleet, grouped } = plant([group], { shutdowns });
    const task = ordinaryPlan().shutdownPlan[0] as ShutdownTask;
    const at = (start: string, fits: boolean): ShutdownTask[] =>
      fleet.positions.map(({ position }) => ({ ...task, position, start, fits }));
    const list = [...at('2026-03-02', false), ...at('2026-08-29', true)];
    const { items } = forecastDemand(
      fleet,
      grouped,
      { name: 'proposed', intervalDays: [180] },
      { seed: 1, workList: list },
    );
    const expected = items[0]?.planned.find(({ name }) => name === 'second')?.expected ?? Number.NaN;
    const windows = lineWindows(fleet, 'A', TODAY + 2000).map((window) => ({
      ...window,
      day: window.day - TODAY,
    }));
    const random = randomStream(11, 'carried over');
    const counts = Array.from({ length: 4000 }, () => {
      let count = 0;
      for (const age of group.ages) {
        // Its first life waits for the second shutdown; one fitted after a leak goes by the rule again.
        const first = walkPosition(group, age, null, [], 240, random)[0];
        if (first === undefined) count += 1;
        else {
          const rest = windows
            .filter(({ day }) => day > first.moment)
            .map((window) => ({ ...window, day: window.day - first.moment }));
          const later = walkPosition(group, 0, 180, rest, 240.5 - first.moment, random);
          count += later.filter(
            ({ kind, moment }) => kind === 'planned' && moment + first.moment > 239,
          ).length;
        }
      }
      return count;
    });
    const mean = counts.reduce((a, b) => a + b, 0) / counts.length;
    const variance = counts.reduce((sum, each) => sum + (each - mean) ** 2, 0) / (counts.length - 1);
    expect(Math.abs(expected - mean)).toBeLessThan(4 * Math.sqrt(variance / counts.length) + 1e-3 * mean);
  });
  it('leaves out the kits where nobody asks for them, and nothing else', () => {
    const { fleet, grouped, list } = busyPlant(25);
    const policy = { name: POLICY.name, intervalDays: [...POLICY.intervalDays] };
    const all = forecastDemand(fleet, grouped, policy, { seed: 1, workList: list.tasks });
    const bare = forecastDemand(fleet, grouped, policy, { seed: 1, workList: list.tasks, kits: false });
    expect(bare.months).toEqual(all.months);
    expect(bare.items.map(({ planned }) => planned)).toEqual([[], []]);
  });
});

describe('the work list by position', () => {
  const { fleet } = plant([{ shape: 3, scale: 900, ages: [1, 2] }], { shutdowns: SHUTDOWNS });
  const task = ordinaryPlan().shutdownPlan[0] as ShutdownTask;
  const windows = lineWindows(fleet, 'A', TODAY + 2000);
  it('gives the days that fit, and the window after the last where it still waits', () => {
    const [first, second] = carriedOut(fleet, [
      { ...task, position: 'V-1', start: '2026-08-29', fits: true },
      { ...task, position: 'V-1', start: '2026-03-02', fits: false },
      { ...task, position: 'V-2', start: '2026-03-02', fits: true },
      { ...task, position: 'V-2', start: '2026-08-29', fits: false },
      { ...task, position: 'unknown', start: '2026-08-29', fits: true },
    ]);
    expect(first).toEqual({ days: [TODAY + 240], waitsSince: null });
    expect(second).toEqual({ days: [TODAY + 60], waitsSince: TODAY + 240 });
    if (first === undefined || second === undefined) throw new Error('an entry per position is expected');
    expect(nextCarriedOut(first, windows, TODAY)).toBe(TODAY + 240);
    expect(nextCarriedOut(first, windows, TODAY + 240)).toBeNull();
    expect(nextCarriedOut(second, windows, TODAY + 60)).toBe(TODAY + 430);
  });
});
