import { describe, expect, it } from 'vitest';
import { groupCost } from '../../lib/cost/groupCost.js';
import { meanOf } from '../../lib/cost/spread.js';
import type { Fleet } from '../../lib/fleet/types.js';
import { adviseIntervals } from '../../lib/interval/advise.js';
import { costRate } from '../../lib/interval/chooseAge.js';
import type { IntervalAdvice } from '../../lib/interval/types.js';
import { poissonQuantile } from '../../lib/numeric/counts.js';
import { compareCost } from '../../lib/yearly/compare.js';
import type { CostComparison } from '../../lib/yearly/types.js';
import {
  exact,
  RATIO_TEN,
  type TestGroup,
  type TestOptions,
  TODAY,
  testPlant,
  withRemovals,
} from '../interval/fixtures.js';

const YEAR = 365.25;
const GROUP: TestGroup = {
  shape: 3,
  scale: 900,
  share: 0.02,
  openingsPerYear: 0.1,
  todayDays: 730,
  ages: Array.from({ length: 40 }, (_, i) => (i * 18) % 720),
};

function compare(
  groups: TestGroup[],
  days: (number | null)[],
  options: TestOptions = {},
  change: (fleet: Fleet) => Fleet = (fleet) => fleet,
  leaksWithoutReason = 0,
): CostComparison {
  const { fleet: made, grouped: plain } = testPlant(groups, options);
  const grouped = { ...plain, leaksWithoutReason };
  const fleet = change(made);
  const costs = grouped.groups.map((group) => groupCost(fleet, group));
  const advice = adviseIntervals(fleet, grouped, costs, { seed: 1 });
  const set = advice.map(
    (each, g): IntervalAdvice => ({ ...each, days: days[g] ?? null, workDays: days[g] ?? null }),
  );
  return compareCost(fleet, grouped, costs, set, { seed: 1 });
}

/** So many leaks on record in the last three full years together. */
const recordedInAll =
  (count: number) =>
  (fleet: Fleet): Fleet =>
    withRemovals(
      fleet,
      Array.from({ length: count }, (_, i) => ({
        position: i % 40,
        removed: TODAY - (1 + (i % 3)) * 365 + 20 + i,
        reason: 'leak' as const,
      })),
    );

/** Twelve removals without a reason more, four in each of the three years. */
const withUnknown =
  (change: (fleet: Fleet) => Fleet) =>
  (fleet: Fleet): Fleet => {
    const { lives } = change(fleet);
    const rows = Array.from({ length: lives.length }, (_, i) => ({
      position: lives.position[i] as number,
      removed: lives.removed[i] as number,
      reason: 'leak' as const,
    }));
    const unknown = Array.from({ length: 12 }, (_, i) => ({
      position: i,
      removed: TODAY - (1 + (i % 3)) * 365 + 100 + i,
      reason: 'unknown' as const,
    }));
    return withRemovals(fleet, [...rows, ...unknown]);
  };

describe('long run', () => {
  it('is positions times the cost rate of a known model, and the sum of its five parts', () => {
    const { today, proposed } = compare([GROUP], [365]);
    const model = {
      kind: 'weibull' as const,
      shape: 3,
      scale: 900,
      fault: { share: 0.02, shape: 0.8, scale: 10 },
    };
    // Replacement and opening 40 + 60; leak 400 + 400 + 100 more.
    const costs = { replacement: 100, leak: 1000, opening: { rate: 0.1 / YEAR, cost: 100 } };
    expect(today.perYear / (40 * YEAR * costRate(model, 730, costs))).toBeCloseTo(1, 6);
    expect(proposed.perYear / (40 * YEAR * costRate(model, 365, costs))).toBeCloseTo(1, 6);
    for (const { perYear, parts, labour, plannedStop, leakDowntime, lostBatches } of [today, proposed]) {
      expect(parts + labour + plannedStop + leakDowntime + lostBatches).toBeCloseTo(perYear, 8);
    }
    expect(today.parts).toBeCloseTo(40 * today.replacementsPerYear, 8);
    expect(today.lostBatches).toBeCloseTo(400 * today.leaksPerYear, 8);
  });

  it('counts a position once, under what will be fitted next', () => {
    const { fleet, grouped } = testPlant([GROUP, { ...GROUP, material: 'FKM', ages: [1, 2] }]);
    const moved = { ...grouped, running: grouped.running.map((life) => ({ ...life, groupNext: 0 })) };
    const costs = moved.groups.map((group) => groupCost(fleet, group));
    const advice = adviseIntervals(fleet, moved, costs, { seed: 1 });
    expect(advice.map((each) => each.positions)).toEqual([42, 0]);
    const { today } = compareCost(fleet, moved, costs, advice, { seed: 1 });
    const alone = compare([GROUP], [365]).today;
    expect(today.perYear / alone.perYear).toBeCloseTo(42 / 40, 9);
  });

  it('comes to the years ahead once the start is forgotten', () => {
    const { today } = compare([GROUP], [365]);
    expect(today.years).toHaveLength(5);
    expect(today.firstYear).toBe(today.years[0]?.cost);
    const last = today.years.slice(1);
    const mean = (last.reduce((sum, year) => sum + year.cost, 0) / last.length / (12 * 30.4375)) * YEAR;
    expect(Math.abs(mean / today.perYear - 1)).toBeLessThan(0.05);
  });
});

