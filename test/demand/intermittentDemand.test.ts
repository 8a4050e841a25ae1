import { describe, expect, it } from 'vitest';
import {
  type IntermittentMethod,
  intermittentDemand,
  intermittentOver,
} from '../../lib/demand/intermittentDemand.js';
import { UsageError } from '../../lib/errors.js';
import { randomStream } from '../../lib/numeric/random.js';

const METHODS: IntermittentMethod[] = [
  'croston',
  'syntetosBoylan',
  'shaleBoylanJohnston',
  'teunterSyntetosBabai',
];

describe('intermittent demand by hand', () => {
  it('three in the third month, one in the fifth: sizes 3 then 2.8, intervals 3 then 2.9', () => {
    const forecast = intermittentDemand([0, 0, 3, 0, 1], { method: 'croston' });
    expect(forecast.mean).toBeCloseTo(2.8 / 2.9, 14);
    expect(forecast.means).toEqual([null, null, 1, 1, forecast.mean]);
    // Squares 9 then 8.2: 8.2 / 2.9 - (2.8 / 2.9)^2
    expect(forecast.variance).toBeCloseTo(8.2 / 2.9 - (2.8 / 2.9) ** 2, 14);
    expect(forecast.silence).toEqual({ periods: 0, chance: 1 });
  });
  it('with all weight on the newest, the last size over the last interval', () => {
    const forecast = intermittentDemand([4, 0, 0, 2, 0, 3], { method: 'croston', smoothing: 1 });
    expect(forecast.mean).toBe(1.5);
  });
  it('single pieces now and then spread less than Poisson, which is what is taken', () => {
    for (const method of METHODS) {
      const forecast = intermittentDemand([0, 1, 0, 0, 1, 0, 1], { method });
      expect(forecast.variance).toBe(forecast.mean);
      expect(intermittentOver(forecast, 3).law.kind).toBe('poisson');
    }
  });
  it('the same every month is that many a month, however it is smoothed', () => {
    const counts = Array<number>(40).fill(3);
    for (const method of ['croston', 'teunterSyntetosBabai'] as const) {
      expect(intermittentDemand(counts, { method }).mean).toBeCloseTo(3, 12);
    }
  });
});

describe('nothing asked for in years', () => {
  it('is half a piece in the time watched where nothing ever was, uncertain as the time is short', () => {
    for (const method of METHODS) {
      const forecast = intermittentDemand(Array<number>(60).fill(0), { method });
      expect(forecast.basis).toBe('noDemandSeen');
      expect(forecast.mean).toBeCloseTo(0.5 / 60, 14);
      expect(forecast.warnings[0]).toMatch(/half a piece in that time/);
      const { law, chances } = intermittentOver(forecast, 60);
      // Jeffreys: half a piece expected in as long again, none with chance (1/2)^(1/2).
      expect(law.mean).toBeCloseTo(0.5, 12);
      expect(chances[0]).toBeCloseTo(Math.SQRT1_2, 12);
      expect(1 - forecast.chance).toBeCloseTo(intermittentOver(forecast, 1).chances[0] as number, 12);
    }
  });
  it('F10 has the same answer: none in 100 000 h, over 150 000 h', () => {
    const { chances } = intermittentOver(intermittentDemand(Array<number>(2).fill(0)), 3);
    const cdf = [0.6324555320336759, 0.8221921916437787, 0.9075736884683249, 0.950264436880598];
    let total = 0;
    cdf.forEach((expected, k) => {
      total += chances[k] as number;
      expect(total).toBeCloseTo(expected, 11);
    });
  });
  it('after some demand: Teunter-Syntetos-Babai falls, the others stand and say so', () => {
    const counts = [2, 0, 1, 0, 3, 1, ...Array<number>(48).fill(0)];
    const falls = intermittentDemand(counts, { method: 'teunterSyntetosBabai' });
    expect(falls.mean).toBeLessThan(0.005);
    const stands = intermittentDemand(counts);
    expect(stands.mean).toBeGreaterThan(0.5);
    expect(stands.silence.periods).toBe(48);
    expect(stands.silence.chance).toBeLessThan(1e-6);
    expect(stands.warnings[0]).toMatch(/last 48 periods.*use teunterSyntetosBabai/);
  });
});

