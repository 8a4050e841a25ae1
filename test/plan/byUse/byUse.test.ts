/** A plant whose diaphragms wear by steam cycles: what the plan says against a plain run of that plant, and against a plan in days. */
import { describe, expect, it } from 'vitest';
import { meanOf } from '../../../lib/cost/spread.js';
import type { GroupCost } from '../../../lib/cost/types.js';
import { itemAt } from '../../../lib/numeric/columns.js';
import { dayFromText } from '../../../lib/numeric/day.js';
import { flowWear, modelFleet, planFleet, weighFleet } from '../../../lib/plan.js';
import { MEAN_PER_WEEK, SCALE_DAYS, wearPlant } from '../../group/wear/wearFolder.js';
import { type AheadPosition, type LongRun, longRun, runAhead, type TrueLaw } from './plainRun.js';

const SEED = 20_261;
const fleet = wearPlant({ seed: SEED, clock: 'steam cycles', positions: 120 });
const inDays = modelFleet(fleet);
const flowing = flowWear(inDays);
const byUse = weighFleet(flowing);
const asDays = weighFleet(inDays);
const plan = planFleet(fleet);

const perDay = (p: number): number => (fleet.positions[p]?.steamCyclesPerWeek ?? 0) / 7;
const groupOf = new Map(flowing.grouped.running.map(({ position, groupNow }) => [position, groupNow]));
const group = itemAt(flowing.grouped.groups, 0);
const TRUTH: TrueLaw = {
  shape: 3,
  scale: (SCALE_DAYS * MEAN_PER_WEEK) / 7,
  share: 0,
  faultShape: 1,
  faultScale: 1,
};
/** The laws that the plan was made on, in steam cycles. */
const laws = Array.from(group.draws.shape, (shape, d): TrueLaw => {
  const { scale, share, faultShape, faultScale } = group.draws;
  const counts = itemAt(Array.from(scale), d) * (group.use?.perDay ?? 0);
  return { shape, scale: counts, share: itemAt(Array.from(share), d), faultShape, faultScale };
});

function runOf(
  groupAt: (p: number) => number,
  intervals: readonly (number | null)[],
  costs: readonly GroupCost[],
  of: readonly TrueLaw[],
  lives: number,
): LongRun {
  const positions = fleet.positions.map((_, p) => {
    const g = groupAt(p);
    const { replacement, leak } = itemAt(costs, g);
    return {
      perDay: perDay(p),
      interval: itemAt(intervals, g),
      replacement: meanOf(replacement),
      leak: meanOf(leak),
    };
  });
  return longRun(positions, of, lives, 1);
}
const dayOf = (text: string | null | undefined): number => dayFromText(text ?? '') ?? Number.NaN;
const own = (p: number): number => groupOf.get(p) ?? 0;
const sumOf = (of: (advice: (typeof byUse.intervals)[number]) => number): number =>
  byUse.intervals.reduce((total, advice) => total + of(advice) * advice.positions, 0);

