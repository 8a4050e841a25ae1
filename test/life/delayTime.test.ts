/** The delay-time likelihood against its integrals, each by adaptive quadrature. */
import { describe, expect, it } from 'vitest';
import { type DelayTimeRow, delayTimeLikelihood } from '../../lib/life/estimate/delayTime.js';
import { integrate } from '../../lib/numeric/quadrature.js';

const S = (t: number, shape: number, scale: number): number => Math.exp(-((t / scale) ** shape));

/** Chance of being damaged and not yet leaked at t. */
function damagedAt(t: number, shape: number, scale: number, delay: number): number {
  const density = (u: number): number => (shape / scale) * (u / scale) ** (shape - 1) * S(u, shape, scale);
  return integrate((u) => density(u) * Math.exp(-(t - u) / delay), 0, t).value;
}

const row = (state: DelayTimeRow['state'], age: number, entry = 0): DelayTimeRow => ({ state, age, entry });

describe('delayTimeLikelihood', () => {
  it.each([
    [3, 700, 150],
    [1.2, 400, 900],
    [0.8, 1000, 30],
  ])('shape %s, scale %s, mean delay %s', (shape, scale, delay) => {
    const chance = (rows: DelayTimeRow[]): number => Math.exp(delayTimeLikelihood(rows)(shape, scale, delay));
    for (const age of [90, 365, 800]) {
      const [sound, damaged] = [S(age, shape, scale), damagedAt(age, shape, scale, delay)];
      expect(chance([row('sound', age)])).toBeCloseTo(sound, 12);
      expect(chance([row('damaged', age)]) / damaged).toBeCloseTo(1, 2);
      expect((chance([row('leaked', age)]) * delay) / damaged).toBeCloseTo(1, 2);
      expect(chance([row('damaged or leaked', age)])).toBeCloseTo(1 - sound, 12);
      expect(chance([row('not leaked', age)]) / (sound + damaged)).toBeCloseTo(1, 2);
    }
    // Watched from 200 days on, because it had not leaked by then.
    const intact = S(200, shape, scale) + damagedAt(200, shape, scale, delay);
    expect((chance([row('sound', 600, 200)]) * intact) / S(600, shape, scale)).toBeCloseTo(1, 2);
  });
});
