/**
 * Groups with one shape and a scale each, on the coordinates b = log shape (lognormal: -log sigma) and e = log scale (lognormal:
 * mu). Each group's scale is at its best for the shape, so that the whole is a function of b alone.
 */
import { at, sum } from '../../numeric/columns.js';
import { differentiate } from '../../numeric/differentiate.js';
import { type Local, type Locally, locally } from '../../numeric/locally.js';
import { cholesky, solveCholesky } from '../../numeric/matrix.js';
import { minimiseOnInterval } from '../../numeric/minimise.js';
import { findRoot } from '../../numeric/roots.js';
import { contourEnd } from '../estimate/bounds/contourEnd.js';
import { coordinatesOf, spaceOf } from '../estimate/coordinates.js';
import type { LifeFit } from '../estimate/fitTypes.js';
import type { Bounds } from '../sampleTypes.js';

/** Distance of differences, in standard errors. */
const APART = 0.01;

export type Family = 'weibull' | 'exponential' | 'lognormal' | 'loglogistic';

/** One group: log likelihood anywhere, and the best there is for a shape. */
interface GroupProfile {
  value(b: number, e: number): number;
  best(b: number): { e: number; value: number };
  /** Standard errors of e and of b, to walk by. */
  stride: number;
  strideB: number;
}

export interface CommonShape {
  kind: Family;
  groups: GroupProfile[];
  b: number;
  e: number[];
  logLikelihood: number;
}

/** Precondition: each group has failures. `separate` are the fits of the groups one by one. */
export function bestCommonShape(kind: Family, separate: readonly LifeFit[]): CommonShape {
  const groups = separate.map(profileOf);
  const quick = kind === 'exponential' ? null : climb(kind, groups, separate);
  return quick ?? searched(kind, groups, separate);
}

const MOST_TURNS = 20;
/** Steps in standard errors: longer ones lead away, and after one this short nothing is left to gain. */
const LONGEST = 30;
const SETTLED = 1e-6;

/** Newton's method over the shape and all scales at once, from the groups' own; null where it does not settle. */
function climb(kind: Family, groups: GroupProfile[], separate: readonly LifeFit[]): CommonShape | null {
  const own = separate.map((fit) => coordinatesOf(fit.model));
  const weights = groups.map(({ strideB }) => strideB ** -2);
  const b = sum(own.map((point, g) => point.b * at(weights, g))) / sum(weights);
  const e = own.map((point) => point.e);
  const strides = stridesOf(groups);
  const target = jointly(groups, b, e, strides);
  let x = strides.map(() => 0);
  for (let turn = 0; turn < MOST_TURNS; turn++) {
    const here = target(x);
    const factor =
      here === null
        ? null
        : cholesky(
            here.bend.map((y) => -y),
            x.length,
          );
    if (here === null || factor === null) return null;
    const step = solveCholesky(factor, here.slope);
    const length = Math.hypot(...step);
    if (!(length < LONGEST)) return null;
    x = x.map((y, i) => y + at(step, i));
    if (length < SETTLED) {
      return topAt(
        kind,
        groups,
        b + at(strides, 0) * at(x, 0),
        e.map((y, g) => y + at(strides, g + 1) * at(x, g + 1)),
      );
    }
  }
  return null;
}

function topAt(kind: Family, groups: GroupProfile[], b: number, e: number[]): CommonShape {
  return { kind, groups, b, e, logLikelihood: sum(groups.map((group, g) => group.value(b, at(e, g)))) };
}

/** Standard errors of the common shape, were the scales known, and of the scales. */
function stridesOf(groups: readonly GroupProfile[]): number[] {
  return [sum(groups.map(({ strideB }) => strideB ** -2)) ** -0.5, ...groups.map(({ stride }) => stride)];
}

function searched(kind: Family, groups: GroupProfile[], separate: readonly LifeFit[]): CommonShape {
  const total = (b: number): number => sum(groups.map((group) => group.best(b).value));
  const b = kind === 'exponential' ? 0 : bestShape(total, separate);
  const ends = groups.map((group) => group.best(b));
  return { kind, groups, b, e: ends.map(({ e }) => e), logLikelihood: sum(ends.map(({ value }) => value)) };
}

/** The common shape lies between the least and the largest of the groups' own. */
function bestShape(total: (b: number) => number, separate: readonly LifeFit[]): number {
  const own = separate.map((fit) => coordinatesOf(fit.model).b);
  const [low, high] = [Math.min(...own), Math.max(...own)];
  if (high - low < 1e-9) return 0.5 * (low + high);
  const { at: near } = minimiseOnInterval((b) => -total(b), low, high);
  // A flat top hides half of the digits; its slope has them all.
  const slope = (b: number): number =>
    at(
      differentiate(([x]) => total(x as number), [b], [2e-3]),
      0,
    );
  const { root, converged } = findRoot(slope, near - 1e-3, near + 1e-3, { absolute: 1e-13 });
  return converged ? root : near;
}

function profileOf(fit: LifeFit): GroupProfile {
  const space = spaceOf(fit, null);
  const value = (b: number, e: number): number => space.target({ b, e, s: space.at.s });
  const se = (...names: string[]): number =>
    fit.parameters.find(({ name }) => names.includes(name))?.standardError ?? 1;
  const stride = se('logScale', 'mu');
  let last = space.at.e;
  return {
    value,
    stride,
    strideB: se('logShape', 'logSigma'),
    best: (b) => {
      const found = bestLocation((e) => value(b, e), last, Math.min(stride, 1));
      if (Number.isFinite(found.e)) last = found.e;
      return found;
    },
  };
}

