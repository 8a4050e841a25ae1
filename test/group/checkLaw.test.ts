import { describe, expect, it } from 'vitest';
import { checkLaw } from '../../lib/group/checkLaw.js';
import type { Group } from '../../lib/group/types.js';
import { lifeSample } from '../../lib/index.js';
import { fitLife } from '../../lib/life/estimate/fit.js';
import { itemAt } from '../../lib/numeric/columns.js';
import { randomStream } from '../../lib/numeric/random.js';
import { testPlant } from '../interval/fixtures.js';

/** A group of lives in whole days, replaced at 700 days. */
function groupOf(draw: () => number, lives: number): Group {
  const days = Array.from({ length: lives }, () => Math.max(1, Math.round(draw())));
  const sample = lifeSample({
    lower: days.map((day) => (day < 700 ? day - 0.5 : 700)),
    upper: days.map((day) => (day < 700 ? day + 0.5 : Infinity)),
  });
  const fault = { share: 0.01, shape: 0.7, scale: 20 };
  const { model } = fitLife(sample, { kind: 'weibull', fault });
  const { grouped } = testPlant([{ material: 'EPDM', size: 25, shape: 3, scale: 900, ages: [100] }]);
  const records = { sample, fault, closing: new Float64Array(lives).fill(Infinity) };
  return { ...itemAt(grouped.groups, 0), model: model as Group['model'], records };
}

const random = randomStream(7, 'test/checkLaw');
const weibull = (): number => 500 * (-Math.log(random.uniform())) ** (1 / 3);
const lognormal = (): number => 300 * Math.exp(0.15 * random.normal());

describe('checkLaw', () => {
  it('finds that lognormal lives of small spread are no Weibull lives, and says how much better a lognormal is', () => {
    const check = checkLaw(groupOf(lognormal, 400), 1);
    expect(check.p).toBeLessThan(0.01);
    expect(check.lognormal?.aicDifference).toBeGreaterThan(6);
    expect(Math.abs((check.lognormal?.sigma ?? 0) - 0.15)).toBeLessThan(4 * (0.15 / Math.sqrt(800)));
  });

  it('leaves Weibull lives alone', () => {
    const check = checkLaw(groupOf(weibull, 400), 1);
    expect(check.p).toBeGreaterThan(0.01);
    expect(check.lognormal?.aicDifference).toBeLessThan(-6);
  });

  it('judges nothing under 10 leaks, yet gives a second opinion', () => {
    const check = checkLaw(groupOf(weibull, 9), 1);
    expect(check).toMatchObject({ p: null, resamples: 0 });
    expect(check.lognormal).not.toBeNull();
  });

  it('gives the same answer for the same seed and says nothing without a fit of its own', () => {
    const group = groupOf(weibull, 40);
    expect(checkLaw(group, 3)).toEqual(checkLaw(group, 3));
    expect(checkLaw({ ...group, records: null }, 3)).toMatchObject({ p: null, lognormal: null });
  });
});
