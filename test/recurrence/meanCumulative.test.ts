/** Mean cumulative number of events: a case by hand, the definition, laws and refusals. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { UsageError } from '../../lib/errors.js';
import { meanCumulative } from '../../lib/recurrence/meanCumulative.js';
import { meanCumulativeDifference } from '../../lib/recurrence/meanCumulativeDifference.js';
import type { EventColumns, WatchColumns } from '../../lib/recurrence/recurrentEvents.js';

const all = { fewestAtRisk: 1 };

describe('three pumps, by hand', () => {
  // A is watched to 10 with events at 2 and 5, B to 4 with one at 2, C from 3 to 10 with one at 5 that counts double.
  const pumps: WatchColumns = {
    system: ['A', 'B', 'C'],
    start: [0, 0, 3],
    end: [10, 4, 10],
    eventSystem: ['A', 'A', 'B', 'C'],
    eventAge: [2, 5, 2, 5],
    eventCount: [1, 1, 1, 2],
  };
  const curve = meanCumulative(pumps, all);

  it('adds events per watched system', () => {
    expect([...curve.age]).toEqual([2, 5]);
    expect([...curve.atRisk]).toEqual([2, 2]);
    expect([...curve.events]).toEqual([2, 3]);
    expect([...curve.mean]).toEqual([1, 2.5]);
    expect(curve.start).toBe(0);
    expect(curve.end).toBe(10);
  });

  it('has the spread between systems as its standard error', () => {
    // At 2 both have one event: no spread. At 5 A has (1 - 1.5) / 2 and C (2 - 1.5) / 2.
    expect(curve.standardError[0]).toBe(0);
    expect(curve.standardError[1]).toBeCloseTo(Math.sqrt(2 * 0.25 ** 2), 12);
    const plain = meanCumulative(pumps, { ...all, bounds: 'plain', level: 0.9 });
    expect(plain.high[1]).toBeCloseTo(2.5 + 1.6448536269514722 * Math.sqrt(0.125), 10);
    expect(plain.low[1]).toBeCloseTo(2.5 - 1.6448536269514722 * Math.sqrt(0.125), 10);
    expect((curve.low[1] as number) * (curve.high[1] as number)).toBeCloseTo(2.5 ** 2, 10);
  });

  it('begins where enough are watched, and counts from there', () => {
    const late: WatchColumns = { ...pumps, start: [0, 1, 3], end: [10, 10, 10] };
    const curve = meanCumulative(late, { fewestAtRisk: 3 });
    expect(curve.start).toBe(3);
    expect([...curve.age]).toEqual([5]);
    expect([...curve.mean]).toEqual([1]);
    // Never five: from the smallest start on.
    expect(meanCumulative(late).start).toBe(0);
  });
});

/** Up to six systems with up to three spells each and events anywhere in them, ages whole so that ties are common. */
const anyEvents: fc.Arbitrary<WatchColumns> = fc
  .array(
    fc.record({
      cuts: fc.uniqueArray(fc.integer({ min: 0, max: 40 }), { minLength: 2, maxLength: 6 }),
      hits: fc.array(fc.record({ place: fc.nat(), count: fc.integer({ min: 1, max: 3 }) }), { maxLength: 6 }),
    }),
    { minLength: 1, maxLength: 6 },
  )
  .map((systems) => {
    const out = { system: [], start: [], end: [], eventSystem: [], eventAge: [], eventCount: [] } as Record<
      string,
      number[]
    >;
    systems.forEach(({ cuts, hits }, k) => {
      const sorted = cuts.slice(0, cuts.length - (cuts.length % 2)).sort((a, b) => a - b);
      const inside: number[] = [];
      for (let i = 0; i < sorted.length; i += 2) {
        out.system?.push(k);
        out.start?.push(sorted[i] as number);
        out.end?.push(sorted[i + 1] as number);
        for (let t = (sorted[i] as number) + 1; t <= (sorted[i + 1] as number); t++) inside.push(t);
      }
      for (const { place, count } of hits) {
        out.eventSystem?.push(k);
        out.eventAge?.push(inside[place % inside.length] as number);
        out.eventCount?.push(count);
      }
    });
    return out as unknown as WatchColumns;
  });

/** Mean and variance age by age from their definition, a sum over all systems at every age. */
function slow(columns: WatchColumns): { age: number[]; mean: number[]; variance: number[] } {
  const { system, start, end, eventSystem, eventAge, eventCount } = columns as {
    [K in keyof Required<WatchColumns>]: number[];
  };
  const ages = [...new Set(eventAge)].sort((a, b) => a - b);
  const a = new Map<number, number>(system.map((s) => [s, 0]));
  let mean = 0;
  const out = { age: ages, mean: [] as number[], variance: [] as number[] };
  for (const t of ages) {
    const watched = new Set(system.filter((_, i) => (start[i] as number) < t && t <= (end[i] as number)));
    const of = (s: number): number =>
      eventAge.reduce(
        (n, age, k) => n + (age === t && eventSystem[k] === s ? (eventCount[k] as number) : 0),
        0,
      );
    const total = [...a.keys()].reduce((n, s) => n + of(s), 0);
    for (const s of watched) a.set(s, (a.get(s) as number) + (of(s) - total / watched.size) / watched.size);
    mean += total / watched.size;
    out.mean.push(mean);
    out.variance.push([...a.values()].reduce((n, x) => n + x * x, 0));
  }
  return out;
}

const sameAs = (got: Float64Array, want: readonly number[] | Float64Array, digits = 10): void => {
  expect(got.length).toBe(want.length);
  want.forEach((value, k) => {
    expect(got[k]).toBeCloseTo(value, digits);
  });
};

