import { describe, expect, it } from 'vitest';
import { distance } from '../../../lib/life/check/distance.js';
import { observedCurve } from '../../../lib/life/check/observedCurve.js';
import { conditionalSurvival } from '../../../lib/life/distribution/functions.js';
import { kaplanMeier } from '../../../lib/life/empirical/kaplanMeier.js';
import { turnbull } from '../../../lib/life/empirical/turnbull.js';
import type { WeibullModel } from '../../../lib/life/model.js';
import { lifeSample } from '../../../lib/life/sample.js';
import type { LifeSample } from '../../../lib/life/sampleTypes.js';

const model: WeibullModel = { kind: 'weibull', shape: 1.7, scale: 600 };

/** The integral by small steps of age, the observed curve from the estimates without a model, lives counted one by one. */
function slowDistance(sample: LifeSample, perUnit = 200): number {
  const rows = Array.from(sample.lower.keys());
  const { age, survival, start, end } = kaplanMeier(sample);
  const weight = (i: number): number => sample.count[i] as number;
  const total = (keep: (i: number) => boolean): number =>
    rows.reduce((n, i) => n + (keep(i) ? weight(i) : 0), 0);
  const lives = total((i) => (sample.lower[i] as number) > start);
  const watched = Array.from(age, (t, k) => {
    const risk = total((i) => (sample.entry[i] as number) < t && (sample.lower[i] as number) >= t);
    return Math.min(1, risk / (lives * (k === 0 ? 1 : (survival[k - 1] as number))));
  });
  // Ages are whole, so that every failure lies on the grid.
  const steps = perUnit * (end - start);
  let [sum, before] = [0, 0];
  for (let k = 1; k <= steps; k++) {
    const middle = start + ((k - 0.5) / steps) * (end - start);
    const u = 1 - conditionalSurvival(model, middle, start);
    const next = 1 - conditionalSurvival(model, start + (k / steps) * (end - start), start);
    const j = age.filter((t) => t <= middle).length;
    const share = j === 0 ? 0 : 1 - (survival[j - 1] as number);
    const w = watched[Math.min(j, watched.length - 1)] as number;
    sum += ((w * (share - u) ** 2) / (u * (1 - u))) * (next - before);
    before = next;
  }
  return total(() => true) * sum;
}

describe('distance', () => {
  it('is the integral over the range observed, censoring, entry and ties included', () => {
    const sample = lifeSample({
      lower: [120, 300, 300, 410, 550, 640, 640, 700, 810, 200, 330],
      upper: [120, 300, 300, 410, Infinity, 640, Infinity, 700, Infinity, Infinity, 330],
      entry: [0, 0, 100, 200, 0, 0, 350, 100, 0, 0, 50],
      count: [1, 2, 1, 1, 3, 1, 4, 1, 2, 5, 1],
    });
    const lives = 22;
    const fast = distance(observedCurve(sample), model, lives);
    expect(Math.abs(fast - slowDistance(sample))).toBeLessThan(1e-6 * fast);
  });

  it('takes survival given survival to the age at which enough are watched', () => {
    const entry = [150, 150, 160, 170, 180, 200, 210, 190];
    const lower = [400, 250, 300, 620, 500, 450, 700, 380];
    const sample = lifeSample({ lower, upper: lower.map((t) => (t > 600 ? Infinity : t)), entry });
    const curve = observedCurve(sample);
    expect(curve.start).toBe(180);
    const fast = distance(curve, model, 8);
    expect(Math.abs(fast - slowDistance(sample))).toBeLessThan(1e-6 * fast);
  });

  it('is 0 for a curve that is the law itself, within intervals', () => {
    const cuts = [0, 200, 400, 600, 800];
    const reached = cuts.map((t) => Math.exp(-((t / 600) ** 1.7)));
    const curve = {
      from: Float64Array.from(cuts.slice(0, -1)),
      to: Float64Array.from(cuts.slice(1)),
      survival: Float64Array.from(reached.slice(1)),
      cumulativeHazard: new Float64Array(4),
      watched: new Float64Array(4).fill(1),
      atRisk: new Float64Array(4).fill(1000),
      start: 0,
      end: 800,
    };
    expect(distance(curve, model, 1000)).toBeLessThan(1e-11);
    expect(distance({ ...curve, from: curve.to }, model, 1000)).toBeGreaterThan(10);
  });

  it('is a number where the law takes the ages for impossible', () => {
    const sample = lifeSample({ lower: [1e-12, 1, 1e12], upper: [1e-12, 1, 1e12] });
    const sharp: WeibullModel = { kind: 'weibull', shape: 50, scale: 1 };
    const far = distance(observedCurve(sample), sharp, 3);
    expect(Number.isFinite(far)).toBe(true);
    expect(far).toBeGreaterThan(1e6);
  });
});

describe('observedCurve', () => {
  it('of intervals that share their ends is the self-consistent estimate, without its search', () => {
    const sample = lifeSample({
      lower: [0, 90, 90, 180, 270, 365, 90, 180, 0, 270],
      upper: [90, 180, 180, 270, 365, Infinity, Infinity, Infinity, 90, 365],
      count: [3, 2, 4, 5, 1, 6, 2, 3, 1, 2],
      entry: [0, 0, 0, 90, 0, 0, 0, 90, 0, 180],
    });
    const curve = observedCurve(sample);
    const slow = turnbull(sample, { draws: 0 });
    expect(Array.from(curve.from)).toEqual([0, 90, 180, 270]);
    const falls = Array.from(slow.mass.keys()).filter((j) => (slow.mass[j] as number) > 1e-7);
    curve.survival.forEach((value, j) => {
      expect(Math.abs(value - (slow.survival[falls[j] as number] as number))).toBeLessThan(1e-6);
    });
  });

  it('of intervals that overlap is the self-consistent estimate', () => {
    const sample = lifeSample({
      lower: [0, 90, 90, 180, 270, 365, 365, 0, 180, 200, 300, 90],
      upper: [90, 180, 270, 365, 365, Infinity, Infinity, 180, 270, 400, Infinity, Infinity],
    });
    const curve = observedCurve(sample);
    const { survival } = turnbull(sample, { draws: 0 });
    curve.survival.forEach((value, j) => {
      expect(Math.abs(value - (survival[j] as number))).toBeLessThan(1e-14);
    });
    expect(curve.watched.every((w) => w > 0 && w <= 1)).toBe(true);
  });
});