describe('saving', () => {
  const spread: TestGroup = { ...GROUP, spread: [0.2, 0.1] };

  it('is nothing in every draw where nothing changes', () => {
    const { saving } = compare([spread], [730]);
    expect(saving).toMatchObject({ perYear: 0, low: 0, high: 0, chance: 0, cash: 0, expectedLoss: 0 });
    expect(saving.firstYear).toEqual({ saving: 0, low: 0, high: 0 });
  });

  it('uses one draw for both sides: its range is far narrower than that of either side', () => {
    const { saving, today, proposed } = compare([spread], [700], {
      money: { ...RATIO_TEN, batchValue: { low: 10_000, likely: 40_000, high: 160_000 } },
    });
    expect(saving.low).toBeLessThan(saving.perYear);
    expect(saving.high).toBeGreaterThan(saving.perYear);
    expect(saving.high - saving.low).toBeLessThan(0.3 * (today.high - today.low));
    expect(proposed.low).toBeLessThan(proposed.perYear);
  });

  it('splits into cash, planned stops and expected loss', () => {
    const stops = [{ start: TODAY + 50, stopFor: 'replacements' as const }, { start: TODAY + 230 }];
    const money = { ...RATIO_TEN, resteriliseCost: exact(500), plannedStopHours: exact(4) };
    const { saving } = compare([GROUP], [180], { money, shutdowns: stops });
    expect(saving.cash + saving.plannedStop + saving.expectedLoss).toBeCloseTo(saving.perYear, 8);
    expect(saving.plannedStop).toBeLessThan(0);
  });

  it('is split by the groups that change, without the stops', () => {
    const { saving, groups } = compare([GROUP, { ...GROUP, material: 'FKM' }], [365, 730]);
    expect(groups.map(({ group }) => group)).toEqual(['EPDM DN 25 #1', 'FKM DN 25 #2']);
    expect(groups.reduce((sum, { perYear }) => sum + perYear, 0)).toBeCloseTo(saving.perYear, 6);
    expect(groups[1]).toMatchObject({ perYear: 0, chance: 0 });
  });

  it('of the first year has a range of its own, from the same draws for both policies', () => {
    const { saving, today } = compare([spread], [365]);
    expect(saving.firstYear.low).toBeLessThan(saving.firstYear.saving);
    expect(saving.firstYear.high).toBeGreaterThan(saving.firstYear.saving);
    expect(today.firstYearRange[0]).toBeLessThan(today.firstYear);
    expect(today.firstYearRange[1]).toBeGreaterThan(today.firstYear);
  });

  it('takes cash for leaks prevented', () => {
    const { saving } = compare([GROUP], [365]);
    expect(saving.cash).toBeLessThan(0);
    expect(saving.expectedLoss).toBeGreaterThan(0);
  });

  it('pays from the break-even batch value on', () => {
    // Almost nothing lost but batches: shortening pays only while a batch is worth enough.
    const money = { ...RATIO_TEN, leakDowntimeHours: null, cleanupCost: null };
    const at = (value: number | null): CostComparison =>
      compare([GROUP], [200], {
        money: { ...money, batchValue: value === null ? null : { low: value, likely: value, high: value } },
      });
    const breakEven = at(20_000).saving.breakEvenBatchValue as number;
    expect(breakEven).toBeGreaterThan(0);
    expect(at(breakEven).saving.perYear).toBeCloseTo(0, 6);
    expect(at(breakEven * 1.1).saving.perYear).toBeGreaterThan(0);
    expect(at(null).saving.breakEvenBatchValue).toBeCloseTo(breakEven, 6);
    // Lengthening saves no leaks: no such value.
    expect(compare([GROUP], [900]).saving.breakEvenBatchValue).toBeNull();
  });
});

