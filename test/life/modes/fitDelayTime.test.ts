import { describe, expect, it } from 'vitest';
import type { DelayTimeRow } from '../../../lib/life/estimate/delayTime.js';
import { fitLife } from '../../../lib/life/estimate/fit.js';
import type { WeibullModel } from '../../../lib/life/model.js';
import { delayTimeBounds, fitDelayTime } from '../../../lib/life/modes/fitDelayTime.js';
import { lifeSample } from '../../../lib/life/sample.js';
import { randomStream } from '../../../lib/numeric/random.js';

/** K4 of the checks: damage by Weibull 3 / 700, leak after 150 days on average, taken out at any age up to 1 000. */
function plant(seed: number, size: number): DelayTimeRow[] {
  const random = randomStream(seed, 'delay time');
  return Array.from({ length: size }, (): DelayTimeRow => {
    const damaged = 700 * (-Math.log(random.uniform())) ** (1 / 3);
    const leaks = damaged - 150 * Math.log(random.uniform());
    const out = 1 + random.below(1000);
    if (leaks < out) return { state: 'leaked', age: leaks, entry: 0 };
    return { state: damaged < out ? 'damaged' : 'sound', age: out, entry: 0 };
  });
}

describe('fitDelayTime', () => {
  it('finds K4, with errors as large as it says', () => {
    const truth = [3, 700, 150].map(Math.log);
    const errors = truth.map(() => [] as number[]);
    for (let seed = 1; seed <= 8; seed++) {
      fitDelayTime(plant(seed, 300)).parameters.forEach(({ estimate, standardError }, i) => {
        errors[i]?.push((estimate - (truth[i] as number)) / standardError);
      });
    }
    for (const list of errors) {
      expect(Math.abs(list.reduce((sum, z) => sum + z, 0) / 8)).toBeLessThan(4 / Math.sqrt(8));
      // Chi-square of eight: 99.99 % lie below 31.8 and above 0.46.
      const squares = list.reduce((sum, z) => sum + z * z, 0);
      expect(squares).toBeLessThan(31.8);
      expect(squares).toBeGreaterThan(0.46);
    }
  });

  it('where all damage, leaks too, counted as failed at an unknown age before, the shape would be far too low', () => {
    const rows = plant(21, 600);
    const sound = ({ state }: DelayTimeRow): boolean => state === 'sound';
    const lower = rows.map((row) => (sound(row) ? row.age : 0));
    const upper = rows.map((row) => (sound(row) ? Infinity : row.age));
    const { shape } = fitLife(lifeSample({ lower, upper }), { kind: 'weibull' }).model as WeibullModel;
    expect(shape).toBeLessThan(2);
    const bounds = delayTimeBounds(fitDelayTime(rows), { level: 0.99 });
    expect(bounds.shape.low).toBeLessThan(3);
    expect(bounds.shape.low).toBeGreaterThan(2.2);
    expect(bounds.shape.high).toBeGreaterThan(3);
  });

  it('the unit of age changes only scale and delay', () => {
    const rows = plant(22, 120);
    const days = fitDelayTime(rows);
    const lowest = delayTimeBounds(days).scale.low;
    for (const unit of [1e-9, 1e12]) {
      const fit = fitDelayTime(rows.map((row) => ({ ...row, age: row.age * unit })));
      expect(fit.damage.shape / days.damage.shape).toBeCloseTo(1, 8);
      expect(fit.delay / days.delay / unit).toBeCloseTo(1, 8);
      if (unit > 1) expect(delayTimeBounds(fit).scale.low / lowest / unit).toBeCloseTo(1, 6);
      expect(fit.logLikelihood + fit.leaked * Math.log(unit)).toBeCloseTo(days.logLikelihood, 6);
    }
  });

  it('refuses fewer than five of a kind, and rows that are none', () => {
    const rows = plant(23, 200);
    const fewer = (state: DelayTimeRow['state'], left: number): DelayTimeRow[] => {
      let kept = 0;
      return rows.filter((row) => row.state !== state || kept++ < left);
    };
    for (const state of ['leaked', 'damaged', 'sound'] as const) {
      expect(() => fitDelayTime(fewer(state, 4))).toThrow('at least 5 lives each');
      expect(() => fitDelayTime(fewer(state, 5))).not.toThrow('at least 5');
    }
    expect(() => fitDelayTime([{ state: 'sound', age: 10, entry: 10 }])).toThrow('row 1: age');
    expect(() => fitDelayTime([{ state: 'sound', age: 10, entry: -1 }])).toThrow('row 1: entry');
    expect(() => fitDelayTime([{ state: 'torn' as 'sound', age: 10, entry: 0 }])).toThrow('row 1: state');
    expect(() => delayTimeBounds(fitDelayTime(rows), { level: 1 })).toThrow('between 0 and 1');
  });
});
