/**
 * Which pairs of shape and scale the lives allow together: all whose best log likelihood, over whatever else was estimated, lies within half a
 * chi-square quantile with 2 degrees of freedom of the top (relative likelihood; Meeker & Escobar 1998, ch. 8.3; Lawless 2003, ch. 5,
 * from memory). With few failures the region is curved like a banana: a shape and a scale are not free of each other.
 */
import { UsageError } from '../../errors.js';
import type { Warning } from '../../findings.js';
import { at } from '../../numeric/columns.js';
import { cholesky } from '../../numeric/matrix.js';
import { minimiseOnInterval } from '../../numeric/minimise.js';
import { chiSquareCdf } from '../../numeric/special.js';
import { type Place, type TracedContour, traceContour } from '../../numeric/traceContour.js';
import { hasClusters } from '../sample.js';
import { clusterInflation } from './bounds/robust.js';
import { type Coordinates, type Space, spaceOf } from './coordinates.js';
import type { LifeFit } from './fitTypes.js';

export interface LikelihoodRegionOptions {
  /** Chances with which a region is to hold the true pair; 0.5 and 0.9 by default. */
  levels?: readonly number[];
  /** Wider where positions have several lives and resemble each other; true by default, as `lifeBounds`. */
  robust?: boolean;
}

export interface LikelihoodContour {
  level: number;
  /** Likelihood on the contour as a share of the largest one. */
  relativeLikelihood: number;
  /** Level of the two-sided bounds of one parameter alone (`lifeBounds`, likelihood) whose ends are those of the contour. */
  oneParameterLevel: number;
  /** The contour, anticlockwise with shape to the right and scale up, the first pair again at the end. Scale in the unit of the ages. */
  shape: number[];
  scale: number[];
  shapeRange: [number, number];
  scaleRange: [number, number];
}

export interface LikelihoodRegion {
  shape: number;
  scale: number;
  /** Share of faulty fittings at the best pair, where it was estimated too; else null. */
  share: number | null;
  failures: number;
  lives: number;
  /** By how much the drop of the log likelihood is stretched because lives of one position are alike; 1 where they are not. */
  inflation: number;
  /** One for each level, in the order asked for. */
  contours: LikelihoodContour[];
  warnings: Warning[];
}

/** Failures under which the level of a region is not to be trusted. */
const FEW_FAILURES = 5;

/**
 * The likelihood regions of shape and scale of a fitted Weibull (with or without faulty fittings, whose share is found anew for
 * each pair), log-logistic or gamma. A prior of the fit is part of the likelihood.
 * @throws UsageError for other laws, a fixed shape, an estimated failure-free time, levels outside 0 to 1, and a region without end
 */
export function likelihoodRegion(fit: LifeFit, options: LikelihoodRegionOptions = {}): LikelihoodRegion {
  const { levels = [0.5, 0.9], robust = true } = options;
  requireServed(fit, levels);
  const inflation = robust && hasClusters(fit.sample) ? Math.max(1, clusterInflation(fit)) : 1;
  const surface = surfaceOf(fit);
  const { model } = fit;
  const fault = model.kind === 'weibull' ? model.fault : undefined;
  const few = fit.failures < FEW_FAILURES;
  return {
    ...surface.top,
    share: surface.hasShare ? (fault?.share ?? null) : null,
    failures: fit.failures,
    lives: fit.lives,
    inflation,
    contours: levels.map((level) => contourAt(surface, level, inflation)),
    warnings: [...fit.warnings, ...(few ? [FEW] : [])],
  };
}

const FEW: Warning = {
  code: 'region-few-failures',
  text: `With fewer than ${FEW_FAILURES} failures the regions hold the true pair less often than they say.`,
  todo: 'Read them as the least that is not known, and plan on what groups alike say too.',
};

const SERVED: readonly string[] = ['weibull', 'loglogistic', 'gamma'];

function requireServed({ kind, parameters }: LifeFit, levels: readonly number[]): void {
  if (!SERVED.includes(kind)) {
    throw new UsageError(
      'likelihoodRegion',
      'the law must have a shape and a scale: weibull, loglogistic or gamma.',
      kind,
    );
  }
  const names = parameters.map(({ name }) => name);
  if (!names.includes('logShape') || !names.includes('logScale')) {
    throw new UsageError(
      'likelihoodRegion',
      'shape and scale must both have been estimated.',
      names.join(', '),
    );
  }
  if (names.includes('failureFree')) {
    throw new UsageError(
      'likelihoodRegion',
      'a failure-free time that was estimated has no place in a region of two parameters.',
    );
  }
  for (const level of levels) {
    if (!(level > 0 && level < 1))
      throw new UsageError('likelihoodRegion', 'levels must be between 0 and 1.', level);
  }
}

/** The log likelihood over two axes on which it falls alike on all sides near the top, which is at (0, 0). */
interface Surface {
  top: { shape: number; scale: number };
  hasShare: boolean;
  value: (x: number, y: number) => number;
  slope: (x: number, y: number) => Place;
  highest: number;
  place: (x: number, y: number) => Pick<Coordinates, 'b' | 'e'>;
}

const APART = 1e-3;

/**
 * The axes are log shape and the log of an age by which about as many have failed as did among the lives: these two hang together
 * little, where log scale runs off with 1 / shape.
 */
