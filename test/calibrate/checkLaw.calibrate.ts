/**
 * How often the check of a group's law is right, from records to p: plants that obey the law, with fitting faults, staggered fitting, replacements on
 * schedule and reasons not written down, and plants whose group is two groups in truth. Seeds fixed beforehand. About five minutes on one core.
 */
import { describe, expect, it } from 'vitest';
import { checkOf, OBEYS, TWO_KINDS } from '../group/lawPlants.js';
import type { PlantTruth } from '../group/plant.js';

const PLANTS = 300;

function chances(truth: PlantTruth): number[] {
  return Array.from({ length: PLANTS }, (_, i) => checkOf(truth, 20_001 + i).p).filter((p) => p !== null);
}

const shareUpTo = (values: readonly number[], limit: number): number =>
  values.filter((p) => p <= limit + 1e-9).length / values.length;

describe('the check of a law', () => {
  it('is not too ready to reject it where it is right', () => {
    const found = chances(OBEYS);
    expect(found.length).toBe(PLANTS);
    // Measured: 0.003, 0.010, 0.087 and 0.283. It leans towards the law: the part of the faulty fittings is estimated from the plant's own leaks
    // and held in the samples drawn, and what is not on record is drawn from the law. Hence bounds from above only.
    for (const limit of [0.05, 0.1, 0.25, 0.5]) {
      const standardError = Math.sqrt((limit * (1 - limit)) / PLANTS);
      expect(shareUpTo(found, limit), `up to ${limit}`).toBeLessThan(limit + 4 * standardError);
    }
  });

  it('finds half of 60 leaks at five times the scale of the other half in most plants', () => {
    // Measured: 0.81 up to 0.05, 0.88 up to 0.1, of 63 leaks on average.
    const found = chances(TWO_KINDS);
    expect(found.length).toBe(PLANTS);
    expect(shareUpTo(found, 0.05)).toBeGreaterThan(0.6);
  });
});
