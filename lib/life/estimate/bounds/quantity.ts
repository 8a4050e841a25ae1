/** What bounds may be asked of: a positive number or a chance, on the axis where its estimate is closest to normal. */
import { UsageError } from '../../../errors.js';
import { findRoot } from '../../../numeric/roots.js';
import { lawOf, meanLife, quantile } from '../../distribution/functions.js';
import type { FittedModel } from '../../model.js';
import { type Coordinates, coordinatesOf, type Space } from '../coordinates.js';
import { conditionalSurvivalQuantity } from './quantityConditional.js';

/** `conditionalSurvival`: chance that a life which has reached the first age lasts for the second one more. */
export type BoundedQuantity =
  | 'shape'
  | 'scale'
  | 'mean'
  | { quantile: number }
  | { survival: number }
  | { conditionalSurvival: readonly [age: number, further: number] };

export interface Quantity {
  name: 'shape' | 'scale' | 'mean' | 'quantile' | 'survival' | 'conditionalSurvival';
  /** The value on the free axis: log of it, or log(-log survival). */
  free(model: FittedModel): number;
  /**
   * Location that gives a free value, for a model without faults whose location is 0, ages being counted from `after`; undefined
   * where `free` moves one for one.
   */
  locate?(unit: FittedModel, free: number, after?: number): number;
  /** Age, and survival to it, that a free value says; only where it says just that. */
  place?(free: number): [age: number, survival: number];
  /** From the free axis back. Survival falls as its free value rises. */
  back(free: number): number;
  rises: boolean;
  /** Largest value there is. */
  most: number;
}

export function quantityOf(of: BoundedQuantity): Quantity {
  const positive = { back: Math.exp, rises: true, most: Infinity };
  if (of === 'shape') return { ...positive, name: of, free: (model) => coordinatesOf(model).b };
  if (of === 'scale') return { ...positive, name: of, free: logScaleOf };
  if (of === 'mean') return { ...positive, name: of, free: (model) => Math.log(meanLife(model)) };
  if (typeof of === 'object' && of !== null && 'quantile' in of) {
    const p = of.quantile;
    if (!(p > 0 && p < 1)) throw new UsageError('lifeBounds', 'quantile must be between 0 and 1.', p);
    return {
      ...positive,
      name: 'quantile',
      free: (model) => Math.log(quantile(model, p)),
      place: (free) => [Math.exp(free), 1 - p],
    };
  }
  if (typeof of === 'object' && of !== null && 'survival' in of) {
    const t = of.survival;
    if (!(t > 0 && t < Infinity))
      throw new UsageError('lifeBounds', 'survival needs a finite age above 0.', t);
    return {
      name: 'survival',
      free: (model) => Math.log(lawOf(model).cumulativeHazard(model, t)),
      locate: (unit, free, after = 0) =>
        Math.log(t - after) - Math.log(lawOf(unit).ageAtHazard(unit, Math.exp(free))),
      place: (free) => [t, Math.exp(-Math.exp(free))],
      back: (free) => Math.exp(-Math.exp(free)),
      rises: false,
      most: 1,
    };
  }
  if (typeof of === 'object' && of !== null && 'conditionalSurvival' in of) {
    return conditionalSurvivalQuantity(of.conditionalSurvival);
  }
  const rule = "of must be 'shape', 'scale', 'mean', { quantile }, { survival } or { conditionalSurvival }.";
  throw new UsageError('lifeBounds', rule, JSON.stringify(of));
}

/**
 * The location coordinate at which the quantity has a given free value, the other coordinates being held. All quantities
 * but the shape move one way with the location. NaN where no location gives the value (the early leaks alone decide it).
 */
export function locationFor(space: Space, quantity: Quantity, point: Coordinates, free: number): number {
  if (quantity.name === 'scale' && space.model(point).kind !== 'smallestValue') return free;
  const after = space.thirdMoves ? 0 : givenTime(space.model(point));
  if (after > 0) return locationAfter(space, quantity, point, free, after);
  if (!hasFault(space)) {
    if (quantity.locate !== undefined) return quantity.locate(space.model({ ...point, e: 0 }), free);
    return point.e + free - quantity.free(space.model(point));
  }
  // With faults nothing is that simple: search outward from here.
  const excess = (e: number): number => quantity.free(space.model({ ...point, e })) - free;
  const here = excess(point.e);
  if (here === 0) return point.e;
  const quick = secant(excess, point.e, here, quantity.rises ? 1 : -Math.exp(point.b));
  if (quick !== null) return quick;
  const direction = here > 0 === quantity.rises ? -1 : 1;
  let [near, far] = [point.e, point.e];
  for (let stride = 0.25; stride < 1e4; stride *= 2) {
    [near, far] = [far, far + direction * stride];
    const there = excess(far);
    if (Number.isNaN(there)) return Number.NaN;
    if (there > 0 !== here > 0) {
      const { root, converged } = findRoot(excess, Math.min(near, far), Math.max(near, far), {
        absolute: 1e-13,
      });
      return converged ? root : Number.NaN;
    }
  }
  return Number.NaN;
}

/** With a failure-free time given as a number all that lies beyond it goes up with the scale. */
function locationAfter(
  space: Space,
  quantity: Quantity,
  point: Coordinates,
  free: number,
  after: number,
): number {
  const unit = { ...space.model({ ...point, e: 0 }), failureFree: 0 } as FittedModel;
  const e =
    quantity.locate === undefined
      ? Math.log(Math.exp(free) - after) - quantity.free(unit)
      : quantity.locate(unit, free, after);
  // Ages up to the failure-free time: no scale is small enough.
  return Number.isNaN(e) ? Number.NEGATIVE_INFINITY : e;
}

/** log of what the model calls scale; for those that have mu, mu. */
function logScaleOf(model: FittedModel): number {
  return 'mu' in model ? model.mu : Math.log(model.scale);
}

function givenTime(model: FittedModel): number {
  return model.kind === 'weibull' ? (model.failureFree ?? 0) : 0;
}

/** A few secant steps from a guess of the slope; null where they do not close in. */
function secant(f: (x: number) => number, start: number, here: number, slope: number): number | null {
  let [x, y, rise] = [start, here, slope];
  for (let turn = 0; turn < 8; turn++) {
    const step = -y / rise;
    if (!(Math.abs(step) < 3)) return null;
    const next = f(x + step);
    if (Math.abs(step) < 1e-12 || next === 0) return x + step;
    rise = (next - y) / step;
    [x, y] = [x + step, next];
  }
  return null;
}

/** Whether faulty fittings are part of the law. */
export function hasFault(space: Space): boolean {
  const model = space.model(space.at);
  return model.kind === 'weibull' && model.fault !== undefined && model.fault.share > 0;
}

/**
 * The log share of faulty fittings at which survival to an age has a given value, wear-out being held: from
 * S = (1 - share Fe) Sw. NaN where no share gives it. Smooth where the location is not: where early leaks alone nearly decide.
 */
export function shareFor(space: Space, quantity: Quantity, point: Coordinates, free: number): number {
  const model = space.model(point);
  if (model.kind !== 'weibull' || model.fault === undefined || quantity.place === undefined)
    return Number.NaN;
  const [age, survival] = quantity.place(free);
  const { shape, scale } = model.fault;
  const early = -Math.expm1(-((age / scale) ** shape));
  const worn = (age / model.scale) ** model.shape;
  return Math.log(-Math.expm1(Math.log(survival) + worn) / early);
}