function surfaceOf(fit: LifeFit): Surface {
  const space = spaceOf(fit);
  const { at: top } = space;
  const lead = leadOf(fit);
  const [bb, qb, qq] = whitening(fit, lead * Math.exp(-top.b));
  const place = (x: number, y: number) => {
    const b = top.b + bb * x;
    return { b, e: top.e + qb * x + qq * y + lead * (Math.exp(-top.b) - Math.exp(-b)) };
  };
  const share = space.thirdMoves ? bestShare(space, shareError(fit)) : (): number => top.s;
  const target = (x: number, y: number, s: number): number => {
    const value = space.target({ ...place(x, y), s });
    return Number.isNaN(value) ? Number.NEGATIVE_INFINITY : value;
  };
  const value = (x: number, y: number): number => target(x, y, share(place(x, y)));
  // At the best share the slope along it is 0, so it may be held while the others are differenced.
  const slope = (x: number, y: number): Place => {
    const s = share(place(x, y));
    return [
      (target(x + APART, y, s) - target(x - APART, y, s)) / (2 * APART),
      (target(x, y + APART, s) - target(x, y - APART, s)) / (2 * APART),
    ];
  };
  const best = { shape: Math.exp(top.b), scale: Math.exp(top.e) };
  return { top: best, hasShare: space.thirdMoves, value, slope, highest: value(0, 0), place };
}

/** Log age by which a share p has failed, less log scale, times shape: log(-log(1 - p)) of a Weibull. */
function leadOf({ kind, failures, lives }: LifeFit): number {
  const share = Math.min(Math.max(failures / lives, 1e-9), 0.63);
  if (kind === 'weibull') return Math.log(-Math.log1p(-share));
  return kind === 'loglogistic' ? Math.log(share / (1 - share)) : 0;
}

/** Cholesky factor of the covariance of log shape and log age: [bb, qb, qq]. A shape more by 1 on the log takes `turn` off the log age. */
function whitening({ parameters, covariance }: LifeFit, turn: number): [number, number, number] {
  const size = parameters.length;
  const names = parameters.map(({ name }) => name);
  const [b, e] = [names.indexOf('logShape'), names.indexOf('logScale')];
  const of = (i: number, j: number): number => at(covariance, i * size + j);
  const both = of(b, e) - turn * of(b, b);
  const age = of(e, e) - 2 * turn * of(b, e) + turn * turn * of(b, b);
  const factor = Number.isFinite(age) ? cholesky([of(b, b), both, both, age], 2) : null;
  if (factor === null) {
    throw new UsageError(
      'likelihoodRegion',
      'the fit has no covariance: the likelihood is level along some parameter.',
    );
  }
  return [at(factor, 0), at(factor, 2), at(factor, 3)];
}

function shareError({ parameters }: LifeFit): number {
  return Math.min(1, parameters.find(({ name }) => name === 'logShare')?.standardError ?? 1);
}

/** Shares are searched between this and 1, on the log axis. */
const LEAST_LOG_SHARE = Math.log(1e-7);
/** A step shorter than this, standard errors, ends so near the top that the likelihood is off by 1e-8 at most. */
const CLOSE = 0.01;
/** Distance of the differences, standard errors. */
const SHARES_APART = 0.02;

/** Log share that suits shape and scale best: parabolas from the last one, and a search of all where they lead nowhere. */
function bestShare(space: Space, unit: number): (point: { b: number; e: number }) => number {
  let last = space.at.s;
  let of = { b: Number.NaN, e: Number.NaN };
  return ({ b, e }) => {
    if (of.b === b && of.e === e) return last;
    of = { b, e };
    const cost = (s: number): number => {
      const value = space.target({ b, e, s });
      return Number.isFinite(value) ? -value : Infinity;
    };
    last = byParabolas(cost, last, unit) ?? searched(cost);
    return last;
  };
}

function byParabolas(cost: (s: number) => number, from: number, unit: number): number | null {
  const apart = SHARES_APART * unit;
  for (let turn = 0, s = from; turn < 10; turn++) {
    const [low, middle, high] = [cost(s - apart), cost(s), cost(s + apart)];
    const bend = low - 2 * middle + high;
    const shift = (0.5 * apart * (low - high)) / bend;
    if (!(bend > 0) || !(Math.abs(shift) < 4 * unit)) return null;
    s += shift;
    if (Math.abs(shift) < CLOSE * unit) return s;
  }
  return null;
}

function searched(cost: (s: number) => number): number {
  const steps = 30;
  const grid = Array.from({ length: steps + 1 }, (_, i) => LEAST_LOG_SHARE * (1 - i / steps));
  const values = grid.map(cost);
  const best = values.indexOf(Math.min(...values));
  const [low, high] = [at(grid, Math.max(0, best - 1)), at(grid, Math.min(steps, best + 1))];
  return minimiseOnInterval(cost, low, high, { relative: 1e-9 }).at;
}

/** Chi-square with 2 degrees of freedom has the quantile -2 log(1 - level). */
function contourAt(surface: Surface, level: number, inflation: number): LikelihoodContour {
  const half = -Math.log1p(-level);
  const drop = half * inflation;
  const { value, slope, highest, place } = surface;
  const traced = traceContour(value, highest - drop, Math.sqrt(2 * drop), slope);
  requireClosed(traced, level);
  const pairs = traced.places.map(([x, y]) => place(x, y));
  const end = (axis: 'b' | 'e', sign: 1 | -1): number =>
    Math.exp(sign * traced.furthest((x, y) => sign * place(x, y)[axis]));
  return {
    level,
    relativeLikelihood: Math.exp(-drop),
    oneParameterLevel: chiSquareCdf(2 * half, 1),
    shape: pairs.map(({ b }) => Math.exp(b)),
    scale: pairs.map(({ e }) => Math.exp(e)),
    shapeRange: [end('b', -1), end('b', 1)],
    scaleRange: [end('e', -1), end('e', 1)],
  };
}

function requireClosed({ closed, reason }: TracedContour, level: number): void {
  if (closed) return;
  const rule = `the region has no end (${reason}): ask for a lower level, or give the fit a prior.`;
  throw new UsageError('likelihoodRegion', rule, level);
}
