import { describe, expect, it } from 'vitest';
import { groupCost } from '../../lib/cost/groupCost.js';
import { meanOf } from '../../lib/cost/spread.js';
import type { Fleet, Money } from '../../lib/fleet/types.js';
import type { Group } from '../../lib/group/types.js';
import { exact, RATIO_TEN, type TestOptions, TODAY, testPlant, withRemovals } from '../interval/fixtures.js';

const MONEY: Partial<Money> = {
  ...RATIO_TEN,
  retightenHours: exact(0.25),
  recalibrationHoursPerAccessory: exact(0.5),
  resteriliseCost: exact(4000),
  plannedStopHours: exact(24),
  downtimePerHour: new Map([
    ['A', exact(500)],
    ['B', exact(100)],
  ]),
};

function costOf(options: TestOptions = {}, change: (fleet: Fleet) => Fleet = (fleet) => fleet) {
  const { fleet, grouped } = testPlant([{ shape: 3, scale: 900, ages: [10, 20, 30, 40] }], {
    money: MONEY,
    ...options,
  });
  return groupCost(change(fleet), grouped.groups[0] as Group);
}

/** Position 4 on line B, everything else on A. */
const twoLines = (fleet: Fleet): Fleet => ({
  ...fleet,
  positions: fleet.positions.map((position, i) => (i === 3 ? { ...position, line: 'B' } : position)),
});

describe('cost of a group', () => {
  it('counts part, fitting, both re-tightenings and accessories', () => {
    const cost = costOf({}, (fleet) => ({
      ...fleet,
      positions: fleet.positions.map((position) => ({ ...position, accessories: 2 })),
    }));
    expect(meanOf(cost.part)).toBe(40);
    expect(meanOf(cost.labour)).toBeCloseTo(60 * (1 + 2 * 0.25), 10);
    expect(meanOf(cost.recalibration)).toBeCloseTo(60 * 2 * 0.5, 10);
    expect(meanOf(cost.replacement)).toBeCloseTo(40 + 90 + 60, 10);
    expect(cost.missing).toEqual([]);
  });

  it('leaves the second re-tightening out where nothing is steamed', () => {
    const cost = costOf({}, (fleet) => ({
      ...fleet,
      positions: fleet.positions.map((position) => ({ ...position, steamCyclesPerWeek: 0 })),
    }));
    expect(meanOf(cost.labour)).toBeCloseTo(60 * 1.25, 10);
  });

  it('the leak is the whole cost, part and work included, with downtime averaged over the lines', () => {
    const cost = costOf({}, twoLines);
    // Three positions at 500 an hour, one at 100: 400 an hour, 4 hours.
    expect(meanOf(cost.leakDowntime)).toBeCloseTo(1600, 9);
    expect(meanOf(cost.lostBatch)).toBeCloseTo(400, 9);
    expect(meanOf(cost.leak)).toBeCloseTo(1600 + 400 + 100 + meanOf(cost.opening), 9);
  });

  it('prices instrument fitters at their own rate, and a leak with its investigation and parts', () => {
    const money = {
      ...MONEY,
      instrumentLabourPerHour: exact(80),
      investigationCost: exact(700),
      leakPartsCost: exact(30),
    };
    const cost = costOf({ money }, (fleet) => ({
      ...fleet,
      positions: fleet.positions.map((position) => ({ ...position, accessories: 2 })),
    }));
    expect(meanOf(cost.recalibration)).toBeCloseTo(80 * 2 * 0.5, 10);
    expect(meanOf(cost.labour)).toBeCloseTo(60 * 1.5, 10);
    expect(meanOf(cost.cleanup)).toBeCloseTo(100 + 700 + 30, 10);
    const whole = meanOf(cost.leakDowntime) + meanOf(cost.lostBatch) + 830 + meanOf(cost.opening);
    expect(meanOf(cost.leak)).toBeCloseTo(whole, 9);
  });

  it('never hides what is missing', () => {
    const cost = costOf({ money: {}, price: null });
    expect(cost.missing).toEqual([
      'price of EPDM DN 25',
      'labour_per_hour',
      'fitting_hours',
      'retighten_hours',
      'leak_downtime_hours',
      'lost_batch_probability',
      'batch_value',
      'cleanup_cost',
      'downtime_per_hour',
    ]);
    expect(meanOf(cost.leak)).toBe(0);
    const oneLine = costOf({ money: { ...MONEY, downtimePerHour: new Map([['A', exact(500)]]) } }, twoLines);
    expect(oneLine.missing).toEqual(['downtime_per_hour of line B']);
    expect(meanOf(oneLine.leakDowntime)).toBeCloseTo(0.75 * 500 * 4, 9);
  });
});

