/** What must hold of a plan by use whatever the plant: units, equal use, unknown use, limits in days. */
import { describe, expect, it } from 'vitest';
import type { Fleet } from '../../../lib/fleet/types.js';
import type { WearLaw } from '../../../lib/group/wear/types.js';
import { columnOf, floatAt } from '../../../lib/numeric/columns.js';
import { dayFromText } from '../../../lib/numeric/day.js';
import { flowWear, modelFleet, planFleet, wearFleet, weighFleet } from '../../../lib/plan.js';
import { wearPlant } from '../../group/wear/wearFolder.js';

const fleet = wearPlant({ seed: 20_262, clock: 'steam cycles' });
const plan = planFleet(fleet);

const dayOf = (text: string | null | undefined): number => dayFromText(text ?? '') ?? Number.NaN;

function countedIn(of: Fleet, times: number): Fleet {
  return {
    ...of,
    readings: { ...of.readings, steamCycles: of.readings.steamCycles.map((count) => count * times) },
    positions: of.positions.map((each) => ({
      ...each,
      steamCyclesPerWeek: (each.steamCyclesPerWeek ?? 0) * times,
    })),
  };
}

describe('the unit of the counter (K25)', () => {
  it('changes nothing but counts and names', () => {
    const times = 1000;
    const other = planFleet(countedIn(fleet, times));
    expect(other.intervals.length).toBe(plan.intervals.length);
    other.intervals.forEach((interval, g) => {
      const own = plan.intervals[g] as typeof interval;
      expect(interval.days).toBe(own.days);
      expect(interval.costPerYear / own.costPerYear).toBeCloseTo(1, 9);
      expect(interval.leaksPerYear / own.leaksPerYear).toBeCloseTo(1, 9);
      expect((interval.onClock?.count ?? 0) / (own.onClock?.count ?? 0) / times).toBeCloseTo(1, 9);
    });
    expect(other.cost.proposed.perYear / plan.cost.proposed.perYear).toBeCloseTo(1, 9);
    const tasks = (of: typeof plan) => of.shutdownPlan.map(({ position, start }) => `${position} ${start}`);
    expect(tasks(other)).toEqual(tasks(plan));
    expect(other.demand.map(({ low, high }) => [low, high])).toEqual(
      plan.demand.map(({ low, high }) => [low, high]),
    );
  });
});

/** A plant in days, told to wear by a counter that rises alike everywhere. */
function toldAlike(of: Fleet, perDay: number, weight: number | null) {
  const runs = weight === null ? perDay : 1 + weight * perDay;
  const inDays = modelFleet(of);
  const found = wearFleet(inDays);
  const { lives, site } = of;
  const counts = columnOf(lives.fitted.slice(0, lives.length), (fitted, i) => {
    const removed = floatAt(lives.removed, i);
    return perDay * ((Number.isNaN(removed) ? site.dataUntil : removed) - fitted);
  });
  const law = {
    weight: weight === null ? null : { estimate: weight, low: weight, high: weight },
  } as unknown as WearLaw;
  return flowWear(inDays, {
    ...found,
    clocks: found.clocks.map((clock) => ({
      ...clock,
      verdict: 'told' as const,
      clock: weight === null ? 'steam cycles' : 'days and steam cycles',
      parts: weight === null ? ['steam cycles'] : ['days', 'steam cycles'],
      law,
    })),
    worn: [
      {
        group: 0,
        law: { kind: 'weibull', shape: 3, scale: 1 },
        positions: inDays.grouped.running.map(({ position, fitted }) => ({
          position,
          count: runs * (site.dataUntil - (fitted ?? 0)),
          rate: { perDay: runs, source: 'measured', resets: 0, spread: null },
        })),
        perDay: new Float64Array(of.positions.length).fill(runs),
        lives: {
          life: Int32Array.from({ length: lives.length }, (_, i) => i),
          counts,
          toEntry: counts.map(() => 0),
          toLastTight: counts.map(() => Number.NaN),
        },
      },
    ],
  });
}

