/** Classes of use: narrow, whole, none empty. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { nearestClass, useClasses } from '../../../lib/group/byUse/useClasses.js';

const ratesOf = (rates: readonly number[]): Map<number, number> => new Map(rates.map((rate, p) => [p, rate]));

describe('classes of use', () => {
  it('worked by hand: 10, 11 and 12 go together, 16 does not', () => {
    const [first, second, none] = useClasses(ratesOf([12, 10, 16, 11]), 1);
    // Shape 1: the rate that stands for them is their mean.
    expect(first).toEqual({ positions: [0, 1, 3], least: 10, most: 12, perDay: expect.closeTo(11, 12) });
    expect(second).toEqual({ positions: [2], least: 16, most: 16, perDay: 16 });
    expect(none).toBeUndefined();
  });

  it('stand for leaks that go with rate^shape', () => {
    const [both] = useClasses(ratesOf([10, 12]), 3);
    expect(both?.perDay).toBeCloseTo(((10 ** 3 + 12 ** 3) / 2) ** (1 / 3), 12);
  });

  it('hold every position once, within 12 % of their middle, in order of use', () => {
    const rates = fc.array(fc.double({ min: 1e-9, max: 1e9, noNaN: true }), { maxLength: 60 });
    fc.assert(
      fc.property(rates, fc.double({ min: 0.5, max: 8, noNaN: true }), (all, shape) => {
        const classes = useClasses(ratesOf(all), shape);
        expect(classes.flatMap(({ positions }) => positions).sort((a, b) => a - b)).toEqual([...all.keys()]);
        let last = 0;
        for (const { positions, least, most, perDay } of classes) {
          expect(positions.length).toBeGreaterThan(0);
          const logs = positions.map((p) => Math.log(all[p] as number));
          const middle = Math.exp(logs.reduce((sum, log) => sum + log, 0) / logs.length);
          expect(most / middle).toBeLessThanOrEqual(1.12 * (1 + 1e-9));
          expect(middle / least).toBeLessThanOrEqual(1.12 * (1 + 1e-9));
          expect(perDay).toBeGreaterThanOrEqual(least * (1 - 1e-12));
          expect(perDay).toBeLessThanOrEqual(most * (1 + 1e-12));
          expect(least).toBeGreaterThanOrEqual(last);
          last = most;
        }
      }),
    );
  });

  it('do not hang on the unit of the rates', () => {
    const rates = [0.2, 0.31, 0.33, 0.5, 0.52, 0.9];
    const one = useClasses(ratesOf(rates), 3);
    const other = useClasses(ratesOf(rates.map((rate) => rate / 1000)), 3);
    expect(other.map(({ positions }) => positions)).toEqual(one.map(({ positions }) => positions));
  });

  it('are looked up by the nearest rate, and by none without one', () => {
    const classes = useClasses(ratesOf([1, 2, 4]), 3);
    expect([0.1, 1.3, 1.5, 3, 100].map((rate) => nearestClass(classes, rate))).toEqual([0, 0, 1, 2, 2]);
    expect(nearestClass(classes, Number.NaN)).toBe(-1);
    expect(nearestClass(classes, 0)).toBe(-1);
    expect(nearestClass([], 1)).toBe(-1);
  });
});
