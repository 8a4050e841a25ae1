/** What wears: known truth found, and readings that say nothing. */
import { describe, expect, it } from 'vitest';
import type { Fleet } from '../../../lib/fleet/types.js';
import { groupFleet } from '../../../lib/group/groupFleet.js';
import { findWear } from '../../../lib/group/wear/findWear.js';
import type { WearClock, WearEffect } from '../../../lib/group/wear/types.js';
import type { Bounds } from '../../../lib/life/sampleTypes.js';
import { wearPlant } from './wearFolder.js';

const fleet = wearPlant({ seed: 5, clock: 'steam cycles' });
const grouped = groupFleet(fleet, { seed: 1 });
const wear = findWear(fleet, grouped, 1);
const inDays = wearPlant({ seed: 6, clock: 'days' });
const groupedInDays = groupFleet(inDays, { seed: 1 });

const first = ({ clocks }: { clocks: WearClock[] }): WearClock => clocks[0] as WearClock;

/** Standard errors, on the log scale, between an estimate with its 90 % range and the truth. */
function errorsFrom({ estimate, low, high }: Bounds, truth: number): number {
  return Math.abs(Math.log(estimate / truth)) / (Math.log(high / low) / (2 * 1.645));
}

/** The fleet with its counters as a function of position and day makes them. */
function counting(plant: Fleet, cycles: (position: number, day: number, value: number) => number): Fleet {
  const { readings } = plant;
  const steamCycles = readings.steamCycles.map((value, i) =>
    cycles(readings.position[i] as number, readings.date[i] as number, value),
  );
  return {
    ...plant,
    readings: { ...readings, steamCycles, strokes: readings.strokes.map(() => Number.NaN) },
  };
}

function withoutReadings(plant: Fleet): Fleet {
  const none = new Float64Array(0);
  return {
    ...plant,
    filesRead: plant.filesRead.filter((file) => file !== 'readings.csv'),
    readings: {
      length: 0,
      position: new Int32Array(0),
      date: none,
      strokes: none,
      steamCycles: none,
      hotCleans: none,
    },
  };
}

function withDuty(plant: Fleet, steam: number | null, strokes: number | null): Fleet {
  return {
    ...plant,
    positions: plant.positions.map((each) => ({
      ...each,
      steamCyclesPerWeek: steam,
      strokesPerDay: strokes,
    })),
  };
}

describe('diaphragms that wear by steam cycles', () => {
  it('are told to', () => {
    const { verdict, clock, lead, agreement, law, text, todo } = first(wear);
    expect(verdict).toBe('told');
    expect(clock).toBe('steam cycles');
    expect(lead).toBeGreaterThan(2);
    expect(agreement).toBeGreaterThanOrEqual(0.8);
    // 700 days at 2.5 a week are 250 cycles; half have leaked by 250 ln(2)^(1/3) = 221.
    expect(errorsFrom(law?.half as Bounds, 221.2)).toBeLessThan(4);
    expect(errorsFrom(law?.shape as Bounds, 3)).toBeLessThan(4);
    expect(text).toMatch(/^What wears them is steam cycles: the clock of [\w ]+ is [\d.]+ behind by AIC/);
    expect(todo).toBe('');
  });

  it('last half as long at twice the cycles', () => {
    const effects = wear.effects[0]?.effects as WearEffect[];
    const steam = effects.find(({ covariate }) => covariate === 'steam cycles') as WearEffect;
    expect(errorsFrom(steam.ratio, 0.5)).toBeLessThan(4);
    expect(steam.clear).toBe(true);
    expect(steam.text).toMatch(/^twice the steam cycles: 0\.\d\d times the life \(0\.\d\d to 0\.\d\d\)$/);
    const strokes = effects.find(({ covariate }) => covariate === 'strokes') as WearEffect;
    expect(errorsFrom(strokes.ratio, 1)).toBeLessThan(4);
  });

  it('have a count and a rate at every position', () => {
    const { positions } = wear.worn[0] as (typeof wear.worn)[number];
    expect(positions.length).toBe(40);
    for (const { count, rate } of positions) {
      expect(count).toBeGreaterThanOrEqual(0);
      expect(rate?.perDay).toBeGreaterThan(0);
    }
  });

  it('are the same for the same seed', () => {
    expect(findWear(fleet, grouped, 1)).toEqual(wear);
  });
});

