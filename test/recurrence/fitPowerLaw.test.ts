/** Power-law process: laws, the truth of its exact bounds, and refusals. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { randomStream } from '../../lib/numeric/random.js';
import { poissonQuantile } from '../../lib/numeric/special.js';
import { fitPowerLaw } from '../../lib/recurrence/fitPowerLaw.js';
import type { WatchColumns } from '../../lib/recurrence/recurrentEvents.js';

interface Drawn {
  system: number[];
  start: number[];
  end: number[];
  eventSystem: number[];
  eventAge: number[];
}

/** Systems of the expected number (t / scale)^shape, each watched from its start to its end. */
function draw(seed: number, shape: number, watches: readonly (readonly [number, number])[]): Drawn {
  const random = randomStream(seed, 'power law');
  const out: Drawn = { system: [], start: [], end: [], eventSystem: [], eventAge: [] };
  watches.forEach(([start, end], k) => {
    const [from, to] = [(start / 100) ** shape, (end / 100) ** shape];
    out.system.push(k);
    out.start.push(start);
    out.end.push(end);
    const n = poissonQuantile(random.uniform(), to - from);
    for (let i = 0; i < n; i++) {
      out.eventSystem.push(k);
      out.eventAge.push(100 * (from + (to - from) * random.uniform()) ** (1 / shape));
    }
  });
  return out;
}

const even = (column: number[], by: number): number[] => column.map((x) => x * by);

describe('power law', () => {
  const watches = [
    [0, 500],
    [0, 900],
    [0, 300],
    [0, 700],
  ] as const;

  it('covers the true shape by its exact bounds in nine of ten histories', () => {
    const runs = 1500;
    let [covered, below] = [0, 0];
    for (let seed = 1; seed <= runs; seed++) {
      const { low, high } = fitPowerLaw(draw(seed, 1.4, watches)).shapeBounds;
      if (low <= 1.4 && high >= 1.4) covered++;
      if (high < 1.4) below++;
    }
    // Standard errors 0.0077 and 0.0056: bounds of 80 % or one-sided errors of 10 % would be found.
    expect(Math.abs(covered / runs - 0.9)).toBeLessThan(4 * Math.sqrt((0.9 * 0.1) / runs));
    expect(Math.abs(below / runs - 0.05)).toBeLessThan(4 * Math.sqrt((0.05 * 0.95) / runs));
  });

  it('covers it by the normal bounds where systems are watched late', () => {
    const late = [
      [100, 900],
      [300, 900],
      [0, 600],
      [200, 800],
    ] as const;
    const runs = 1500;
    let covered = 0;
    for (let seed = 1; seed <= runs; seed++) {
      const fit = fitPowerLaw(draw(seed, 1.4, late));
      expect(fit.shapeBounds.method).toBe('normal');
      expect(fit.shapeConditional).toBeNull();
      const { low, high } = fit.shapeBounds;
      if (low <= 1.4 && high >= 1.4) covered++;
    }
    // The approximation is within two points of its level at sixty events.
    expect(Math.abs(covered / runs - 0.9)).toBeLessThan(0.02 + 4 * Math.sqrt((0.9 * 0.1) / runs));
  });

  it('is at a maximum of the likelihood, late starts included', () => {
    const starts = fc.array(
      fc.tuple(fc.double({ min: 0, max: 300, noNaN: true }), fc.double({ min: 310, max: 900, noNaN: true })),
      { minLength: 3, maxLength: 5 },
    );
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), starts, (seed, spells) => {
        const events = draw(seed, 2, spells);
        if (events.eventAge.length < 3) return;
        const fit = fitPowerLaw(events);
        const value = (shape: number, scale: number): number =>
          events.eventAge.reduce(
            (sum, t) => sum + Math.log(shape / scale) + (shape - 1) * Math.log(t / scale),
            0,
          ) - spells.reduce((sum, [from, to]) => sum + (to / scale) ** shape - (from / scale) ** shape, 0);
        const top = value(fit.shape, fit.scale);
        expect(top).toBeCloseTo(fit.logLikelihood, 8);
        for (const [b, s] of [
          [1.01, 1],
          [0.99, 1],
          [1, 1.01],
          [1, 0.99],
        ] as const) {
          expect(value(fit.shape * b, fit.scale * s)).toBeLessThan(top);
        }
      }),
      { numRuns: 100, seed: 20_266 },
    );
  });

  it.each([1e-9, 1e12])('in ages of unit %s has the same shape and a scale in that unit', (unit) => {
    const events: WatchColumns & Drawn = draw(3, 1.4, watches);
    const plain = fitPowerLaw(events);
    const other = fitPowerLaw({
      ...events,
      start: even(events.start, unit),
      end: even(events.end, unit),
      eventAge: even(events.eventAge, unit),
    });
    expect(other.shape / plain.shape).toBeCloseTo(1, 10);
    expect(other.scale / plain.scale / unit).toBeCloseTo(1, 10);
    other.covariance.forEach((x, k) => {
      expect(x).toBeCloseTo(plain.covariance[k] as number, 10);
    });
  });

  it('ended by an event has one event less that chance places', () => {
    const eventAge = [10, 40, 70, 100];
    const events = { system: [1], end: [100], eventSystem: [1, 1, 1, 1], eventAge };
    const fit = fitPowerLaw(events, { endedBy: 'failure' });
    const distance = Math.log(10) + Math.log(2.5) + Math.log(10 / 7);
    expect(fit.shape).toBeCloseTo(4 / distance, 12);
    expect(fit.shapeConditional).toBeCloseTo(3 / distance, 12);
    expect(fit.shapeUnbiased).toBeCloseTo(2 / distance, 12);
    expect(fit.betweenAtEnd).toBeNull();
  });

  it('refuses what tells nothing', () => {
    const none = { system: [1], end: [100], eventSystem: [], eventAge: [] };
    expect(() => fitPowerLaw(none)).toThrow(/no events/);
    expect(() => fitPowerLaw({ ...none, eventSystem: [1], eventAge: [100] })).toThrow(/end of watching/);
    const one = { ...none, eventSystem: [1], eventAge: [50] };
    expect(() => fitPowerLaw(one, { endedBy: 'failure' })).toThrow(/ends at its last event/);
    expect(fitPowerLaw(one).shapeUnbiased).toBeNull();
    const gap = { system: [1, 1], start: [0, 60], end: [50, 100], eventSystem: [1], eventAge: [40] };
    expect(() => fitPowerLaw(gap)).toThrow(/without a gap/);
    expect(() => fitPowerLaw({ ...one, eventCount: [1.5] })).toThrow(/whole numbers/);
  });
});
