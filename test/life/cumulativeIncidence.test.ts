import { performance } from 'node:perf_hooks';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { UsageError } from '../../lib/errors.js';
import { cumulativeIncidence, type ModeIncidence } from '../../lib/life/empirical/cumulativeIncidence.js';
import { kaplanMeier } from '../../lib/life/empirical/kaplanMeier.js';
import { lifeSample } from '../../lib/life/sample.js';
import type { LifeSample } from '../../lib/life/sampleTypes.js';

/** Lives from [age, mode, count, entry]. */
type Life = readonly [age: number, mode: number, count?: number, entry?: number];

const sampleOf = (lives: readonly Life[]): LifeSample =>
  lifeSample({
    lower: lives.map(([age]) => age),
    upper: lives.map(([age, mode]) => (mode === 0 ? Infinity : age)),
    count: lives.map(([, , count = 1]) => count),
    entry: lives.map(([, , , entry = 0]) => entry),
  });
const modesOf = (lives: readonly Life[]): Int32Array => Int32Array.from(lives, ([, mode]) => mode);
const curvesOf = (lives: readonly Life[], bounds: 'loglog' | 'plain' = 'loglog') =>
  cumulativeIncidence(sampleOf(lives), modesOf(lives), { bounds }).modes;

const LIVES: Life[] = [
  [120, 1, 2],
  [200, 0, 3],
  [200, 2, 2],
  [310, 1, 4, 90],
  [310, 2, 1],
  [450, 0, 5, 200],
  [520, 1, 1, 310],
  [600, 2, 2],
  [700, 0, 3],
];

/** Equal but for rounding, column by column. */
function expectSame(got: ModeIncidence[], want: ModeIncidence[], scale = 1): void {
  expect(got.length).toBe(want.length);
  got.forEach((curve, m) => {
    const other = want[m] as ModeIncidence;
    for (const name of ['age', 'incidence', 'low', 'high', 'standardError', 'atRisk', 'failed'] as const) {
      const factor = name === 'age' ? scale : 1;
      expect(curve[name].length).toBe(other[name].length);
      curve[name].forEach((value, k) => {
        expect(value).toBeCloseTo(factor * (other[name][k] as number), 12);
      });
    }
  });
}

/** The formula itself: what each life moves the incidence at age t by, squared, added up. */
function summedInfluence(lives: readonly Life[], mode: number, t: number): number {
  const all = lives.flatMap(([age, own, count = 1, entry = 0]) =>
    Array.from({ length: count }, () => ({ age, own, entry })),
  );
  const ages = [...new Set(all.filter(({ own }) => own > 0).map(({ age }) => age))].sort((a, b) => a - b);
  let [survival, incidence] = [1, 0];
  const steps = ages
    .filter((r) => r <= t)
    .map((r) => {
      const n = all.filter(({ age, entry }) => entry < r && age >= r).length;
      const d = all.filter(({ age, own }) => own > 0 && age === r).length;
      const e = all.filter(({ age, own }) => own === mode && age === r).length;
      const before = survival;
      incidence += (before * e) / n;
      survival *= 1 - d / n;
      return { r, n, d, e, before, incidence };
    });
  const influence = all.map(({ age, own, entry }) => {
    let total = 0;
    for (const { r, n, d, e, before, incidence: then } of steps) {
      if (!(entry < r && age >= r)) continue;
      const [failed, byMode] = [Number(age === r && own > 0), Number(age === r && own === mode)];
      total += (before * (byMode - e / n)) / n;
      if (n > d) total -= ((incidence - then) * (failed - d / n)) / (n - d);
    }
    return total;
  });
  return influence.reduce((total, u) => total + u * u, 0);
}

