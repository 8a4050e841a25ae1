/** Which forecast monthly counts get, and why. */
import { describe, expect, it } from 'vitest';
import { intermittentDemand } from '../../lib/demand/intermittentDemand.js';
import { useForecast } from '../../lib/demand/useForecast.js';
import { randomStream } from '../../lib/numeric/random.js';
import { poissonQuantile } from '../../lib/numeric/special.js';

describe('class (Syntetos, Boylan & Croston 2005)', () => {
  it.each([
    ['smooth', [4, 5, 4, 6, 5, 4]],
    ['erratic', [1, 1, 1, 20, 1, 1]],
    ['intermittent', [0, 2, 0, 0, 2, 0]],
    ['lumpy', [0, 1, 0, 0, 30, 0, 0, 1]],
    ['none', [0, 0, 0]],
  ] as const)('%s', (kind, counts) => {
    const found = useForecast(counts);
    expect(found.class).toBe(kind);
    expect(found.method).toBe(kind === 'smooth' ? 'croston' : 'syntetosBoylan');
    expect(found).toMatchObject({ chosenBy: 'class', errors: null });
  });
  it('parts at a mean of 1.32 months between uses and a squared variation of 0.49', () => {
    const often = (zeros: number): number[] => [
      ...new Array(100 - zeros).fill(3),
      ...new Array(zeros).fill(0),
    ];
    expect(useForecast(often(24)).class).toBe('smooth');
    expect(useForecast(often(25)).class).toBe('intermittent');
    // 1 and x in equal numbers: ((x - 1) / (x + 1)) squared is 0.49 at x = 17 / 3.
    expect(useForecast([1, 5.6 * 10, 1, 5.6 * 10].map((each) => (each === 1 ? 10 : each))).class).toBe(
      'smooth',
    );
    expect(useForecast([10, 57, 10, 57]).class).toBe('erratic');
  });
});

describe('choice by error', () => {
  it('each month of the second half is forecast from those before it alone', () => {
    const counts = Array.from({ length: 24 }, (_, t) => (t % 3 === 0 ? 2 : 0));
    const { errors } = useForecast(counts);
    let squares = 0;
    for (let t = 12; t < 24; t++) {
      const { mean } = intermittentDemand(counts.slice(0, t), {
        method: 'teunterSyntetosBabai',
        smoothing: 0.1,
      });
      squares += ((counts[t] as number) - mean) ** 2;
    }
    expect(errors?.teunterSyntetosBabai).toBeCloseTo(Math.sqrt(squares / 12), 12);
    expect(useForecast(counts.slice(0, 23)).errors).toBeNull();
  });
  it('one that falls when use does is taken where use has fallen off', () => {
    const counts = Array.from({ length: 48 }, (_, t) => (t < 24 ? 6 : t % 6 === 0 ? 1 : 0));
    const found = useForecast(counts);
    expect(found).toMatchObject({ method: 'teunterSyntetosBabai', chosenBy: 'error' });
    const { teunterSyntetosBabai: best, syntetosBoylan: own } = found.errors ?? {
      teunterSyntetosBabai: 1,
      syntetosBoylan: 0,
    };
    expect(best).toBeLessThan(0.95 * own);
  });
  it('a silence too long to be chance is taken for one', () => {
    const counts = [...new Array(12).fill(3), ...new Array(9).fill(0)];
    const found = useForecast(counts);
    expect(found).toMatchObject({ method: 'teunterSyntetosBabai', chosenBy: 'silence' });
    expect(found.mean).toBeLessThan(useForecast(counts.slice(0, 12)).mean / 2);
  });
});

describe('spread', () => {
  it('of the next year holds 80 in 100 simulated years or more, the rate found from three years', () => {
    const random = randomStream(51, 'use');
    let held = 0;
    const runs = 1500;
    for (let run = 0; run < runs; run++) {
      const draw = (): number => poissonQuantile(Math.min(random.uniform(), 1 - 1e-15), 0.8);
      const { mean, variance, meanSd } = useForecast(Array.from({ length: 36 }, draw));
      const year = Array.from({ length: 12 }, draw).reduce((a, b) => a + b, 0);
      const sd = Math.sqrt(12 * variance + (12 * meanSd) ** 2);
      if (Math.abs(year - 12 * mean) <= 1.2816 * sd) held += 1;
    }
    const error = Math.sqrt((0.8 * 0.2) / runs);
    expect(held / runs).toBeGreaterThan(0.8 - 4 * error);
    // Not by being far too wide.
    expect(held / runs).toBeLessThan(0.9);
  });
  it('nothing ever used: half a piece over the time watched, and not known well', () => {
    const found = useForecast(new Array(36).fill(0));
    expect(found.mean).toBeCloseTo(0.5 / 36, 12);
    expect(found.meanSd).toBeCloseTo((Math.SQRT2 * 0.5) / 36, 12);
    expect(found.variance).toBeCloseTo(found.mean, 12);
  });
});
