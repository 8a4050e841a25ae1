/** Merging by hash against merging by sorting alone, written out slowly. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitLife } from '../../lib/life/estimate/fit.js';
import { condensed, mergeForFit, mergeSample } from '../../lib/life/mergeSample.js';
import { lifeSample } from '../../lib/life/sample.js';
import type { LifeSample } from '../../lib/life/sampleTypes.js';
import { floatAt } from '../../lib/numeric/columns.js';
import { randomStream } from '../../lib/numeric/random.js';

type Row = { lower: number; upper: number; entry: number; count: number };

function sampleOf(rows: readonly Row[]): LifeSample {
  const column = (name: keyof Row): number[] => rows.map((row) => row[name]);
  return lifeSample({
    lower: column('lower'),
    upper: column('upper'),
    entry: column('entry'),
    count: column('count'),
  });
}

/** Every distinct row with its lives, ascending. */
function slowly(rows: readonly Row[]): Row[] {
  const merged: Row[] = [];
  for (const row of rows) {
    const same = merged.find(
      ({ lower, upper, entry }) => lower === row.lower && upper === row.upper && entry === row.entry,
    );
    if (same === undefined) merged.push({ ...row });
    else same.count += row.count;
  }
  return merged.sort(
    (a, b) => a.lower - b.lower || (a.upper === b.upper ? a.entry - b.entry : a.upper - b.upper),
  );
}

function joined(parts: readonly LifeSample[]): LifeSample {
  const column = (name: 'lower' | 'upper' | 'count'): number[] =>
    parts.flatMap((part) => Array.from(part[name]));
  return lifeSample({ lower: column('lower'), upper: column('upper'), count: column('count') });
}

function rowsOf({ lower, upper, entry, count }: LifeSample): Row[] {
  return Array.from(lower, (age, i) => ({
    lower: age,
    upper: floatAt(upper, i),
    entry: floatAt(entry, i),
    count: floatAt(count, i),
  }));
}

const row: fc.Arbitrary<Row> = fc
  .record({
    lower: fc.integer({ min: 2, max: 6 }),
    width: fc.constantFrom(0, 1, Infinity),
    entry: fc.constantFrom(0, 1),
    count: fc.integer({ min: 1, max: 3 }),
  })
  .map(({ lower, width, entry, count }) => ({ lower, upper: lower + width, entry, count }));

describe('mergeSample', () => {
  it('finds the distinct rows and their lives', () => {
    fc.assert(
      fc.property(fc.array(row, { minLength: 1, maxLength: 80 }), (rows) => {
        expect(rowsOf(mergeSample(sampleOf(rows)))).toEqual(slowly(rows));
      }),
    );
  });

  it('keeps thousands of distinct ages apart, whole days and others', () => {
    const ages = Array.from({ length: 5000 }, (_, i) => (i % 2 === 0 ? i + 1 : (i + 1) / 7));
    const lower = [...ages, ...ages];
    const merged = mergeSample(lifeSample({ lower, upper: lower }));
    expect(Array.from(merged.lower)).toEqual([...new Set(ages)].sort((a, b) => a - b));
    expect(merged.count.every((count) => count === 2)).toBe(true);
  });

  it('adds up broken counts in one order, whatever the order of rows', () => {
    const lower = Float64Array.of(3, 3, 3, 3);
    const base = lifeSample({ lower, upper: lower });
    const shuffled = [Float64Array.of(0.1, 0.2, 0.3, 1e16), Float64Array.of(1e16, 0.3, 0.1, 0.2)].map(
      (count) => mergeSample({ ...base, count }).count[0],
    );
    expect(shuffled[0]).toBe(shuffled[1]);
  });
});

describe('a sample of a hundred thousand lives', () => {
  const random = randomStream(3, 'large sample');
  const ages = Float64Array.from({ length: 100_000 }, () => 900 * (-Math.log(random.uniform())) ** (1 / 2.5));
  const ended = (age: number): number => (age > 1000 ? Infinity : age);

  it('stays as it is where ages hardly repeat, and the fit is that of the merged one', () => {
    const sample = lifeSample({ lower: ages.map((age) => Math.min(age, 1000)), upper: ages.map(ended) });
    const distinct = {
      ...sample,
      lower: sample.lower.slice(),
      entry: new Float64Array(ages.length).fill(1e-9),
    };
    expect(mergeForFit(distinct)).toBe(distinct);
    const fits = [sample, mergeSample(sample)].map((each) => fitLife(each, { kind: 'weibull' }));
    const [own, merged] = fits as [(typeof fits)[0], (typeof fits)[0]];
    if (own.model.kind !== 'weibull' || merged.model.kind !== 'weibull') throw new Error('no Weibull');
    expect(own.model.shape / merged.model.shape - 1).toBeCloseTo(0, 11);
    expect(own.model.scale / merged.model.scale - 1).toBeCloseTo(0, 12);
    expect(own.logLikelihood / merged.logLikelihood - 1).toBeCloseTo(0, 12);
    for (const [i, value] of own.covariance.entries()) {
      expect(value / (merged.covariance[i] as number) - 1).toBeCloseTo(0, 9);
    }
  });

  it.each([0, 0.5, 0.25])('is merged as a small one is, ages %s before whole days', (before) => {
    const days = ages.map((age) => Math.ceil(age) + 1 - before);
    const kinds = [0, 1, Infinity];
    const large = lifeSample({ lower: days, upper: days.map((age, i) => age + (kinds[i % 3] as number)) });
    const part = (column: Float64Array, from: number): Float64Array => column.slice(from, from + 50_000);
    const halves = [0, 50_000].map((from) =>
      mergeSample(lifeSample({ lower: part(large.lower, from), upper: part(large.upper, from) })),
    );
    const all = mergeSample(joined(halves));
    expect(rowsOf(mergeSample(large))).toEqual(rowsOf(all));
    expect(rowsOf(mergeForFit(large))).toEqual(rowsOf(all));
  });

  it('is merged where ages are whole days', () => {
    const days = ages.map(Math.ceil);
    const sample = lifeSample({ lower: days, upper: days });
    expect(mergeForFit(sample).lower.length).toBe(new Set(days).size);
    expect(condensed(sample).lower.length).toBe(new Set(days).size);
  });
});