/** Best location for a shape: brackets it by strides, then closes in. Its value is good to a part in 1e14 of a stride squared. */
function bestLocation(
  value: (e: number) => number,
  start: number,
  stride: number,
): { e: number; value: number } {
  // Counted in strides from 100 below the start, so that a relative width is an absolute one.
  const place = (x: number): number => start + stride * (x - 100);
  const cost = (x: number): number => -value(place(x));
  const best = minimiseOnInterval(cost, outward(cost, -1), outward(cost, 1), { relative: 1e-9 });
  return { e: place(best.at), value: -best.value };
}

function outward(cost: (x: number) => number, direction: 1 | -1): number {
  let lowest = cost(100);
  let x = 100;
  for (let step = 1; step < 1e6; step *= 2) {
    x += direction * step;
    const here = cost(x);
    if (!(here <= lowest)) return x;
    lowest = here;
  }
  return x;
}

/** Profile-likelihood bounds: where the best log likelihood has fallen by `drop`. Infinite where it never does. */
export function commonShapeBounds(shared: CommonShape, drop: number): { shape: Bounds; scales: Bounds[] } {
  return (shared.kind === 'exponential' ? null : contourBounds(shared, drop)) ?? searchedBounds(shared, drop);
}

/** Ends of the contour over shape and all scales at once; null where one of them does not exist or is not found. */
function contourBounds(
  { groups, b, e }: CommonShape,
  drop: number,
): { shape: Bounds; scales: Bounds[] } | null {
  const strides = stridesOf(groups);
  const target = jointly(groups, b, e, strides);
  const centre = [b, ...e];
  const bounds = centre.map((middle, axis) => {
    const stride = at(strides, axis);
    const ends = ([-1, 1] as const).map((way) => contourEnd(target, along(axis), centre.length, drop, way));
    const [low, high] = ends.map((end) => (end === null ? Number.NaN : Math.exp(middle + stride * end)));
    return { estimate: Math.exp(middle), low: low as number, high: high as number };
  });
  if (bounds.some(({ low, high }) => Number.isNaN(low + high))) return null;
  return { shape: bounds[0] as Bounds, scales: bounds.slice(1) };
}

/** One of the coordinates as a quantity. */
function along(axis: number): Locally {
  return (x) => ({
    value: at(x, axis),
    slope: x.map((_, i) => (i === axis ? 1 : 0)),
    bend: new Array<number>(x.length ** 2).fill(0),
  });
}

/** The sum over the groups: shape first, then the scales, each counted in strides from the top; no two scales meet in one term. */
function jointly(
  groups: readonly GroupProfile[],
  b: number,
  e: readonly number[],
  strides: readonly number[],
): Locally {
  const size = groups.length + 1;
  const terms = groups.map((group, g) =>
    locally(
      ([x, y]) =>
        group.value(b + at(strides, 0) * (x as number), at(e, g) + at(strides, g + 1) * (y as number)),
      APART,
    ),
  );
  return (x) => {
    const out: Local = { value: 0, slope: x.map(() => 0), bend: new Array<number>(size * size).fill(0) };
    for (let g = 0; g < terms.length; g++) {
      const term = (terms[g] as Locally)([at(x, 0), at(x, g + 1)]);
      if (term === null) return null;
      const places = [0, g + 1];
      out.value += term.value;
      places.forEach((i, k) => {
        out.slope[i] = at(out.slope, i) + at(term.slope, k);
        places.forEach((j, l) => {
          out.bend[i * size + j] = at(out.bend, i * size + j) + at(term.bend, 2 * k + l);
        });
      });
    }
    return out;
  };
}

function searchedBounds(shared: CommonShape, drop: number): { shape: Bounds; scales: Bounds[] } {
  const { groups, b, e, logLikelihood: top } = shared;
  const total = (shape: number): number => sum(groups.map((group) => group.best(shape).value));
  const [h, here] = [1e-2, total(b)];
  const bend = Math.max((2 * here - total(b + h) - total(b - h)) / (h * h), 1e-6);
  const strideB = 1 / Math.sqrt(bend);
  const fallenShape = (shape: number): number => total(shape) - top + drop;
  const shape =
    shared.kind === 'exponential' ? { estimate: 1, low: 1, high: 1 } : exps(b, fallenShape, strideB);
  const scales = groups.map((group, g) => {
    const rest = (x: number): number => sum(groups.map((other, i) => (i === g ? 0 : other.best(x).value)));
    let last = b;
    const profile = (location: number): number => {
      if (shared.kind === 'exponential') return group.value(0, location) + rest(0);
      const found = bestLocation((x) => group.value(x, location) + rest(x), last, strideB);
      last = found.e;
      return found.value;
    };
    return exps(at(e, g), (location) => profile(location) - top + drop, group.stride);
  });
  return { shape, scales };
}

/** Bounds on the axis of the value itself, from a function of its logarithm that is above 0 between them. */
function exps(middle: number, above: (x: number) => number, stride: number): Bounds {
  return {
    estimate: Math.exp(middle),
    low: Math.exp(crossing(middle, above, -stride)),
    high: Math.exp(crossing(middle, above, stride)),
  };
}

function crossing(middle: number, above: (x: number) => number, stride: number): number {
  let near = middle;
  for (let step = stride; Math.abs(near - middle) < 300; step *= 1.6) {
    const far = near + step;
    if (!(above(far) > 0)) {
      return findRoot(above, Math.min(near, far), Math.max(near, far), { absolute: 1e-11 }).root;
    }
    near = far;
  }
  return stride > 0 ? Infinity : Number.NEGATIVE_INFINITY;
}
