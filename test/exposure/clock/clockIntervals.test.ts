/** An interval on a clock, in the days of each position. */
import { describe, expect, it } from 'vitest';
import { ageAtCount } from '../../../lib/exposure/ageAtCount.js';
import { type ClockPosition, clockIntervals } from '../../../lib/exposure/clock/clockIntervals.js';
import type { ClockLaw } from '../../../lib/exposure/clock/types.js';
import type { DailyRate } from '../../../lib/exposure/rates.js';

const bounds = { estimate: 1, low: 1, high: 1 };
const law = (weight: number | null): ClockLaw => ({
  model: { kind: 'weibull', shape: 3, scale: 500 },
  shape: bounds,
  tenth: bounds,
  half: bounds,
  weight: weight === null ? null : { estimate: weight, low: weight / 2, high: weight * 2 },
  level: 0.9,
});
const rate = (perDay: number, variancePerDay: number | null = null): DailyRate => ({
  perDay,
  source: variancePerDay === null ? 'given' : 'measured',
  resets: 0,
  spread: variancePerDay === null ? null : { variancePerDay, days: 300 },
});
const positions: ClockPosition[] = [
  { name: 'V-1', rates: { strokes: rate(2) } },
  { name: 'V-2', rates: { strokes: rate(0.5, 4) } },
  { name: 'V-3', rates: {} },
  { name: 'V-4', rates: { strokes: rate(0) } },
];

describe('an interval of 400 strokes', () => {
  const choice = { clock: 'strokes', parts: ['strokes'], law: law(null) };
  const rows = clockIntervals(choice, 400, positions);

  it('comes at the age at which each counter gets there, with the spread of its rate', () => {
    expect(rows[0]).toMatchObject({ age: 200, low: 200, high: 200, words: 'V-1: 400 strokes are 200 days.' });
    expect(rows[1]).toMatchObject(ageAtCount(rate(0.5, 4), 400) as object);
    expect(rows[1]?.words).toMatch(/^V-2: 400 strokes are 800 days \(90 % range \d+ to .*\)\.$/);
    expect(rows[1]?.low).toBeLessThan(800);
    expect(rows[1]?.high).toBeGreaterThan(800);
  });

  it('stays in days where no rate is known or nothing moves, and says what to do', () => {
    for (const i of [2, 3]) {
      expect(rows[i]?.age).toBeNull();
      expect(rows[i]?.words).toMatch(/keeps its interval in days\. Read its counter/);
    }
  });

  it('must be above 0', () => {
    expect(() => clockIntervals(choice, 0, positions)).toThrow(/above 0/);
  });
});

describe('other clocks', () => {
  it('days are days everywhere', () => {
    const rows = clockIntervals({ clock: 'days', parts: ['days'], law: law(null) }, 365, positions);
    expect(rows.map(({ age }) => age)).toEqual([365, 365, 365, 365]);
  });

  it('a combination runs at one plus the weight times the rate, and only the counter is uneven', () => {
    const choice = { clock: 'days and strokes', parts: ['days', 'strokes'], law: law(3) };
    const rows = clockIntervals(choice, 700, positions);
    expect(rows[0]?.age).toBe(100);
    expect(rows[1]).toMatchObject(
      ageAtCount({ ...rate(2.5), spread: { variancePerDay: 36, days: 300 } }, 700) as object,
    );
    // A counter that stands still leaves the days.
    expect(rows[3]?.age).toBe(700);
    expect(rows[2]?.age).toBeNull();
  });
});
