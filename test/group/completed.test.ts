/** Lives with what is not known of them drawn by a law. */
import { describe, expect, it } from 'vitest';
import { completed } from '../../lib/group/completed.js';
import type { WearRecords } from '../../lib/group/types.js';
import { lifeSample, survival } from '../../lib/index.js';
import { recordingOf } from '../../lib/life/estimate/bounds/recording.js';
import type { LifeSample } from '../../lib/life/sampleTypes.js';
import { at } from '../../lib/numeric/columns.js';
import { randomStream } from '../../lib/numeric/random.js';

const law = { shape: 2.5, scale: 800 };
const fault = { share: 0.02, shape: 0.7, scale: 20 };
const whole = { kind: 'weibull', ...law, fault } as const;
const LIVES = 4000;

function recordsOf(lower: number, upper: number, entry: number, otherHazard?: number): WearRecords {
  const column = (value: number): number[] => Array.from({ length: LIVES }, () => value);
  const sample: LifeSample = lifeSample({ lower: column(lower), upper: column(upper), entry: column(entry) });
  const other = otherHazard === undefined ? {} : { otherHazard: new Float64Array(LIVES).fill(otherHazard) };
  return { sample: { ...sample, ...other }, fault, closing: new Float64Array(LIVES).fill(Infinity) };
}

const draw = (records: WearRecords, seed = 1): LifeSample =>
  completed(records, law, randomStream(seed, 'test/completed'));

describe('a removal without a reason', () => {
  it('is a leak as often as its cause is one, given that it ended on that day', () => {
    const other = 0.002;
    const { upper, lower, otherHazard } = draw(recordsOf(599.5, 600.5, 0, other));
    expect(otherHazard).toBeUndefined();
    const [before, after] = [survival(whole, 599.5), survival(whole, 600.5)];
    // It leaked, or it was sound at the end of the day and something else had ended it (METHODS 1.3, 3.4).
    const chance = (before - after) / (before - after + after * (1 - Math.exp(-other)));
    const leaks = upper.filter((age) => age !== Infinity).length;
    expect(chance).toBeGreaterThan(0.4);
    expect(chance).toBeLessThan(0.7);
    expect(Math.abs(leaks / LIVES - chance)).toBeLessThan(4 * Math.sqrt((chance * (1 - chance)) / LIVES));
    upper.forEach((age, i) => {
      expect(age === Infinity ? at(lower, i) : age).toBe(age === Infinity ? 600 : 600.5);
    });
  });

  it('is always a leak where nothing else can have ended it, and stays as it is', () => {
    const records = recordsOf(599.5, 600.5, 0, 0);
    expect(draw(records).upper).toEqual(records.sample.upper);
  });

  it('is never censored before its entry', () => {
    const { lower, upper } = draw(recordsOf(599.5, 600.5, 600.2, 0.5));
    const censored = lower.filter((_, i) => at(upper, i) === Infinity);
    expect(censored.length).toBeGreaterThan(100);
    expect(Math.min(...censored)).toBeGreaterThanOrEqual(600.2);
  });
});

describe('a leak since the last tight test', () => {
  it('falls on a whole day after it, by the law given that it leaked in between', () => {
    const { lower, upper } = draw(recordsOf(400, 600, 0));
    expect(recordingOf({ ...recordsOf(0, 1, 0).sample, lower, upper }).kind).toBe('days');
    const days = Array.from(upper, (age) => age - 0.5);
    expect(Math.min(...days)).toBeGreaterThanOrEqual(400);
    expect(Math.max(...days)).toBeLessThanOrEqual(600);
    const [start, middle, end] = [survival(whole, 400), survival(whole, 500.5), survival(whole, 600)];
    const chance = (start - middle) / (start - end);
    const share = days.filter((day) => day <= 500).length / LIVES;
    expect(Math.abs(share - chance)).toBeLessThan(4 * Math.sqrt((chance * (1 - chance)) / LIVES));
  });

  it('is drawn on the first day possible where the law knows no such ages', () => {
    // Nothing is left of the law at 100 scales.
    const { lower, upper } = draw(recordsOf(80_000, 80_400.5, 0));
    expect(lower.every((age, i) => age >= 79_999.5 && at(upper, i) <= 80_400.5)).toBe(true);
  });
});

it('alters nothing that it was given, and gives the same for the same stream', () => {
  const records = recordsOf(400, 600, 0, 0.3);
  const copy = structuredClone(records);
  expect(draw(records)).toEqual(draw(records));
  expect(draw(records, 2)).not.toEqual(draw(records));
  expect(records).toEqual(copy);
});
