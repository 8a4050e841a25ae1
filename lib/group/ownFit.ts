/**
 * What a group's own leaks say, with no other group asked: maximum likelihood with profile-likelihood bounds (METHODS 2.1).
 * Shown against the group's records; the plan is made on the pooled draws (planned.ts), which lie elsewhere where a group
 * has few leaks.
 */

import { quantile } from '../life/distribution/index.js';
import { DEFAULT_SHAPE_PRIOR } from '../life/estimate/fitTypes.js';
import { maximiseWeibull } from '../life/estimate/weibull/maximiseWeibull.js';
import { LOG_SCALE_LIMITS, LOG_SHAPE_LIMITS } from '../life/estimate/weibull/wearColumn.js';
import type { WearSurface } from '../life/estimate/weibull/wearSurface.js';
import type { PreparedRows } from '../life/estimate/weibull/weibullLikelihood.js';
import type { FittingFault, WeibullModel } from '../life/model.js';
import { minimiseOnInterval } from '../numeric/minimise.js';
import { chiSquareQuantile } from '../numeric/special.js';

export const LEVEL = 0.9;
/** From this many wear-out leaks on, a group has a fit of its own. */
export const OWN_LEAKS = 5;
/** With fewer leaks a fit is not judged (METHODS 2.4). */
export const LEAKS_TO_JUDGE = 10;
/** Under one wear-out leak no whole leak tells how a group or a material wears out, nor an age to name. */
export const LEAST_WEAR_LEAKS = 1;
const EDGE = 1e-3;
const TENTH = 0.1;

/** A model with its bounds at LEVEL; ages in days. */
export interface BoundedModel {
  model: WeibullModel;
  shape: [number, number];
  scale: [number, number];
  /** Age by which 10 % have leaked, early leaks included: low, at the model, high. */
  b10: [number, number, number];
  method: 'likelihood' | 'posterior';
}

/** Largest likelihood of the group alone, shape inside its limits; null where the shape runs to a limit. */
export function ownMaximum(rows: PreparedRows): { shape: number; scale: number } | null {
  const top = maximiseWeibull(rows);
  const inside =
    top.converged &&
    Math.log(top.shape) > LOG_SHAPE_LIMITS[0] + EDGE &&
    Math.log(top.shape) < LOG_SHAPE_LIMITS[1] - EDGE &&
    Math.log(top.scale) < LOG_SCALE_LIMITS[1] - EDGE;
  return inside ? { shape: top.shape, scale: top.scale } : null;
}

/** The same with the shape held near 2 by its prior: there is always an answer once anything leaked. */
export function heldMaximum(rows: PreparedRows): { shape: number; scale: number } {
  const { shape, scale } = maximiseWeibull(rows, { prior: DEFAULT_SHAPE_PRIOR });
  return { shape, scale };
}

/** Maximum likelihood with profile-likelihood bounds on the surface, which is already flattened (Group.inflation). */
export function ownFit(
  place: { shape: number; scale: number },
  surface: WearSurface,
  fault: FittingFault,
): BoundedModel {
  const model: WeibullModel = { kind: 'weibull', ...place, fault };
  const top = surface.logLikelihood(Math.log(place.shape), Math.log(place.scale));
  const fall = chiSquareQuantile(LEVEL, 1) / 2;
  const above = (profile: (value: number) => number) => (value: number) => profile(value) - top + fall;
  const tenth = quantile(model, TENTH);
  const ofTenth = expBounds(above(profileOfTenth(surface, fault)), Math.log(tenth), LOG_SCALE_LIMITS);
  return {
    model,
    shape: expBounds(above(profileOfShape(surface)), Math.log(place.shape), LOG_SHAPE_LIMITS),
    scale: expBounds(above(profileOfScale(surface)), Math.log(place.scale), LOG_SCALE_LIMITS),
    b10: [ofTenth[0], tenth, ofTenth[1]],
    method: 'likelihood',
  };
}

function profileOfShape(surface: WearSurface): (logShape: number) => number {
  return (logShape) => {
    const ridge = -surface.bestLogRate(logShape) / Math.exp(logShape);
    const reach = 3 / Math.exp(logShape);
    return highest((logScale) => surface.logLikelihood(logShape, logScale), ridge - reach, ridge + reach);
  };
}

function profileOfScale(surface: WearSurface): (logScale: number) => number {
  const [low, high] = surface.logShapeRange;
  return (logScale) => highest((logShape) => surface.logLikelihood(logShape, logScale), low, high);
}

/** Over the shapes, with the scale at which 10 % have leaked by the age: what faulty fittings leave is worn out by then. */
function profileOfTenth(surface: WearSurface, fault: FittingFault): (logAge: number) => number {
  const [low, high] = surface.logShapeRange;
  return (logAge) => {
    const early = fault.share * -Math.expm1(-((Math.exp(logAge) / fault.scale) ** fault.shape));
    const hazard = Math.log1p(-early) - Math.log1p(-TENTH);
    if (!(hazard > 0)) return Number.NEGATIVE_INFINITY;
    const logHazard = Math.log(hazard);
    return highest(
      (logShape) => surface.logLikelihood(logShape, logAge - logHazard / Math.exp(logShape)),
      low,
      high,
    );
  };
}

function highest(f: (x: number) => number, low: number, high: number): number {
  return -minimiseOnInterval((x) => -f(x), low, high, { relative: 1e-6 }).value;
}

/** Where a function falls through 0 on both sides of a place, as exp; the limit where it does not. */
function expBounds(
  f: (value: number) => number,
  place: number,
  [low, high]: readonly [number, number],
): [number, number] {
  return [Math.exp(crossing(f, place, low)), Math.exp(crossing(f, place, high))];
}

function crossing(f: (value: number) => number, place: number, limit: number): number {
  const sign = Math.sign(limit - place);
  let inside = place;
  let step = 0.02;
  let outside = place + sign * step;
  while (sign * (limit - outside) > 0 && f(outside) > 0) {
    inside = outside;
    step *= 1.6;
    outside += sign * step;
  }
  if (sign * (limit - outside) <= 0) {
    outside = limit;
    if (f(limit) > 0) return limit;
  }
  for (let i = 0; i < 40; i++) {
    const middle = (inside + outside) / 2;
    if (f(middle) > 0) inside = middle;
    else outside = middle;
  }
  return (inside + outside) / 2;
}
