/** Awkward plants, with numbers that can be counted by hand. */
import { describe, expect, it } from 'vitest';
import type { Position } from '../../../lib/fleet/types.js';
import { findRecurrence } from '../../../lib/group/recurrence/findRecurrence.js';
import { watchesOf } from '../../../lib/group/recurrence/watches.js';
import { textFromDay } from '../../../lib/numeric/day.js';
import { significant } from '../../../lib/numeric/round.js';
import { DATA_UNTIL, fleetOf, type LifeFact, position } from '../plant.js';
import { followedFleet } from './followedFleet.js';

const FROM = DATA_UNTIL - 1000;

const life = (
  p: number,
  fitted: number | null,
  removed: number | null,
  reason: LifeFact['reason'] = 'leak',
) => ({
  position: p,
  material: 'EPDM',
  size: 25,
  fitted,
  removed,
  reason,
});
const place = (line: string, p: number, more: Partial<Position> = {}): Position =>
  position(`V${p}`, 25, { line, ...more });

function found(positions: Position[], lives: LifeFact[], recordsFrom: number | null = FROM, unknown = 0) {
  const fleet = fleetOf(positions, lives, recordsFrom);
  return findRecurrence(fleet, followedFleet(fleet, unknown));
}

const numbersIn = (value: unknown): number[] =>
  typeof value === 'number'
    ? [value]
    : value === null || typeof value !== 'object'
      ? []
      : Object.values(value).flatMap(numbersIn);

describe('when a position is watched', () => {
  const spells = (more: Partial<Position>, recordsFrom: number | null = FROM) => {
    const fleet = fleetOf([place('A', 0, more)], [life(0, FROM + 100, null)], recordsFrom);
    const { first, last } = watchesOf(fleet);
    return first.map((day, i) => [day - FROM, (last[i] as number) - FROM]);
  };

  it('from the start of records or of service, whichever is later, to the extract or the end of service', () => {
    expect(spells({})).toEqual([[0, 1000]]);
    expect(spells({ inServiceSince: FROM - 50 })).toEqual([[0, 1000]]);
    expect(spells({ inServiceSince: FROM + 50, outOfServiceSince: FROM + 700 })).toEqual([[50, 700]]);
    expect(spells({ outOfServiceSince: FROM - 1 })).toEqual([]);
  });
  it('not while it is idle, in whatever order and overlap the idle times are given', () => {
    const idle = [
      { start: FROM + 500, end: FROM + 600 },
      { start: FROM - 20, end: FROM + 9 },
      { start: FROM + 550, end: FROM + 650 },
      { start: FROM + 990, end: FROM + 2000 },
    ];
    expect(spells({ idle })).toEqual([
      [10, 499],
      [651, 989],
    ]);
  });
  it('from the first fitting on record where nothing says when records begin', () => {
    expect(spells({}, null)).toEqual([[100, 1000]]);
    expect(spells({ inServiceSince: FROM + 300 }, null)).toEqual([[300, 1000]]);
  });
});

describe('what counts as a leak', () => {
  it('leaks and failed tests while watched, also where the day fitted is not known; removals without a reason beside', () => {
    const lives = [
      life(0, FROM - 200, FROM, 'leak'),
      life(0, FROM, FROM + 30, 'failed_test'),
      life(0, FROM + 30, FROM + 60, 'scheduled'),
      life(0, null, FROM + 90, 'leak'),
      life(0, FROM + 90, FROM + 120, 'unknown'),
      life(0, FROM + 120, FROM + 510, 'leak'),
      life(0, FROM + 510, null),
    ];
    const { plant, notes } = found(
      [place('A', 0, { idle: [{ start: FROM + 500, end: FROM + 520 }] })],
      lives,
      FROM,
      0.7,
    );
    expect(plant.leaks).toBe(3);
    expect(plant.withoutReason).toBeCloseTo(0.7, 12);
    expect(plant.curve?.day).toEqual([FROM, FROM + 30, FROM + 90].map(textFromDay));
    expect(plant.curve?.mean).toEqual([1, 2, 3]);
    expect(plant.curve?.low).toEqual([null, null, null]);
    expect(notes[0]).toMatch(/^1 leak falls on days .* is left out/);
    expect(notes[1]).toMatch(/About 1 of them was a leak/);
  });
});