describe('formula beside the records', () => {
  const { today } = compare([GROUP], [365]);
  /** Whole leaks in three years that the formula gives with 90 %: one known model, so the range of a Poisson count. */
  const low = poissonQuantile(0.05, 3 * today.leaksPerYear);
  const high = poissonQuantile(0.95, 3 * today.leaksPerYear);

  it('claims a saving where the mean of three years lies inside the range of such a mean, and not beside it', () => {
    expect(today.leaksRange).toEqual([
      poissonQuantile(0.05, today.leaksPerYear),
      poissonQuantile(0.95, today.leaksPerYear),
    ]);
    for (const [total, agrees] of [
      [low, true],
      [high, true],
      [low - 1, false],
      [high + 1, false],
    ] as const) {
      const result = compare([GROUP], [365], {}, recordedInAll(total));
      expect(result.check).toMatchObject({
        named: total / 3,
        withoutReason: 0,
        range: [low / 3, high / 3],
        agrees,
      });
      expect(result.saving.claimed, `${total} leaks in three years, range ${low} to ${high}`).toBe(agrees);
      expect(result.warnings.map((warning) => warning.code)).toEqual(
        agrees ? [] : ['records-contradict-formula'],
      );
    }
    // A mean of three years that a single year could well show.
    expect(high / 3).toBeLessThan(today.leaksRange[1]);
  });

  it('counts the leaks expected among removals without a reason to the records, on both sides', () => {
    const claims = (named: number, withoutReason: number): boolean =>
      compare([GROUP], [365], {}, withUnknown(recordedInAll(named)), withoutReason).saving.claimed;
    // 5 leaks of the three years are too few; the missing ones may be among 12 removals without a reason.
    expect(claims(low - 5, 0)).toBe(false);
    expect(claims(low - 5, 5)).toBe(true);
    // Named ones inside, but far too many together.
    expect(claims(low + 1, high)).toBe(false);
    const { check } = compare([GROUP], [365], {}, withUnknown(recordedInAll(low)), 5);
    expect(check?.withoutReason).toBeCloseTo(5 / 3, 12);
  });

  it('says what the saving would be with the leaks that are recorded by name only', () => {
    const { saving, today: now } = compare([GROUP], [365], {}, recordedInAll(low));
    const share = low / 3 / now.leaksPerYear;
    expect(saving.withNamedLeaksOnly).toBeCloseTo(
      saving.cash + saving.plannedStop + share * saving.expectedLoss,
      8,
    );
    expect(share).toBeLessThan(0.9);
  });

  it('lists recorded leaks by calendar year with the share of it that the records cover', () => {
    const result = compare([GROUP], [365], {}, (fleet) => ({
      ...recordedInAll(9)(fleet),
      site: { ...fleet.site, recordsFrom: TODAY - 365 - 184 },
    }));
    // Records from 1 July 2024 to 1 January 2026; the day of the data is the one day of 2026.
    expect(result.recordedLeaksPerYear.map(({ year, leaks }) => [year, leaks])).toEqual([
      [2024, 0],
      [2025, 3],
      [2026, 0],
    ]);
    const shares = result.recordedLeaksPerYear.map((year) => year.coveredShare);
    expect(shares[0]).toBeCloseTo(184 / 366, 12);
    expect(shares[1]).toBe(1);
    expect(shares[2]).toBeCloseTo(1 / 365, 12);
  });

  it('says so where no year is fully on record', () => {
    const result = compare([GROUP], [365], {}, (fleet) => ({
      ...fleet,
      site: { ...fleet.site, recordsFrom: TODAY - 100 },
    }));
    expect(result.warnings.map((warning) => warning.code)).toEqual(['records-too-short-to-compare']);
  });
});

describe('what the sums leave out', () => {
  it('downtime only without a batch value, and every missing setting by name', () => {
    expect(compare([GROUP], [365]).covers).toBe('all causes');
    const result = compare([GROUP], [365], { money: { ...RATIO_TEN, batchValue: null } });
    expect(result.covers).toBe('downtime only');
    expect(result.missing).toEqual(['batch_value']);
  });

  it('is finite without any price, and the same every time', () => {
    const bare = compare([GROUP], [365], { money: {}, price: null });
    expect(bare.today.perYear).toBe(0);
    expect(JSON.stringify(bare)).not.toMatch(/NaN|Infinity/);
    const spread = { ...GROUP, spread: [0.2, 0.1] as [number, number] };
    expect(compare([spread], [365])).toEqual(compare([spread], [365]));
    expect(meanOf({ low: 0, likely: 0, high: 0 })).toBe(0);
  });
});
