/** What stands out in small plants with known truth. */
import { describe, expect, it } from 'vitest';
import type { Fleet } from '../../../lib/fleet/types.js';
import { groupFleet } from '../../../lib/group/groupFleet.js';
import { standOuts } from '../../../lib/group/standOut/standOuts.js';
import { meanExpected, tally, yardstick } from '../../../lib/group/standOut/tally.js';
import type { GroupedFleet } from '../../../lib/group/types.js';
import { at, floatAt, itemAt, sum } from '../../../lib/numeric/columns.js';
import { fleetOf, type PlantTruth, simulatedPlant } from '../plant.js';

const GROUP = { material: 'EPDM', size: 25, duty: 'utilities', shape: 3, scheduled: 500 };

/** Thirty positions of one law, and one (V31) whose lives are a third as long. */
const TRUTH: PlantTruth = {
  groups: [
    { ...GROUP, positions: 30, scale: 900 },
    { ...GROUP, positions: 1, scale: 300 },
  ],
  years: 8,
  faultShare: () => 0.02,
  fault: { shape: 0.7, scale: 20 },
  openingsPerYear: 0,
  reasonLost: 0.1,
  before: 400,
};
const BAD = 30;

const plain = simulatedPlant(TRUTH, 41);
const grouped = groupFleet(plain, { seed: 1 });
const found = standOuts(plain, grouped);

/** The plant with lots, fitters and lines by row of the lives and index of the position; it is grouped as before. */
function labelled(labels: {
  lot?: (life: number) => number;
  fitter?: (life: number) => number;
  line?: (position: number) => string;
}): Fleet {
  const { lot = () => -1, fitter = () => -1, line = () => 'L1' } = labels;
  const rows = Array.from({ length: plain.lives.length }, (_, i) => i);
  return {
    ...plain,
    positions: plain.positions.map((position, i) => ({ ...position, line: line(i) })),
    lotNames: ['L-0', 'L-1', 'L-2'],
    fitters: ['F1', 'F2', 'F3'],
    lives: { ...plain.lives, lot: Int32Array.from(rows, lot), fittedBy: Int32Array.from(rows, fitter) },
  };
}

const isBad = (life: number): boolean => at(plain.lives.position, life) === BAD;

describe('one bad position among thirty', () => {
  const [one] = found.found;

  it('is found, alone, with its excess in wear-out', () => {
    expect(found.found.map(({ kind, name }) => `${kind} ${name}`)).toEqual(['position V31']);
    expect(one?.excess).toBe('wear-out');
    expect(one?.p).toBeLessThan(1e-4);
    expect(one?.ratio.low).toBeGreaterThan(1);
    expect(one?.leaks).toBe((one?.early.leaks ?? 0) + (one?.later.leaks ?? 0));
    expect(one?.expected).toBeCloseTo((one?.early.expected ?? 0) + (one?.later.expected ?? 0), 10);
  });

  it('is found whatever lots and fitters there are, and they do not stand out by its leaks', () => {
    const fleet = labelled({ lot: (i) => (isBad(i) ? 1 : i % 2 === 0 ? 0 : 2), fitter: (i) => i % 3 });
    const again = standOuts(fleet, grouped);
    expect(again.found.map(({ kind, name }) => `${kind} ${name}`)).toEqual(['position V31']);
    // All of the bad position's diaphragms, and no others, are of lot L-1.
    expect(again.explained).toEqual([{ kind: 'lot', name: 'L-1', by: { kind: 'position', name: 'V31' } }]);
    expect(again.found[0]?.sameAs).toEqual([{ kind: 'lot', name: 'L-1' }]);
    expect(again.warnings.map(({ code }) => code)).toEqual(['stand-out-not-apart']);
    expect(again.warnings[0]?.text).toContain('lot L-1');
  });

  it('does not hang on the order of rows', () => {
    const order = Array.from({ length: plain.lives.length }, (_, i) => plain.lives.length - 1 - i);
    const turned = (column: ArrayLike<number>): number[] => order.map((i) => at(column, i));
    const { lives } = plain;
    const back: Fleet = {
      ...plain,
      lives: {
        ...lives,
        position: Int32Array.from(turned(lives.position)),
        fitted: Float64Array.from(turned(lives.fitted)),
        removed: Float64Array.from(turned(lives.removed)),
        reason: Uint8Array.from(turned(lives.reason)),
        finding: Uint8Array.from(turned(lives.finding)),
      },
    };
    const again = standOuts(back, groupFleet(back, { seed: 1 }));
    expect(again.found.map(({ name }) => name)).toEqual(['V31']);
    expect(again.found[0]?.expected).toBeCloseTo(one?.expected ?? 0, 6);
  });
});

describe('own lives taken out of the fit by one step, against fits without them', () => {
  const plantOf = (positions: number, scale: number, seed: number): Fleet =>
    simulatedPlant(
      {
        ...TRUTH,
        groups: [
          { ...GROUP, positions, scale: 900 },
          { ...GROUP, positions: 1, scale },
        ],
      },
      seed,
    );

  it.each([
    { positions: 30, scale: 450, seed: 43 },
    { positions: 30, scale: 900, seed: 44 },
    { positions: 10, scale: 450, seed: 45 },
  ])(
    'of one in $positions with a scale of $scale it is the refit to a twentieth',
    ({ positions, scale, seed }) => {
      const { step, refit, within } = threeWays(plantOf(positions, scale, seed), positions);
      // What it has to find is more than it may miss, but where the position is like the others.
      expect(Math.abs(Math.log(step / refit))).toBeLessThan(0.05);
      if (scale < 900) expect(Math.abs(Math.log(within / refit))).toBeGreaterThan(0.1);
    },
  );

  it('of one with a quarter of all leaks it errs to the safe side', () => {
    // One step from a place far off, and the flattening by repeats of this very position stays.
    const { step, refit, within } = threeWays(plain, BAD);
    expect(step).toBeGreaterThan(refit);
    expect(step).toBeLessThan(0.8 * within);
  });
});

