import { describe, expect, it } from 'vitest';
import { drawLives } from '../../../lib/life/distribution/functions.js';
import { fitLife } from '../../../lib/life/estimate/fit.js';
import { DEFAULT_FAULT_LAW } from '../../../lib/life/estimate/fitTypes.js';
import type { WeibullModel } from '../../../lib/life/model.js';
import { fitFittingFaults } from '../../../lib/life/modes/fitFittingFaults.js';
import { lifeSample } from '../../../lib/life/sample.js';
import type { LifeSample } from '../../../lib/life/sampleTypes.js';
import { randomStream } from '../../../lib/numeric/random.js';

/** K9 of the checks: 3 % faulty fittings that leak early, wear-out of shape 3. */
const K9: WeibullModel = {
  kind: 'weibull',
  shape: 3,
  scale: 900,
  fault: { share: 0.03, shape: 0.8, scale: 10 },
};

/** Lives looked at each day; one in five watched from a later age on; sound at 300 to 1 000 days. */
function plant(seed: number, size: number, model = K9): LifeSample {
  const random = randomStream(seed, 'fitting faults');
  const lower: number[] = [];
  const upper: number[] = [];
  const entry: number[] = [];
  for (const life of drawLives(model, size, random)) {
    const from = random.uniform() < 0.2 ? random.below(100) : 0;
    const until = 300 + random.below(700);
    if (life <= from) continue;
    const leaked = life <= until;
    lower.push(leaked ? Math.floor(life) : until);
    upper.push(leaked ? Math.floor(life) + 1 : Infinity);
    entry.push(from);
  }
  return lifeSample({ lower, upper, entry });
}

describe('fitFittingFaults', () => {
  // Ten plants: the mean of a standardised error has standard error 0.32.
  it('finds share and laws of K9, with errors as large as it says', () => {
    const truth = [3, 900, 0.03, 0.8, 10].map(Math.log);
    const errors = truth.map(() => [] as number[]);
    for (let seed = 1; seed <= 10; seed++) {
      const fit = fitFittingFaults(plant(seed, 1500));
      expect(fit.identified && fit.converged).toBe(true);
      fit.parameters.forEach(({ estimate, standardError }, i) => {
        errors[i]?.push((estimate - (truth[i] as number)) / standardError);
      });
      for (let i = 1; i < fit.trace.length; i++) {
        expect(fit.trace[i] as number).toBeGreaterThan((fit.trace[i - 1] as number) - 1e-8);
      }
    }
    for (const list of errors) {
      expect(Math.abs(list.reduce((sum, z) => sum + z, 0) / 10)).toBeLessThan(4 / Math.sqrt(10));
      // Chi-square of ten: 99.99 % lie below 35.6 and above 0.9.
      const squares = list.reduce((sum, z) => sum + z * z, 0);
      expect(squares).toBeLessThan(35.6);
      expect(squares).toBeGreaterThan(0.9);
    }
    const one = fitLife(plant(1, 1500), { kind: 'weibull' }).model as WeibullModel;
    expect(one.shape).toBeLessThan(2);
  });

  it('says of each leak whether it was early; their sum is the leaks of faulty fittings', () => {
    const sample = plant(11, 1500);
    const { earlyChance, model } = fitFittingFaults(sample);
    let total = 0;
    earlyChance.forEach((chance, i) => {
      const [age, leaked] = [sample.lower[i] as number, sample.upper[i] !== Infinity];
      if (!leaked) expect(chance).toBe(0);
      else if (age < 5) expect(chance).toBeGreaterThan(0.95);
      else if (age > 400) expect(chance).toBeLessThan(0.01);
      total += chance;
    });
    // Nearly all faulty ones leak while watched, but for those that came later.
    const share = model.fault?.share as number;
    expect(total / (share * sample.lower.length)).toBeGreaterThan(0.8);
    expect(total / (share * sample.lower.length)).toBeLessThan(1.02);
  });

  it('without early leaks rests on the prior and says so', () => {
    const sound = plant(12, 400, { kind: 'weibull', shape: 3, scale: 900 });
    const fit = fitFittingFaults(sound);
    expect(fit.identified).toBe(false);
    expect(fit.parameters.map(({ name }) => name)).toEqual(['logShape', 'logScale', 'logShare']);
    expect(fit.model.fault).toMatchObject({ shape: 0.8, scale: 10 });
    expect(fit.model.fault?.share).toBeGreaterThan(0.001);
    expect(fit.model.fault?.share).toBeLessThan(0.01);
    const [warning] = fit.warnings;
    expect(warning?.code).toBe('fault-share-from-prior');
    expect(warning?.text).toContain('median 1 % and 95 % between 0.1 and 5 %');
    expect(warning?.text).toContain('shape 0.8 and scale 10 days');
  });

  it('with one day for all early leaks holds the default law, and says that they do not tell it', () => {
    const { lower, upper, entry } = plant(13, 600, { kind: 'weibull', shape: 3, scale: 900 });
    const day = (column: Float64Array, value: number): number[] => [...column, ...Array(8).fill(value)];
    const fit = fitFittingFaults(
      lifeSample({ lower: day(lower, 6), upper: day(upper, 7), entry: day(entry, 0) }),
    );
    expect(fit.model.fault?.share).toBeGreaterThan(0.005);
    expect(fit.model.fault?.share).toBeLessThan(0.05);
    expect(fit.model.shape).toBeGreaterThan(2);
    expect(fit.model.fault).toMatchObject(DEFAULT_FAULT_LAW);
    expect(fit.parameters.map(({ name }) => name)).toEqual(['logShape', 'logScale', 'logShare']);
    expect(fit.converged).toBe(true);
    expect(fit.warnings.map(({ code }) => code)).toContain('fault-law-held');
  });

  it('a law that is given is held', () => {
    const fit = fitFittingFaults(plant(14, 1500), { early: { shape: 1, scale: 20 } });
    expect(fit.model.fault).toMatchObject({ shape: 1, scale: 20 });
    expect(fit.parameters).toHaveLength(3);
    expect(fit.identified).toBe(true);
  });

  it('refuses samples that tell nothing of wear-out, and laws that are none', () => {
    const sound = lifeSample({ lower: [100, 200], upper: [Infinity, Infinity] });
    expect(() => fitFittingFaults(sound)).toThrow('there are no failures');
    expect(() => fitFittingFaults(plant(15, 100), { early: { shape: 0, scale: 1 } })).toThrow('above 0');
  });
});
