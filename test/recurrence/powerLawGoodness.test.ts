import { describe, expect, it } from 'vitest';
import { UsageError } from '../../lib/errors.js';
import { randomStream } from '../../lib/numeric/random.js';
import { powerLawGoodness } from '../../lib/recurrence/powerLawGoodness.js';

/** Three systems to different ages, events by a power law of each one's shape. */
function events(seed: number, shapes: readonly number[]) {
  const random = randomStream(seed, 'test/power law');
  const end = [200, 350, 500];
  const eventSystem: number[] = [];
  const eventAge: number[] = [];
  shapes.forEach((shape, k) => {
    for (let i = 0; i < 15; i++) {
      eventSystem.push(k);
      eventAge.push((end[k] as number) * random.uniform() ** (1 / shape));
    }
  });
  return { system: [0, 1, 2], end, eventSystem, eventAge };
}

const rejected = (shapes: readonly number[]): number => {
  let count = 0;
  for (let seed = 1; seed <= 200; seed++) {
    if (powerLawGoodness(events(seed, shapes), { seed, resamples: 99 }).p <= 0.1) count++;
  }
  return count;
};

describe('powerLawGoodness', () => {
  it('rejects a right process as often as it says, and finds shapes that differ', () => {
    // Binomial (200, 0.1): 20 with a standard error of 4.2.
    const right = rejected([1.5, 1.5, 1.5]);
    expect(right).toBeGreaterThanOrEqual(4);
    expect(right).toBeLessThanOrEqual(36);
    expect(rejected([0.4, 4, 4])).toBeGreaterThan(100);
  });

  it('does not hang on the unit of age or the order of events', () => {
    const base = events(3, [1.5, 1.5, 1.5]);
    const scaled = {
      system: base.system,
      end: base.end.map((t) => t * 1e-6),
      eventSystem: [...base.eventSystem].reverse(),
      eventAge: [...base.eventAge].reverse().map((t) => t * 1e-6),
    };
    const [a, b] = [powerLawGoodness(base, { seed: 1 }), powerLawGoodness(scaled, { seed: 1 })];
    expect(b.statistic).toBeCloseTo(a.statistic, 12);
    expect(b.p).toBe(a.p);
  });

  it('leaves out the event that ended the watching, and refuses nonsense', () => {
    const ended = { system: [1], end: [90], eventSystem: [1, 1, 1, 1], eventAge: [20, 50, 70, 90] };
    expect(powerLawGoodness(ended, { seed: 1, endedBy: 'failure' }).events).toBe(3);
    expect(() => powerLawGoodness(ended, { seed: 1, resamples: 3 })).toThrow('powerLawGoodness: resamples');
    expect(() => powerLawGoodness({ ...ended, start: [5] }, { seed: 1 })).toThrow(UsageError);
    const few = { system: [1], end: [90], eventSystem: [1, 1], eventAge: [20, 50] };
    expect(() => powerLawGoodness(few, { seed: 1 })).toThrow('three events');
    const atEnd = { system: [1], end: [90], eventSystem: [1, 1, 1], eventAge: [90, 90, 90] };
    expect(() => powerLawGoodness(atEnd, { seed: 1 })).toThrow('at the end');
  });
});
