/** The interval on a clock against the formula it rests on, and its limits. */
import { describe, expect, it } from 'vitest';
import type { GroupCost } from '../../../lib/cost/types.js';
import type { Group } from '../../../lib/group/types.js';
import type { WearClock } from '../../../lib/group/wear/types.js';
import { chooseAge } from '../../../lib/interval/chooseAge.js';
import type { IntervalAdvice } from '../../../lib/interval/types.js';
import { type ClockCase, clockInterval } from '../../../lib/interval/wear/clockInterval.js';

const amountOf = (value: number) => ({ low: value, likely: value, high: value, mean: value });
const nothing = amountOf(0);

/** Replacement 100, leak 1000, opening 100. */
const cost = {
  replacement: amountOf(100),
  leak: amountOf(1000),
  opening: amountOf(100),
  leakDowntime: amountOf(900),
  lostBatch: nothing,
  cleanup: nothing,
} as unknown as GroupCost;

const clock = {
  clock: 'steam cycles',
  parts: ['steam cycles'],
  law: { shape: { estimate: 3, low: 2.2, high: 4 }, scale: 900, supported: 2000 },
} as unknown as WearClock;

const group = {
  material: 'EPDM',
  size: 25,
  openingsPerYear: 0,
  model: { kind: 'weibull', shape: 3, scale: 900 },
  positions: [0],
} as unknown as Group;

const base: ClockCase = {
  group,
  cost,
  advice: { action: 'replace', days: 365, keptFor: null } as unknown as IntervalAdvice,
  clock,
  law: { kind: 'weibull', shape: 3, scale: 900 },
  middlePerDay: 0.5,
  limits: [],
};
const limit = { material: 'EPDM', size: null, maxDays: null, maxStrokes: null, maxSteamCycles: null };

describe('the count of least cost', () => {
  const known = chooseAge({ kind: 'weibull', shape: 3, scale: 900 }, { replacement: 100, leak: 1000 });

  it('is that of age replacement with counts for age, down to two digits', () => {
    const found = clockInterval(base);
    const best = known.age as number;
    expect(found?.basis).toBe('least cost');
    expect(found?.count).toBe(Math.floor(best / 10) * 10);
    expect(found?.cappedBy).toBeNull();
    // The span is tried in 400 steps up to the 2000 counts that are supported: each end is within a step.
    const [low, high] = known.within2percent as [number, number];
    expect(Math.abs((found?.within2percent?.[0] as number) - low)).toBeLessThanOrEqual(5);
    expect(Math.abs((found?.within2percent?.[1] as number) - high)).toBeLessThanOrEqual(5);
  });

  it('is the same at any rate of use, as costs per count are', () => {
    for (const middlePerDay of [1e-3, 0.07, 40]) {
      expect(clockInterval({ ...base, middlePerDay })?.count).toBe(clockInterval(base)?.count);
    }
  });

  it('goes no further than the records, and says so', () => {
    const short = { ...base, clock: { ...clock, law: { ...clock.law, supported: 250 } } as WearClock };
    expect(clockInterval(short)).toMatchObject({
      count: 250,
      cappedBy: '250 steam cycles, beyond which the records do not reach',
    });
  });

  it('passes no limit of the maker on its clock', () => {
    const capped = clockInterval({ ...base, limits: [{ ...limit, maxSteamCycles: 123 }] });
    expect(capped).toMatchObject({ count: 120, cappedBy: 'maker’s limit of 123 steam cycles' });
    expect(clockInterval({ ...base, limits: [{ ...limit, maxStrokes: 10 }] })?.cappedBy).toBeNull();
    expect(
      clockInterval({ ...base, limits: [{ ...limit, material: 'FKM', maxSteamCycles: 1 }] })?.cappedBy,
    ).toBeNull();
  });
});

describe('where cost cannot choose', () => {
  it('the interval in days is counted at the middle position', () => {
    const unpriced = { ...base, cost: { ...cost, leakDowntime: nothing } as unknown as GroupCost };
    expect(clockInterval(unpriced)).toEqual({
      count: 180,
      within2percent: null,
      basis: 'as in days',
      cappedBy: null,
    });
    const flat = {
      ...clock,
      law: { ...clock.law, shape: { estimate: 1.2, low: 0.9, high: 1.5 } },
    } as WearClock;
    expect(clockInterval({ ...base, clock: flat })?.basis).toBe('as in days');
  });

  it('there is none without an interval, with running, without a rate or a law', () => {
    const advice = (part: object): IntervalAdvice => ({ ...base.advice, ...part }) as IntervalAdvice;
    const unpriced = { ...cost, leakDowntime: nothing } as unknown as GroupCost;
    expect(clockInterval({ ...base, cost: unpriced, advice: advice({ days: null }) })).toBeNull();
    expect(clockInterval({ ...base, advice: advice({ action: 'run', days: null }) })).toBeNull();
    expect(clockInterval({ ...base, middlePerDay: 0 })).toBeNull();
    expect(clockInterval({ ...base, clock: { ...clock, law: null } as WearClock })).toBeNull();
  });
});
