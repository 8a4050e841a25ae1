/** Laws that exposures must keep, whatever the readings; and equivalent hours, whatever the temperatures. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { givenActivationEnergy } from '../../lib/exposure/activationEnergy.js';
import { arrheniusFactor } from '../../lib/exposure/arrhenius.js';
import { equivalentHours } from '../../lib/exposure/equivalentHours.js';
import { type CountedFleet, type DaySpans, exposeSpans } from '../../lib/exposure/exposeSpans.js';
import { COUNTERS, EXPOSURE_MARKS } from '../../lib/exposure/exposureTypes.js';
import { integrate } from '../../lib/numeric/quadrature.js';
import { counted, type Duty, type ReadingRow, spansOf } from '../exposure/fixtures.js';
import { apart } from '../reference/life/samples.js';

const RUNS = { numRuns: 150, seed: 20_281 };

/** Gaps of days and paces that differ by less than twenty times: a counter that only rises, and always plausibly. */
const rising: fc.Arbitrary<ReadingRow[]> = fc
  .array(fc.record({ days: fc.integer({ min: 1, max: 170 }), pace: fc.integer({ min: 3, max: 50 }) }), {
    minLength: 1,
    maxLength: 12,
  })
  .map((steps) => {
    let [day, value] = [0, 0];
    const rows: ReadingRow[] = [[0, 0, 0]];
    for (const { days, pace } of steps) {
      day += days;
      value += days * pace;
      rows.push([0, day, value]);
    }
    return rows;
  });

const idle: fc.Arbitrary<Duty> = fc
  .array(fc.record({ start: fc.integer({ min: -50, max: 900 }), length: fc.integer({ min: 0, max: 60 }) }), {
    maxLength: 3,
  })
  .map((spans) => ({ idle: spans.map(({ start, length }) => ({ start, end: start + length })) }));

/** What plants hand in: anything. */
const anything: fc.Arbitrary<CountedFleet> = fc
  .record({
    rows: fc.array(
      fc.tuple(
        fc.integer({ min: 0, max: 2 }),
        fc.integer({ min: 0, max: 900 }),
        fc.oneof(
          fc.integer({ min: 0, max: 12_000 }),
          fc.constantFrom(0, 9999, 1e6, -1, Number.NaN, Infinity, 1e300),
          fc.double({ min: 0, max: 100, noNaN: true }),
        ),
        fc.oneof(fc.integer({ min: 0, max: 20 }), fc.constant(Number.NaN)),
      ),
      { maxLength: 40 },
    ),
    duties: fc.tuple(idle, idle, idle),
    duty: fc.option(fc.double({ min: 0, max: 50, noNaN: true }), { nil: undefined }),
  })
  .map(({ rows, duties, duty }) =>
    counted(
      rows,
      duties.map((each) => (duty === undefined ? each : { ...each, strokesPerDay: duty })),
      850,
    ),
  );

const spansOfAll: fc.Arbitrary<DaySpans> = fc
  .array(
    fc.tuple(
      fc.integer({ min: 0, max: 2 }),
      fc.integer({ min: -100, max: 900 }),
      fc.integer({ min: 0, max: 400 }),
    ),
    {
      minLength: 1,
      maxLength: 12,
    },
  )
  .map((rows) => ({
    position: Int32Array.from(rows, ([position]) => position),
    from: Float64Array.from(rows, ([, from]) => from),
    to: Float64Array.from(rows, ([, from, days]) => from + days),
  }));

/** The straight line between readings, day by day, each day in use sharing the rise equally: slow and plain. */
function plainRise(rows: readonly ReadingRow[], idleSpans: Duty['idle'], from: number, to: number): number {
  const inUse = (day: number): boolean =>
    !(idleSpans ?? []).some(({ start, end }) => day >= start && day < end);
  let total = 0;
  for (let k = 1; k < rows.length; k++) {
    const [[, start, low = 0], [, end, high = 0]] = [rows[k - 1] as ReadingRow, rows[k] as ReadingRow];
    const days = Array.from({ length: end - start }, (_, i) => start + i);
    const used = days.filter(inUse);
    const sharing = used.length > 0 ? used : days;
    total += (sharing.filter((day) => day >= from && day < to).length * (high - low)) / sharing.length;
  }
  return total;
}

