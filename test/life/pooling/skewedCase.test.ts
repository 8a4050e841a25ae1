/**
 * Two groups far from normal: one that never leaked, so that its log scale has no end but that of the prior, and one
 * with two leaks. Place and common shape are integrated out by formula, the spreads on a grid; what is left is a table
 * over both log scales and both log shapes, which factors into what ties the scales, what ties the shapes and the likelihoods.
 */
import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import { describe, expect, it } from 'vitest';
import { effectiveSize } from '../../../lib/life/estimate/pooling/quality.js';
import { poolGroups } from '../../../lib/life/estimate/pooling.js';

const PRIORS = {
  materialHalfWidth: 2,
  betweenScale: 0.5,
  shapeCentre: [0.7, 0.5],
  betweenShape: 0.3,
} as const;
const CENTRE = 6.8;
/** Ages at which lives ended, days: leaks, and lives that were ended sound. */
const LIVES = [
  { leaks: [], sound: [300, 300, 300, 500, 700] },
  { leaks: [250, 420], sound: [100, 400, 400, 500] },
];

function logLikelihood(g: number, logShape: number, logScale: number): number {
  const { leaks, sound } = LIVES[g] as { leaks: number[]; sound: number[] };
  const shape = Math.exp(logShape);
  const hazard = (t: number): number => Math.exp(shape * (Math.log(t) - logScale));
  const survived = [...leaks, ...sound].reduce((total, t) => total - hazard(t), 0);
  return leaks.reduce((total, t) => total + logShape + Math.log(hazard(t)), survived);
}

interface Grid {
  low: number;
  step: number;
  count: number;
}
const SCALES: Grid = { low: CENTRE - 3.5, step: 0.05, count: 150 };
const SHAPES: Grid = { low: -1.5, step: 0.05, count: 88 };
const at = ({ low, step }: Grid, i: number): number => low + (i + 0.5) * step;

/**
 * Density of two groups' places with one centre integrated out: their difference has variance 2 spread^2, their mean
 * the density `ofMean`. Averaged over the cells of the difference, as it peaks where the spread is small.
 */
function tie(
  grid: Grid,
  prior: number,
  ofMean: (mean: number, spread: number) => number,
): { density: number[]; spread: number[] } {
  const { step, count } = grid;
  const density = new Array<number>(count * count).fill(0);
  const spreadTimes = new Array<number>(count * count).fill(0);
  const nodes = 200;
  for (let k = 0; k < nodes; k++) {
    const spread = (prior * 4.5 * (k + 0.5)) / nodes;
    const weight = Math.exp(-((spread / prior) ** 2) / 2);
    const width = spread * Math.SQRT2;
    const ofDifference = Array.from(
      { length: count },
      (_, d) => normalCdf((d + 0.5) * step, 0, width) - normalCdf((d - 0.5) * step, 0, width),
    );
    const means = Array.from({ length: 2 * count }, (_, sum) =>
      ofMean(grid.low + (sum / 2 + 0.5) * step, spread),
    );
    for (let i = 0; i < count; i++)
      for (let j = 0; j < count; j++) {
        const value = weight * (ofDifference[Math.abs(i - j)] as number) * (means[i + j] as number);
        density[i * count + j] = (density[i * count + j] as number) + value;
        spreadTimes[i * count + j] = (spreadTimes[i * count + j] as number) + value * spread;
      }
  }
  return { density, spread: spreadTimes };
}

const scaleTie = tie(SCALES, PRIORS.betweenScale, (mean, spread) => {
  const half = PRIORS.materialHalfWidth;
  const sd = spread / Math.SQRT2;
  return normalCdf(mean, CENTRE - half, sd) - normalCdf(mean, CENTRE + half, sd);
});
const shapeTie = tie(SHAPES, PRIORS.betweenShape, (mean, spread) => {
  const variance = PRIORS.shapeCentre[1] ** 2 + spread ** 2 / 2;
  return Math.exp(-((mean - PRIORS.shapeCentre[0]) ** 2) / (2 * variance)) / Math.sqrt(variance);
});

