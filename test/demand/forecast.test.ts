import { describe, expect, it } from 'vitest';
import { forecastDemand } from '../../lib/demand/forecast.js';
import { expectedEvents } from '../../lib/demand/path.js';
import { UsageError } from '../../lib/errors.js';
import { lineWindows } from '../../lib/fleet/calendar.js';
import { itemAt } from '../../lib/numeric/columns.js';
import { randomStream } from '../../lib/numeric/random.js';
import { fullItem, type PlantGroup, plant, TODAY } from './plant.js';
import { walkPosition } from './walk.js';

const POLICY = { name: 'proposed', intervalDays: [365] as (number | null)[] } as const;
const policy = (days: number | null) => ({ ...POLICY, intervalDays: [days] });
const WINDOWS = [
  { name: 'spring shutdown', inDays: 100 },
  { name: 'autumn shutdown', inDays: 280 },
];
const RUNS = 6000;

function group(): PlantGroup {
  const random = randomStream(5, 'ages');
  return {
    shape: 2.5,
    scale: 600,
    share: 0.04,
    openingsPerYear: 0.3,
    ages: Array.from({ length: 30 }, () => random.below(360)),
  };
}

/** Counts by month of the plain simulation: [run][month] of one kind or all. */
function simulated(
  interval: number | null,
  withWindows: boolean,
): { kinds: Record<string, Float64Array>; totals: number[][] } {
  const plain = group();
  const { fleet } = plant([plain], withWindows ? { shutdowns: WINDOWS } : {});
  const windows = lineWindows(fleet, 'A', TODAY + 2500).map((window) => ({
    ...window,
    day: window.day - TODAY,
  }));
  const random = randomStream(6, 'walks');
  const kinds = { leak: new Float64Array(12), opened: new Float64Array(12), planned: new Float64Array(12) };
  const totals: number[][] = Array.from({ length: 12 }, () => []);
  for (let run = 0; run < RUNS; run++) {
    const total = new Float64Array(12);
    for (const age of plain.ages) {
      for (const { moment, kind } of walkPosition(plain, age, interval, windows, 365, random)) {
        const m = monthOf(moment);
        if (m > 11) continue;
        kinds[kind][m] = (kinds[kind][m] as number) + 1;
        total[m] = (total[m] as number) + 1;
      }
    }
    total.forEach((count, m) => {
      totals[m]?.push(count);
    });
  }
  return { kinds, totals };
}

/** Month of 2026 that a moment falls in; the data end on 2026-01-01, so that January has 30 days left. */
function monthOf(moment: number): number {
  const ends = [30, 58, 89, 119, 150, 180, 211, 242, 272, 303, 333, 364];
  const m = ends.findIndex((end) => moment <= end);
  return m < 0 ? 12 : m;
}

describe.each([
  ['with two windows a year', 365, true],
  ['on the day it is due', 365, false],
  ['run until it leaks', null, false],
] as const)('forecast against a plain simulation, %s', (_, interval, withWindows) => {
  const { fleet, grouped } = plant([group()], withWindows ? { shutdowns: WINDOWS } : {});
  const { months } = forecastDemand(fleet, grouped, policy(interval), { seed: 1, months: 12 });
  const { kinds, totals } = simulated(interval, withWindows);
  it.each([
    ['planned', 'planned'],
    ['leaks', 'leak'],
    ['opened', 'opened'],
  ] as const)('%s by month within 4 standard errors', (column, kind) => {
    months.forEach((row, m) => {
      const seen = (kinds[kind]?.[m] ?? Number.NaN) / RUNS;
      const error = Math.sqrt(Math.max(seen, 0.01) / RUNS);
      // Beside chance, steps of a quarter month may move half a percent of a month's amount.
      expect(Math.abs(row[column] - seen), `${column} of ${row.month}`).toBeLessThan(
        4 * error + 0.005 * seen,
      );
    });
  });
  it('covers at least 80 % and does not reach out further than it must', () => {
    months.forEach(({ low, high, month }, m) => {
      const counts = itemAt(totals, m);
      const below = (k: number): number => counts.filter((count) => count <= k).length / RUNS;
      const error = 4 * Math.sqrt(0.09 / RUNS);
      // low: smallest count with 10 % at or below it; high: the same with 90 %.
      expect(below(low), `low of ${month}`).toBeGreaterThan(0.1 - error);
      expect(below(low - 1), `low of ${month}`).toBeLessThan(0.1 + error);
      expect(below(high), `high of ${month}`).toBeGreaterThan(0.9 - error);
      expect(below(high - 1), `high of ${month}`).toBeLessThan(0.9 + error);
    });
  });
});

