import { describe, expect, it } from 'vitest';
import { UsageError } from '../../lib/errors.js';
import { recordingOf } from '../../lib/life/estimate/bounds/recording.js';
import { redrawer } from '../../lib/life/estimate/bounds/redraw.js';
import type { WeibullModel } from '../../lib/life/model.js';
import { lifeSample } from '../../lib/life/sample.js';
import type { LifeSample } from '../../lib/life/sampleTypes.js';
import { randomStream } from '../../lib/numeric/random.js';

const model: WeibullModel = { kind: 'weibull', shape: 2, scale: 800 };
/** Nothing fails: what is drawn is the end of watching alone. */
const never: WeibullModel = { kind: 'weibull', shape: 2, scale: 1e9 };

function drawn(
  sample: LifeSample,
  law: WeibullModel,
  options: Parameters<typeof redrawer>[2],
  times: number,
): LifeSample[] {
  const redraw = redrawer(sample, law, options, 'test');
  const random = randomStream(1, 'redraw');
  return Array.from({ length: times }, () => redraw(random));
}

function share(samples: LifeSample[], keep: (sample: LifeSample, i: number) => boolean): number {
  let [kept, all] = [0, 0];
  for (const sample of samples) {
    sample.count.forEach((count, i) => {
      all += count;
      if (keep(sample, i)) kept += count;
    });
  }
  return kept / all;
}

