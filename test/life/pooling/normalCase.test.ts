/**
 * Groups whose log-likelihoods are exactly quadratic: given the three spreads every parameter is jointly normal, so that
 * means and standard deviations of all of them follow by quadrature over the spreads. The precision of all parameters
 * together is written down here as it stands in the model, with no group eliminated, and inverted.
 */
import { describe, expect, it } from 'vitest';
import { effectiveSize } from '../../../lib/life/estimate/pooling/quality.js';
import { poolGroups } from '../../../lib/life/estimate/pooling.js';
import { cholesky, invertSymmetric } from '../../../lib/numeric/matrix.js';

const PRIORS = {
  materialHalfWidth: 30,
  size: 0.3,
  betweenScale: 0.5,
  betweenDuty: 1,
  shapeCentre: [0.7, 0.5],
  betweenShape: 0.3,
} as const;
/** Material 0; duties 1 and 2 of it. */
const PARENTS = [null, 0, 0];
const CENTRE = 6.5;
/** Place, log(size / 25), best log scale and log shape, and the precisions there. */
const GROUPS = [
  [0, -0.5, 6.3, 0.9, 60, -20, 40],
  [1, 0, 6.9, 0.6, 8, 5, 12],
  [1, 0.7, 6.7, 1.1, 150, 30, 90],
  [2, 0, 6.2, 0.8, 25, -6, 6],
  [2, 1.2, 6.4, 0.5, 2, 0.5, 1],
] as const;

/** Parameters in the order: three places, effect of size, common shape, then log scale and log shape of each group. */
const COUNT = 5 + 2 * GROUPS.length;

/** Precision, pull and the part of the log density that is constant, given the spreads. */
function jointNormal(
  s: number,
  d: number,
  w: number,
): { precision: number[]; pull: number[]; constant: number } {
  const precision = new Array<number>(COUNT * COUNT).fill(0);
  const pull = new Array<number>(COUNT).fill(0);
  let constant = 0;
  /** A factor exp(-weight (terms - value)^2 / 2). */
  const square = (weight: number, terms: [number, number][], value: number): void => {
    for (const [i, a] of terms) {
      pull[i] = (pull[i] as number) + weight * a * value;
      for (const [j, b] of terms)
        precision[i * COUNT + j] = (precision[i * COUNT + j] as number) + weight * a * b;
    }
    constant -= (weight * value * value) / 2;
  };
  PARENTS.forEach((parent, j) => {
    if (parent !== null)
      square(
        1 / d ** 2,
        [
          [j, 1],
          [parent, -1],
        ],
        0,
      );
  });
  square(1 / PRIORS.size ** 2, [[3, 1]], 0);
  square(1 / PRIORS.shapeCentre[1] ** 2, [[4, 1]], PRIORS.shapeCentre[0]);
  GROUPS.forEach(([place, size, logScale, logShape, aa, ab, bb], g) => {
    const [a, b] = [5 + 2 * g, 6 + 2 * g];
    square(
      1 / s ** 2,
      [
        [a, 1],
        [place, -1],
        [3, -size],
      ],
      0,
    );
    square(
      1 / w ** 2,
      [
        [b, 1],
        [4, -1],
      ],
      0,
    );
    // A quadratic form as two squares: bb (b + ab / bb a)^2 + (aa - ab^2 / bb) a^2, both round the best place.
    square(
      bb,
      [
        [b, 1],
        [a, ab / bb],
      ],
      logShape + (ab / bb) * logScale,
    );
    square(aa - ab ** 2 / bb, [[a, 1]], logScale);
  });
  constant -= GROUPS.length * (Math.log(s) + Math.log(w)) + 2 * Math.log(d);
  return { precision, pull, constant };
}

