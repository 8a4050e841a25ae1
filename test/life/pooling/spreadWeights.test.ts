/** Draws weighed anew tell the posterior under another prior of the spread, as sampling it anew does. */
import { describe, expect, it } from 'vitest';
import { effectiveSize } from '../../../lib/life/estimate/pooling/quality.js';
import { spreadWeights } from '../../../lib/life/estimate/pooling/spreadWeights.js';
import { POOLING_PRIORS, type PooledPosterior, poolGroups } from '../../../lib/life/estimate/pooling.js';
import { floatAt, itemAt, sum } from '../../../lib/numeric/columns.js';

/** Best log scale and its standard error: four groups that know their scale, one that hardly does. */
const GROUPS = [
  [6.2, 0.1],
  [6.9, 0.15],
  [6.5, 0.1],
  [7.1, 0.2],
  [5.4, 0.8],
] as const;

function sampled(betweenScale: number, label: string): PooledPosterior {
  const groups = GROUPS.map(([best, error]) => ({
    location: 0,
    logSize: 0,
    surface: {
      bestLogRate: () => 0,
      logLikelihood: (logShape: number, logScale: number) =>
        -0.5 * ((logScale - best) / error) ** 2 - 0.5 * ((logShape - 0.7) / 0.2) ** 2,
    },
  }));
  return poolGroups(
    { groups, locations: [{ parent: null, centre: 6.5 }] },
    { seed: 7, label, draws: 400, sweeps: 8000, sizeEffect: false, priors: { betweenScale } },
  );
}

const base = sampled(POOLING_PRIORS.betweenScale, 'base');

describe.each([0.25, 1])('a prior of the spread of scale %s', (scale) => {
  const anew = sampled(scale, `anew ${scale}`);
  const { weights, effectiveDraws } = spreadWeights(
    base.shared.betweenScale,
    POOLING_PRIORS.betweenScale,
    scale,
  );

  it('weighs the draws, the weights adding up to 1', () => {
    expect(sum(weights)).toBeCloseTo(1, 12);
    expect(effectiveDraws).toBeGreaterThan(800);
    expect(effectiveDraws).toBeLessThan(weights.length);
  });

  it.each([0, 4])('moves the mean of group %i as sampling anew does', (g) => {
    const [own, other] = [itemAt(base.logScale, g), itemAt(anew.logScale, g)];
    const weighed = own.reduce((total, value, d) => total + value * floatAt(weights, d), 0);
    const half = other.length / 2;
    const size = effectiveSize([other.subarray(0, half), other.subarray(half)]);
    const error = deviation(other) * Math.sqrt(1 / size + 1 / Math.min(effectiveDraws, size));
    expect(Math.abs(weighed - mean(other))).toBeLessThan(4 * error);
    // The check can see what it is for: the group that knows little moves by more than eight of its errors.
    if (g === 4) expect(Math.abs(mean(own) - mean(other))).toBeGreaterThan(8 * error);
  });
});

it('leaves the draws as they are under their own prior', () => {
  const { weights, effectiveDraws } = spreadWeights(Float64Array.of(0.1, 0.7, 2), 0.5, 0.5);
  expect(Array.from(weights)).toEqual([1 / 3, 1 / 3, 1 / 3]);
  expect(effectiveDraws).toBeCloseTo(3, 12);
});

function mean(values: Float64Array): number {
  return sum(values) / values.length;
}

function deviation(values: Float64Array): number {
  const middle = mean(values);
  return Math.sqrt(values.reduce((total, value) => total + (value - middle) ** 2, 0) / values.length);
}