/** Leaks expected of one position: with its lives in the fit, by one step without them, by a fit without them. */
function threeWays(fleet: Fleet, index: number): Record<'within' | 'step' | 'refit', number> {
  const whole = groupFleet(fleet, { seed: 1 });
  const { followed } = whole;
  const own = [...followed.life.keys()].filter(
    (i) => at(fleet.lives.position, at(followed.life, i)) === index,
  );
  const of = ({ groups }: GroupedFleet): number => {
    const { early, later } = meanExpected(yardstick(followed, groups, 1));
    return sum(own.map((i) => floatAt(early, i) + floatAt(later, i)));
  };
  const { early, later } = tally(yardstick(followed, whole.groups, 1), own, () => true);
  const step = (sum(early.expected) + sum(later.expected)) / early.expected.length;
  return { within: of(whole), step, refit: of(groupFleet(without(fleet, index), { seed: 1 })) };
}

/** The plant without its last position. */
function without(fleet: Fleet, index: number): Fleet {
  const { lives } = fleet;
  const kept = <T extends Float64Array | Int32Array | Uint8Array>(column: T): T =>
    column.filter((_, i) => at(lives.position, i) !== index) as T;
  const table = Object.fromEntries(
    Object.entries(lives).map(([name, column]) => [name, typeof column === 'number' ? column : kept(column)]),
  ) as unknown as Fleet['lives'];
  return {
    ...fleet,
    positions: fleet.positions.slice(0, index),
    lives: { ...table, length: table.position.length },
  };
}

describe('a lot that is bad', () => {
  // Lives of 20 other positions that leaked get the bad lot's name, with none that did not.
  const leaked = new Set(
    [...grouped.followed.life.keys()]
      .filter((i) => at(grouped.followed.leak, i) === 1 && !isBad(at(grouped.followed.life, i)))
      .slice(0, 12)
      .map((i) => at(grouped.followed.life, i)),
  );
  const lot = (life: number): number => (leaked.has(life) ? 2 : life % 2);

  it('is found; on one line it cannot be told from the line', () => {
    const spread = standOuts(labelled({ lot, line: (p) => `L${p % 4}` }), grouped);
    const one = spread.found.find(({ kind }) => kind === 'lot');
    expect(one?.name).toBe('L-2');
    expect(one?.leaks).toBe(leaked.size);
    expect(one?.sameAs).toEqual([]);
    const positions = new Set([...leaked].map((life) => at(plain.lives.position, life)));
    const together = standOuts(labelled({ lot, line: (p) => (positions.has(p) ? 'B1' : 'B2') }), grouped);
    const again = together.found.find(({ kind }) => kind === 'lot');
    // The line holds more than half of the plant's lives only where the lot's positions do.
    const common =
      2 * grouped.followed.life.filter((life) => positions.has(at(plain.lives.position, life))).length >
      grouped.followed.length;
    expect(again?.sameAs).toEqual(common ? [] : [{ kind: 'line', name: 'B1' }]);
    expect(common).toBe(false);
  });
});

describe('where there is little', () => {
  const none: GroupedFleet = groupFleet(fleetOf([], []), { seed: 1 });

  it('finds nothing in a plant without lives', () => {
    const { found: nothing, searches, warnings } = standOuts(fleetOf([], []), none);
    expect([nothing, warnings]).toEqual([[], []]);
    expect(searches.map(({ tested, smallest }) => [tested, smallest])).toEqual(Array(4).fill([0, null]));
  });

  it('says nothing on two leaks, however few were expected', () => {
    // Two leaks within days of each other at one position, sound for decades elsewhere.
    const base = simulatedPlant(
      { ...TRUTH, groups: [{ ...GROUP, positions: 30, scale: 9e5 }], faultShare: () => 0 },
      7,
    );
    const facts = Array.from({ length: base.lives.length }, (_, i) => ({
      position: at(base.lives.position, i),
      material: 'EPDM',
      size: 25,
      fitted: floatAt(base.lives.fitted, i),
      removed: Number.isNaN(floatAt(base.lives.removed, i)) ? null : floatAt(base.lives.removed, i),
      reason: 'scheduled' as const,
    }));
    const first = facts.findIndex(({ position, removed }) => position === 3 && removed !== null);
    const leaking = facts.map((fact, i) =>
      i === first || i === first + 1 ? { ...fact, reason: 'leak' as const } : fact,
    );
    const fleet = fleetOf(base.positions, leaking, base.site.recordsFrom);
    expect(itemAt(leaking, first + 1).position).toBe(3);
    expect(standOuts(fleet, groupFleet(fleet, { seed: 1 })).found).toEqual([]);
  });

  it('alters nothing that it was given', () => {
    const before = structuredClone([grouped.followed, grouped.groups.map(({ draws }) => draws)]);
    standOuts(plain, grouped);
    expect([grouped.followed, grouped.groups.map(({ draws }) => draws)]).toEqual(before);
  });
});