/** Means and second moments of all parameters, then of the three spreads, by the midpoint rule on their logarithms. */
function quadrature(steps: number): { means: number[]; sds: number[] } {
  const nodes = (prior: number): number[] =>
    Array.from({ length: steps }, (_, i) => prior * Math.exp(-6 + (7.6 * (i + 0.5)) / steps));
  let total = 0;
  const first = new Array<number>(COUNT + 3).fill(0);
  const second = new Array<number>(COUNT + 3).fill(0);
  const add = (i: number, weight: number, mean: number, variance: number): void => {
    first[i] = (first[i] as number) + weight * mean;
    second[i] = (second[i] as number) + weight * (mean * mean + variance);
  };
  for (const s of nodes(PRIORS.betweenScale))
    for (const d of nodes(PRIORS.betweenDuty))
      for (const w of nodes(PRIORS.betweenShape)) {
        const { precision, pull, constant } = jointNormal(s, d, w);
        const factor = cholesky(precision, COUNT) as number[];
        const covariance = invertSymmetric(precision, COUNT);
        const mean = pull.map((_, i) =>
          pull.reduce((sum, p, j) => sum + (covariance[i * COUNT + j] as number) * p, 0),
        );
        const square = pull.reduce((sum, p, i) => sum + p * (mean[i] as number), 0);
        const root = pull.reduce((sum, _, i) => sum + Math.log(factor[i * (COUNT + 1)] as number), 0);
        const spreads = [
          [s, PRIORS.betweenScale],
          [d, PRIORS.betweenDuty],
          [w, PRIORS.betweenShape],
        ] as const;
        const prior = spreads.reduce((sum, [x, sd]) => sum + Math.log(x) - (x / sd) ** 2 / 2, 0);
        const weight = Math.exp(constant + square / 2 - root + prior);
        total += weight;
        mean.forEach((m, i) => {
          add(i, weight, m, covariance[i * (COUNT + 1)] as number);
        });
        spreads.forEach(([x], i) => {
          add(COUNT + i, weight, x, 0);
        });
      }
  const means = first.map((sum) => sum / total);
  return { means, sds: second.map((sum, i) => Math.sqrt(sum / total - (means[i] as number) ** 2)) };
}

const posterior = poolGroups(
  {
    groups: GROUPS.map(([location, logSize, logScale, logShape, aa, ab, bb]) => ({
      location,
      logSize,
      surface: {
        logLikelihood: (shape: number, scale: number) => {
          const [x, y] = [scale - logScale, shape - logShape];
          return -(aa * x * x + 2 * ab * x * y + bb * y * y) / 2;
        },
        bestLogRate: (shape: number) => -Math.exp(shape) * logScale,
      },
    })),
    locations: PARENTS.map((parent) => ({ parent, centre: CENTRE })),
  },
  { seed: 1, draws: 400, sweeps: 20_000, priors: PRIORS },
);
const { shared } = posterior;
const columns: [name: string, column: Float64Array][] = [
  ...shared.locations.map((column, j): [string, Float64Array] => [`place ${j}`, column]),
  ['size', shared.size],
  ['common shape', shared.shapeCentre],
  ...GROUPS.flatMap((_, g): [string, Float64Array][] => [
    [`log scale ${g}`, posterior.logScale[g] as Float64Array],
    [`log shape ${g}`, posterior.logShape[g] as Float64Array],
  ]),
  ['spread of scales', shared.betweenScale],
  ['spread of duties', shared.betweenDuty],
  ['spread of shapes', shared.betweenShape],
];

function meanAndError(column: Float64Array): { mean: number; error: number } {
  const mean = column.reduce((sum, x) => sum + x, 0) / column.length;
  const variance = column.reduce((sum, x) => sum + (x - mean) ** 2, 0) / column.length;
  const half = column.length / 2;
  return {
    mean,
    error: Math.sqrt(variance / effectiveSize([column.subarray(0, half), column.subarray(half)])),
  };
}

describe('groups with normal likelihoods', () => {
  const exact = quadrature(24);

  it.each(columns.map(([name, column], i) => ({ name, column, i })))('$name', ({ column, i }) => {
    const [expected, sd] = [exact.means[i] as number, exact.sds[i] as number];
    const { mean, error } = meanAndError(column);
    expect(Math.abs(mean - expected)).toBeLessThan(4 * error);
    const squares = meanAndError(column.map((x) => (x - expected) ** 2));
    expect(Math.abs(squares.mean - sd ** 2)).toBeLessThan(4 * squares.error);
  });

  it('the quadrature has converged', () => {
    const coarse = quadrature(16);
    exact.means.forEach((mean, i) => {
      expect(Math.abs(mean - (coarse.means[i] as number))).toBeLessThan(0.003 * (exact.sds[i] as number));
    });
  });
});
