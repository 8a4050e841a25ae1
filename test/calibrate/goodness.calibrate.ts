/**
 * How often the test of fit rejects laws that are right and laws that are wrong: whole days and exact ages, entries, planned
 * replacements, running lives, few and many lives. Seeds fixed beforehand.
 */
import { describe, expect, it } from 'vitest';
import { goodnessOfFit } from '../../lib/life/check/goodnessOfFit.js';
import { whyShapeNotEstimable } from '../../lib/life/estimate/estimable.js';
import { fitLife } from '../../lib/life/estimate/fit.js';
import { binomialLimits } from '../demo/recovery.js';
import { type Plant, SIMULATED, simulatedLives } from '../life/check/simulatedLives.js';

const SAMPLES = 1000;
const RESAMPLES = 199;

function rejected(plant: Plant, kind: 'weibull' | 'lognormal'): { judged: number; rejected: number } {
  const out = { judged: 0, rejected: 0 };
  for (let seed = 1001; seed <= 1000 + SAMPLES; seed++) {
    const { sample, closing } = simulatedLives(plant, seed);
    if (whyShapeNotEstimable(sample) !== null) continue;
    const { p } = goodnessOfFit(sample, fitLife(sample, { kind }), { seed, resamples: RESAMPLES, closing });
    if (p === null) continue;
    out.judged++;
    if (p <= 0.05) out.rejected++;
  }
  return out;
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
  ] as const)('%s: one in twenty', (_, plant, kind) => {
    const found = rejected(plant, kind);
    const [fewest, most] = binomialLimits(found.judged, 0.05);
    expect(found.judged).toBeGreaterThan(SAMPLES / 4);
    expect(found.rejected).toBeGreaterThanOrEqual(fewest);
    expect(found.rejected).toBeLessThanOrEqual(most);
  });
});

describe('laws that are wrong', () => {
  it.each([
    ['a mixture', SIMULATED.mixture],
    ['another family', SIMULATED.lognormal],
  ] as const)('%s: found in most samples', (_, plant) => {
    const found = rejected(plant, 'weibull');
    expect(found.rejected / found.judged).toBeGreaterThan(0.6);
  });
});
