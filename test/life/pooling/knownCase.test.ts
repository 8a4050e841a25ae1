/**
 * Six groups, shape held at 2: quantiles of the full posterior, spread between groups integrated over. Values were
 * computed by two-dimensional quadrature over (mean log rate, spread) with the groups' rates integrated inside;
 * recomputed beside this file by knownCase.py. Prior: flat on the mean log rate, half-normal(0.5) on the
 * spread of log rate, which is twice the spread of log scale at shape 2.
 */
import { describe, expect, it } from 'vitest';
import { poolGroups } from '../../../lib/life/estimate/pooling.js';

const FAILURES = [9, 4, 2, 0, 1, 6];
const SUM_AGE_SQUARED = [4.0e6, 2.2e6, 3.0e6, 1.5e6, 0.3e6, 1.6e6];
const LOW_MEDIAN_HIGH = [
  [572.5358644916417, 727.1924641998052, 930.107921904714],
  [587.090192138787, 773.3661603760241, 1071.6531715732026],
  [673.1981204857383, 890.5676959557014, 1418.525587474269],
  [660.8631546499561, 902.2341614382387, 1700.6362319027214],
  [496.67758819276406, 758.5625377985068, 1170.005009259456],
  [473.607838596875, 673.8113342351757, 903.1618088930345],
];
const MEAN_SPREAD_OF_LOG_RATE = 0.43954006364755777;

const posterior = poolGroups(
  {
    groups: FAILURES.map((failures, g) => ({
      location: 0,
      logSize: 0,
      surface: {
        logLikelihood: (_shape: number, logScale: number) =>
          -2 * failures * logScale - Math.exp(-2 * logScale) * (SUM_AGE_SQUARED[g] as number),
        bestLogRate: () => 0,
      },
    })),
    locations: [{ parent: null, centre: Math.log(756.79) }],
  },
  {
    seed: 1,
    draws: 400,
    fixedLogShape: Math.log(2),
    sizeEffect: false,
    sweeps: 20_000,
    priors: { betweenScale: 0.25 },
  },
);

function quantile(column: Float64Array, p: number): number {
  const sorted = Float64Array.from(column).sort();
  return Math.exp(sorted[Math.floor(p * sorted.length)] as number);
}

describe('six groups with shape 2', () => {
  it.each(LOW_MEDIAN_HIGH.map((expected, g) => ({ g, expected })))('group $g', ({ g, expected }) => {
    const column = posterior.logScale[g] as Float64Array;
    [0.05, 0.5, 0.95].forEach((p, i) => {
      expect(Math.abs(quantile(column, p) / (expected[i] as number) - 1)).toBeLessThan(0.02);
    });
  });

  it('spread between groups', () => {
    const spread = posterior.shared.betweenScale;
    const mean = (2 * spread.reduce((sum, value) => sum + value, 0)) / spread.length;
    expect(Math.abs(mean / MEAN_SPREAD_OF_LOG_RATE - 1)).toBeLessThan(0.03);
  });

  it('chains agree', () => {
    expect(posterior.largestRHat).toBeLessThan(1.01);
    expect(posterior.effectiveSize).toBeGreaterThan(1000);
  });
});