describe('a plant that wears by steam cycles, used from a third to three times as much', () => {
  it('comes in classes of use, each with an interval of about the same count', () => {
    expect(byUse.intervals.length).toBeGreaterThan(6);
    const counts = byUse.intervals.flatMap(({ onClock, days }) =>
      days !== null && days > 150 ? [onClock?.count ?? 0] : [],
    );
    // Whole months are a step of a fifth at five months.
    expect(Math.max(...counts) / Math.min(...counts)).toBeLessThan(1.25);
    for (const { onClock, days } of byUse.intervals) {
      expect(onClock?.clock).toBe('steam cycles');
      expect((onClock?.count ?? 0) / ((days ?? 0) * (onClock?.perDay ?? 1))).toBeCloseTo(1, 2);
    }
  });

  it('has the leaks, replacements and cost a year of a plain run under the laws it was planned on', () => {
    const run = runOf(
      own,
      byUse.intervals.map(({ days }) => days),
      flowing.costs,
      laws,
      100,
    );
    const near = (told: number, { mean, error }: LongRun['leaks'], least: number): void => {
      expect(error).toBeLessThan(least / 8);
      expect(Math.abs(told - mean)).toBeLessThan(4 * error);
    };
    const daysPlan = itemAt(asDays.intervals, 0);
    // What the run must tell apart: this plan from one whose groups are told in days.
    near(
      sumOf(({ leaksPerYear }) => leaksPerYear),
      run.leaks,
      Math.abs(120 * daysPlan.leaksPerYear - run.leaks.mean),
    );
    near(
      sumOf(({ costPerYear }) => costPerYear),
      run.cost,
      Math.abs(120 * daysPlan.costPerYear - run.cost.mean),
    );
  });

  it('prices today’s practice at the same pace', () => {
    const run = runOf(
      own,
      byUse.intervals.map(({ today }) => today),
      flowing.costs,
      laws,
      200,
    );
    const told = sumOf(({ leaksPerYearToday }) => leaksPerYearToday);
    expect(run.leaks.error).toBeLessThan((0.05 * told) / 8);
    // One rate stands for positions up to 12 % off it: where nearly all leak, that alone is worth half a percent.
    expect(Math.abs(told - run.leaks.mean)).toBeLessThan(4 * run.leaks.error + 0.005 * told);
  });

  it('costs less under the truth than a plan in days', () => {
    const clock = runOf(
      own,
      byUse.intervals.map(({ days }) => days),
      flowing.costs,
      [TRUTH],
      20_000,
    );
    const days = runOf(
      () => 0,
      asDays.intervals.map((each) => each.days),
      inDays.costs,
      [TRUTH],
      20_000,
    );
    const error = Math.hypot(clock.cost.error, days.cost.error);
    expect(days.cost.mean - clock.cost.mean).toBeGreaterThan(8 * error);
    expect(clock.cost.mean / days.cost.mean).toBeLessThan(0.93);
  });

  it('needs in the months to come what a plain run of it from today takes', () => {
    const today = fleet.site.dataUntil;
    const places = new Map(fleet.positions.map(({ position }, p) => [position, p]));
    const stands = new Map(flowing.grouped.running.map((life) => [life.position, life]));
    const ahead = plan.dueDates.map((row): AheadPosition => {
      const p = places.get(row.position) ?? -1;
      const fitted = stands.get(p)?.fitted ?? today;
      const due = plan.shutdownPlan.find(({ position }) => position === row.position);
      const first = due === undefined ? null : dayOf(due.start) - today;
      return { perDay: perDay(p), count: perDay(p) * (today - fitted), first, interval: row.intervalDays };
    });
    // Eleven months: the year ends on the very day of a fifth round of some classes.
    const run = runAhead(ahead, Array.from({ length: 5 }, () => laws).flat(), 333, 1);
    const sum = (of: (month: (typeof plan.demand)[number]) => number): number =>
      plan.demand.slice(0, 11).reduce((total, month) => total + of(month), 0);
    const leaks = sum((month) => month.leaks);
    expect(run.leaks.error).toBeLessThan((0.2 * leaks) / 8);
    expect(Math.abs(leaks - run.leaks.mean)).toBeLessThan(4 * run.leaks.error);
    // Steps of a quarter month put what is due within one of them together.
    const planned = sum((month) => month.planned);
    expect(Math.abs(planned - run.planned.mean)).toBeLessThan(4 * run.planned.error + 0.005 * planned);
  });

  it('lists each diaphragm when its own count reaches the interval', () => {
    const byClock = plan.dueDates.filter((row) => row.byClock !== undefined);
    expect(byClock.length).toBe(120);
    for (const row of byClock) {
      const due = dayOf(row.due);
      expect(Math.abs(due - dayOf(row.byClock?.due))).toBeLessThanOrEqual(
        1 + 0.005 * (row.intervalDays ?? 0),
      );
      if (row.overdueDays > 0 || row.planned === null) continue;
      expect(Math.abs(due - dayOf(row.planned.start))).toBeLessThanOrEqual(2);
    }
  });
});