describe('laws', () => {
  const RUNS = { numRuns: 300, seed: 20_265 };

  it('are those of the definition, gaps and late starts included', () => {
    fc.assert(
      fc.property(anyEvents, (events) => {
        const first = Math.min(...(events.start as number[]));
        const got = meanCumulative(events, all);
        expect(got.start).toBe(first);
        const want = slow(events);
        sameAs(got.age, want.age);
        sameAs(got.mean, want.mean);
        sameAs(
          got.standardError.map((x) => x * x),
          want.variance,
        );
      }),
      RUNS,
    );
  });

  it('every system twice: the same mean, half the variance', () => {
    fc.assert(
      fc.property(anyEvents, (events) => {
        const again = (column: ArrayLike<number | string>): string[] =>
          [...Array.from(column), ...Array.from(column, (x) => `${x} again`)].map(String);
        const twice = (column: ArrayLike<number> | undefined): number[] => [
          ...Array.from(column ?? []),
          ...Array.from(column ?? []),
        ];
        const both = meanCumulative(
          {
            system: again(events.system),
            start: twice(events.start),
            end: twice(events.end),
            eventSystem: again(events.eventSystem),
            eventAge: twice(events.eventAge),
            eventCount: twice(events.eventCount),
          },
          all,
        );
        const one = meanCumulative(events, all);
        sameAs(both.mean, one.mean);
        sameAs(
          both.standardError.map((x) => 2 * x * x),
          one.standardError.map((x) => x * x),
        );
      }),
      RUNS,
    );
  });

  it('costs in other money and ages in other units scale', () => {
    fc.assert(
      fc.property(anyEvents, fc.constantFrom(1e-9, 7, 1e12), (events, by) => {
        const scaled = (column: ArrayLike<number> | undefined): number[] =>
          Array.from(column ?? [], (x) => x * by);
        const one = meanCumulative(events, all);
        const money = meanCumulative({ ...events, eventCount: scaled(events.eventCount) }, all);
        sameAs(
          money.mean.map((x) => x / by),
          one.mean,
        );
        sameAs(
          money.standardError.map((x) => x / by),
          one.standardError,
          6,
        );
        const units = meanCumulative(
          {
            ...events,
            start: scaled(events.start),
            end: scaled(events.end),
            eventAge: scaled(events.eventAge),
          },
          all,
        );
        sameAs(units.mean, one.mean);
        sameAs(units.standardError, one.standardError);
      }),
      RUNS,
    );
  });
});

describe('the difference of two groups', () => {
  const group = (ages: number[], end: number): EventColumns => ({
    id: [...ages.map((_, k) => k), 0, 1, 2, 3, 4, 5, 6],
    stop: [...ages, end, end, end, end, end, end, end],
    event: [...ages.map(() => 1), 0, 0, 0, 0, 0, 0, 0],
  });
  const first = meanCumulative(group([2, 4, 6], 20));
  const second = meanCumulative(group([3, 4], 5));

  it('follows both as far as both were watched, variances added', () => {
    const { age, difference, standardError, low, high } = meanCumulativeDifference(first, second);
    expect([...age]).toEqual([2, 3, 4]);
    sameAs(difference, [1 / 7, 0, 0]);
    expect(standardError[2]).toBeCloseTo(
      Math.hypot(first.standardError[1] as number, second.standardError[1] as number),
      12,
    );
    expect((high[2] as number) + (low[2] as number)).toBeCloseTo(0, 12);
    expect(high[2]).toBeCloseTo(1.6448536269514722 * (standardError[2] as number), 10);
  });

  it('turns its sign with the order', () => {
    const there = meanCumulativeDifference(first, second).difference;
    sameAs(
      meanCumulativeDifference(second, first).difference,
      there.map((x) => -x),
    );
  });

  it('refuses curves that count from different ages', () => {
    const late = { ...second, start: 1 };
    expect(() => meanCumulativeDifference(first, late)).toThrow(/count from one age/);
  });
});

describe('refused, with the row', () => {
  const good = { system: [1], end: [10], eventSystem: [1], eventAge: [5] };
  const bad: [string, EventColumns, RegExp][] = [
    ['no watch', { ...good, system: [], end: [] }, /at least one system/],
    ['an event of a stranger', { ...good, eventSystem: [2] }, /event 1: its system was never watched.*2/],
    ['an event after the watch', { ...good, eventAge: [11] }, /event 1: its system was not watched then.*11/],
    ['an event at the start', { ...good, eventAge: [0] }, /event 1: .*half a day.*0/],
    ['a watch without length', { ...good, start: [10] }, /row 1: watching must end after it began/],
    [
      'watches that overlap',
      { ...good, system: [1, 1], start: [0, 8], end: [10, 12] },
      /rows 1 and 2: .*overlap/,
    ],
    ['an age that is none', { ...good, eventAge: [Number.NaN] }, /row 1: eventAge must be a finite number/],
    ['a negative cost', { ...good, eventCount: [-1] }, /row 1: eventCount/],
    ['columns of unequal length', { ...good, end: [10, 11] }, /column end must have 1 rows/],
    ['rows out of joint', { id: [1, 1], start: [0, 4], stop: [5, 9], event: [1, 0] }, /overlap/],
  ];

  it.each(bad)('%s', (_, events, message) => {
    expect(() => meanCumulative(events)).toThrow(UsageError);
    expect(() => meanCumulative(events)).toThrow(message);
  });

  it('a level that is none', () => {
    expect(() => meanCumulative(good, { level: 1 })).toThrow(/level/);
  });

  it('but not a plant without events', () => {
    const { age, end } = meanCumulative({ ...good, eventSystem: [], eventAge: [] });
    expect(age).toHaveLength(0);
    expect(end).toBe(10);
  });
});
