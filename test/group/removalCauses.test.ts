import { describe, expect, it } from 'vitest';
import { type Cause, removalCauses } from '../../lib/group/removalCauses.js';
import { randomStream } from '../../lib/numeric/random.js';

function causesOf(lives: readonly { age: number; cause: Cause | null; entry?: number }[]) {
  return removalCauses({
    entry: Float64Array.from(lives, ({ entry }) => entry ?? 0),
    age: Float64Array.from(lives, ({ age }) => age),
    cause: lives.map(({ cause }) => cause),
  });
}

const many = (count: number, age: (i: number) => number, cause: Cause | null) =>
  Array.from({ length: count }, (_, i) => ({ age: age(i), cause }));

describe('removalCauses', () => {
  it('keeps a spike of scheduled ages away from the leaks beside it', () => {
    const at = causesOf([
      ...many(300, (i) => 180 + (i % 5), 'scheduled'),
      ...many(40, (i) => 20 + 4 * i, 'leak'),
    ]).at;
    expect(at(165).leak).toBe(1);
    expect(at(182).scheduled).toBeGreaterThan(0.95);
    expect(at(100)).toEqual({ leak: 1, opened: 0, scheduled: 0, other: 0 });
  });

  it('gives causes of constant hazards in their ratio, also past the age at which most lives end', () => {
    const random = randomStream(7, 'constant hazards');
    const wait = (days: number): number => -days * Math.log(random.uniform());
    const lives = Array.from({ length: 4000 }, () => {
      const [leak, opened] = [wait(1200), wait(400)];
      const scheduled = random.uniform() < 0.8 ? 180 : 700;
      const age = Math.ceil(Math.min(leak, opened, scheduled));
      const cause: Cause =
        scheduled <= Math.min(leak, opened) ? 'scheduled' : leak < opened ? 'leak' : 'opened';
      return { age, cause };
    });
    const { at } = causesOf(lives);
    // A quarter of what is not scheduled: about 90 leaks within reach on average, hence 4 standard errors of 0.046.
    const ages = [60, 100, 150, 172, 190, 250, 400];
    for (const age of ages) {
      const { leak, opened } = at(age);
      expect(Math.abs(leak / (leak + opened) - 0.25)).toBeLessThan(4 * 0.046);
    }
  });

  it('counts lives from the age at which they began to be watched', () => {
    // The leak at 20 days was one of 11 lives watched then, the opening at 50 one of 90: most came in at 40.
    const late = many(80, () => 100, null).map((life) => ({ ...life, entry: 40 }));
    const lives = [
      ...many(9, () => 100, null),
      ...late,
      { age: 20, cause: 'leak' as const },
      { age: 50, cause: 'opened' as const },
    ];
    const between = causesOf(lives).at(Math.sqrt(30 * 60) - 10);
    expect(between.leak / between.opened).toBeCloseTo(90 / 11, 6);
  });

  it('answers with what removals were at any age where none is near, and with nothing where none is known', () => {
    const { at, known } = causesOf([...many(30, () => 100, 'scheduled'), ...many(10, () => 101, 'leak')]);
    expect(known).toBe(40);
    expect(at(5000)).toEqual({ leak: 0.25, opened: 0, scheduled: 0.75, other: 0 });
    const none = causesOf(many(3, () => 100, null));
    expect(none.known).toBe(0);
    expect(none.at(100)).toEqual({ leak: 0, opened: 0, scheduled: 0, other: 0 });
  });

  it('gives shares that add up to 1 at every age, age 0 among them', () => {
    const { at } = causesOf([
      { age: 0, cause: 'leak' },
      { age: 3, cause: 'other' },
      { age: 9, cause: 'opened' },
      { age: 400, cause: 'scheduled' },
    ]);
    for (const age of [0, 1, 5, 30, 200, 399, 4000]) {
      const { leak, opened, scheduled, other } = at(age);
      expect(leak + opened + scheduled + other).toBeCloseTo(1, 12);
    }
    expect(at(0).leak).toBeGreaterThan(at(400).leak);
  });

  it('knows the hazard of removals that were no leaks, lost reasons included', () => {
    const random = randomStream(8, 'lost reasons');
    const wait = (days: number): number => -days * Math.log(random.uniform());
    const lives = Array.from({ length: 4000 }, () => {
      const [leak, opened] = [wait(1200), wait(400)];
      const age = Math.min(Math.ceil(Math.min(leak, opened)), 500);
      const cause: Cause | null = age === 500 ? null : leak < opened ? 'leak' : 'opened';
      return { age, cause, lost: cause !== null && random.uniform() < 0.3 };
    });
    const { otherHazard } = removalCauses({
      entry: new Float64Array(lives.length),
      age: Float64Array.from(lives, ({ age }) => age),
      cause: lives.map(({ cause, lost }) => (lost ? null : cause)),
      unknown: lives.filter(({ lost }) => lost).length,
    });
    // About 1450 known openings smoothed over 10 neighbours either way: a standard error of a quarter at one age.
    const ages = Array.from({ length: 40 }, (_, i) => 20 + 11 * i);
    const mean = ages.reduce((sum, age) => sum + otherHazard(age), 0) / ages.length;
    expect(Math.abs(mean * 400 - 1)).toBeLessThan(4 * (0.25 / Math.sqrt(40)));
  });

  it('says how far that hazard may be off: hardly, with many known, and by a factor of three with none', () => {
    const varianceOf = (known: number, unknown: number): number =>
      removalCauses({
        entry: new Float64Array(known + unknown),
        age: new Float64Array(known + unknown).fill(100),
        cause: Array.from({ length: known + unknown }, (_, i) => {
          if (i >= known) return null;
          return i % 2 === 0 ? 'leak' : 'opened';
        }),
        unknown,
      }).otherVariance;
    expect(varianceOf(1000, 100)).toBeCloseTo(1 / 500.5 - 1 / 1001 + 1 / 1101, 12);
    expect(varianceOf(0, 100)).toBeCloseTo(1, 1);
  });

  it('keeps the parts of the leaks that a reading may take for something else', () => {
    const ages = [10, 20, 30, 400, 410, 420, 430];
    const whole = {
      entry: new Float64Array(ages.length),
      age: Float64Array.from(ages),
      cause: ages.map(() => 'leak' as const),
    };
    const { partHazard } = removalCauses({ ...whole, part: ages.map((age) => (age < 50 ? 'fault' : null)) });
    expect(partHazard('fault', 20)).toBeGreaterThan(0.01);
    expect(partHazard('fault', 410)).toBeLessThan(partHazard('fault', 20) / 10);
    expect(partHazard('condition', 20)).toBe(0);
  });
});