describe('counters that only rise', () => {
  const cuts = fc
    .tuple(fc.double({ min: 0, max: 1, noNaN: true }), fc.double({ min: 0, max: 1, noNaN: true }))
    .map((pair) => pair.sort((a, b) => a - b));

  it('are straight lines over days in use between readings', () => {
    fc.assert(
      fc.property(rising, idle, cuts, (rows, duty, [a, b]) => {
        const last = (rows.at(-1) as ReadingRow)[1];
        const [from, to] = [Math.floor(a * last), Math.floor(b * last)];
        const { strokes, findings } = exposeSpans(counted(rows, [duty]), spansOf([from, to]));
        // Days idle make the pace of what is left faster: where it leaps, it is another matter.
        fc.pre(findings.events.every(({ code }) => code === 'rose-while-idle'));
        const got = strokes.exposure[0] as number;
        expect(Math.abs(got - plainRise(rows, duty.idle, from, to))).toBeLessThan(1e-6);
      }),
      RUNS,
    );
  });

  it('add up over consecutive lives to the difference of the counter', () => {
    fc.assert(
      fc.property(
        rising,
        fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 6 }),
        (rows, shares) => {
          const [first, last] = [rows[0] as ReadingRow, rows.at(-1) as ReadingRow];
          const days = [
            0,
            ...shares.map((share) => Math.floor(share * last[1])).sort((a, b) => a - b),
            last[1],
          ];
          const spans = spansOf(...days.slice(1).map((day, k) => [days[k] as number, day] as const));
          const { exposure, byRate } = exposeSpans(counted(rows), spans).strokes;
          const total = exposure.reduce((sum, each) => sum + each, 0);
          expect(total).toBeCloseTo((last[2] as number) - (first[2] as number), 6);
          expect(byRate.every((each) => each === 0)).toBe(true);
        },
      ),
      RUNS,
    );
  });

  it('do not change where a reading on the line is added', () => {
    fc.assert(
      fc.property(rising, cuts, fc.nat(), (rows, [a, b], pick) => {
        const last = (rows.at(-1) as ReadingRow)[1];
        const spans = spansOf([Math.floor(a * last), Math.floor(b * last) + 30]);
        const k = 1 + (pick % (rows.length - 1));
        const [[, start, low = 0], [, end, high = 0]] = [rows[k - 1] as ReadingRow, rows[k] as ReadingRow];
        const middle = Math.floor((start + end) / 2);
        const between: ReadingRow = [0, middle, low + ((high - low) * (middle - start)) / (end - start)];
        const more = middle === start ? rows : [...rows, between];
        const [one, two] = [rows, more].map(
          (each) => exposeSpans(counted(each), spans).strokes.exposure[0] as number,
        );
        if (Number.isNaN(one)) expect(two).toBeNaN();
        else expect(Math.abs((one as number) - (two as number))).toBeLessThan(1e-6);
      }),
      RUNS,
    );
  });

  it('counted in another unit only change the unit', () => {
    fc.assert(
      fc.property(rising, cuts, fc.constantFrom(1e-9, 1e-3, 1000, 1e12), (rows, [a, b], unit) => {
        const spans = spansOf([Math.floor(a * 500) - 20, Math.floor(b * 500) + 600]);
        const scaled = rows.map(([p, day, value = 0]): ReadingRow => [p, day, value * unit]);
        const [one, other] = [rows, scaled].map((each) => exposeSpans(counted(each), spans).strokes);
        expect(other?.mark).toEqual(one?.mark);
        const [got, want] = [other?.exposure[0] as number, (one?.exposure[0] as number) * unit];
        if (Number.isNaN(want)) expect(got).toBeNaN();
        else expect(Math.abs(got - want)).toBeLessThanOrEqual(1e-9 * unit * 1e5);
      }),
      RUNS,
    );
  });
});

describe('any readings at all', () => {
  it('are accounted for, alter nothing given, and give numbers that know how well they are known', () => {
    fc.assert(
      fc.property(anything, spansOfAll, (fleet, spans) => {
        const before = JSON.stringify([fleet, spans]);
        const exposed = exposeSpans(fleet, spans);
        expect(JSON.stringify([fleet, spans])).toBe(before);
        const { findings } = exposed;
        const aside = (list: readonly { number: number }[]): number =>
          list.reduce((sum, each) => sum + each.number, 0);
        expect(findings.rowsUsed + aside(findings.setAside)).toBe(findings.rowsIn);
        for (const each of findings.counters) {
          expect(each.valuesUsed + aside(each.setAside)).toBe(each.valuesIn);
          expect(each.marks.reduce((sum, { number }) => sum + number, 0)).toBe(spans.position.length);
        }
        for (const name of COUNTERS) {
          const { exposure, byRate, mark } = exposed[name];
          exposure.forEach((counts, i) => {
            expect(Number.isNaN(counts)).toBe(EXPOSURE_MARKS[mark[i] as number] === 'unknown');
            if (!Number.isNaN(counts)) expect(counts).toBeGreaterThanOrEqual(0);
            expect(counts).not.toBe(Infinity);
            expect(Number.isNaN(byRate[i] as number)).toBe(Number.isNaN(counts));
          });
        }
      }),
      { ...RUNS, numRuns: 300 },
    );
  });

  it('give more counts for a longer time, and the same in any order of rows', () => {
    fc.assert(
      fc.property(
        anything,
        fc.integer({ min: -100, max: 800 }),
        fc.array(fc.nat(), { maxLength: 40 }),
        (fleet, from, keys) => {
          const spans = spansOf(...[0, 10, 90, 300, 700].map((days) => [from, from + days] as const));
          const { exposure } = exposeSpans(fleet, spans).strokes;
          const known = [...exposure].filter((counts) => !Number.isNaN(counts));
          for (const [k, counts] of known.slice(1).entries()) {
            expect(counts).toBeGreaterThanOrEqual((known[k] as number) * (1 - 1e-12));
          }
          const { readings } = fleet;
          // Rows of one day keep their order: the first is used.
          const order = Array.from({ length: readings.length }, (_, i) => i).sort(
            (i, j) => ((keys[i] ?? 0) % 7) - ((keys[j] ?? 0) % 7) || i - j,
          );
          const days = new Set(order.map((i) => `${readings.position[i]}/${readings.date[i]}`));
          if (days.size < readings.length) return;
          const turned = {
            length: readings.length,
            position: Int32Array.from(order, (i) => readings.position[i] as number),
            date: Float64Array.from(order, (i) => readings.date[i] as number),
            strokes: Float64Array.from(order, (i) => readings.strokes[i] as number),
            steamCycles: Float64Array.from(order, (i) => readings.steamCycles[i] as number),
            hotCleans: Float64Array.from(order, (i) => readings.hotCleans[i] as number),
          };
          expect(exposeSpans({ ...fleet, readings: turned }, spans).strokes.exposure).toEqual(exposure);
        },
      ),
      RUNS,
    );
  });
});

