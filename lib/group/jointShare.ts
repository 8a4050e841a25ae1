/**
 * The share of faulty fittings and the wear-out, known together. An early leak may be the one or the other, so that a
 * larger share means a steeper wear-out: bounds at one value of the share are too narrow, most of all where lives end by
 * chance. The pool is sampled at one share, p0. At another, p, the log-likelihood of its groups is higher by D(p, theta);
 * with the pooled posterior near normal (covariance V over all groups of the material) the groups move to the top of
 *
 *     D(p, m + d) - d' V^-1 d / 2,   that is where   d = V grad D(p, m + d),
 *
 * and the value there is the log-likelihood of the share with the wear-out integrated over (Laplace approximation;
 * Tierney & Kadane 1986, from memory). Where few leaks are known the posterior is far from normal: V is wide because nothing
 * holds the wear-out on one side, while on the other a short scale expects leaks that did not come. A move therefore costs at
 * least what the groups' own log-likelihood falls below its tangent at m, as their prior is concave. With the normal alone, a
 * plant of many early leaks and few others could be read as one without faulty fittings that wears out by chance.
 */
import type { WearSurface } from '../life/estimate/weibull/wearSurface.js';
import { at, columnOf, floatAt, itemAt } from '../numeric/columns.js';
import { type EarlyLaw, type FaultRow, LOG_SHARE_RANGE } from './fittingFaults.js';

/** One group: its lives as fault rows (wear hazard left out), its repeats, and the pool's draws of its wear-out at p0. */
export interface ShareGroup {
  rows: readonly FaultRow[];
  /** Its log-likelihood is divided by this. */
  inflation: number;
  logShape: Float64Array;
  logScale: Float64Array;
  /** Its log-likelihood at p0, divided by its inflation. */
  surface: Pick<WearSurface, 'logLikelihood'> | null;
}

/** What the lives of one material say of its share, and where each group's wear-out goes with it. */
export interface JointShare {
  /** Log-likelihood of a log share, but for a constant, the wear-out integrated over. */
  logLikelihood(logShare: number): number;
  /** The draws of group g, each moved to where it goes at the log share of the same place. */
  follow(g: number, logShare: Float64Array): { logShape: Float64Array; logScale: Float64Array };
}

/** Shares between which the rest is drawn in straight lines on the log scale. */
const NODES = 25;
const ROUNDS = 6;
/** Shares of the way to where a round points that are tried. */
const WAYS = [0.5, 0.2, 0.08];
/** Half width of the differences for the gradient, on log scales. */
const STEP = 0.01;
/** Draws behind the covariance. */
const MOST_DRAWS = 1500;
/** No group moves by more than so many posterior standard deviations: the normal shape is trusted no further. */
const FARTHEST = 4;

/** Looks at shares round `share`, at which the groups were sampled. `shown`: see fittingFaults.ts. */
export function jointShare(
  groups: readonly ShareGroup[],
  law: EarlyLaw,
  share: number,
  shown: number,
): JointShare {
  const posterior = momentsOf(groups);
  const gains = groups.map((group) => gainOf(group, law, shown, share));
  const step = (LOG_SHARE_RANGE[1] - LOG_SHARE_RANGE[0]) / (NODES - 1);
  const middle = Math.min(Math.max(Math.round((Math.log(share) - LOG_SHARE_RANGE[0]) / step), 0), NODES - 1);
  const nodes: Place[] = [];
  // From p0 outwards, so that every node starts where its neighbour ended.
  for (const way of [1, -1]) {
    let from: Float64Array = new Float64Array(posterior.mean.length);
    for (let i = middle; i >= 0 && i < NODES; i += way) {
      const place = placeAt(Math.exp(LOG_SHARE_RANGE[0] + i * step), gains, posterior, from);
      nodes[i] = place;
      from = place.pull;
    }
  }
  const between = (logShare: number, of: (place: Place) => number): number => {
    const x = Math.min(Math.max((logShare - LOG_SHARE_RANGE[0]) / step, 0), NODES - 1);
    const i = Math.min(Math.floor(x), NODES - 2);
    const [low, high] = [of(itemAt(nodes, i)), of(itemAt(nodes, i + 1))];
    return low + (x - i) * (high - low);
  };
  return {
    logLikelihood: (logShare) => between(logShare, ({ value }) => value),
    follow: (g, logShares) => {
      const { logShape, logScale } = itemAt(groups, g);
      const moved = (column: Float64Array, which: number): Float64Array =>
        column.map(
          (value, i) => value + between(floatAt(logShares, i), ({ shift }) => floatAt(shift, which)),
        );
      return { logShape: moved(logShape, 2 * g), logScale: moved(logScale, 2 * g + 1) };
    },
  };
}

