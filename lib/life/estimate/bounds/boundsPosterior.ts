/**
 * Bounds from the posterior, by quadrature on a grid: log shape has a normal prior (DEFAULT_SHAPE_PRIOR unless given), log
 * scale a flat one within 3 of its posterior mode (a factor of 20 either way). The grid runs over log shape and the log age by
 * which about the observed share has failed, which are nearly independent of each other where shape and scale are not.
 */
import { at, columnOf, floatAt, itemAt } from '../../../numeric/columns.js';
import { minimiseSimplex } from '../../../numeric/minimise.js';
import { findRoot } from '../../../numeric/roots.js';
import { normalQuantile } from '../../../numeric/special.js';
import type { FittedModel } from '../../model.js';
import { type Coordinates, type Space, spaceOf } from '../coordinates.js';
import type { LifeFit, ShapePrior } from '../fitTypes.js';
import type { FreeBounds, Tails } from './boundsTypes.js';
import { locationFor, type Quantity } from './quantity.js';

/** Half width of the flat prior of log scale. */
const FLAT_HALF_WIDTH = 3;
/** Shapes are cut so many prior standard deviations beyond its median or, where data outweigh it, beyond the mode. */
const PRIOR_SDS = 5;

export function posteriorBounds(
  fit: LifeFit,
  quantity: Quantity,
  tails: Tails,
  prior: ShapePrior,
): FreeBounds {
  const space = spaceOf(fit, fit.shapeFixed ? null : prior);
  const grids = shares(fit, space).map((s) => gridAt(fit, space, prior, s));
  const top = Math.max(...grids.map((grid) => grid.top));
  const weights = grids.map((grid) => Math.exp(grid.top - top) * grid.mass);
  const whole = weights.reduce((total, x) => total + x, 0);
  const chances = grids.map((grid) => chanceBelow(space, quantity, grid));
  const below = (free: number): number =>
    chances.reduce((total, chance, k) => total + (at(weights, k) / whole) * chance(free), 0);
  const start = quantity.free(space.model(itemAt(grids, 0).mode));
  const valueAt = (p: number): number => invert(below, p, start);
  return {
    low: tails.below === 0 ? -Infinity : valueAt(tails.below),
    high: tails.above === 0 ? Infinity : valueAt(1 - tails.above),
    middle: valueAt(0.5),
  };
}

interface Grid {
  mode: Coordinates;
  s: number;
  b: number[];
  y: number[];
  /** location = y - offset[i] at b[i]. */
  offset: number[];
  /** cumulative[i][j]: weight up to y[j] at b[i]; totals[i] is the whole of it. */
  cumulative: Float64Array[];
  totals: Float64Array;
  /** Weight of shapes up to b[i]. */
  byShape: Float64Array;
  /** Log target that weights are relative to. */
  top: number;
  /** Integral of all weights. */
  mass: number;
}

/** Log shares to integrate over: the one known, or seven within 3 standard errors. */
function shares(fit: LifeFit, space: Space): number[] {
  if (!space.thirdMoves) return [space.at.s];
  const se = fit.parameters.find(({ name }) => name === 'logShare')?.standardError ?? 0.5;
  return Array.from({ length: 7 }, (_, k) => Math.min(space.at.s + (k - 3) * se, -1e-9));
}

function gridAt(fit: LifeFit, space: Space, prior: ShapePrior, s: number): Grid {
  const share = Math.min(Math.max(fit.failures / fit.lives, 0.01), 0.632);
  const offsetAt = (b: number): number => offset(space.model(space.at).kind, share, b);
  const mode = modeOf(space, s);
  const [least, most] = spreadLimits(prior, mode);
  const inside = ({ b, e }: Coordinates): boolean =>
    Math.abs(e - mode.e) <= FLAT_HALF_WIDTH && (!space.spreadMoves || (b >= least && b <= most));
  const target = (b: number, y: number): number => {
    const point = { b, e: y - offsetAt(b), s };
    return inside(point) ? space.target(point) : Number.NEGATIVE_INFINITY;
  };
  const top = space.target(mode);
  const seOf = (names: string[]): number =>
    fit.parameters.find(({ name }) => names.includes(name))?.standardError ?? 0.5;
  const [b0, y0] = [mode.b, mode.e + offsetAt(mode.b)];
  const seB = Math.min(seOf(['logShape', 'logSigma']), prior.sdLog);
  const lowest = (b: number, y: number): boolean => target(b, y) > top - 18;
  const box = boxAround(lowest, b0, y0, space.spreadMoves ? seB : 0, Math.min(seOf(['logScale', 'mu']), 1));
  const size = space.thirdMoves ? 61 : 81;
  const b = space.spreadMoves ? linear(box.bLow, box.bHigh, size) : [b0];
  const y = linear(box.yLow, box.yHigh, size);
  const cumulative = b.map((shape) =>
    cumulate(
      columnOf(y, (place) => Math.exp(target(shape, place) - top)),
      at(y, 1) - at(y, 0),
    ),
  );
  const totals = columnOf(cumulative, (column) => floatAt(column, column.length - 1));
  const byShape = b.length > 1 ? cumulate(totals, at(b, 1) - at(b, 0)) : totals;
  const mass = floatAt(byShape, byShape.length - 1);
  return { mode, s, b, y, offset: b.map(offsetAt), cumulative, totals, byShape, top, mass };
}

function spreadLimits({ median, sdLog }: ShapePrior, mode: Coordinates): [number, number] {
  const centre = Math.log(median);
  const reach = PRIOR_SDS * sdLog;
  return [Math.min(centre, mode.b) - reach, Math.max(centre, mode.b) + reach];
}

