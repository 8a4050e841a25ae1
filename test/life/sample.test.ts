import { describe, expect, it } from 'vitest';
import { UsageError } from '../../lib/errors.js';
import { mergeSample } from '../../lib/life/mergeSample.js';
import { hasClusters, type LifeColumns, lifeSample } from '../../lib/life/sample.js';

describe('lifeSample', () => {
  it('copies columns, fills in entry, count and own positions', () => {
    const lower = [10, 20];
    const sample = lifeSample({ lower, upper: Float64Array.of(10, Infinity) });
    lower[0] = 99;
    expect(Array.from(sample.lower)).toEqual([10, 20]);
    expect(Array.from(sample.entry)).toEqual([0, 0]);
    expect(Array.from(sample.count)).toEqual([1, 1]);
    expect(new Set(sample.cluster).size).toBe(2);
    expect(hasClusters(sample)).toBe(false);
  });

  it('takes positions as texts or numbers', () => {
    const sample = lifeSample({ lower: [1, 2, 3], upper: [1, 2, 3], cluster: ['V-1', 'V-2', 'V-1'] });
    expect(Array.from(sample.cluster)).toEqual([0, 1, 0]);
    expect(hasClusters(sample)).toBe(true);
    expect(hasClusters(lifeSample({ lower: [1, 2], upper: [1, 2], cluster: [7, 8] }))).toBe(false);
  });

  it.each<[string, LifeColumns, RegExp]>([
    ['not a number', { lower: [1, Number.NaN], upper: [1, 2] }, /row 2: lower must be a number/],
    ['null', { lower: [1, 2], upper: [1, null as unknown as number] }, /row 2: upper must be a number/],
    ['infinite lower', { lower: [Infinity], upper: [Infinity] }, /row 1: lower must be finite/],
    ['negative', { lower: [5, -1], upper: [5, 4] }, /row 2: lower must not be negative/],
    ['exactly 0', { lower: [3, 0], upper: [3, 0] }, /row 2: .*Days are intervals.*lower 0, upper 1/],
    ['lower above upper', { lower: [4], upper: [3] }, /row 1: lower must not be above upper/],
    ['over at entry', { lower: [4], upper: [4], entry: [4] }, /row 1: .*at or before its entry/],
    ['negative entry', { lower: [4], upper: [4], entry: [-1] }, /row 1: entry/],
    ['count 0', { lower: [4], upper: [4], count: [0] }, /row 1: count must be a whole number/],
    ['broken count', { lower: [4], upper: [4], count: [1.5] }, /row 1: count must be a whole number/],
    ['unequal lengths', { lower: [4, 5], upper: [4] }, /column upper must be as long as lower \(2\)/],
    ['no rows', { lower: [], upper: [] }, /at least one life/],
    ['a position that is no name', { lower: [4], upper: [4], cluster: [Number.NaN] }, /row 1: cluster/],
  ])('refuses %s, naming the row', (_, columns, message) => {
    expect(() => lifeSample(columns)).toThrow(UsageError);
    expect(() => lifeSample(columns)).toThrow(message);
  });
});

it('mergeSample sums identical rows and sorts them', () => {
  const merged = mergeSample(
    lifeSample({ lower: [9, 5, 9, 5], upper: [9, Infinity, 9, 6], entry: [1, 0, 1, 0], count: [2, 1, 3, 1] }),
  );
  expect(Array.from(merged.lower)).toEqual([5, 5, 9]);
  expect(Array.from(merged.upper)).toEqual([6, Infinity, 9]);
  expect(Array.from(merged.count)).toEqual([1, 1, 5]);
});