/** The pooled posterior: log shape and log scale of each group in turn. */
interface Posterior {
  mean: Float64Array;
  covariance: readonly Float64Array[];
  /** By how much the groups' log-likelihood at mean + shift lies below its tangent at the mean. */
  fall(shift: Float64Array): number;
}

/** Where the groups go at one share: `shift` is the covariance times `pull`. */
interface Place {
  value: number;
  shift: Float64Array;
  pull: Float64Array;
}

/** Gain of a group's log-likelihood at a share and a place, over that at p0 and the same place. */
type Gain = (share: number, logShape: number, logScale: number) => number;

/** Goes towards pull = grad D as far as it gains, and keeps the best place seen: to stay put is one of them. */
function placeAt(share: number, gains: readonly Gain[], posterior: Posterior, from: Float64Array): Place {
  let best = valued(share, gains, posterior, new Float64Array(from.length));
  const start = valued(share, gains, posterior, from);
  if (start.value > best.value) best = start;
  for (let round = 0; round < ROUNDS; round++) {
    const slope = gradientAt(share, gains, posterior, best.shift);
    const { pull } = best;
    const before = best.value;
    for (const way of WAYS) {
      const tried = slope.map((value, i) => way * value + (1 - way) * floatAt(pull, i));
      const place = valued(share, gains, posterior, bounded(tried, posterior));
      if (place.value > best.value) best = place;
      if (best.value > before) break;
    }
    if (best.value === before) return best;
  }
  return best;
}

function valued(share: number, gains: readonly Gain[], posterior: Posterior, pull: Float64Array): Place {
  const shift = times(posterior.covariance, pull);
  let gained = 0;
  let normal = 0;
  gains.forEach((gain, g) => {
    const [shape, scale] = [2 * g, 2 * g + 1];
    gained += gain(
      share,
      floatAt(posterior.mean, shape) + floatAt(shift, shape),
      floatAt(posterior.mean, scale) + floatAt(shift, scale),
    );
    normal +=
      (floatAt(shift, shape) * floatAt(pull, shape) + floatAt(shift, scale) * floatAt(pull, scale)) / 2;
  });
  return { value: gained - Math.max(normal, posterior.fall(shift)), shift, pull };
}

function gradientAt(
  share: number,
  gains: readonly Gain[],
  { mean }: Posterior,
  shift: Float64Array,
): Float64Array {
  const slope = new Float64Array(mean.length);
  gains.forEach((gain, g) => {
    const logShape = floatAt(mean, 2 * g) + floatAt(shift, 2 * g);
    const logScale = floatAt(mean, 2 * g + 1) + floatAt(shift, 2 * g + 1);
    slope[2 * g] =
      (gain(share, logShape + STEP, logScale) - gain(share, logShape - STEP, logScale)) / (2 * STEP);
    slope[2 * g + 1] =
      (gain(share, logShape, logScale + STEP) - gain(share, logShape, logScale - STEP)) / (2 * STEP);
  });
  return slope;
}

/** Shortens a pull that would take any group too far for the normal shape to be trusted. */
function bounded(pull: Float64Array, { covariance }: Posterior): Float64Array {
  const shift = times(covariance, pull);
  let farthest = 0;
  shift.forEach((value, i) => {
    const variance = floatAt(itemAt(covariance, i), i);
    if (variance > 0) farthest = Math.max(farthest, Math.abs(value) / Math.sqrt(variance));
  });
  return farthest <= FARTHEST ? pull : pull.map((value) => (value * FARTHEST) / farthest);
}

function times(matrix: readonly Float64Array[], vector: Float64Array): Float64Array {
  const product = new Float64Array(matrix.length);
  for (let i = 0; i < product.length; i++) product[i] = dot(itemAt(matrix, i), vector);
  return product;
}

function momentsOf(groups: readonly ShareGroup[]): Posterior {
  const columns = groups.flatMap(({ logShape, logScale }) => [thinned(logShape), thinned(logScale)]);
  const mean = columnOf(columns, (column) => column.reduce((sum, value) => sum + value, 0) / column.length);
  const centred = columns.map((column, i) => column.map((value) => value - floatAt(mean, i)));
  return { mean, covariance: covarianceOf(centred), fall: fallOf(groups, mean) };
}

