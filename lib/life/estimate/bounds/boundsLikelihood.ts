/**
 * Bounds by profile likelihood: all values of the quantity for which the best log likelihood lies within half a chi-square
 * quantile of the top (Meeker & Escobar 1998 ch. 8). `inflation` widens that drop where positions have several lives.
 */

import { at } from '../../../numeric/columns.js';
import { locally } from '../../../numeric/locally.js';
import { minimiseOnInterval, minimiseSimplex, minimiseSmooth } from '../../../numeric/minimise.js';
import { findRoot } from '../../../numeric/roots.js';
import { chiSquareQuantile } from '../../../numeric/special.js';
import { type Coordinates, type Space, spaceOf } from '../coordinates.js';
import type { LifeFit } from '../fitTypes.js';
import type { FreeBounds, Tails } from './boundsTypes.js';
import { contourEnd } from './contourEnd.js';
import { hasFault, locationFor, type Quantity, shareFor } from './quantity.js';

export function likelihoodBounds(
  fit: LifeFit,
  quantity: Quantity,
  tails: Tails,
  spread: number,
  inflation: number,
): FreeBounds {
  const space = spaceOf(fit);
  const middle = quantity.free(fit.model);
  const top = space.target(space.at);
  const end = (direction: 1 | -1, chance: number): number => {
    if (chance === 0) return direction * Infinity;
    const drop = 0.5 * chiSquareQuantile(1 - 2 * chance, 1) * inflation;
    const quick = isDear(fit, space, quantity) ? contourEndOf(fit, space, quantity, drop, direction) : null;
    if (quick !== null) return quick;
    const profile = profileOf(space, quantity, unitsOf(fit));
    return cross((free) => profile(free) - top + drop, middle, direction, spread);
  };
  return { low: end(-1, tails.below), high: end(1, tails.above) };
}

/** Distance of differences, in standard errors. */
const APART = 0.01;

/**
 * Whether the quantity or the likelihood is too dear to be searched for again at every value of a profile: a mean beside fitting
 * faults is an integral, and lognormal and log-logistic laws need their tail at every end of an interval.
 */
function isDear({ kind }: LifeFit, space: Space, quantity: Quantity): boolean {
  if (quantity.name === 'mean') return hasFault(space);
  const tails = kind === 'lognormal' || kind === 'loglogistic';
  return tails && (quantity.name === 'shape' || quantity.name === 'scale');
}

function contourEndOf(
  fit: LifeFit,
  space: Space,
  quantity: Quantity,
  drop: number,
  direction: 1 | -1,
): number | null {
  const units = unitsOf(fit);
  const axes: Axis[] = ['e'];
  if (space.spreadMoves) axes.push('b');
  if (space.thirdMoves) axes.push('s');
  const place = (x: readonly number[]): Coordinates => {
    const point = { ...space.at };
    axes.forEach((axis, i) => {
      point[axis] += units[axis] * at(x, i);
    });
    return point;
  };
  const target = (x: readonly number[]): number => space.target(place(x));
  const value = (x: readonly number[]): number => quantity.free(space.model(place(x)));
  return contourEnd(locally(target, APART), locally(value, APART), axes.length, drop, direction);
}

/** Standard errors of the coordinates: the units in which the likelihood bends. */
function unitsOf(fit: LifeFit): Coordinates {
  const se = (...names: string[]): number =>
    Math.min(1, fit.parameters.find(({ name }) => names.includes(name))?.standardError ?? 1);
  const scale = 'scale' in fit.model ? fit.model.scale : 1;
  const time = fit.parameters.find(({ name }) => name === 'failureFree')?.standardError;
  return {
    b: se('logShape', 'logSigma'),
    e: se('logScale', 'mu'),
    s: time === undefined ? se('logShare', 'q') : Math.min(1, time / scale),
  };
}

/** Log likelihood over the limit where no parameters give the quantity, or none was found. */
const IMPOSSIBLE = -1e6;

/** Walks outward until the profile has fallen far enough, then finds where; infinite where it never does. */
function cross(profile: (free: number) => number, middle: number, direction: 1 | -1, spread: number): number {
  // A place that cannot be counts as far too low, so that the end before it is still bracketed.
  const above = (free: number): number => {
    const value = profile(free);
    return Number.isNaN(value) ? IMPOSSIBLE : Math.max(value, IMPOSSIBLE);
  };
  let near = middle;
  let stride = Math.min(Math.max(spread, 1e-12), 5);
  for (let turn = 0; turn < 60; turn++) {
    const far = near + direction * stride;
    const value = above(far);
    if (value < 0) {
      const { root, converged } = findRoot(above, Math.min(near, far), Math.max(near, far), {
        absolute: 1e-11,
      });
      return converged ? root : near;
    }
    near = far;
    stride *= 1.6;
    if (Math.abs(near - middle) > 300) break;
  }
  return direction * Infinity;
}

