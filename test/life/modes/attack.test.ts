/** Laws that the fits by mode keep for any sample: order, unit, counts split up; and an answer in numbers or a plain refusal. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { UsageError } from '../../../lib/errors.js';
import type { DelayTimeRow } from '../../../lib/life/estimate/delayTime.js';
import { fitConditionBothWays } from '../../../lib/life/modes/fitConditionBothWays.js';
import { fitDelayTime } from '../../../lib/life/modes/fitDelayTime.js';
import { fitModes } from '../../../lib/life/modes/fitModes.js';
import { fitUnknownReasons } from '../../../lib/life/modes/fitUnknownReasons.js';
import { incidenceOfModes, quantileOfModes } from '../../../lib/life/modes/modeLaws.js';
import { lifeSample } from '../../../lib/life/sample.js';

interface Row {
  age: number;
  wide: number;
  entry: number;
  count: number;
  reason: string | null;
}

const REASONS = ['leak', 'crack', 'opened', 'unknown', null] as const;

const row: fc.Arbitrary<Row> = fc.record({
  age: fc.oneof(fc.integer({ min: 2, max: 1500 }), fc.constantFrom(2, 365, 730)),
  wide: fc.constantFrom(0, 0, 1, 90),
  entry: fc.constantFrom(0, 0, 0, 0.3, 0.9),
  count: fc.constantFrom(1, 1, 1, 2, 5),
  reason: fc.constantFrom(...REASONS),
});
const rows = fc.array(row, { minLength: 1, maxLength: 30 });
const SEED = 20261128;

/** Five rows of each reason and more. */
const enough = fc
  .tuple(fc.array(row, { minLength: 20, maxLength: 20 }), rows)
  .map(([sure, more]) => [
    ...sure.map((each, i) => ({ ...each, reason: REASONS[i % 4] as string })),
    ...more,
  ]);

function sampleOf(list: readonly Row[], unit: number): ReturnType<typeof lifeSample> {
  return lifeSample({
    lower: list.map(({ age, wide, reason }) => unit * (reason === null ? age : Math.max(0, age - wide))),
    upper: list.map(({ age, reason }) => (reason === null ? Infinity : unit * age)),
    entry: list.map(({ age, entry }) => unit * entry * age),
    count: list.map(({ count }) => count),
  });
}

const reasonsOf = (list: readonly Row[]): (string | null)[] => list.map(({ reason }) => reason);

/** Numbers that say what was fitted, ages over the unit; null where the library says that it cannot. */
type Answer = (list: readonly Row[], unit: number) => number[] | null;

function answered(make: () => number[]): number[] | null {
  try {
    return make();
  } catch (error) {
    if (error instanceof UsageError) return null;
    throw error;
  }
}

const known = (list: readonly Row[]): Row[] =>
  list.map((each) => (each.reason === 'unknown' ? { ...each, reason: 'opened' } : each));

const byModes: Answer = (list, unit) =>
  answered(() => {
    const fit = fitModes(sampleOf(known(list), unit), reasonsOf(known(list)), { kinds: 'weibull' });
    const b10 = quantileOfModes(fit.laws, 0.1) / unit;
    return [b10, ...incidenceOfModes(fit.laws, [700 * unit]).flatMap((column) => Array.from(column))];
  });

const byUnknown: Answer = (list, unit) =>
  answered(() => {
    const fit = fitUnknownReasons(sampleOf(list, unit), reasonsOf(list), { leaks: ['leak'] });
    return fit.answers.flatMap(({ value, leaks }) => [value / unit, leaks]);
  });

const byCondition: Answer = (list, unit) =>
  answered(() => {
    const fit = fitConditionBothWays(
      sampleOf(list, unit),
      list.map(({ reason }) => reason === 'crack'),
    );
    return [fit.asLeak.value / unit, (fit.asCensored?.value ?? 0) / unit, fit.removals];
  });

const STATES = { leak: 'leaked', crack: 'damaged', opened: 'sound', unknown: 'damaged or leaked' } as const;

const byDelay: Answer = (list, unit) =>
  answered(() => {
    const each = list.flatMap(({ age, entry, count, reason }): DelayTimeRow[] =>
      Array.from({ length: count }, () => ({
        age: unit * age,
        entry: unit * entry * age,
        state: reason === null ? 'sound' : STATES[reason as keyof typeof STATES],
      })),
    );
    const { damage, delay } = fitDelayTime(each);
    return [damage.scale / unit, damage.shape, delay / unit];
  });

/** With so many runs (some take a second each), the tolerance, and the units that it goes with: what surrounds an unknown reason is smoothed over days. */
const FITS: [
  string,
  { of: Answer; tolerance: number; units: number[]; runs: number; lists: fc.Arbitrary<Row[]> },
][] = [
  ['fitModes', { of: byModes, runs: 5, tolerance: 1e-4, units: [1e-9, 1e12], lists: rows }],
  ['fitUnknownReasons', { of: byUnknown, runs: 10, tolerance: 1e-3, units: [], lists: rows }],
  ['fitConditionBothWays', { of: byCondition, runs: 25, tolerance: 1e-5, units: [1e-9, 1e12], lists: rows }],
  ['fitDelayTime', { of: byDelay, runs: 2, tolerance: 1e-4, units: [1e-9, 1e12], lists: enough }],
];

function expectAlike(got: number[] | null, want: number[] | null, tolerance: number): void {
  expect(got === null).toBe(want === null);
  got?.forEach((x, i) => {
    const y = want?.[i] as number;
    expect(Math.abs(x - y), `${x} for ${y}`).toBeLessThanOrEqual(tolerance * Math.abs(y) + 1e-9);
  });
}

describe.each(FITS)('%s', (_, { of, runs, tolerance, units, lists }) => {
  const settings = { seed: SEED, numRuns: runs };
  it('answers in numbers or refuses', () => {
    fc.assert(
      fc.property(lists, (list) => {
        of(list, 1)?.forEach((x) => {
          expect(x).toBeGreaterThanOrEqual(0);
          expect(x).not.toBeNaN();
        });
      }),
      settings,
    );
  });

  it('does not mind the order of rows', () => {
    fc.assert(
      fc.property(lists, (list) => expectAlike(of([...list].reverse(), 1), of(list, 1), tolerance)),
      settings,
    );
  });

  it('takes a count of two as two rows', () => {
    fc.assert(
      fc.property(lists, (list) => {
        const apart = list.flatMap((each) =>
          Array.from({ length: each.count }, () => ({ ...each, count: 1 })),
        );
        expectAlike(of(apart, 1), of(list, 1), tolerance);
      }),
      settings,
    );
  });

  it('goes with the unit of ages', () => {
    fc.assert(
      fc.property(lists, (list) => {
        const days = of(list, 1);
        for (const unit of units) expectAlike(of(list, unit), days, tolerance);
      }),
      settings,
    );
  });
});