describe('equivalent hours', () => {
  const course = fc
    .array(
      fc.record({
        hours: fc.double({ min: 0, max: 50, noNaN: true }),
        celsius: fc.double({ min: -50, max: 190, noNaN: true }),
      }),
      {
        minLength: 2,
        maxLength: 8,
      },
    )
    .map((rows) => {
      let hour = 0;
      return {
        hours: rows.map(({ hours }) => (hour += hours)),
        temperatureCelsius: rows.map(({ celsius }) => celsius),
      };
    });
  const energy = fc.double({ min: 0, max: 200, noNaN: true });
  const between = fc.constantFrom('linear' as const, 'steps' as const);
  const options = (kJ: number, referenceCelsius = 121) => ({
    referenceCelsius,
    activationEnergy: givenActivationEnergy({ activationEnergyKJPerMol: kJ }),
  });

  it('are plain hours where the activation energy is 0', () => {
    fc.assert(
      fc.property(course, between, (series, kind) => {
        const { hours, plainHours } = equivalentHours({ ...series, between: kind }, options(0));
        expect(hours).toBe(plainHours);
      }),
      RUNS,
    );
  });

  it('add up over parts, and lie between those of the coldest and the hottest', () => {
    fc.assert(
      fc.property(
        course,
        between,
        energy,
        fc.double({ min: 0, max: 1, noNaN: true }),
        (series, kind, kJ, share) => {
          const whole = equivalentHours({ ...series, between: kind }, options(kJ));
          const [first, last] = [series.hours[0] as number, series.hours.at(-1) as number];
          const cut = Math.min(last, first + share * (last - first));
          const parts = [
            equivalentHours({ ...series, between: kind }, { ...options(kJ), toHours: cut }),
            equivalentHours({ ...series, between: kind }, { ...options(kJ), fromHours: cut }),
          ].reduce((sum, part) => sum + part.hours, 0);
          expect(Math.abs(parts - whole.hours)).toBeLessThanOrEqual(1e-11 * whole.hours + 1e-300);
          const [low, high] = [whole.lowestCelsius, whole.highestCelsius].map((t) =>
            arrheniusFactor(t, 121, kJ),
          );
          expect(whole.hours).toBeGreaterThanOrEqual((low as number) * whole.plainHours * (1 - 1e-12));
          expect(whole.hours).toBeLessThanOrEqual((high as number) * whole.plainHours * (1 + 1e-12));
        },
      ),
      RUNS,
    );
  });

  it('change by one factor with the reference', () => {
    fc.assert(
      fc.property(
        course,
        between,
        energy,
        fc.double({ min: 20, max: 150, noNaN: true }),
        (series, kind, kJ, reference) => {
          const [at121, other] = [121, reference].map(
            (t) => equivalentHours({ ...series, between: kind }, options(kJ, t)).hours,
          );
          const factor = arrheniusFactor(121, reference, kJ);
          expect(Math.abs((other as number) - (at121 as number) * factor)).toBeLessThanOrEqual(
            1e-11 * (other as number) + 1e-300,
          );
        },
      ),
      RUNS,
    );
  });

  it('are the integral, as a general adaptive rule finds it', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -50, max: 190, noNaN: true }),
        fc.double({ min: -50, max: 190, noNaN: true }),
        energy,
        (a, b, kJ) => {
          const series = { hours: [0, 10], temperatureCelsius: [a, b], between: 'linear' as const };
          const { value } = integrate((h) => arrheniusFactor(a + ((b - a) * h) / 10, 121, kJ), 0, 10, {
            relative: 1e-12,
          });
          expect(apart(equivalentHours(series, options(kJ)).hours, value)).toBeLessThan(1e-10);
        },
      ),
      RUNS,
    );
  });
});
