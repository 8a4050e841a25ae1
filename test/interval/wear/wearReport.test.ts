/** Intervals on clocks in a whole plan: days and due dates by each position's own count. */
import { describe, expect, it } from 'vitest';
import type { IntervalAdvice } from '../../../lib/interval/types.js';
import type { WearInterval } from '../../../lib/interval/wear/types.js';
import { dayFromText } from '../../../lib/numeric/day.js';
import { planFleet } from '../../../lib/plan.js';
import { wearPlant } from '../../group/wear/wearFolder.js';

const fleet = wearPlant({ seed: 5, clock: 'steam cycles' });
const plan = planFleet(fleet);
const told = plan.wear.groups.map((group, g) => ({
  group,
  advice: plan.intervals[g] as IntervalAdvice,
  interval: group.interval as WearInterval,
}));

describe('a plant that wears by steam cycles', () => {
  it('has an interval on that clock in each class of use, the one of the plan in counts', () => {
    expect(told.length).toBeGreaterThan(3);
    for (const { group, advice, interval } of told) {
      expect(group.group).toBe(advice.group);
      expect(group.clock).toBe('steam cycles');
      expect(interval.basis).toBe('least cost');
      expect(interval.count).toBe(advice.onClock?.count);
      expect(interval.intervalDays).toBe(advice.days);
      const [low, high] = interval.within2percent as [number, number];
      expect(low).toBeLessThanOrEqual(high);
      expect(interval.text).toMatch(
        /^Replace after [\d.]+ steam cycles, the least cost by the law on this clock/,
      );
    }
  });

  it('gives each position its own days: the interval over its rate, near that of its class', () => {
    const all = told.flatMap(({ interval }) => interval.positions);
    expect(all.length).toBe(40);
    for (const { interval } of told) {
      const days = interval.positions.map((each) => each.days as number).sort((a, b) => a - b);
      for (const each of interval.positions) {
        expect(each.days).toBeCloseTo(interval.count / (each.perDay as number), 8);
        expect(Math.abs(Math.log((each.days as number) / (interval.intervalDays as number)))).toBeLessThan(
          0.14,
        );
        expect(each.daysRange?.[0]).toBeLessThanOrEqual(each.days as number);
        expect(each.daysRange?.[1] ?? Infinity).toBeGreaterThanOrEqual(each.days as number);
      }
      expect(interval.days.median).toBe(days[Math.floor(days.length / 2)]);
    }
  });

  it('is due when what is left of the count is made, soonest first', () => {
    for (const { interval } of told) {
      for (const { due, count, perDay } of interval.positions) {
        const left = (interval.count - (count as number)) / (perDay as number);
        const expected = fleet.site.dataUntil + Math.floor(left < 0 ? -Math.abs(left) : left);
        expect(dayFromText(due as string)).toBe(expected);
      }
      const dues = interval.positions.map(({ due }) => due as string);
      expect(dues).toEqual([...dues].sort());
    }
  });

  it('is the due date of the plan', () => {
    for (const row of plan.dueDates) {
      const { group, interval } = told.find(
        (each) => each.group.group === row.group,
      ) as (typeof told)[number];
      const own = interval.positions.find(({ position }) => position === row.position);
      expect(row.byClock).toEqual({
        clock: group.clock,
        count: interval.count,
        due: own?.due,
        range: own?.dueRange,
      });
    }
  });

  it('is plain data without NaN', () => {
    expect(JSON.parse(JSON.stringify(plan.wear))).toEqual(plan.wear);
    expect(JSON.parse(JSON.stringify(plan))).toEqual(plan);
  });
});

describe('a plant that wears by days', () => {
  it('has no interval on a clock, and due dates in days alone', () => {
    const other = planFleet(wearPlant({ seed: 6, clock: 'days' }));
    expect(other.wear.groups.map((group) => group.interval)).toEqual([null]);
    expect(other.dueDates.every((row) => row.byClock === undefined)).toBe(true);
  });
});