/** Best target for a value of the quantity; each call starts from the best point of the last. */
function profileOf(space: Space, quantity: Quantity, units: Coordinates): (free: number) => number {
  if (quantity.name === 'shape' && space.bestAt !== null) return space.bestAt;
  const byShare = sharesMove(space, quantity) ? profileByShare(space, quantity, units) : null;
  const byLocation = profileByLocation(space, quantity, units);
  return byShare === null ? byLocation : (free) => Math.max(byLocation(free), byShare(free));
}

/** Whether a value of the quantity can be held by the share of faulty fittings as well as by the location. */
function sharesMove(space: Space, quantity: Quantity): boolean {
  const model = space.model(space.at);
  const faulty = model.kind === 'weibull' && model.fault !== undefined;
  return faulty && space.thirdMoves && space.spreadMoves && quantity.place !== undefined;
}

/** As by location, the share holding the quantity: the top may lie where hardly any location does. */
function profileByShare(space: Space, quantity: Quantity, units: Coordinates): (free: number) => number {
  let last: Coordinates = { ...space.at };
  return (free) => {
    const target = (point: Coordinates): number => {
      const s = shareFor(space, quantity, point, free);
      return Number.isFinite(s) ? space.target({ ...point, s }) : Number.NEGATIVE_INFINITY;
    };
    const found = bestOver(target, last, ['b', 'e'], units);
    if (found.value > Number.NEGATIVE_INFINITY) last = found.point;
    return found.value;
  };
}

function profileByLocation(space: Space, quantity: Quantity, units: Coordinates): (free: number) => number {
  let last: Coordinates = { ...space.at };
  return (free) => {
    const target = (point: Coordinates): number => {
      if (quantity.name === 'shape') return space.target(point);
      const e = locationFor(space, quantity, point, free);
      return Number.isFinite(e) ? space.target({ ...point, e }) : Number.NEGATIVE_INFINITY;
    };
    const fixed = quantity.name === 'shape' ? { ...last, b: free } : last;
    const found = bestOver(target, fixed, movesOf(space, quantity), units);
    if (quantity.name === 'shape') last = found.point;
    else {
      const e = locationFor(space, quantity, found.point, free);
      // Where no location gives the quantity the search goes on from the last place that had one.
      if (Number.isFinite(e)) last = { ...found.point, e };
    }
    return found.value;
  };
}

type Axis = keyof Coordinates;

/** The coordinates left to move once the quantity is held. */
function movesOf(space: Space, quantity: Quantity): Axis[] {
  const moves: Axis[] = [];
  if (quantity.name === 'shape') moves.push('e');
  else if (space.spreadMoves) moves.push('b');
  if (space.thirdMoves) moves.push('s');
  return moves;
}

function bestOver(
  target: (point: Coordinates) => number,
  start: Coordinates,
  moves: Axis[],
  units: Coordinates,
): { point: Coordinates; value: number } {
  if (moves.length === 0) return { point: start, value: target(start) };
  if (moves.length === 1) return bestAlong(target, start, moves[0] as Axis);
  const place = (x: readonly number[]): Coordinates => {
    const point = { ...start };
    moves.forEach((axis, i) => {
      point[axis] = at(x, i);
    });
    return point;
  };
  const cost = (x: readonly number[]): number => {
    const value = target(place(x));
    return Number.isNaN(value) ? Infinity : -value;
  };
  const from = moves.map((axis) => start[axis]);
  const near = minimiseSmooth(
    cost,
    from,
    moves.map((axis) => 0.1 * units[axis]),
  );
  const best = near.converged ? near : minimiseSimplex(cost, from, { step: 0.2, tolerance: 1e-11 });
  return { point: place(best.at), value: -best.value };
}

/** Brackets the top along one axis from the start, then closes in. */
function bestAlong(
  target: (point: Coordinates) => number,
  start: Coordinates,
  axis: Axis,
): { point: Coordinates; value: number } {
  const cost = (x: number): number => {
    const value = target({ ...start, [axis]: x });
    return Number.isNaN(value) ? Infinity : -value;
  };
  const centre = start[axis];
  const here = cost(centre);
  if (here === Infinity) return { point: start, value: Number.NEGATIVE_INFINITY };
  const low = outward(cost, centre, here, -1);
  const high = outward(cost, centre, here, 1);
  const best = minimiseOnInterval(cost, low, high, { relative: 1e-9 });
  return { point: { ...start, [axis]: best.at }, value: -best.value };
}

function outward(cost: (x: number) => number, centre: number, here: number, direction: 1 | -1): number {
  let lowest = here;
  let x = centre;
  for (let stride = 0.02; stride < 200; stride *= 2) {
    x += direction * stride;
    const value = cost(x);
    if (value > lowest + 1e-9) return x;
    lowest = Math.min(lowest, value);
  }
  return x;
}
