/** Intervals on clocks in a whole plan: days and due dates by each position's own count. */
import { describe, expect, it } from 'vitest';
import type { WearInterval } from '../../../lib/interval/wear/types.js';
import { dayFromText } from '../../../lib/numeric/day.js';
import { planFleet } from '../../../lib/plan.js';
import { wearPlant } from '../../group/wear/wearFolder.js';

const fleet = wearPlant({ seed: 5, clock: 'steam cycles' });
const plan = planFleet(fleet);
const interval = plan.wear.groups[0]?.interval as WearInterval;

describe('a plant that wears by steam cycles', () => {
  it('has an interval on that clock, chosen by cost', () => {
    expect(plan.wear.groups[0]?.clock).toBe('steam cycles');
    expect(interval.basis).toBe('least cost');
    const [low, high] = interval.within2percent as [number, number];
    expect(low).toBeLessThanOrEqual(interval.count * 1.1);
    expect(high).toBeGreaterThanOrEqual(interval.count);
    expect(interval.text).toMatch(/^Replace after \d+ steam cycles, the least cost by the law on this clock/);
    expect(interval.text).toMatch(
      /\d+ days at the middle position, \d+ to [\d\s]+ from the hardest used tenth/,
    );
  });

  it('gives each position its own days: the interval over its rate', () => {
    expect(interval.positions.length).toBe(40);
    for (const { days, daysRange, perDay } of interval.positions) {
      expect(days).toBeCloseTo(interval.count / (perDay as number), 8);
      expect(daysRange?.[0]).toBeLessThanOrEqual(days as number);
      expect(daysRange?.[1] ?? Infinity).toBeGreaterThanOrEqual(days as number);
    }
    const all = interval.positions.map(({ days }) => days as number).sort((a, b) => a - b);
    expect(interval.days.low).toBe(all[4]);
    expect(interval.days.median).toBe(all[20]);
    expect(interval.days.high).toBe(all[36]);
  });

  it('is due when what is left of the count is made, soonest first', () => {
    for (const { due, count, perDay } of interval.positions) {
      const left = (interval.count - (count as number)) / (perDay as number);
      const expected = fleet.site.dataUntil + Math.floor(left < 0 ? -Math.abs(left) : left);
      expect(dayFromText(due as string)).toBe(expected);
    }
    const dues = interval.positions.map(({ due }) => due as string);
    expect(dues).toEqual([...dues].sort());
  });

  it('stands beside the due dates by days, and moves nothing else', () => {
    const of = new Map(interval.positions.map((each) => [each.position, each]));
    for (const row of plan.dueDates) {
      expect(row.byClock).toEqual({
        clock: 'steam cycles',
        count: interval.count,
        due: of.get(row.position)?.due,
        range: of.get(row.position)?.dueRange,
      });
      expect(row.intervalDays).toBe(plan.intervals[0]?.days);
    }
  });

  it('is plain data without NaN', () => {
    expect(JSON.parse(JSON.stringify(plan.wear))).toEqual(plan.wear);
  });
});

describe('a plant that wears by days', () => {
  it('has no interval on a clock, and due dates in days alone', () => {
    const other = planFleet(wearPlant({ seed: 6, clock: 'days' }));
    expect(other.wear.groups.map((group) => group.interval)).toEqual([null]);
    expect(other.dueDates.every((row) => row.byClock === undefined)).toBe(true);
  });
});
