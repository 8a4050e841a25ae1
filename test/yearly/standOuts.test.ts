/** What mending saves, and the recall of a lot: on the demo plant, against survival worked out life by life. */
import { beforeAll, describe, expect, it } from 'vitest';
import { demoPlant } from '../../data-demo/plant/demo.js';
import { groupCosts } from '../../lib/cost/groupCost.js';
import type { GroupCost } from '../../lib/cost/types.js';
import type { Fleet } from '../../lib/fleet/types.js';
import { groupFleet } from '../../lib/group/groupFleet.js';
import type { StandOut, StandOuts } from '../../lib/group/standOut/types.js';
import type { GroupedFleet } from '../../lib/group/types.js';
import { survival } from '../../lib/life/distribution/index.js';
import { at, floatAt, itemAt } from '../../lib/numeric/columns.js';
import { priceStandOuts } from '../../lib/yearly/standOuts/priceStandOuts.js';
import type { StandOutRow } from '../../lib/yearly/standOuts/types.js';
import { readPlant } from '../demo/plant.js';

let fleet: Fleet;
let grouped: GroupedFleet;
let costs: GroupCost[];
beforeAll(() => {
  fleet = readPlant({ seed: demoPlant().truth.seed }).fleet;
  grouped = groupFleet(fleet, { seed: 1 });
  costs = groupCosts(fleet, grouped);
});

/** Leaks so many that the ratio is known: twice as often as expected, k of no weight. */
const KNOWN = { leaks: 4e6, expected: 2e6 };

function standOutOf(
  kind: StandOut['kind'],
  name: string,
  lives: number[],
  more: Partial<StandOut> = {},
): StandOut {
  return {
    kind,
    name,
    unit: 0,
    lives,
    tested: kind === 'position' || kind === 'lot' ? 'all leaks' : 'early leaks',
    ...KNOWN,
    early: { leaks: 0, expected: 0 },
    later: KNOWN,
    excess: 'wear-out',
    ratio: { estimate: 2, low: 2, high: 2 },
    p: 1e-9,
    adjusted: 1e-9,
    sameAs: [],
    ...more,
  };
}

function rowOf(one: StandOut): StandOutRow {
  const standOuts: StandOuts = {
    found: [one],
    explained: [],
    searches: [{ kind: one.kind, tested: 1, found: 1, leaks: 1, expected: 1, k: 1, smallest: null }],
    recorded: 1,
    rate: 0.1,
    warnings: [],
  };
  return itemAt(priceStandOuts(fleet, grouped, costs, standOuts, 1).rows, 0);
}

/** The lot with most pieces in place, by its rows. */
function commonLot(): { name: string; rows: number[]; running: number[] } {
  const rows = Array.from({ length: fleet.lives.length }, (_, i) => i);
  const inPlace = new Set(grouped.running.map(({ position }) => position));
  const running = rows.filter(
    (i) => Number.isNaN(floatAt(fleet.lives.removed, i)) && inPlace.has(at(fleet.lives.position, i)),
  );
  const counts = new Map<number, number>();
  for (const i of running) {
    const lot = at(fleet.lives.lot, i);
    if (lot >= 0) counts.set(lot, (counts.get(lot) ?? 0) + 1);
  }
  const [lot] = [...counts].sort((a, b) => b[1] - a[1])[0] ?? [-1];
  const of = (list: number[]): number[] => list.filter((i) => at(fleet.lives.lot, i) === lot);
  return { name: itemAt(fleet.lotNames, lot), rows: of(rows), running: of(running) };
}