describe('diaphragms that wear by days', () => {
  it('are told to, or nothing is told; never a counter', () => {
    expect(first(findWear(inDays, groupedInDays, 1)).clock).toBe('days');
  });

  it('shares of counts add up', () => {
    const { exposures } = findWear(inDays, groupedInDays, 1);
    expect(exposures.map(({ counter }) => counter)).toEqual(['steam cycles', 'strokes']);
    for (const { measured, interpolated, byOwnRate, assumed, unknown } of exposures) {
      expect(measured + interpolated + byOwnRate + assumed + unknown).toBeCloseTo(1, 12);
    }
  });
});

describe('readings that say little', () => {
  it('no use on record at all: one line, and no table', () => {
    const nothing = findWear(withDuty(withoutReadings(fleet), null, null), grouped, 1);
    expect(nothing).toMatchObject({ exposures: [], clocks: [], worn: [], effects: [] });
    expect(nothing.notes.length).toBe(1);
    expect(nothing.notes[0]).toMatch(/Counters read twice a year .* would tell/);
  });

  it('counters that only ever stood at 0 are no use on record', () => {
    const zero = withDuty(
      counting(fleet, () => 0),
      0,
      0,
    );
    expect(findWear(zero, grouped, 1).clocks).toEqual([]);
  });

  it('everything assumed from positions.csv: cannot tell, and what to read', () => {
    const assumed = findWear(withoutReadings(fleet), grouped, 1);
    expect(first(assumed).verdict).toBe('cannot tell');
    expect(first(assumed).text).toContain('assumed from positions.csv, not read');
    expect(first(assumed).todo).toContain('Read the counters');
    expect(assumed.worn).toEqual([]);
    expect(assumed.notes[0]).toMatch(/^No counter was read/);
  });

  it('equal use everywhere: cannot tell, and nothing can be compared', () => {
    const from = Math.min(...fleet.readings.date);
    const equal = withDuty(
      counting(fleet, (_, day) => Math.round((2.5 / 7) * (day - from))),
      2.5,
      null,
    );
    const found = findWear(equal, grouped, 1);
    expect(first(found).verdict).toBe('cannot tell');
    expect(first(found).clock).toBe('days');
    expect(first(found).text).toMatch(/rise together/);
    expect(first(found).todo).toMatch(/used at other rates would tell/);
    expect(found.effects[0]?.effects).toEqual([]);
    expect(found.effects[0]?.leftOut.join(' ')).toMatch(/nearly the same steam cycles/);
  });

  it('a counter that stands still for a year is bridged and told', () => {
    const from = Math.min(...fleet.readings.date);
    const perDay = (fleet.positions[0]?.steamCyclesPerWeek as number) / 7;
    const still = counting(fleet, (position, day, value) => {
      if (position !== 0) return value;
      const counted = Math.min(day, from + 1080) - from + Math.max(0, day - from - 1440);
      return Math.round(perDay * counted);
    });
    const found = findWear(still, grouped, 1);
    expect(found.notes.join(' ')).toMatch(/1 counter stood still for months .*\(V-001\)/);
    expect(first(found).clock).toBe('steam cycles');
  });

  it('no number is NaN, whatever the readings, but in columns where it means not known', () => {
    const wild = counting(fleet, (position, _, value) =>
      position % 3 === 0 ? Number.NaN : position % 3 === 1 ? 1e12 - value : value,
    );
    for (const found of [wear, findWear(wild, grouped, 1)]) {
      const worn = found.worn.map(({ perDay: _rates, lives: _counts, ...rest }) => rest);
      expect(
        JSON.stringify({ ...found, worn }, (_, value) => (Number.isNaN(value) ? 'not a number' : value)),
      ).not.toContain('not a number');
    }
  });
});

describe('few leaks', () => {
  it('nothing is compared under five', () => {
    const { followed } = grouped;
    const none = { ...grouped, followed: { ...followed, leak: followed.leak.map(() => 0) } };
    const found = findWear(fleet, none, 1);
    expect(first(found)).toMatchObject({ verdict: 'cannot tell', best: null, clocks: [], leaks: 0 });
    expect(first(found).text).toContain('no leak of 60 days and older is on record');
    expect(found.effects).toEqual([]);
  });
});
