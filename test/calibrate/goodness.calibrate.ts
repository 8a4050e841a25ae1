/**
 * How often the test of fit rejects laws that are right and laws that are wrong: whole days and exact ages, entries, planned
 * replacements, running lives, lives looked at from time to time, few and many lives. Seeds fixed beforehand. 14 minutes
 * measured on one core of a busy machine.
 */
import { describe, expect, it } from 'vitest';
import { goodnessOfFit } from '../../lib/life/check/goodnessOfFit.js';
import { whyShapeNotEstimable } from '../../lib/life/estimate/estimable.js';
import { fitLife } from '../../lib/life/estimate/fit.js';
import { INSPECTED, type Inspected, inspectedLives } from '../life/check/inspectedLives.js';
import { type Plant, SIMULATED, simulatedLives } from '../life/check/simulatedLives.js';

const SAMPLES = 400;
const RESAMPLES = 99;

/** The chances given for samples of a plant that can be judged. */
function chances(plant: Plant, kind: 'weibull' | 'lognormal'): number[] {
  const out: number[] = [];
  for (let seed = 1001; seed <= 1000 + SAMPLES; seed++) {
    const { sample, closing } = simulatedLives(plant, seed);
    if (whyShapeNotEstimable(sample) !== null) continue;
    const { p } = goodnessOfFit(sample, fitLife(sample, { kind }), { seed, resamples: RESAMPLES, closing });
    if (p !== null) out.push(p);
  }
  return out;
}

function shareUpTo(values: readonly number[], limit: number): number {
  return values.filter((p) => p <= limit + 1e-9).length / values.length;
}

describe('laws that are right', () => {
  const early = { kind: 'weibull', shape: 0.7, scale: 900 } as const;
  const sharp = { kind: 'weibull', shape: 5, scale: 900 } as const;
  const lognormal = { kind: 'lognormal', mu: 6.5, sigma: 0.6 } as const;
  it.each([
    ['30 lives', { ...SIMULATED.right, lives: 30 }, 'weibull'],
    ['80 lives', SIMULATED.right, 'weibull'],
    ['300 lives', { ...SIMULATED.right, lives: 300 }, 'weibull'],
    ['early failures', { ...SIMULATED.right, law: early }, 'weibull'],
    ['a sharp law', { ...SIMULATED.right, law: sharp }, 'weibull'],
    ['exact ages', { ...SIMULATED.right, days: false }, 'weibull'],
    ['a lognormal', { ...SIMULATED.right, law: lognormal }, 'lognormal'],
  ] as const)('%s: every chance as often as any other', (_, plant, kind) => {
    const found = chances(plant, kind);
    expect(found.length).toBeGreaterThan(SAMPLES / 4);
    // With 99 samples drawn the chances are 1/100 to 1, each with 1/100; four standard errors of a share at most.
    for (const limit of [0.05, 0.1, 0.25, 0.5, 0.75, 0.9]) {
      const standardError = Math.sqrt((limit * (1 - limit)) / found.length);
      expect(Math.abs(shareUpTo(found, limit) - limit) / standardError, `up to ${limit}`).toBeLessThan(4);
    }
    const mean = found.reduce((total, p) => total + p, 0) / found.length;
    expect(Math.abs(mean - 0.505) * Math.sqrt(12 * found.length)).toBeLessThan(4);
  });
});

/** As `chances`, for lives looked at from time to time; the closing ages are told. */
function chancesInspected(inspected: Inspected): number[] {
  return Array.from({ length: SAMPLES }, (_, k) => {
    const seed = 5001 + k;
    const { sample, closing } = inspectedLives(inspected, seed);
    const options = { seed, resamples: RESAMPLES, ...(closing === null ? {} : { closing }) };
    return goodnessOfFit(sample, fitLife(sample, { kind: 'weibull' }), options).p ?? 1;
  });
}

describe('laws that are right, looked at from time to time', () => {
  it.each(Object.entries(INSPECTED))('%s: no more ready to reject than it says', (_, inspected) => {
    const found = chancesInspected(inspected);
    // How intervals came about can only be guessed from them, so p may be too large, but not too small.
    for (const limit of [0.05, 0.1, 0.5]) {
      const standardError = Math.sqrt((limit * (1 - limit)) / found.length);
      expect((shareUpTo(found, limit) - limit) / standardError, `up to ${limit}`).toBeLessThan(4);
    }
    // Nor is it so careful that nothing would be found.
    expect(shareUpTo(found, 0.5)).toBeGreaterThan(0.25);
  });
});

describe('laws that are wrong', () => {
  it.each([
    ['a mixture', SIMULATED.mixture],
    ['another family', SIMULATED.lognormal],
  ] as const)('%s: found in most samples', (_, plant) => {
    expect(shareUpTo(chances(plant, 'weibull'), 0.05)).toBeGreaterThan(0.6);
  });
});
