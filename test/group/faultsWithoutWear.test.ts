/**
 * Plants where one fitting in twenty is faulty and hardly anything wears out in the years on record. Early leaks that stop
 * after some weeks are faulty fittings; a wear-out by chance that gave them would have gone on leaking.
 */
import { describe, expect, it } from 'vitest';
import { groupFleet } from '../../lib/group/groupFleet.js';
import { floatAt } from '../../lib/numeric/columns.js';
import { simulatedPlant } from './plant.js';

const SHARE = 0.05;

function plant(seed: number) {
  const groups = [15, 25, 50].map((size) => ({
    material: 'EPDM',
    size,
    positions: 20,
    shape: 2,
    scale: 20_000,
    scheduled: 365,
  }));
  const settings = { years: 8, fault: { shape: 0.7, scale: 20 }, openingsPerYear: 0.08, reasonLost: 0 };
  return simulatedPlant({ groups, faultShare: () => SHARE, before: 500, ...settings }, seed);
}

function quantiles(draws: Float64Array): (p: number) => number {
  const sorted = draws.slice().sort();
  return (p) => floatAt(sorted, Math.floor(p * (sorted.length - 1)));
}

describe('many faulty fittings and hardly any wear-out', () => {
  // Fixed before any of them was drawn.
  it.each([8100, 8101, 8102, 8103])('plant %i keeps its faulty fittings', (seed) => {
    for (const { draws } of groupFleet(plant(seed), { seed: 1 }).groups) {
      const share = quantiles(draws.share);
      // About 24 faulty fittings in 480: the log share is known to 0.2, and the range is that of 90 %.
      expect(share(0.5)).toBeGreaterThan(SHARE * Math.exp(-4 * 0.25));
      expect(share(0.5)).toBeLessThan(SHARE * Math.exp(4 * 0.25));
      expect(share(0.05)).toBeGreaterThan(SHARE / 5);
      // Nothing says that leaks come by chance: the prior of the shape is hardly touched.
      expect(quantiles(draws.shape)(0.5)).toBeGreaterThan(1);
    }
  });
});