describe('awkward plants get right words', () => {
  const many = (first: number, positions: number, leaks: number): LifeFact[] =>
    Array.from({ length: positions }, (_, i) => first + i).flatMap((p, i) => {
      const at = FROM + 40 + 7 * i;
      return i < leaks ? [life(p, FROM, at), life(p, at, null)] : [life(p, FROM, null)];
    });
  const places = (...sizes: [string, number][]): Position[] =>
    sizes
      .flatMap(([line, number]) => Array.from({ length: number }, () => line))
      .map((line, p) => place(line, p));

  it('no position at all', () => {
    const { plant, lines, renewal } = found([], []);
    expect([plant.perYear, plant.curve, plant.trend, lines]).toEqual([null, null, null, []]);
    expect(renewal.plant.text).toBe(
      'Whether lives change cannot be told: 0 leaks at 60 days or older, and it takes 10.',
    );
  });
  it('one line of one position without a leak', () => {
    const { lines, plant } = found(places(['A', 1]), many(0, 1, 0));
    expect(lines[0]).toMatchObject({ differs: 'cannot tell', p: null, leaks: 0, trend: null });
    expect(lines[0]?.text).toBe(
      '0 leaks at 1 position in 2.74 position-years: there is nothing to compare it with.',
    );
    // No leak in 1001 days: exp(-rate x days) is 5 % at 3.0 leaks.
    expect((plant.perYear?.high ?? 0) * plant.years).toBeCloseTo(-Math.log(0.05), 6);
    expect(plant.perYear?.low).toBe(0);
  });
  it('one leak on one of two lines is no difference, and no upper limit is claimed', () => {
    const { lines } = found(places(['A', 4], ['B', 4]), [...many(0, 4, 1), ...many(4, 4, 0)]);
    expect(lines.map(({ differs }) => differs)).toEqual(['no', 'no']);
    expect(lines[0]?.times).toBeNull();
    expect(lines[1]?.times).toMatchObject({ estimate: 0, low: 0 });
    expect(lines[1]?.times?.high).toBeGreaterThan(10);
  });
  it('all leaks on one of two lines: it leaks more often, the other less, while no other line leaked', () => {
    const { lines } = found(places(['A', 12], ['B', 12]), [...many(0, 12, 12), ...many(12, 12, 0)]);
    expect(lines.map(({ differs }) => differs)).toEqual(['more', 'less']);
    // Half of the watch each, nearly: 2 x 0.5^12.
    expect((lines[0]?.p ?? 0) / (2 * 0.5 ** 12)).toBeCloseTo(1, 6);
    expect(lines[0]?.text).toContain('it leaks more often, while no other line leaked.');
    expect(lines[1]?.text).toMatch(/at most 0\.\d+ times as often as the others\.$/);
  });
  it('two leaks are never called more often', () => {
    const sizes: [string, number][] = [
      ['A', 1],
      ...Array.from({ length: 9 }, (_, i): [string, number] => [`B${i}`, 40]),
    ];
    const lives = [life(0, FROM, FROM + 50), life(0, FROM + 50, FROM + 90), life(0, FROM + 90, null)];
    const rest = Array.from({ length: 360 }, (_, i) => life(i + 1, FROM, null));
    const { lines } = found(places(...sizes), [...lives, ...rest]);
    expect(lines[0]?.adjusted).toBeLessThan(0.1);
    expect(lines[0]?.differs).toBe('no');
  });
  it('a line that was never watched, and one without a name', () => {
    const positions = [...places(['', 6]), place('gone', 6, { outOfServiceSince: FROM - 10 })];
    const { lines } = found(positions, many(0, 6, 3));
    expect(lines[1]).toMatchObject({
      line: 'gone',
      perYear: null,
      curve: null,
      differs: 'cannot tell',
      positions: 0,
    });
    expect(lines[1]?.text).toBe('No position of it was watched, so nothing can be said.');
  });
  it('twelve leaks all at one age and one date say nothing of a trend', () => {
    const lives = Array.from({ length: 12 }, (_, p) => [
      life(p, FROM, FROM + 300),
      life(p, FROM + 300, null),
    ]).flat();
    const { renewal } = found(places(['A', 12]), lives);
    expect(['cannot tell', 'renewal']).toContain(renewal.plant.verdict);
    expect(renewal.plant.text).not.toMatch(/NaN|undefined|Infinity/);
  });
  it('hundreds of lines give numbers throughout', () => {
    const sizes = Array.from({ length: 300 }, (_, i): [string, number] => [`L${i}`, 1 + (i % 3)]);
    const positions = places(...sizes);
    const lives = positions.flatMap((_, p) =>
      p % 4 === 0 ? [life(p, FROM, FROM + 61 + p), life(p, FROM + 61 + p, null)] : [life(p, FROM, null)],
    );
    const result = found(positions, lives);
    expect(result.lines).toHaveLength(300);
    expect(numbersIn(result).every(Number.isFinite)).toBe(true);
    expect(result.lines.every(({ text }) => !/NaN|undefined|Infinity/.test(text))).toBe(true);
  });
});

describe('laws', () => {
  const positions = Array.from({ length: 40 }, (_, p) => place(`L${p % 4}`, p));
  const lives = positions.flatMap((_, p) => {
    const ends = [180 + 13 * p, 400 + 9 * p].filter((day) => day < 900);
    const days = [0, ...ends];
    return days.map((day, i) => {
      const next = days[i + 1];
      return life(p, FROM + day, next === undefined ? null : FROM + next);
    });
  });
  const whole = found(positions, lives);

  it('the leaks of the lines add up, and so do their years', () => {
    const total = (of: 'leaks' | 'years'): number => whole.lines.reduce((sum, line) => sum + line[of], 0);
    expect(total('leaks')).toBe(whole.plant.leaks);
    expect(total('years')).toBeCloseTo(whole.plant.years, 9);
  });
  it('the order of lives does not matter', () => {
    // Sums in another order: eight digits of what is no tiny chance.
    const rounded = (value: unknown): unknown =>
      JSON.parse(
        JSON.stringify(value, (_key, each) =>
          typeof each === 'number' ? (Math.abs(each) < 1e-12 ? 0 : significant(each, 8)) : each,
        ),
      );
    expect(rounded(found(positions, [...lives].reverse()))).toEqual(rounded(whole));
  });
  it('nothing given is altered', () => {
    const fleet = fleetOf(positions, lives, FROM);
    const grouped = followedFleet(fleet);
    const before = structuredClone({ fleet, followed: grouped.followed });
    findRecurrence(fleet, grouped);
    expect({ fleet, followed: grouped.followed }).toEqual(before);
  });
});
