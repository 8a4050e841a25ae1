/** How far data reach, by small cases worked by hand. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dataSupport, supportedAge } from '../../lib/life/empirical/supportedAge.js';
import { lifeSample } from '../../lib/life/sample.js';
import type { LifeSample } from '../../lib/life/sampleTypes.js';

type Row = [lower: number, upper: number, entry?: number];

const sampleOf = (rows: Row[]): LifeSample =>
  lifeSample({
    lower: rows.map(([lower]) => lower),
    upper: rows.map(([, upper]) => upper),
    entry: rows.map(([, , entry]) => entry ?? 0),
  });
const leak = (age: number): Row => [age - 0.5, age + 0.5];
const sound = (age: number, entry = 0): Row => [age, Infinity, entry];
const ofDays = (rows: Row[]): number | null => supportedAge(sampleOf(rows), { wholeDays: true });

describe('supported age', () => {
  it('is the last age with five at risk and two leaks by then', () => {
    // At 400: lives of 400, 500, 600, 700, 800 are at risk (five), leaks at 100 and 300. At 500 only four are left.
    const rows = [leak(100), leak(300), ...[400, 500, 600, 700, 800].map((age) => sound(age))];
    expect(ofDays(rows)).toBe(400);
  });

  it('is not moved by one forgotten valve', () => {
    const rows = [leak(100), leak(300), ...[400, 400, 400, 400, 400].map((age) => sound(age))];
    expect(ofDays([...rows, sound(9000)])).toBe(ofDays(rows));
    expect(ofDays([...rows, sound(9000, 8000)])).toBe(ofDays(rows));
  });

  it('counts a life only after its entry', () => {
    const late = [500, 500, 500, 500].map((age) => sound(age, 450));
    // At 450 nobody new is at risk yet; at 500 the four late ones alone are.
    const rows = [leak(100), leak(300), ...[310, 310, 310, 310, 310].map((age) => sound(age)), ...late];
    expect(ofDays(rows)).toBe(310);
  });

  it('is null under two leaks', () => {
    expect(ofDays([leak(100), ...[1, 2, 3, 4, 5, 6].map(() => sound(400))])).toBeNull();
  });

  it('is that of ages in any unit; a failure counts from the end of its interval on', () => {
    // Years: failures at 0.3 and by 0.8; at 0.8 five are left, at 1.1 four.
    const rows: Row[] = [[0.3, 0.3], [0.4, 0.8], ...[1.1, 1.2, 1.3, 1.4].map((age) => sound(age))];
    expect(supportedAge(sampleOf(rows))).toBe(0.8);
    fc.assert(
      fc.property(fc.constantFrom(1e-9, 365.25, 1e12), (unit) => {
        const scaled = rows.map(([lower, upper]): Row => [lower * unit, upper * unit]);
        expect(supportedAge(sampleOf(scaled))).toBe(0.8 * unit);
      }),
    );
  });

  it('a row of several lives counts as so many', () => {
    const sample = lifeSample({ lower: [100, 400], upper: [100, Infinity], count: [2, 5] });
    expect(supportedAge(sample)).toBe(400);
    expect(supportedAge(lifeSample({ lower: [100, 400], upper: [100, Infinity], count: [2, 4] }))).toBe(100);
  });
});

describe('dataSupport', () => {
  const rows = [leak(100), leak(300), ...[400, 400, 400, 400, 400].map((age) => sound(age))];

  it('tells of lives that stand alone and ages beyond', () => {
    const support = dataSupport(sampleOf([...rows, sound(9000)]), { wholeDays: true, ages: [350, 500] });
    expect(support).toMatchObject({ age: 400, lives: 8, failures: 2, oldest: 9000 });
    expect(support.warnings.map(({ code }) => code)).toEqual(['lives-beyond-support', 'beyond-support']);
    expect(support.warnings[1]?.text).toContain('500 is beyond 400');
  });

  it('is silent within, says where nothing is supported, refuses ages that are none', () => {
    expect(dataSupport(sampleOf(rows), { ages: [400], wholeDays: true }).warnings).toEqual([]);
    expect(dataSupport(sampleOf([sound(10)])).warnings.map(({ code }) => code)).toEqual(['no-supported-age']);
    expect(() => dataSupport(sampleOf(rows), { ages: [-1] })).toThrow('at or above 0');
  });
});
