import { describe, expect, it } from 'vitest';
import { lifeBounds } from '../../lib/life/estimate/bounds/bounds.js';
import { spaceOf } from '../../lib/life/estimate/coordinates.js';
import { fitLife } from '../../lib/life/estimate/fit.js';
import type { LifeFit } from '../../lib/life/estimate/fitTypes.js';
import { lifeSample } from '../../lib/life/sample.js';
import { randomStream } from '../../lib/numeric/random.js';

/** Sixty lives, one of ten faulty, with the early law and all ages in a unit. */
function faultyFit(unit: number): LifeFit {
  const random = randomStream(7, 'test/fault-bounds');
  const [lower, upper]: [number[], number[]] = [[], []];
  for (let i = 0; i < 60; i++) {
    const faulty = random.uniform() < 0.1;
    const early = faulty ? 10 * (-Math.log(random.uniform())) ** (1 / 0.8) : Infinity;
    const age = Math.min(900 * (-Math.log(random.uniform())) ** (1 / 3), early);
    const stop = 300 + 1000 * random.uniform();
    lower.push(unit * Math.min(age, stop));
    upper.push(age < stop ? unit * age : Infinity);
  }
  return fitLife(lifeSample({ lower, upper }), { kind: 'weibull', fault: { shape: 0.8, scale: 10 * unit } });
}

/** Slow: how far the best target over a net of wear-out laws lies below the top, the share following from the quantile. */
function dropAt(fit: LifeFit, age: number, share: number): number {
  const space = spaceOf(fit);
  const early = -Math.expm1(-((age / 10) ** 0.8));
  let best = Number.NEGATIVE_INFINITY;
  for (let b = space.at.b - 0.6; b < space.at.b + 0.6; b += 0.02) {
    for (let e = space.at.e - 0.3; e < space.at.e + 0.3; e += 0.01) {
      const worn = Math.exp(-((age / Math.exp(e)) ** Math.exp(b)));
      const faulty = (1 - (1 - share) / worn) / early;
      if (faulty > 0 && faulty < 1) best = Math.max(best, space.target({ b, e, s: Math.log(faulty) }));
    }
  }
  return space.target(space.at) - best;
}

describe('likelihood bounds of a fit with faulty fittings', () => {
  const fit = faultyFit(1);
  const { model } = fit;
  const share = model.kind === 'weibull' ? (model.fault?.share ?? 0) : 0;

  it.each([0.9, 1, 1.2])('an age by which %f of the share of faults has failed', (part) => {
    const bounds = lifeBounds(fit, { of: { quantile: part * share }, method: 'likelihood' });
    expect(bounds.low).toBeLessThan(bounds.estimate);
    expect(bounds.high).toBeGreaterThan(bounds.estimate);
    // Half the 90 % quantile of chi-square with one degree of freedom; the net misses the top by up to 0.01.
    const drop = dropAt(fit, bounds.low, part * share);
    expect(drop).toBeGreaterThan(1.3527);
    expect(drop).toBeLessThan(1.3628);
  });

  it('gives the same in any unit', () => {
    const small = faultyFit(1e-9);
    const of = { quantile: 1.2 * share };
    const days = lifeBounds(fit, { of, method: 'likelihood' });
    const other = lifeBounds(small, { of, method: 'likelihood' });
    // Estimates of a flat top agree to about 1e-7, and so do the bounds.
    expect(Math.abs(other.low / days.low / 1e-9 - 1)).toBeLessThan(1e-5);
    expect(Math.abs(other.high / days.high / 1e-9 - 1)).toBeLessThan(1e-5);
  });
});