/** Sum over the four-way table of one tie of scales and one of shapes, each place weighted by `f` of group 0 and 1. */
function sumOver(
  scales: number[],
  shapes: number[],
  f: (g: number, logScale: number, logShape: number) => number,
): number {
  const a = SCALES.count;
  const b = SHAPES.count;
  const weight = [0, 1].map((g) =>
    Array.from({ length: a * b }, (_, k) => {
      const [scale, shape] = [at(SCALES, Math.floor(k / b)), at(SHAPES, k % b)];
      return Math.exp(logLikelihood(g, shape, scale)) * f(g, scale, shape);
    }),
  ) as [number[], number[]];
  let total = 0;
  const ofScale = new Array<number>(a);
  for (let b0 = 0; b0 < b; b0++) {
    for (let a1 = 0; a1 < a; a1++) {
      let sum = 0;
      for (let b1 = 0; b1 < b; b1++)
        sum += (weight[1][a1 * b + b1] as number) * (shapes[b0 * b + b1] as number);
      ofScale[a1] = sum;
    }
    for (let a0 = 0; a0 < a; a0++) {
      let sum = 0;
      for (let a1 = 0; a1 < a; a1++) sum += (scales[a0 * a + a1] as number) * (ofScale[a1] as number);
      total += (weight[0][a0 * b + b0] as number) * sum;
    }
  }
  return total;
}

const one = (): number => 1;
const all = sumOver(scaleTie.density, shapeTie.density, one);
const meanOf = (f: (g: number, logScale: number, logShape: number) => number): number =>
  sumOver(scaleTie.density, shapeTie.density, f) / all;
const only =
  (group: number, f: (logScale: number, logShape: number) => number) =>
  (g: number, a: number, b: number): number =>
    g === group ? f(a, b) : 1;

const posterior = poolGroups(
  {
    groups: [0, 1].map((g) => ({
      location: 0,
      logSize: 0,
      surface: {
        logLikelihood: (logShape: number, logScale: number) => logLikelihood(g, logShape, logScale),
        bestLogRate: (logShape: number) => -Math.exp(logShape) * 6.3,
      },
    })),
    locations: [{ parent: null, centre: CENTRE }],
  },
  { seed: 1, draws: 400, sizeEffect: false, sweeps: 20_000, priors: PRIORS },
);

/** Difference of a column's mean from what is expected, in Monte Carlo standard errors. */
function errorsOff(column: Float64Array, expected: number): number {
  const mean = column.reduce((sum, x) => sum + x, 0) / column.length;
  const variance = column.reduce((sum, x) => sum + (x - mean) ** 2, 0) / column.length;
  const half = column.length / 2;
  const size = effectiveSize([column.subarray(0, half), column.subarray(half)]);
  return Math.abs(mean - expected) / Math.sqrt(variance / size);
}

describe('one group without a leak and one with two', () => {
  it.each([0, 1])('group %i: means and squares of log scale and log shape, and how they go together', (g) => {
    const scale = posterior.logScale[g] as Float64Array;
    const shape = posterior.logShape[g] as Float64Array;
    expect(errorsOff(scale, meanOf(only(g, (a) => a)))).toBeLessThan(4);
    expect(errorsOff(shape, meanOf(only(g, (_, b) => b)))).toBeLessThan(4);
    const [a0, b0] = [meanOf(only(g, (a) => a)), meanOf(only(g, (_, b) => b))];
    expect(
      errorsOff(
        scale.map((a) => (a - a0) ** 2),
        meanOf(only(g, (a) => (a - a0) ** 2)),
      ),
    ).toBeLessThan(4);
    expect(
      errorsOff(
        shape.map((b) => (b - b0) ** 2),
        meanOf(only(g, (_, b) => (b - b0) ** 2)),
      ),
    ).toBeLessThan(4);
    const products = scale.map((a, i) => (a - a0) * ((shape[i] as number) - b0));
    expect(errorsOff(products, meanOf(only(g, (a, b) => (a - a0) * (b - b0))))).toBeLessThan(4);
  });

  it('the spreads', () => {
    const { betweenScale, betweenShape } = posterior.shared;
    expect(errorsOff(betweenScale, sumOver(scaleTie.spread, shapeTie.density, one) / all)).toBeLessThan(4);
    expect(errorsOff(betweenShape, sumOver(scaleTie.density, shapeTie.spread, one) / all)).toBeLessThan(4);
  });

  it('no sweep leaves the flat prior of the material', () => {
    const far = posterior.shared.locations[0]?.map((x) => Math.abs(x - CENTRE)) ?? [];
    expect(Math.max(...far)).toBeLessThanOrEqual(PRIORS.materialHalfWidth);
    expect(Math.max(...far)).toBeGreaterThan(0.95 * PRIORS.materialHalfWidth);
  });
});
