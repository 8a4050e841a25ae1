/** Positions that go out of service within the horizon: nothing is demanded there from that day on. */
import { describe, expect, it } from 'vitest';
import { carriedOut, nextCarriedOut } from '../../lib/demand/carriedOut.js';
import { forecastDemand } from '../../lib/demand/forecast.js';
import { expectedEvents } from '../../lib/demand/path.js';
import { lineWindows } from '../../lib/fleet/calendar.js';
import type { Fleet } from '../../lib/fleet/types.js';
import { sum } from '../../lib/numeric/columns.js';
import { randomStream } from '../../lib/numeric/random.js';
import { type PlantGroup, plant, TODAY } from './plant.js';
import { walkPosition } from './walk.js';

const RUNS = 6000;
const MONTHS = 12;
const DAYS_PER_MONTH = 30.4375;
/** In the middle of a month. */
const ENDS = 200;
const POLICY = { name: 'proposed', intervalDays: [120] } as const;
const policy = () => ({ name: POLICY.name, intervalDays: [...POLICY.intervalDays] });
const WINDOWS = [60, 150, 190, 240, 330].map((inDays) => ({ name: `stop in ${inDays} days`, inDays }));

function group(): PlantGroup {
  const random = randomStream(8, 'ages');
  return {
    shape: 2,
    scale: 300,
    share: 0.04,
    openingsPerYear: 0.5,
    ages: Array.from({ length: 20 }, () => random.below(120)),
  };
}

function ending(fleet: Fleet): Fleet {
  const positions = fleet.positions.map((position) => ({ ...position, outOfServiceSince: TODAY + ENDS }));
  return { ...fleet, positions };
}

type Kind = 'leaks' | 'opened' | 'planned';

/** Mean and squared standard error by month and kind of the plain simulation. */
function simulated(fleet: Fleet): (kind: Kind, month: number) => { mean: number; error: number } {
  const windows = lineWindows(fleet, 'A', TODAY + 2500).map((each) => ({ ...each, day: each.day - TODAY }));
  const random = randomStream(9, 'walks');
  const plain = group();
  const sums = new Map<string, { total: number; square: number }>();
  for (let run = 0; run < RUNS; run++) {
    const counts = new Map<string, number>();
    for (const age of plain.ages) {
      for (const { moment, kind } of walkPosition(plain, age, 120, windows, 365, random, ENDS)) {
        const key = `${kind === 'leak' ? 'leaks' : kind} ${Math.floor((moment - 1e-9) / DAYS_PER_MONTH)}`;
        counts.set(key, (counts.get(key) ?? 0) + 1);
      }
    }
    for (const [key, count] of counts) {
      const known = sums.get(key) ?? { total: 0, square: 0 };
      sums.set(key, { total: known.total + count, square: known.square + count * count });
    }
  }
  return (kind, month) => {
    const { total, square } = sums.get(`${kind} ${month}`) ?? { total: 0, square: 0 };
    const mean = total / RUNS;
    return { mean, error: Math.sqrt(Math.max(0, square / RUNS - mean * mean) / RUNS) };
  };
}

describe.each([
  ['with windows', WINDOWS],
  ['without windows', []],
])('a position out of service from a day on, %s', (_, shutdowns) => {
  const made = plant([group()], { shutdowns });
  const fleet = ending(made.fleet);

  it('is met by a plain simulation in every month', () => {
    const truth = simulated(fleet);
    // Replacements of one day are spread over a step: steps of a day for them. The end lies inside a usual step.
    const kinds = [
      [1, ['planned', 'leaks', 'opened']],
      [DAYS_PER_MONTH / 4, ['leaks', 'opened']],
    ] as const;
    for (const [stepDays, compared] of kinds) {
      const [events] = expectedEvents(fleet, made.grouped, policy(), MONTHS, { stepDays });
      for (let m = 0; m < MONTHS; m++) {
        for (const kind of compared) {
          const { mean, error } = truth(kind, m);
          const found = events?.[kind][m] ?? Number.NaN;
          expect(Math.abs(found - mean), `${kind} in month ${m}, steps of ${stepDays}`).toBeLessThan(
            4 * error + 0.01 * mean + 1e-9,
          );
        }
      }
    }
    const [events] = expectedEvents(fleet, made.grouped, policy(), MONTHS);
    // Only the first days of month 6 (182.6 to 213.1) are left, and nothing after them.
    expect(sum(events?.leaks.slice(7) ?? [])).toBe(0);
    expect(sum(events?.leaks ?? [])).toBeGreaterThan(1);
  });

  it('has no demand and no range after that', () => {
    const { months, items } = forecastDemand(fleet, made.grouped, policy(), { seed: 1 });
    const after = months.filter(({ month }) => month > '2026-07');
    expect(after.length).toBeGreaterThan(10);
    for (const row of after) expect(row).toMatchObject({ planned: 0, leaks: 0, opened: 0, low: 0, high: 0 });
    const late = items.flatMap(({ planned }) => planned).filter(({ day }) => day >= TODAY + ENDS);
    for (const need of late) expect(need).toMatchObject({ ifNothingLeaks: 0, expected: 0, kit: 0 });
  });
});

describe('a work list that is followed', () => {
  it('does not carry a position beyond its end', () => {
    const { fleet } = plant([group()], { shutdowns: WINDOWS });
    const windows = lineWindows(fleet, 'A', TODAY + 400);
    const waits = { ...carriedOut(fleet, [])[0], days: [], waitsSince: TODAY + 150 };
    expect(nextCarriedOut(waits, windows, TODAY, TODAY + 195)).toBe(TODAY + 190);
    expect(nextCarriedOut(waits, windows, TODAY, TODAY + 185)).toBeNull();
  });
});
