import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { materialActivationEnergy } from '../../lib/exposure/activationEnergy.js';
import { equivalentHours } from '../../lib/exposure/equivalentHours.js';
import { equivalentHoursBetween } from '../../lib/exposure/equivalentHoursBetween.js';

const options = { referenceCelsius: 121, activationEnergy: materialActivationEnergy('FKM') };
const series = {
  hours: [0, 5, 5, 6, 20],
  temperatureCelsius: [25, 30, 121, 124, 60],
};

describe('equivalentHoursBetween', () => {
  it('is equivalentHours for each span', () => {
    const hour = fc.double({ min: 0, max: 20, noNaN: true });
    fc.assert(
      fc.property(fc.constantFrom('linear' as const, 'steps' as const), hour, hour, (between, x, y) => {
        const [fromHours, toHours] = [Math.min(x, y), Math.max(x, y)];
        const one = equivalentHours({ ...series, between }, { ...options, fromHours, toHours });
        const all = equivalentHoursBetween(
          { ...series, between },
          { fromHours: [fromHours, 0], toHours: [toHours, 20] },
          options,
        );
        for (const name of ['hours', 'low', 'high', 'plainHours'] as const) {
          // To the last digits of the sum over the whole course.
          expect(Math.abs((all[name][0] as number) - one[name])).toBeLessThan(
            1e-13 * (all[name][1] as number),
          );
        }
      }),
      { numRuns: 150, seed: 20_282 },
    );
  });

  it('leaves what is not known NaN, and warns of the whole course', () => {
    const got = equivalentHoursBetween(
      { ...series, between: 'steps' },
      { fromHours: [Number.NaN, 0, 3], toHours: [4, Number.NaN, 3] },
      options,
    );
    expect([...got.hours]).toEqual([Number.NaN, Number.NaN, 0]);
    expect(got.warnings).toMatchObject([{ code: 'activation-energy-temperatures-unknown' }]);
  });

  it('refuses spans outside of the series, naming the row', () => {
    const ask = (fromHours: number[], toHours: number[]) => () =>
      equivalentHoursBetween({ ...series, between: 'linear' }, { fromHours, toHours }, options);
    expect(ask([0, 1], [2, 21])).toThrow(
      'equivalentHoursBetween: row 2: fromHours and toHours must be in order',
    );
    expect(ask([3], [2])).toThrow('row 1');
    expect(ask([3], [])).toThrow('same length');
  });
});