describe('share of the line stop', () => {
  const stop = { start: TODAY + 50, stopFor: 'replacements' as const };
  const removals =
    (days: number[]) =>
    (fleet: Fleet): Fleet =>
      withRemovals(
        fleet,
        days.map((day, i) => ({ position: i % 2, removed: TODAY + day, reason: 'scheduled' as const })),
      );
  // Two past stops on line A: one of a week with a removal every other day, and a single removal later.
  const history = removals([-400, -398, -396, -394, -380]);
  const whole = 4000 + 24 * 500;

  it('is nothing where stops happen anyway or there is no calendar', () => {
    expect(meanOf(costOf({ shutdowns: [{ ...stop, stopFor: 'anyway' }] }, history).stopShare)).toBe(0);
    expect(meanOf(costOf({}, history).stopShare)).toBe(0);
  });

  it('is the whole stop over the median number of replacements per past stop, a week in one piece', () => {
    const cost = costOf({ shutdowns: [stop] }, history);
    // Stops of 4 and 1 replacements: median 2.5.
    expect(meanOf(cost.stopShare)).toBeCloseTo(whole / 2.5, 8);
    expect(meanOf(cost.stopWhole)).toBeCloseTo(whole, 8);
    expect(meanOf(cost.replacement)).toBeCloseTo(whole / 2.5 + meanOf(cost.opening), 8);
  });

  it('takes a past window of the calendar as one stop, however far apart its removals are', () => {
    const past = { start: TODAY - 400, end: TODAY - 380, stopFor: 'replacements' as const };
    expect(meanOf(costOf({ shutdowns: [stop, past] }, history).stopShare)).toBeCloseTo(whole / 5, 8);
  });

  it('counts for the share of the replacements, not of the windows, that stops are made for', () => {
    // Windows a year: one made for replacements, one that happens anyway; 1 of 4 past replacements in the first.
    const windows = [
      { ...stop, start: TODAY + 50 },
      { start: TODAY + 200, stopFor: 'anyway' as const },
    ];
    const cost = costOf({ shutdowns: windows }, removals([50 - 365, 200 - 365, 201 - 365, 202 - 365]));
    expect(meanOf(cost.stopWhole)).toBeCloseTo(whole / 4, 8);
    // Stops of 1 and 3 replacements: median 2.
    expect(meanOf(cost.stopShare)).toBeCloseTo(whole / 4 / 2, 8);
  });

  it('is paid whole where the plant has no past stop, and missing settings are named', () => {
    expect(meanOf(costOf({ shutdowns: [stop] }).stopShare)).toBeCloseTo(whole, 8);
    expect(costOf({ money: RATIO_TEN, shutdowns: [stop] }).missing).toEqual([
      'resterilise_cost',
      'planned_stop_hours',
    ]);
  });

  it('counts for the share of the coming windows where nothing was replaced on schedule so far', () => {
    const two = [stop, { start: TODAY + 200, stopFor: 'anyway' as const }];
    expect(meanOf(costOf({ shutdowns: two }).stopWhole)).toBeCloseTo(whole / 2, 8);
  });
});
