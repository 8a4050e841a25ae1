/** Leaks and expected leaks by hand, and their own part in the fit taken out. */
import { describe, expect, it } from 'vitest';
import type { FollowedLives } from '../../../lib/group/standOut/followed.js';
import { meanExpected, tally, yardstick } from '../../../lib/group/standOut/tally.js';
import type { LifeDraws } from '../../../lib/life/sampleTypes.js';
import { sum } from '../../../lib/numeric/columns.js';
import { randomStream } from '../../../lib/numeric/random.js';

/** Shape 2, scale 1000 d, no faulty fittings to speak of: H(t) = (t / 1000)². */
function draws(rows = 1, level: (d: number) => number = () => 1): LifeDraws {
  return {
    shape: new Float64Array(rows).fill(2),
    scale: Float64Array.from({ length: rows }, (_, d) => 1000 * level(d) ** -0.5),
    share: new Float64Array(rows).fill(1e-12),
    faultShape: 0.7,
    faultScale: 20,
  };
}

/** Lives of group 0: entry, lower, upper, leaked. */
function followed(rows: readonly (readonly [number, number, number, 0 | 1])[]): FollowedLives {
  return {
    length: rows.length,
    life: Int32Array.from(rows, (_, i) => i),
    group: new Int32Array(rows.length),
    entry: Float64Array.from(rows, ([entry]) => entry),
    lower: Float64Array.from(rows, ([, lower]) => lower),
    upper: Float64Array.from(rows, ([, , upper]) => upper),
    leak: Uint8Array.from(rows, ([, , , leak]) => leak),
  };
}

const LIVES = followed([
  [0, 400, 400, 0], // sound at 400: 0.0036 before 60 d, 0.1564 later
  [200, 499.5, 500.5, 1], // watched from 200, leaked at 500: 0.25 - 0.04
  [0, 29.5, 30.5, 1], // leaked at 30: 0.0009, early
]);
const ALL = (): boolean => true;
const GROUP = { material: 'EPDM', inflation: 1 };

describe('leaks and those expected', () => {
  it('are H(exit) - H(entry), parted at 60 days', () => {
    const stick = yardstick(LIVES, [{ ...GROUP, draws: draws() }], 0.8);
    const { early, later } = meanExpected(stick);
    const want = { early: [0.0036, 0, 0.0009], later: [0.1564, 0.21, 0] };
    want.early.forEach((value, i) => {
      expect(early[i]).toBeCloseTo(0.8 * value, 11);
    });
    want.later.forEach((value, i) => {
      expect(later[i]).toBeCloseTo(0.8 * value, 11);
    });
    // One draw knows its law exactly: nothing of its own to take out.
    const counts = tally(stick, [0, 1, 2], ALL);
    expect([counts.early.leaks, counts.later.leaks]).toEqual([1, 1]);
    expect(sum(counts.early.expected)).toBeCloseTo(0.8 * 0.0045, 9);
    expect(sum(counts.later.expected)).toBeCloseTo(0.8 * 0.3664, 9);
  });

  it('count only the parts asked for', () => {
    const stick = yardstick(LIVES, [{ ...GROUP, draws: draws() }], 1);
    const counts = tally(stick, [0, 1, 2], (life, part) => part === 'later' && life !== 1);
    expect([counts.early.leaks, counts.later.leaks]).toEqual([0, 0]);
    expect(sum(counts.early.expected)).toBe(0);
    expect(sum(counts.later.expected)).toBeCloseTo(0.1564, 9);
  });

  it('are the same in any unit of hazard by the sum over lives, in any order', () => {
    const stick = yardstick(LIVES, [{ ...GROUP, draws: draws(3, (d) => 1 + d) }], 1);
    const [one, other] = [tally(stick, [0, 1, 2], ALL), tally(stick, [2, 0, 1], ALL)];
    one.later.expected.forEach((value, d) => {
      expect(value).toBeCloseTo(other.later.expected[d] as number, 12);
    });
  });
});

describe('own lives taken out of the fit', () => {
  // A level with the posterior of 20 leaks: log normal about 1 with variance 1 / 20; the shape is known.
  const random = randomStream(3, 'levels');
  const levels = Array.from({ length: 100 }, () => Math.exp(random.normal() / Math.sqrt(20)));
  const bad = followed(Array.from({ length: 5 }, () => [0, 599.5, 600.5, 1] as const));
  const stickOf = (inflation: number): ReturnType<typeof yardstick> =>
    yardstick(bad, [{ ...GROUP, inflation, draws: draws(100, (d) => levels[d] as number) }], 1);
  const FIVE = [0, 1, 2, 3, 4];

  it('leave a group of 20 leaks with the level of the others', () => {
    const stick = stickOf(1);
    const hazard = stick.hazards[0] as (typeof stick.hazards)[number];
    const known = 1 / hazard.covariance[0];
    // Five leaks where E were expected at the middle level: the log of the level falls by (5 - E) / (A - E).
    const expected = 5 * hazard.moments(600)[0];
    const want = 5 * hazard.meanWear(600) * Math.exp(-(5 - expected) / (known - expected));
    const { later, early } = tally(stick, FIVE, ALL);
    const got = (sum(later.expected) + sum(early.expected)) / 100;
    // The spread grows as well, which moves the mean by about one in a hundred.
    expect(got / want).toBeGreaterThan(0.99);
    expect(got / want).toBeLessThan(1.02);
  });

  it('take nothing out where nothing is known or expected of them, and never all that is known', () => {
    const many = Array.from({ length: 1000 }, (_, i) => i % 5);
    for (const inflation of [1, 3]) {
      const { later } = tally(stickOf(inflation), many, ALL);
      expect(later.expected.every((value) => value > 0 && value < Infinity)).toBe(true);
    }
    expect(tally(stickOf(1), [], ALL).later).toEqual({ leaks: 0, expected: new Float64Array(100) });
  });
});