describe('redrawer', () => {
  it('draws ends of watching by the product limit of those observed', () => {
    // Ends: 100 (1 of 6), a failure at 200, 300 twice (2 of 4 left), 400 (2 of 2): chances 1/6, 5/12, 5/12.
    const sample = lifeSample({
      lower: [100, 200, 300, 400],
      upper: [Infinity, 200, Infinity, Infinity],
      count: [1, 1, 2, 2],
    });
    const samples = drawn(sample, never, {}, 4000);
    // 24 000 lives: standard errors of 0.0024 and 0.0032.
    expect(Math.abs(share(samples, (s, i) => s.lower[i] === 100) - 1 / 6)).toBeLessThan(0.01);
    expect(Math.abs(share(samples, (s, i) => s.lower[i] === 300) - 5 / 12)).toBeLessThan(0.013);
    expect(Math.abs(share(samples, (s, i) => s.lower[i] === 400) - 5 / 12)).toBeLessThan(0.013);
  });

  it('keeps entries, and draws only ends above them', () => {
    const sample = lifeSample({
      lower: [100, 200, 300, 400, 350, 500, 500, 500],
      upper: [Infinity, Infinity, Infinity, Infinity, 350, Infinity, Infinity, Infinity],
      entry: [0, 0, 250, 0, 0, 0, 0, 0],
    });
    for (const one of drawn(sample, model, {}, 200)) {
      const late = Array.from(one.entry.keys()).filter((i) => one.entry[i] === 250);
      expect(late.reduce((n, i) => n + (one.count[i] as number), 0)).toBe(1);
      for (const i of late) expect(one.lower[i] as number).toBeGreaterThan(250);
    }
  });

  it('watches running lives to the closing day, and tells planned ends from them', () => {
    const sample = lifeSample({
      lower: [700, 365, 900, 250],
      upper: [Infinity, Infinity, 900, Infinity],
      count: [1, 1, 1, 1],
    });
    const closing = [700, 1200, 1000, 250];
    const ends = new Set(drawn(sample, never, { closing }, 300).flatMap((one) => Array.from(one.lower)));
    // The one planned end is 365 days; of three lives at risk then, it ended one.
    expect([...ends].sort((a, b) => a - b)).toEqual([250, 365, 700, 1000, 1200]);
    const samples = drawn(sample, never, { closing }, 4000);
    const early = share(samples, (one, i) => one.lower[i] === 365);
    expect(Math.abs(early - (3 / 4) * (1 / 3))).toBeLessThan(0.016);
  });

  it('ends lives at their planned age where it is given', () => {
    const sample = lifeSample({ lower: [300, 200], upper: [Infinity, 200] });
    const [one] = drawn(sample, never, { planned: [300, 450], closing: [400, 400] }, 1);
    expect(Array.from(one?.lower ?? [])).toEqual([300, 400]);
  });

  it('draws failures from the law, given survival to entry', () => {
    const sample = lifeSample({ lower: [900, 900.5], upper: [900, 900.5], entry: [600, 0], count: [1, 1] });
    const samples = drawn(sample, model, {}, 20_000);
    const beyond = (t: number): number => Math.exp((600 / 800) ** 2 - (t / 800) ** 2);
    const late = share(samples, (one, i) => one.entry[i] === 600 && (one.lower[i] as number) > 800);
    // Half of the lives are late: the standard error of the share is 0.0024.
    expect(Math.abs(late - 0.5 * beyond(800))).toBeLessThan(0.01);
  });

  it('writes ages down as they were', () => {
    const days = lifeSample({ lower: [0, 99.5, 49.5, 300], upper: [1, 100.5, 50.5, Infinity] });
    const whole = lifeSample({ lower: [3, 80, 300], upper: [3, 80, Infinity] });
    const inspected = lifeSample({ lower: [0, 90, 200, 400], upper: [90, 180, 300, Infinity] });
    expect([days, whole, inspected].map((sample) => recordingOf(sample).kind)).toEqual([
      'days',
      'whole',
      'inspections',
    ]);
    const failures = (sample: LifeSample): [number, number][] =>
      drawn(sample, { ...model, scale: 100 }, {}, 500).flatMap((one) =>
        Array.from(one.lower, (lower, i): [number, number] => [lower, one.upper[i] as number]).filter(
          ([, upper]) => upper < Infinity,
        ),
      );
    expect(failures(days).every(([a, b]) => (a === 0 && b === 1) || (b - a === 1 && a % 1 === 0.5))).toBe(
      true,
    );
    expect(failures(whole).every(([a, b]) => a === b && Number.isInteger(a) && a > 0)).toBe(true);
    const cells = new Set(failures(inspected).map(([a, b]) => `${a} to ${b}`));
    expect([...cells].sort()).toEqual(['0 to 90', '180 to 200', '200 to 300', '300 to 400', '90 to 180']);
  });

  it('takes intervals for common inspections only where lives share their ends, and none is exact', () => {
    const kind = (lower: number[], upper: number[], count?: number[]): string =>
      recordingOf(lifeSample({ lower, upper, ...(count === undefined ? {} : { count }) })).kind;
    expect(kind([0, 100, 300], [100, 200, 400])).toBe('inspections');
    // All of one interval, in rows or in counts.
    expect(kind([100, 100, 500], [200, 200, 600])).toBe('inspections');
    expect(kind([100, 500], [200, 600], [2, 1])).toBe('inspections');
    // Narrow intervals clear of each other: nobody was looked at between them only.
    expect(kind([0, 110, 320], [100, 200, 400])).toBe('own');
    expect(kind([0, 100, 300, 250], [100, 200, 400, 250])).toBe('own');
  });

  it('takes a life last looked at less than a gap before the closing day as running', () => {
    // Two gaps of 100 days; sound at 450, closing 60 days later; replaced at 300, long before its closing day.
    const sample = lifeSample({ lower: [100, 230, 450, 300], upper: [200, 330, Infinity, Infinity] });
    const closing = [1000, 1000, 510, 900];
    const samples = drawn(sample, never, { closing }, 4000);
    const ends = new Set(samples.flatMap((one) => Array.from(one.lower)));
    // The others would have been last looked at 60 days before closing too, and 450 was no planned end.
    expect([...ends].sort((a, b) => a - b)).toEqual([300, 450, 840, 940]);
    // Of the two lives at risk at 300 one was replaced then, so half of all that are drawn.
    expect(Math.abs(share(samples, (one, i) => one.lower[i] === 300) - 1 / 2)).toBeLessThan(0.016);
  });

  it('refuses what it cannot draw, and alters nothing', () => {
    const sample = lifeSample({ lower: [300, 200], upper: [Infinity, 200] });
    expect(() => redrawer(sample, model, { closing: [300] }, 'test')).toThrow(UsageError);
    expect(() => redrawer(sample, model, { closing: [299, 400] }, 'test')).toThrow('row 1');
    expect(() => redrawer(sample, model, { planned: [300, Number.NaN] }, 'test')).toThrow('row 2');
    expect(() => redrawer({ ...sample, count: Float64Array.of(1, 0.5) }, model, {}, 'test')).toThrow(
      'whole lives',
    );
    expect(() => redrawer({ ...sample, otherHazard: Float64Array.of(0, 1) }, model, {}, 'test')).toThrow(
      UsageError,
    );
    const before = structuredClone(sample);
    drawn(sample, model, {}, 3);
    expect(sample).toEqual(before);
  });
});