describe('cumulativeIncidence', () => {
  it('of one mode is 1 less the product limit, with its standard error', () => {
    const lives = LIVES.map(([age, mode, count = 1]): Life => [age, Math.min(mode, 1), count]);
    const [curve] = curvesOf(lives) as [ModeIncidence];
    const limit = kaplanMeier(sampleOf(lives));
    expect(Array.from(curve.age)).toEqual(Array.from(limit.age));
    curve.incidence.forEach((p, k) => {
      expect(p).toBeCloseTo(1 - (limit.survival[k] as number), 14);
      expect(curve.standardError[k]).toBeCloseTo(limit.standardError[k] as number, 14);
    });
  });

  it('of all modes and survival add up to 1', () => {
    const last = curvesOf(LIVES).reduce((total, { incidence }) => total + (incidence.at(-1) as number), 0);
    expect(last + (kaplanMeier(sampleOf(LIVES)).survival.at(-1) as number)).toBeCloseTo(1, 14);
  });

  it('does not depend on how rows are split, merged or ordered', () => {
    const split = LIVES.flatMap(([age, mode, count = 1, entry = 0]) =>
      Array.from({ length: count }, (): Life => [age, mode, 1, entry]),
    );
    for (const bounds of ['loglog', 'plain'] as const) {
      expectSame(curvesOf(split, bounds), curvesOf(LIVES, bounds));
      expectSame(curvesOf([...split].reverse(), bounds), curvesOf(LIVES, bounds));
    }
  });

  it('has the standard error of the squared influence of each life, summed life by life', () => {
    const whole = (min: number, max: number) => fc.integer({ min, max });
    const life = fc
      .tuple(whole(1, 9), whole(0, 2), whole(1, 3), whole(0, 8))
      .map(([age, mode, count, entry]): Life => [Math.max(age, entry + 1), mode, count, entry]);
    const fromNew: Life[] = [
      [2, 1, 1],
      [3, 2, 1],
      [3, 0, 1],
      [5, 1, 2],
    ];
    fc.assert(
      fc.property(fc.array(life, { maxLength: 12 }), (more) => {
        const lives = [...fromNew, ...more];
        for (const { mode, age, incidence, standardError } of curvesOf(lives)) {
          age.forEach((t, k) => {
            if ((incidence[k] as number) > 1 - 1e-12) return;
            expect(standardError[k]).toBeCloseTo(Math.sqrt(summedInfluence(lives, mode, t)), 10);
          });
        }
      }),
      { seed: 2, numRuns: 300 },
    );
  });

  it('with a hundred thousand times the lives has the standard error over the root of that', () => {
    const more = LIVES.map(([age, mode, count = 1, entry = 0]): Life => [age, mode, 1e5 * count, entry]);
    const few = curvesOf(LIVES);
    curvesOf(more).forEach(({ standardError }, m) => {
      standardError.forEach((se, k) => {
        expect((se * Math.sqrt(1e5)) / (few[m]?.standardError[k] as number)).toBeCloseTo(1, 9);
      });
    });
  });

  it('scales with the unit of age', () => {
    const hours = LIVES.map(([age, mode, count = 1, entry = 0]): Life => [age * 24, mode, count, entry * 24]);
    expectSame(curvesOf(hours), curvesOf(LIVES), 24);
  });

  it('leaves out what ended before five were watched, and lives never watched', () => {
    const late = LIVES.map(([age, mode, count = 1]): Life => [age, mode, count, 100]);
    const more: Life[] = [...late, [60, 1, 4, 50], [80, 0, 1, 90]];
    expectSame(curvesOf(more), curvesOf(late));
    expect(cumulativeIncidence(sampleOf(more), modesOf(more)).start).toBe(100);
  });

  it('all censored: no mode, and the largest age', () => {
    const curves = cumulativeIncidence(
      sampleOf([
        [5, 0],
        [9, 0, 3],
      ]),
      [0, 0],
    );
    expect(curves).toEqual({ modes: [], start: 0, end: 9 });
  });

  it('one failure of mode 2 among ten: binomial', () => {
    const [first, second] = curvesOf(
      [
        [5, 2],
        [9, 0, 9],
      ],
      'plain',
    ) as [ModeIncidence, ModeIncidence];
    expect(first.age.length).toBe(0);
    expect(Array.from(second.incidence)).toEqual([0.1]);
    expect(second.standardError[0]).toBeCloseTo(Math.sqrt((0.1 * 0.9) / 10), 15);
    expect(second.low[0]).toBe(0);
  });

  it('all failures at one age: binomial by mode, and 1 for a sole mode', () => {
    const [first, second] = curvesOf([
      [5, 1, 6],
      [5, 2, 2],
    ]) as [ModeIncidence, ModeIncidence];
    expect(first.incidence[0]).toBeCloseTo(0.75, 15);
    expect(second.standardError[0]).toBeCloseTo(Math.sqrt((0.25 * 0.75) / 8), 15);
    const [sole] = curvesOf([
      [3, 1],
      [5, 1, 6],
    ]) as [ModeIncidence];
    expect([sole.incidence[1], sole.standardError[1], sole.high[1]]).toEqual([1, 0, 1]);
    expect(sole.low[1]).toBe(sole.low[0]);
    expect(sole.low[0]).toBeGreaterThan(0);
  });

  it('takes a million merged lives, and a hundred thousand rows, in well under a second', () => {
    const merged = Array.from({ length: 500 }, (_, k): Life => [k + 1, k % 4, 2000, (k * 7) % (k + 1)]);
    const rows = Array.from({ length: 100_000 }, (_, k): Life => [1 + (k % 997), k % 3]);
    for (const [lives, most] of [
      [merged, 200],
      [rows, 900],
    ] as const) {
      const [sample, mode] = [sampleOf(lives), modesOf(lives)];
      const begin = performance.now();
      const { modes } = cumulativeIncidence(sample, mode);
      expect(performance.now() - begin).toBeLessThan(most);
      for (const { incidence, standardError } of modes) {
        expect(incidence.every((p) => p > 0 && p <= 1)).toBe(true);
        expect(standardError.every((se) => se >= 0 && se < 0.01)).toBe(true);
      }
    }
  });
});

describe('cumulativeIncidence refuses', () => {
  const sample = lifeSample({ lower: [3, 4], upper: [3, Infinity] });
  it.each<[string, number[], RegExp]>([
    ['another length', [1], /as long as the sample \(2 rows\)/],
    ['a failure without mode', [0, 0], /row 1 failed, so it needs a mode from 1/],
    ['a mode of a life still sound', [1, 1], /row 2 is still sound, so its mode must be 0/],
    ['a broken mode', [1.5, 0], /row 1: mode must be a whole number/],
    ['a negative mode', [-1, 0], /row 1: mode must be a whole number/],
    ['no number', [Number.NaN, 0], /row 1: mode must be a whole number/],
    ['a code for a mode', [1e9, 0], /row 1: mode must be a whole number from 0 to 1000/],
  ])('%s', (_, mode, message) => {
    expect(() => cumulativeIncidence(sample, mode)).toThrow(UsageError);
    expect(() => cumulativeIncidence(sample, mode)).toThrow(message);
  });

  it('intervals, levels and bounds that are none', () => {
    const inside = lifeSample({ lower: [3], upper: [4] });
    expect(() => cumulativeIncidence(inside, [1])).toThrow(
      /cumulativeIncidence: row 1 failed inside an interval/,
    );
    expect(() => cumulativeIncidence(sample, [1, 0], { level: 1 })).toThrow(/level must be between 0 and 1/);
    expect(() => cumulativeIncidence(sample, [1, 0], { bounds: 'log' as 'plain' })).toThrow(
      /loglog or plain/,
    );
  });
});