/** log of the age, over the scale, by which the share has failed. */
function offset(kind: FittedModel['kind'], share: number, b: number): number {
  if (kind === 'lognormal') return Math.exp(-b) * normalQuantile(share);
  if (kind === 'loglogistic') return Math.log(share / (1 - share)) * Math.exp(-b);
  return Math.log(-Math.log1p(-share)) * Math.exp(-b);
}

function modeOf(space: Space, s: number): Coordinates {
  const start = space.at;
  const place = (x: readonly number[]): Coordinates =>
    space.spreadMoves ? { b: at(x, 0), e: at(x, 1), s } : { b: start.b, e: at(x, 0), s };
  const cost = (x: readonly number[]): number => {
    const value = space.target(place(x));
    return Number.isFinite(value) ? -value : Infinity;
  };
  const from = space.spreadMoves ? [start.b, start.e] : [start.e];
  return place(minimiseSimplex(cost, from, { step: 0.1, tolerance: 1e-11 }).at);
}

interface Box {
  bLow: number;
  bHigh: number;
  yLow: number;
  yHigh: number;
}

/** Grows a box round the mode until nothing of weight lies on its edges. */
function boxAround(
  counts: (b: number, y: number) => boolean,
  b0: number,
  y0: number,
  seB: number,
  seY: number,
): Box {
  const box = { bLow: b0 - 2 * seB, bHigh: b0 + 2 * seB, yLow: y0 - seY, yHigh: y0 + seY };
  const parts = Array.from({ length: 41 }, (_, k) => k / 40);
  const anyOnB = (b: number): boolean => parts.some((u) => counts(b, box.yLow + u * (box.yHigh - box.yLow)));
  const anyOnY = (y: number): boolean => parts.some((u) => counts(box.bLow + u * (box.bHigh - box.bLow), y));
  for (let turn = 0; turn < 60; turn++) {
    const [strideB, strideY] = [0.25 * (box.bHigh - box.bLow), 0.25 * (box.yHigh - box.yLow)];
    const grow = {
      bLow: seB > 0 && anyOnB(box.bLow),
      bHigh: seB > 0 && anyOnB(box.bHigh),
      yLow: anyOnY(box.yLow),
      yHigh: anyOnY(box.yHigh),
    };
    if (grow.bLow) box.bLow -= strideB;
    if (grow.bHigh) box.bHigh += strideB;
    if (grow.yLow) box.yLow -= strideY;
    if (grow.yHigh) box.yHigh += strideY;
    if (!(grow.bLow || grow.bHigh || grow.yLow || grow.yHigh)) break;
  }
  return box;
}

function linear(low: number, high: number, size: number): number[] {
  return Array.from({ length: size }, (_, i) => low + ((high - low) * i) / (size - 1));
}

/** Chance, under one grid, that the quantity's free value lies at or below a value. */
function chanceBelow(space: Space, quantity: Quantity, grid: Grid): (free: number) => number {
  const { b, y, offset: offsets, cumulative, totals, s } = grid;
  if (quantity.name === 'shape') return (free) => interpolate(b, grid.byShape, free) / grid.mass;
  const whole = totals.reduce((total, x) => total + x, 0);
  let last = grid.mode.e;
  return (free) => {
    let total = 0;
    for (let i = 0; i < b.length; i++) {
      if (floatAt(totals, i) < 1e-12 * whole) continue;
      const e = locationFor(space, quantity, { b: at(b, i), e: last, s }, free);
      // No location reaches the value: all of them lie on its near side.
      if (Number.isNaN(e)) {
        total += quantity.rises ? floatAt(totals, i) : 0;
        continue;
      }
      // Infinite where no location gives the value because it lies beyond all of them, or the mean is infinite.
      if (Number.isFinite(e)) last = e;
      const part = interpolate(y, cumulative[i] as Float64Array, e + at(offsets, i));
      total += quantity.rises ? part : floatAt(totals, i) - part;
    }
    return total / whole;
  };
}

/** Integral up to each point of a column of values, to fourth order: the cubic through the four values round each step. */
function cumulate(values: Float64Array, step: number): Float64Array {
  const out = new Float64Array(values.length);
  const value = (j: number): number => (j < 0 || j >= values.length ? 0 : floatAt(values, j));
  for (let j = 1; j < values.length; j++) {
    const part = 13 * (value(j - 1) + value(j)) - value(j - 2) - value(j + 1);
    out[j] = floatAt(out, j - 1) + Math.max(0, (step * part) / 24);
  }
  return out;
}

function interpolate(y: readonly number[], cumulative: Float64Array, where: number): number {
  const last = y.length - 1;
  const place = ((where - at(y, 0)) / (at(y, last) - at(y, 0))) * last;
  if (place <= 0) return 0;
  if (place >= last) return floatAt(cumulative, last);
  const j = Math.floor(place);
  // A cubic through the four points round it.
  const u = place - j;
  const [p0, p1, p2, p3] = [
    floatAt(cumulative, Math.max(j - 1, 0)),
    floatAt(cumulative, j),
    floatAt(cumulative, j + 1),
    floatAt(cumulative, Math.min(j + 2, last)),
  ];
  return p1 + 0.5 * u * (p2 - p0 + u * (2 * p0 - 5 * p1 + 4 * p2 - p3 + u * (3 * (p1 - p2) + p3 - p0)));
}

function invert(below: (free: number) => number, p: number, start: number): number {
  let [low, high] = [start, start];
  for (let stride = 0.1; stride < 100 && below(low) > p; stride *= 2) low -= stride;
  for (let stride = 0.1; stride < 100 && below(high) < p; stride *= 2) high += stride;
  return findRoot((free) => below(free) - p, low, high, { absolute: 1e-9, relative: 1e-9 }).root;
}