function covarianceOf(centred: readonly Float64Array[]): Float64Array[] {
  const covariance = centred.map(() => new Float64Array(centred.length));
  centred.forEach((a, i) => {
    for (let j = 0; j <= i; j++) {
      const value = dot(a, itemAt(centred, j)) / (a.length - 1);
      itemAt(covariance, i)[j] = value;
      itemAt(covariance, j)[i] = value;
    }
  });
  return covariance;
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += floatAt(a, k) * floatAt(b, k);
  return sum;
}

/** Fall of the groups' log-likelihood below its tangent at a place, by how far they are moved from there. */
function fallOf(groups: readonly ShareGroup[], from: Float64Array): (shift: Float64Array) => number {
  const tangents = groups.map(({ surface }, g) => {
    const [logShape, logScale] = [floatAt(from, 2 * g), floatAt(from, 2 * g + 1)];
    const value = (shape: number, scale: number): number =>
      surface?.logLikelihood(logShape + shape, logScale + scale) ?? 0;
    const [byShape, byScale] = [value(STEP, 0) - value(-STEP, 0), value(0, STEP) - value(0, -STEP)];
    const [slope, rise, top] = [byShape / (2 * STEP), byScale / (2 * STEP), value(0, 0)];
    return (shape: number, scale: number): number => top + slope * shape + rise * scale - value(shape, scale);
  });
  return (shift) =>
    tangents.reduce((sum, below, g) => sum + below(floatAt(shift, 2 * g), floatAt(shift, 2 * g + 1)), 0);
}

function thinned(column: Float64Array): Float64Array {
  const used = Math.min(column.length, MOST_DRAWS);
  return Float64Array.from({ length: used }, (_, i) =>
    floatAt(column, Math.floor((i * column.length) / used)),
  );
}

/** Sound lives tell of the share alone; leaks of the share and the wear-out. */
function gainOf({ rows, inflation }: ShareGroup, law: EarlyLaw, shown: number, share: number): Gain {
  const early = (age: number): number => -Math.expm1(-((age / law.scale) ** law.shape));
  const soundAt = (p: number): number => {
    let sum = 0;
    for (const { sound, leakedBy, entry, count } of rows) {
      if (leakedBy === Infinity) sum += count * Math.log1p(-p * early(sound));
      if (entry > 0) sum -= count * Math.log1p(-p * early(entry));
    }
    return sum;
  };
  const leaks = rows.filter(({ leakedBy }) => leakedBy !== Infinity);
  const logSound = columnOf(leaks, ({ sound, worn }) => Math.log(worn?.[0] ?? sound));
  const logLeaked = columnOf(leaks, ({ leakedBy, worn }) => Math.log(worn?.[1] ?? leakedBy));
  const before = columnOf(leaks, ({ sound }) => early(sound));
  const within = columnOf(leaks, ({ sound, leakedBy }) => early(leakedBy) - early(sound));
  const known = Uint8Array.from(leaks, (row) => (row.known ? 1 : 0));
  const counts = columnOf(leaks, ({ count }) => count);
  const base = soundAt(share);
  const soundOf = remembered(soundAt);
  return (p, logShape, logScale) => {
    const shape = Math.exp(logShape);
    let sum = soundOf(p) - base;
    for (let i = 0; i < counts.length; i++) {
      const hazard =
        Math.exp(shape * (floatAt(logLeaked, i) - logScale)) -
        Math.exp(shape * (floatAt(logSound, i) - logScale));
      const kept = Math.exp(-hazard);
      const fault = floatAt(within, i) * kept * (at(known, i) === 1 ? shown : 1 - shown);
      const worn = at(known, i) === 1 ? 0 : -Math.expm1(-hazard);
      // Its chance at a share q is (1 - q before) worn + q fault.
      const rise = fault - floatAt(before, i) * worn;
      sum += floatAt(counts, i) * Math.log((worn + p * rise) / (worn + share * rise));
    }
    return sum / inflation;
  };
}

/** The last value of a function, kept: a node asks for one share many times. */
function remembered(of: (x: number) => number): (x: number) => number {
  let last = Number.NaN;
  let value = 0;
  return (x) => {
    if (x !== last) [last, value] = [x, of(x)];
    return value;
  };
}