describe('recall of a lot', () => {
  it('lists what is fitted, and what replacing it takes', () => {
    const { name, rows, running } = commonLot();
    const recall = rowOf(standOutOf('lot', name, rows)).recall;
    expect(running.length).toBeGreaterThan(20);
    expect(recall?.fitted.map(({ position }) => position).sort()).toEqual(
      running.map((i) => itemAt(fleet.positions, at(fleet.lives.position, i)).position).sort(),
    );
    expect(recall?.replacing.pieces).toBe(running.length);
    const item = fleet.items.find(({ material, size }) => {
      const life = itemAt(running, 0);
      return (
        material === itemAt(fleet.materials, at(fleet.lives.material, life)) &&
        size === floatAt(fleet.lives.size, life)
      );
    });
    expect(recall?.replacing.parts).toBeCloseTo(running.length * (item?.price ?? 0), 6);
    expect(recall?.replacing.fitterHours).toBeGreaterThan(running.length * 0.3);
  });

  it('leaks of pieces left in place are those of their survival at twice the hazard', () => {
    const { name, rows, running } = commonLot();
    const recall = rowOf(standOutOf('lot', name, rows)).recall;
    for (const { months, leaks, usual } of recall?.ifLeft ?? []) {
      expect(leaks.mean).toBeCloseTo(byHand(running, months, 2), 2);
      expect(usual).toBeCloseTo(byHand(running, months, 1), 6);
      expect(leaks.low).toBeLessThanOrEqual(leaks.mean);
      expect(leaks.high).toBeGreaterThanOrEqual(Math.floor(leaks.mean));
    }
    expect(recall?.ifLeft.map(({ months }) => months)).toEqual([3, 6, 12]);
  });

  it('old pieces are past early leaks: nothing is raised, and nothing saved', () => {
    const { name, rows, running } = commonLot();
    const old = rows.filter(
      (i) => !running.includes(i) || fleet.site.dataUntil - floatAt(fleet.lives.fitted, i) > 60,
    );
    const row = rowOf(standOutOf('lot', name, old, { excess: 'early leaks' }));
    for (const { leaks, usual } of row.recall?.ifLeft ?? []) expect(leaks.mean).toBeCloseTo(usual, 6);
    expect(row.saves.leaks.mean).toBe(0);
    expect(row.todo).toContain('may stay');
  });

  it('counts what is left of the lot on the shelf', () => {
    const lot = fleet.lots.find(({ quantity }) => quantity > 0);
    const item = fleet.items.find((each) => each.item === lot?.item);
    const lives = Array.from({ length: fleet.lives.length }, (_, i) => i).filter(
      (i) =>
        itemAt(fleet.materials, at(fleet.lives.material, i)) === item?.material &&
        floatAt(fleet.lives.size, i) === item?.size,
    );
    const row = rowOf(standOutOf('lot', lot?.lot ?? '', lives.slice(0, 5)));
    expect(row.recall?.onShelf).toBe(lot?.quantity);
    expect(row.todo).toContain(`Lock away the ${lot?.quantity} on the shelf`);
  });

  /** Mean over the draws that are used: every fourth of 400. */
  function byHand(running: number[], months: number, times: number): number {
    let total = 0;
    for (const i of running) {
      const position = at(fleet.lives.position, i);
      const group = itemAt(
        grouped.groups,
        grouped.running.find((each) => each.position === position)?.groupNow ?? -1,
      );
      const age = fleet.site.dataUntil - floatAt(fleet.lives.fitted, i);
      if (Number.isNaN(age)) continue;
      const { draws } = group;
      for (let d = 2; d < 400; d += 4) {
        const model = {
          kind: 'weibull',
          shape: at(draws.shape, d),
          scale: at(draws.scale, d),
          fault: { share: at(draws.share, d), shape: draws.faultShape, scale: draws.faultScale },
        } as const;
        const kept = survival(model, age + months * 30.4375) / survival(model, age);
        total += (1 - kept ** times) / 100;
      }
    }
    return total;
  }
});

describe('what mending saves', () => {
  it('of a position: leaks above the usual, a year, times the cost of a leak', () => {
    const position = 40;
    const lives = Array.from({ length: fleet.lives.length }, (_, i) => i).filter(
      (i) => at(fleet.lives.position, i) === position && !Number.isNaN(floatAt(fleet.lives.fitted, i)),
    );
    const row = rowOf(standOutOf('position', 'x', lives, { unit: position }));
    const until = fleet.site.dataUntil;
    const from = fleet.site.recordsFrom ?? 0;
    const days = lives.map((i) => {
      const removed = floatAt(fleet.lives.removed, i);
      return (Number.isNaN(removed) ? until : removed) - Math.max(floatAt(fleet.lives.fitted, i), from);
    });
    const years = days.reduce((total, each) => total + each, 0) / 365.25;
    // At twice the usual rate the excess is the usual rate.
    expect((row.saves.leaks.mean * years) / KNOWN.expected).toBeCloseTo(1, 2);
    const g = grouped.running.find((each) => each.position === position)?.groupNow ?? -1;
    const { leak } = itemAt(costs, g);
    const cost = row.saves.money.mean / row.saves.leaks.mean;
    // A hundred draws of the cost about its mean.
    expect(Math.abs(cost / leak.mean - 1)).toBeLessThan(0.25);
    expect(row.saves.money.low).toBeLessThan(row.saves.money.mean);
    expect(row.saves.money.high).toBeGreaterThan(row.saves.money.mean);
  });

  it('is nothing at a position out of service', () => {
    const gone = fleet.positions.findIndex((_, i) => !grouped.running.some(({ position }) => position === i));
    const lives = Array.from({ length: fleet.lives.length }, (_, i) => i).filter(
      (i) => at(fleet.lives.position, i) === gone,
    );
    expect(lives.length).toBeGreaterThan(0);
    const { saves } = rowOf(standOutOf('position', 'x', lives, { unit: gone }));
    expect([saves.leaks.mean, saves.money.mean]).toEqual([0, 0]);
  });

  it('is the same again, and alters nothing', () => {
    const { name, rows } = commonLot();
    const before = JSON.stringify(costs);
    expect(rowOf(standOutOf('lot', name, rows))).toEqual(rowOf(standOutOf('lot', name, rows)));
    expect(JSON.stringify(costs)).toBe(before);
  });
});
