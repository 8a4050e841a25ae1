/**
 * One group alone against its exact posterior by a grid over share, shape and scale together: the sampler must give the
 * same marginals, with the share and the wear-out drawn together (jointShare.ts).
 */
import { describe, expect, it } from 'vitest';
import type { Fleet } from '../../lib/fleet/types.js';
import { groupFleet } from '../../lib/group/groupFleet.js';
import { prepareWeibull } from '../../lib/life/estimate/weibull/weibullLikelihood.js';
import { type GroupTruth, simulatedPlant } from './plant.js';

interface Case {
  name: string;
  fleet: Fleet;
  /** Axes of the grid on log scales: low, high, nodes. */
  shape: [number, number, number];
  scale: [number, number, number];
  share: [number, number, number];
  /** Largest error of a quantile, as a share of it: of shape and scale, and of the share of faulty fittings. */
  tolerance: [number, number];
}

/** Sixty positions of one group, with nothing lost from the records. */
function plantOf(law: Pick<GroupTruth, 'shape' | 'scale' | 'scheduled'>, faultShare: number): Fleet {
  return simulatedPlant(
    {
      groups: [{ material: 'EPDM', size: 25, positions: 60, ...law }],
      years: 8,
      faultShare: () => faultShare,
      fault: { shape: 0.7, scale: 20 },
      openingsPerYear: 0.08,
      reasonLost: 0,
      before: 0,
    },
    21,
  );
}

const CASES: Case[] = [
  {
    name: 'that wears out beside faulty fittings',
    fleet: plantOf({ shape: 2.5, scale: 900, scheduled: 500 }, 0.04),
    shape: [Math.log(1.2), Math.log(5), 41],
    scale: [Math.log(600), Math.log(1800), 51],
    share: [Math.log(0.008), Math.log(0.14), 31],
    tolerance: [0.03, 0.06],
  },
  {
    // An early leak may be by chance or a faulty fitting: a larger share goes with a steeper wear-out.
    name: 'that leaks by chance',
    fleet: plantOf({ shape: 1, scale: 1200, scheduled: 365 }, 0),
    shape: [Math.log(0.6), Math.log(3), 41],
    scale: [Math.log(600), Math.log(3000), 41],
    share: [Math.log(1e-5), Math.log(0.3), 61],
    // The wear-out is integrated over by Laplace’s approximation.
    tolerance: [0.03, 0.2],
  },
];

/** Density of log shape before the data: N(log 2, 0.5²) widened by N(0, w²), w half-normal(0.3). */
function shapePrior(logShape: number): number {
  let total = 0;
  for (let i = 0; i < 60; i++) {
    const w = 0.01 + i * 0.025;
    const variance = 0.25 + w * w;
    total += Math.exp(-(w * w) / 0.18 - (logShape - Math.log(2)) ** 2 / (2 * variance)) / Math.sqrt(variance);
  }
  return total;
}

interface Axis {
  value: number[];
  mass: number[];
}

function axis(low: number, high: number, nodes: number): Axis {
  return {
    value: Array.from({ length: nodes }, (_, i) => low + ((high - low) * i) / (nodes - 1)),
    mass: new Array<number>(nodes).fill(0),
  };
}

function quantile({ value, mass }: Axis, p: number): number {
  const total = mass.reduce((sum, m) => sum + m, 0);
  const step = (value[1] as number) - (value[0] as number);
  let below = 0;
  for (let i = 0; i < value.length; i++) {
    const m = (mass[i] as number) / total;
    if (below + m >= p) return (value[i] as number) + step * ((p - below) / m - 0.5);
    below += m;
  }
  return Number.NaN;
}

describe('one group', () => {
  it.each(CASES)('$name has the marginals of the exact three-parameter posterior', (one) => {
    const { fleet, tolerance } = one;
    const grouped = groupFleet(fleet, { seed: 2, draws: 2000 });
    const group = grouped.groups[0];
    if (group === undefined) throw new Error('no group');
    expect(group.earlyLeaks).toBeGreaterThanOrEqual(5);
    const shape = axis(...one.shape);
    const scale = axis(...one.scale);
    const share = axis(...one.share);
    const { faultShape, faultScale } = group.draws;
    const cube: { i: number; j: number; k: number; whole: number; flat: number }[] = [];
    share.value.forEach((logShare, k) => {
      const likelihood = prepareWeibull(group.sample, {
        share: Math.exp(logShare),
        shape: faultShape,
        scale: faultScale,
      });
      shape.value.forEach((logShape, i) => {
        const prior = Math.log(shapePrior(logShape)) + logShare / 2;
        scale.value.forEach((logScale, j) => {
          const log = likelihood(Math.exp(logShape), Math.exp(logScale));
          cube.push({ i, j, k, whole: log + prior, flat: log / group.inflation + prior });
        });
      });
    });
    // Repeats of positions flatten what the lives say of wear-out; faults strike each fitting anew and are not flattened.
    const topFlat = cube.reduce((most, { flat }) => Math.max(most, flat), Number.NEGATIVE_INFINITY);
    const topWhole = cube.reduce((most, { whole }) => Math.max(most, whole), Number.NEGATIVE_INFINITY);
    for (const { i, j, k, whole, flat } of cube) {
      (shape.mass[i] as number) += Math.exp(flat - topFlat);
      (scale.mass[j] as number) += Math.exp(flat - topFlat);
      (share.mass[k] as number) += Math.exp(whole - topWhole);
    }
    const pairs: [Axis, Float64Array, number][] = [
      [shape, group.draws.shape, tolerance[0]],
      [scale, group.draws.scale, tolerance[0]],
      [share, group.draws.share, tolerance[1]],
    ];
    for (const [exact, draws, most] of pairs) {
      const sorted = Float64Array.from(draws).sort();
      for (const p of [0.05, 0.5, 0.95]) {
        const ours = sorted[Math.floor(p * sorted.length)] as number;
        expect(Math.abs(ours / Math.exp(quantile(exact, p)) - 1), `quantile ${p}`).toBeLessThan(most);
      }
    }
  });
});
