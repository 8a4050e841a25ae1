import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { quantile, survival } from '../../../lib/life/distribution/functions.js';
import {
  incidenceOfModes,
  type ModeLaw,
  quantileOfModes,
  survivalOfModes,
} from '../../../lib/life/modes/modeLaws.js';

const weibull = (mode: string, shape: number, scale: number): ModeLaw => ({
  mode,
  model: { kind: 'weibull', shape, scale },
});
const laws = fc
  .array(
    fc.record({
      shape: fc.constantFrom(0.05, 0.3, 1, 3, 50),
      log: fc.double({ min: -3, max: 3, noNaN: true }),
    }),
    { minLength: 1, maxLength: 4 },
  )
  .map((list) => list.map(({ shape, log }, i) => weibull(`mode ${i}`, shape, Math.exp(log))));
const unit = fc.constantFrom(1e-9, 1, 1e12);

describe('incidence of modes', () => {
  it('adds up to 1 with the survival of all, and rises with age', () => {
    fc.assert(
      fc.property(laws, unit, (plain, by) => {
        const scaled = plain.map(({ mode, model }) =>
          model.kind === 'weibull' ? weibull(mode, model.shape, model.scale * by) : { mode, model },
        );
        const ages = [0, 0.01, 0.5, 1, 2, 30, 1e4].map((t) => t * by);
        const incidence = incidenceOfModes(scaled, ages);
        ages.forEach((age, i) => {
          const ended = incidence.reduce((total, column) => total + (column[i] as number), 0);
          expect(Math.abs(ended + survivalOfModes(scaled, age) - 1)).toBeLessThan(1e-9);
        });
        for (const column of incidence) {
          for (let i = 1; i < column.length; i++)
            expect(column[i]).toBeGreaterThanOrEqual(column[i - 1] as number);
        }
      }),
      { numRuns: 200 },
    );
  });

  it('of equal shapes is the share of the hazard, down to tiny chances', () => {
    const two = [weibull('one', 2, 1000), weibull('other', 2, 500)];
    for (const age of [1e-6, 1, 400, 5000]) {
      const ended = -Math.expm1(-((age / 1000) ** 2 + (age / 500) ** 2));
      const [one, other] = incidenceOfModes(two, [age]) as [Float64Array, Float64Array];
      expect((one[0] as number) / (ended / 5)).toBeCloseTo(1, 9);
      expect((other[0] as number) / ((4 * ended) / 5)).toBeCloseTo(1, 9);
    }
  });

  it('of a mode alone is its own law; ages in any order', () => {
    const { model, mode } = weibull('leak', 3, 900);
    const ages = [900, 100, 500];
    const [got] = incidenceOfModes([{ mode, model }], ages) as [Float64Array];
    ages.forEach((age, i) => {
      expect(got[i]).toBeCloseTo(1 - survival(model, age), 10);
    });
    expect(quantileOfModes([{ mode, model }], 0.1)).toBe(quantile(model, 0.1));
  });

  it('the age by which a share has ended is where survival says so', () => {
    fc.assert(
      fc.property(laws, fc.constantFrom(1e-12, 0.1, 0.5, 0.99), (plain, p) => {
        const age = quantileOfModes(plain, p);
        const ended = 1 - survivalOfModes(plain, age);
        if (p > 1e-6) expect(Math.abs(ended / p - 1)).toBeLessThan(1e-8);
        else expect(ended).toBeLessThan(1e-11);
      }),
    );
  });

  it('refuses no laws, a name twice and ages that are none', () => {
    const law = weibull('leak', 3, 900);
    expect(() => incidenceOfModes([], [1])).toThrow('at least one mode');
    expect(() => survivalOfModes([law, law], 1)).toThrow('named once');
    expect(() => incidenceOfModes([law], [1, Number.NaN])).toThrow('at or above 0');
    expect(() => quantileOfModes([law], 1)).toThrow('below 1');
  });
});