describe('a plant that is used alike everywhere', () => {
  it('gets by its counter the plan that it gets in days', () => {
    const alike = wearPlant({ seed: 20_263, clock: 'days' });
    const days = weighFleet(modelFleet(alike));
    for (const [perDay, weight] of [
      [0.37, null],
      [5000, null],
      [0.37, 2.5],
    ] as const) {
      const byUse = weighFleet(toldAlike(alike, perDay, weight));
      expect(byUse.intervals.length).toBe(1);
      const [own, other] = [days.intervals[0], byUse.intervals[0]] as const;
      expect(other?.group).toBe(own?.group);
      expect(other?.days).toBe(own?.days);
      expect(other?.today).toBe(own?.today);
      // Faulty fittings come in as another cause of the same hazard, which rounds otherwise: the sampler keeps 7 digits of it.
      expect((other?.costPerYear ?? 0) / (own?.costPerYear ?? 1)).toBeCloseTo(1, 6);
      expect((other?.leaksPerYear ?? 0) / (own?.leaksPerYear ?? 1)).toBeCloseTo(1, 6);
      expect(byUse.grouped.running.map(({ ages }) => Math.round(ages[0]?.age ?? 0))).toEqual(
        days.grouped.running.map(({ ages }) => ages[0]?.age),
      );
    }
  });
});

describe('positions of unknown use', () => {
  const blind: Fleet = {
    ...fleet,
    positions: fleet.positions.map((each, p) => (p < 3 ? { ...each, steamCyclesPerWeek: null } : each)),
    readings: {
      ...fleet.readings,
      steamCycles: fleet.readings.steamCycles.map((count, i) =>
        (fleet.readings.position[i] ?? 0) < 3 ? Number.NaN : count,
      ),
    },
  };
  const told = planFleet(blind);

  it('stay in days under a name of their own, and are told so', () => {
    const unknown = told.intervals.filter(({ group }) => group.endsWith('use not known'));
    expect(unknown.map(({ positions }) => positions)).toEqual([3]);
    expect(unknown[0]?.onClock).toBeUndefined();
    const wear = told.wear.groups.find(({ group }) => group === unknown[0]?.group);
    expect(wear?.clock).toBe('days');
    expect(wear?.todo).toMatch(/Read the counters/);
    const days = weighFleet(modelFleet(blind));
    expect(unknown[0]?.costPerYear).toBe(days.intervals[0]?.costPerYear);
  });

  it('every position is in one group', () => {
    expect(told.intervals.reduce((sum, { positions }) => sum + positions, 0)).toBe(40);
    expect(new Set(told.dueDates.map(({ position }) => position)).size).toBe(40);
  });
});

describe('a limit of the maker in days', () => {
  it('is of real days: no diaphragm is planned past it, however little it is used', () => {
    const limit = { material: 'EPDM', size: null, maxDays: 200, maxStrokes: null, maxSteamCycles: null };
    const limited = planFleet({ ...fleet, site: { ...fleet.site, limits: [limit] } });
    const held = limited.intervals.filter(({ days }) => (days ?? 0) > 170);
    expect(held.length).toBeGreaterThan(1);
    for (const { days } of limited.intervals) expect(days).toBeLessThanOrEqual(200);
    const firsts = new Map(limited.shutdownPlan.map((task) => [task.position, task]).reverse() as []);
    for (const row of limited.dueDates) {
      if (row.overdueDays > 0 || row.ageDays >= 200) continue;
      const latest = dayOf(row.fitted) + 200;
      expect(dayOf(row.due)).toBeLessThanOrEqual(latest);
      const task = firsts.get(row.position) as { start: string } | undefined;
      if (task !== undefined)
        expect(dayOf(task.start)).toBeLessThanOrEqual(Math.max(latest, fleet.site.dataUntil + 1));
    }
  });
});
