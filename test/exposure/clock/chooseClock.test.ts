/** Which clock wears diaphragms: known cases, laws, drawn plants of known truth, refusals. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { UsageError } from '../../../lib/errors.js';
import { chooseClock } from '../../../lib/exposure/clock/chooseClock.js';
import type { ClockChoice, ClockColumns, ClockExposure } from '../../../lib/exposure/clock/types.js';
import { fitLife } from '../../../lib/life/estimate/fit.js';
import { lifeSample } from '../../../lib/life/sample.js';
import { type PlantTruth, plantOf } from './plants.js';

const days = [309, 254, 394, 420, 420, 402, 306, 64, 202, 420, 351, 256, 420, 420];
const cycles = [865.2, 990.6, 551.6, 966, 840, 964.8, 306, 428.8, 363.6, 588, 1017.9, 793.6, 546, 294];
const leaked = [1, 1, 1, 0, 0, 1, 1, 1, 1, 0, 1, 1, 0, 0];
const sample = lifeSample({ lower: days, upper: days.map((age, i) => (leaked[i] === 1 ? age : Infinity)) });
const rates = cycles.map((count, i) => count / (days[i] as number));
const fourteen = (exposure: ClockExposure = { exit: cycles, rate: rates }): ClockColumns => ({
  days: sample,
  exposures: { 'steam cycles': exposure },
});
const few = { draws: 20 };
const row = (choice: ClockChoice, clock: string): ClockChoice['rows'][number] =>
  choice.rows.find((one) => one.clock === clock) as ClockChoice['rows'][number];

describe('fourteen lives (Duchesne & Lawless 2000 for the method; values computed apart)', () => {
  const choice = chooseClock(fourteen());

  it('has the likelihoods in days, on both clocks and on their best combination', () => {
    expect(row(choice, 'days').logLikelihood).toBeCloseTo(-61.9470937285, 7);
    expect(row(choice, 'steam cycles').logLikelihood).toBeCloseTo(-57.8272847149, 7);
    expect(row(choice, 'days and steam cycles').logLikelihood).toBeCloseTo(-57.3759453409, 7);
    expect(row(choice, 'days and steam cycles').weight).toBeCloseTo(1.30640871285, 5);
    expect(choice.rows.map(({ parameters }) => parameters)).toEqual([2, 3, 2]);
  });

  it('has the law of the clock', () => {
    expect(choice.verdict).toBe('told');
    expect(choice.clock).toBe('steam cycles');
    const { model } = choice.law;
    expect(model.kind === 'weibull' && model.shape).toBeCloseTo(3.13144723693, 5);
    expect(model.kind === 'weibull' && model.scale).toBeCloseTo(886.546418815, 3);
  });

  it('judges it against days, not against the combination that holds it', () => {
    expect(choice.rival).toBe('days');
    expect(choice.lead).toBeCloseTo(2 * (61.9470937285 - 57.8272847149), 6);
    expect(choice.words).toMatch(
      /^These lives are best told by steam cycles: the clock of days is 8\.24 behind/,
    );
    expect(choice.words).toMatch(/Half have failed by \d+ steam cycles \(90 % range \d+ to/);
  });

  it('is the same with cycles counted in thousands, but for the scale', () => {
    const inThousands = chooseClock(
      fourteen({ exit: cycles.map((x) => x / 1000), rate: rates.map((x) => x / 1000) }),
    );
    inThousands.rows.forEach((one, k) => {
      const other = choice.rows[k] as ClockChoice['rows'][number];
      expect(one.clock).toBe(other.clock);
      expect(one.aic).toBeCloseTo(other.aic as number, 7);
      expect(one.agreed).toBe(other.agreed);
    });
    expect(inThousands.lead).toBeCloseTo(choice.lead as number, 7);
    expect(inThousands.law.half.low * 1000).toBeCloseTo(choice.law.half.low, 3);
    expect((row(inThousands, 'days and steam cycles').weight as number) / 1000).toBeCloseTo(1.30640871285, 5);
  });

  it('gives the same for the same seed', () => {
    expect(chooseClock(fourteen(), { seed: 4 })).toEqual(chooseClock(fourteen(), { seed: 4 }));
  });

  it('takes interval ages without any rate, and ends next to points as points', () => {
    const near = 1e-6;
    const narrow = lifeSample({
      lower: days.map((age, i) => (leaked[i] === 1 ? age - near : age)),
      upper: days.map((age, i) => (leaked[i] === 1 ? age : Infinity)),
    });
    const close = chooseClock({ ...fourteen(), days: narrow }, few);
    const width = 9 * Math.log(near);
    for (const name of ['days', 'steam cycles', 'days and steam cycles']) {
      expect(row(close, name).logLikelihood).toBeCloseTo(
        (row(choice, name).logLikelihood as number) + width,
        4,
      );
    }
  });
});

describe('drawn plants', () => {
  const choices = (plants: number, truth: Omit<PlantTruth, 'seed'>): ClockChoice[] =>
    Array.from({ length: plants }, (_, k) =>
      chooseClock(plantOf({ ...truth, seed: k + 1, positions: 40 }), few),
    );
  const shareOf = (all: readonly ClockChoice[], is: (choice: ClockChoice) => boolean): number =>
    all.filter(is).length / all.length;

  it('that wear by cycles are told so in nearly all of 100', () => {
    const truth = { dayShare: 0, cycleShare: 1, rateSd: 0.5 };
    const told = (choice: ClockChoice): boolean =>
      choice.verdict === 'told' && choice.clock === 'steam cycles';
    expect(shareOf(choices(100, truth), told)).toBeGreaterThanOrEqual(0.95);
  });

  it('that wear by days stay in days, told or not, but for the chance that a weight of nothing gains 4', () => {
    const truth = { dayShare: 1, cycleShare: 0, rateSd: 0.5 };
    // Half a chi-square of one degree lies above 4 in 2.3 %: more than 7 of 50 by chance is rarer than 0.001.
    const all = choices(50, truth);
    expect(shareOf(all, ({ clock }) => clock === 'days')).toBeGreaterThanOrEqual(0.86);
    expect(shareOf(all, ({ clock }) => clock === 'steam cycles')).toBe(0);
  });

  it('whose rates are alike are not told', () => {
    const truth = { dayShare: 0, cycleShare: 1, rateSd: 0.05 };
    const open = (choice: ClockChoice): boolean =>
      choice.verdict === 'cannot tell' && choice.clock === 'days';
    expect(shareOf(choices(30, truth), open)).toBe(1);
  });

  it('that wear by both get the weight of one cycle within its bounds', () => {
    const choice = chooseClock(
      plantOf({ seed: 3, dayShare: 0.5, cycleShare: 0.5, rateSd: 1, positions: 150 }),
      few,
    );
    expect(choice.clock).toBe('days and steam cycles');
    const weight = choice.law.weight as NonNullable<ClockChoice['law']['weight']>;
    expect(weight.low).toBeLessThan(1);
    expect(weight.high).toBeGreaterThan(1);
    expect(weight.high / weight.low).toBeLessThan(4);
    expect(choice.words).toMatch(/One count of steam cycles wears as much as/);
  });
});

describe('laws', () => {
  const plant = plantOf({ seed: 8, dayShare: 0.3, cycleShare: 0.7, rateSd: 0.4, positions: 25 });
  const exposure = plant.exposures['steam cycles'] as { exit: number[]; rate: number[] };

  it('the unit of a counter changes no likelihood and no choice', () => {
    const plain = chooseClock(plant, few);
    fc.assert(
      fc.property(fc.double({ min: -9, max: 12, noNaN: true }), (power) => {
        const by = 10 ** power;
        const scaled = {
          exit: exposure.exit.map((x) => x * by),
          rate: exposure.rate.map((x) => x * by),
        };
        const other = chooseClock({ ...plant, exposures: { 'steam cycles': scaled } }, few);
        expect(other.rows.map(({ clock, agreed }) => [clock, agreed])).toEqual(
          plain.rows.map(({ clock, agreed }) => [clock, agreed]),
        );
        other.rows.forEach(({ aic }, k) => {
          expect(aic).toBeCloseTo(plain.rows[k]?.aic as number, 5);
        });
      }),
      { numRuns: 15, seed: 20_281 },
    );
  });

  it('a combination is never worse than either of its parts', () => {
    fc.assert(
      fc.property(
        fc.record({
          seed: fc.integer({ min: 1, max: 1e6 }),
          share: fc.double({ min: 0, max: 1, noNaN: true }),
          rateSd: fc.double({ min: 0.05, max: 1.5, noNaN: true }),
        }),
        ({ seed, share, rateSd }) => {
          const drawn = plantOf({ seed, dayShare: 1 - share, cycleShare: share, rateSd, positions: 20 });
          const { rows } = chooseClock(drawn, few);
          const both = rows.find(({ parts }) => parts.length === 2);
          if (both?.logLikelihood == null) return;
          for (const { logLikelihood } of rows) {
            expect(both.logLikelihood).toBeGreaterThan((logLikelihood as number) - 1e-6);
          }
        },
      ),
      { numRuns: 25, seed: 20_282 },
    );
  });

  it('a counter that counts days is days, and nothing tells them apart', () => {
    const last = Array.from(plant.days.lower);
    const choice = chooseClock(
      { ...plant, exposures: { twins: { exit: last, rate: last.map(() => 1) } } },
      few,
    );
    expect(choice.verdict).toBe('cannot tell');
    expect(row(choice, 'twins').aic).toBeCloseTo(row(choice, 'days').aic as number, 8);
    expect(choice.rateSpread.twins).toBeLessThan(1e-12);
  });

  it('lives without exposure stay in days with a law of their own, and are named', () => {
    const missing = [0, 1, 2, 3, 4, 5, 6, 7];
    const exit = exposure.exit.map((x, i) => (missing.includes(i) ? Number.NaN : x));
    const names = exit.map((_, i) => `V-${i + 1}`);
    const choice = chooseClock(
      { ...plant, names, exposures: { 'steam cycles': { ...exposure, exit } } },
      few,
    );
    expect(choice.onDays.rows).toEqual(missing);
    expect(choice.words).toContain(
      '8 lives of unknown exposure stay in days: V-1, V-2, V-3, V-4, V-5 and 3 more',
    );
    expect(choice.lives).toBe(42);
    const own = {
      lower: [...plant.days.lower].slice(0, 8),
      upper: [...plant.days.upper].slice(0, 8),
      cluster: [...plant.days.cluster].slice(0, 8),
    };
    expect(own.upper.filter(Number.isFinite).length).toBeGreaterThanOrEqual(3);
    expect(choice.onDays.law?.model).toEqual(fitLife(lifeSample(own), { kind: 'weibull' }).model);
  });

  it('leaves the columns as they were', () => {
    const before = JSON.stringify(plant);
    chooseClock(plant, few);
    expect(JSON.stringify(plant)).toBe(before);
  });
});

describe('awkward plants', () => {
  it('a life that failed before its first cycle rules cycles alone out, and says so', () => {
    const exit = cycles.map((x, i) => (i === 0 ? 0 : x));
    const choice = chooseClock(fourteen({ exit, rate: rates }), few);
    expect(row(choice, 'steam cycles').aic).toBeNull();
    expect(row(choice, 'steam cycles').note).toMatch(/stood still/);
    expect(Number.isFinite(row(choice, 'days and steam cycles').aic ?? 0)).toBe(true);
  });

  it('an exposure that few lives have is left out with the reason', () => {
    const exit = cycles.map((x, i) => (i < 9 ? Number.NaN : x));
    const choice = chooseClock(fourteen({ exit, rate: rates }), few);
    expect(choice.leftOut[0]).toMatch(/^steam cycles: known of 5 lives with 2 failures/);
    expect(choice.verdict).toBe('cannot tell');
    expect(choice.reasons).toEqual(['There is no other clock to compare it with.']);
    expect(choice.lives).toBe(14);
  });

  it('lives that came under watch late', () => {
    const entry = days.map((age, i) => (i % 2 === 0 ? age / 2 : 0));
    const late = lifeSample({ lower: sample.lower, upper: sample.upper, entry });
    const counts = entry.map((age, i) => age * (rates[i] as number));
    const choice = chooseClock(
      { days: late, exposures: { cycles: { exit: cycles, rate: rates, entry: counts } } },
      few,
    );
    const onCycles = lifeSample({
      lower: cycles,
      upper: cycles.map((x, i) => (leaked[i] === 1 ? x : Infinity)),
      entry: counts,
    });
    const jacobian = rates.reduce((total, rate, i) => total + (leaked[i] === 1 ? Math.log(rate) : 0), 0);
    const want = fitLife(onCycles, { kind: 'weibull' }).logLikelihood + jacobian;
    expect(row(choice, 'cycles').logLikelihood).toBeCloseTo(want, 7);
    expect(row(choice, 'days').logLikelihood).toBeCloseTo(
      fitLife(late, { kind: 'weibull' }).logLikelihood,
      7,
    );
  });

  it.each(['exponential', 'lognormal', 'loglogistic'] as const)('law %s', (kind) => {
    const choice = chooseClock(fourteen(), { ...few, kind });
    expect(row(choice, 'days').logLikelihood).toBeCloseTo(fitLife(sample, { kind }).logLikelihood, 6);
    expect(choice.law.half.low).toBeLessThan(choice.law.half.high);
  });
});

describe('refused', () => {
  const bad: [string, () => unknown, RegExp][] = [
    [
      'a column too short',
      () => chooseClock(fourteen({ exit: [1], rate: rates })),
      /exit of steam cycles.*14.*1/,
    ],
    [
      'a count below 0',
      () => chooseClock(fourteen({ exit: cycles.map((x) => -x), rate: rates })),
      /row 1: exit/,
    ],
    [
      'an endless rate',
      () => chooseClock(fourteen({ exit: cycles, rate: rates.map(() => Infinity) })),
      /row 1: rate must be finite/,
    ],
    [
      'text',
      () => chooseClock(fourteen({ exit: cycles.map(String) as never, rate: rates })),
      /must be a number/,
    ],
    [
      'another clock called days',
      () => chooseClock({ days: sample, exposures: { days: { exit: cycles, rate: rates } } }),
      /other than days/,
    ],
    ['too few draws', () => chooseClock(fourteen(), { draws: 3 }), /draws.*3/],
    ['a level of 1', () => chooseClock(fourteen(), { level: 1 }), /level/],
    ['an unknown law', () => chooseClock(fourteen(), { kind: 'gamma' as never }), /kind must be/],
    [
      'no failures',
      () => chooseClock({ days: lifeSample({ lower: [1, 2], upper: [Infinity, Infinity] }), exposures: {} }),
      /none of the lives/,
    ],
    [
      'all failures at one age and nothing else',
      () => chooseClock({ days: lifeSample({ lower: [5, 5, 5], upper: [5, 5, 5] }), exposures: {} }),
      /no law can be fitted/,
    ],
    [
      'entries in days without entries in counts',
      () =>
        chooseClock({
          days: lifeSample({ lower: sample.lower, upper: sample.upper, entry: days.map(() => 10) }),
          exposures: { cycles: { exit: cycles, rate: rates } },
        }),
      /needs the column entry/,
    ],
  ];

  it.each(bad)('%s', (_, work, message) => {
    expect(work).toThrow(UsageError);
    expect(work).toThrow(message);
  });
});