describe('over several periods', () => {
  it('mean and variance add up, and the chances have them', () => {
    const forecast = intermittentDemand([0, 0, 3, 0, 1, 0, 6, 0]);
    const { law, chances } = intermittentOver(forecast, 6);
    let [total, mean, square] = [0, 0, 0];
    chances.forEach((chance, k) => {
      total += chance;
      mean += k * chance;
      square += k * k * chance;
    });
    expect(total).toBeCloseTo(1, 11);
    expect(mean).toBeCloseTo(6 * forecast.mean, 9);
    expect(square - mean * mean).toBeCloseTo(6 * forecast.variance, 7);
    expect(law.kind).toBe('negativeBinomial');
  });
  it('is right on average over many histories, and Croston is too high as is known', () => {
    // Chance 0.25 a month, one or four pieces: 0.625 a month. Croston's known bias is about smoothing / 2 of the mean.
    const random = randomStream(5, 'intermittent');
    const series = Array.from({ length: 4000 }, () =>
      Array.from({ length: 120 }, () => (random.uniform() < 0.25 ? (random.uniform() < 0.5 ? 1 : 4) : 0)),
    );
    const of = (method: IntermittentMethod): { mean: number; error: number } => {
      const means = series.map((counts) => intermittentDemand(counts, { method, smoothing: 0.2 }).mean);
      const mean = means.reduce((a, b) => a + b, 0) / means.length;
      const spread = means.reduce((sum, each) => sum + (each - mean) ** 2, 0) / means.length;
      return { mean, error: Math.sqrt(spread / means.length) };
    };
    const fair = of('teunterSyntetosBabai');
    expect(Math.abs(fair.mean - 0.625)).toBeLessThan(4 * fair.error);
    const croston = of('croston');
    expect(croston.error).toBeLessThan(0.1 * 0.5 * 0.625 * 0.25);
    expect(croston.mean - 0.625).toBeGreaterThan(4 * croston.error);
    const corrected = of('syntetosBoylan');
    expect(Math.abs(corrected.mean - 0.625)).toBeLessThan(0.5 * (croston.mean - 0.625));
  });
});

describe('nonsense', () => {
  it.each([
    [[], {}, /at least one count/],
    [[1, -1], {}, /counts\[1\]/],
    [[0.5], {}, /counts\[0\]/],
    [[Number.NaN], {}, /counts\[0\]/],
    [[Infinity], {}, /counts\[0\]/],
    [[1], { smoothing: 0 }, /smoothing/],
    [[1], { smoothing: 1.1 }, /smoothing/],
    [[1], { intervalSmoothing: Number.NaN }, /intervalSmoothing/],
    [[1], { method: 'other' as IntermittentMethod }, /method must be/],
    [[0], { method: 'other' as IntermittentMethod }, /method must be/],
  ])('is refused: %j %j', (counts, options, words) => {
    expect(() => intermittentDemand(counts, options)).toThrow(UsageError);
    expect(() => intermittentDemand(counts, options)).toThrow(words);
  });
  it('of periods too', () => {
    const forecast = intermittentDemand([0, 2]);
    for (const periods of [0, -1, Number.NaN, Infinity]) {
      expect(() => intermittentOver(forecast, periods)).toThrow(/periods must be above 0/);
    }
  });
  it('large counts are no trouble', () => {
    const { law, chances } = intermittentOver(intermittentDemand([100_000, 0, 90_000, 0]), 1);
    expect(Number.isFinite(law.mean)).toBe(true);
    expect(chances.every((chance) => chance >= 0 && chance <= 1)).toBe(true);
  });
});