describe('forecast', () => {
  const draws = Array.from({ length: 400 }, (_, i) => ({ shape: 3, scale: 700 + i, share: 0.02 }));
  const base = { shape: 3, scale: 900, share: 0.02, openingsPerYear: 0.1, draws };
  it('names items by part number, and by material and size where items.csv has none', () => {
    const { fleet, grouped } = plant(
      [
        { ...base, material: 'EPDM', ages: [10, 20] },
        { ...base, material: 'FKM', size: 40, ages: [10] },
      ],
      { items: [{ item: 'P-7', material: 'EPDM', size: 25 }] },
    );
    const { items, months } = forecastDemand(
      fleet,
      grouped,
      { name: 'today', intervalDays: [365, 365] },
      { seed: 1 },
    );
    expect(items.map(({ item, positions }) => [item, positions])).toEqual([
      ['P-7', 2],
      ['FKM DN 40', 1],
    ]);
    expect(months).toHaveLength(48);
    expect(months[0]?.month).toBe('2026-01');
    expect(months[47]?.month).toBe('2027-12');
  });
  it('adds up: mean is planned + leaks + opened, and low <= high', () => {
    const { fleet, grouped } = plant([{ ...base, ages: [10, 200, 300, 500, 900] }], { shutdowns: WINDOWS });
    const { months } = forecastDemand(fleet, grouped, policy(400), { seed: 1 });
    for (const row of months) {
      expect(row.mean).toBeCloseTo(row.planned + row.leaks + row.opened, 12);
      expect(row.low).toBeLessThanOrEqual(row.high);
    }
  });
  it('agrees with the expected events of the yearly cost', () => {
    const { fleet, grouped } = plant([{ ...base, ages: [10, 200, 300, 500, 900] }], { shutdowns: WINDOWS });
    const total = forecastDemand(fleet, grouped, policy(400), { seed: 1 }).months.reduce(
      (sum, row) => sum + row.mean,
      0,
    );
    const events = itemAt(expectedEvents(fleet, grouped, policy(400), 24), 0);
    const both = [...events.planned, ...events.leaks, ...events.opened].reduce((a, b) => a + b, 0);
    expect(Math.abs(total / both - 1)).toBeLessThan(0.01);
  });
  it('says which share of the spread is not knowing the life model', () => {
    const ages = Array.from({ length: 200 }, (_, i) => i);
    const share = (scales: number[]): number => {
      const own = scales.map((scale) => ({ shape: 3, scale, share: 0 }));
      const { fleet, grouped } = plant([{ shape: 3, scale: 900, draws: own, ages }]);
      return (
        forecastDemand(fleet, grouped, policy(null), { seed: 1, months: 12 }).items[0]?.shareFromParameters ??
        -1
      );
    };
    expect(share([500, 500])).toBeCloseTo(0, 12);
    expect(share([350, 700])).toBeGreaterThan(0.8);
  });
  it('gives the same bytes for the same seed', () => {
    const { fleet, grouped } = plant([{ ...base, ages: [10, 200, 300, 500, 900] }]);
    const once = JSON.stringify(forecastDemand(fleet, grouped, policy(400), { seed: 3 }));
    expect(JSON.stringify(forecastDemand(fleet, grouped, policy(400), { seed: 3 }))).toBe(once);
  });
  it('lists a kit per shutdown: due if nothing leaks, expected, and enough with 95 %', () => {
    const { fleet, grouped } = plant([{ ...base, ages: Array<number>(40).fill(300) }], {
      shutdowns: WINDOWS,
    });
    const [kit] = forecastDemand(fleet, grouped, policy(400), { seed: 1 }).items[0]?.planned ?? [];
    expect(kit?.name).toBe('spring shutdown');
    expect(kit?.day).toBe(TODAY + 100);
    expect(kit?.ifNothingLeaks).toBe(40);
    expect(kit?.expected).toBeLessThan(40);
    expect(kit?.with95).toBeGreaterThan(kit?.expected ?? 99);
    expect(kit?.with95).toBeLessThanOrEqual(40);
  });
  it('works for lives far older than their model, unknown ages and no positions at all', () => {
    const old = plant([{ shape: 8, scale: 300, ages: [4000, 9000] }]);
    const [first] = forecastDemand(old.fleet, old.grouped, policy(null), { seed: 1 }).months;
    expect(first?.leaks).toBeGreaterThan(1.9);
    const unknown = plant([{ ...base, ages: [100] }]);
    const [running] = unknown.grouped.running;
    if (running === undefined) throw new Error('the plant has a position');
    running.fitted = null;
    running.ages = [
      { age: 100, chance: 0.5 },
      { age: 600, chance: 0.5 },
    ];
    const spread = forecastDemand(unknown.fleet, unknown.grouped, policy(365), { seed: 1 });
    expect(spread.months.every(({ mean }) => Number.isFinite(mean))).toBe(true);
    expect(spread.months[0]?.planned).toBeCloseTo(0.5, 1);
    const empty = plant([]);
    expect(
      forecastDemand(empty.fleet, empty.grouped, { name: 'today', intervalDays: [] }, { seed: 1 }).months,
    ).toEqual([]);
  });
  it('throws on months that make no sense', () => {
    const { fleet, grouped } = plant([{ ...base, ages: [1] }], { items: [fullItem({})] });
    for (const months of [0, -1, 1.5, Number.NaN, 601]) {
      expect(() => forecastDemand(fleet, grouped, policy(400), { seed: 1, months })).toThrow(UsageError);
    }
  });
});
