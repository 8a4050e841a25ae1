/** Moves of one group given what all groups share: groups are independent then. */
import { itemAt } from '../../../numeric/columns.js';
import { LOG_SCALE_LIMITS, LOG_SHAPE_LIMITS } from '../weibull/wearColumn.js';
import { setPulls } from './jointMoves.js';
import { normalChange } from './normals.js';
import { sliceStep } from './slice.js';
import { expectedLogScale, groupFit, logBell, type Walk } from './walk.js';

/** Shrinks of a slice's interval that cost least, about. */
const SHRINKS = 1.2;

/** Log scale at the present shape. */
export function moveScale(walk: Walk, g: number): void {
  const { state, slice } = walk;
  const mean = expectedLogScale(walk, itemAt(walk.layout.groups, g));
  const logShape = state.logShape[g] as number;
  let fit = 0;
  const density = (logScale: number): number => {
    fit = groupFit(walk, g, logShape, logScale);
    return fit + logBell(logScale - mean, state.betweenScale);
  };
  const before = state.logScale[g] as number;
  slice.value = before;
  slice.logDensity = (state.fit[g] as number) + logBell(before - mean, state.betweenScale);
  const shrinks = sliceStep(slice, density, walk.scaleWidth[g] as number, walk.random.uniform);
  tune(walk, walk.scaleWidth, g, shrinks);
  if (slice.value === before) return;
  state.logScale[g] = slice.value;
  state.fit[g] = fit;
}

/**
 * Log shape along the ridge on which the group's likelihood hardly changes: z of wearSurface.ts stays as it is.
 * In (log shape, z) the density carries the volume factor d(log scale) / dz = 1 / shape.
 */
export function moveAlongRidge(walk: Walk, g: number): void {
  const { state, slice } = walk;
  const group = itemAt(walk.layout.groups, g);
  const surface = group.surface;
  if (surface === null) return;
  const mean = expectedLogScale(walk, group);
  const before = state.logShape[g] as number;
  const z = -Math.exp(before) * (state.logScale[g] as number) - surface.bestLogRate(before);
  const scaleAt = (logShape: number): number => -(surface.bestLogRate(logShape) + z) / Math.exp(logShape);
  const prior = (logShape: number, logScale: number): number =>
    logBell(logScale - mean, state.betweenScale) +
    logBell(logShape - state.shapeCentre, state.betweenShape) -
    logShape;
  let fit = 0;
  const density = (logShape: number): number => {
    const logScale = scaleAt(logShape);
    fit = groupFit(walk, g, logShape, logScale);
    return fit + prior(logShape, logScale);
  };
  slice.value = before;
  slice.logDensity = (state.fit[g] as number) + prior(before, state.logScale[g] as number);
  const shrinks = sliceStep(slice, density, walk.ridgeWidth[g] as number, walk.random.uniform);
  tune(walk, walk.ridgeWidth, g, shrinks);
  if (slice.value === before) return;
  state.logShape[g] = slice.value;
  state.logScale[g] = scaleAt(slice.value);
  state.fit[g] = fit;
}

/**
 * Both parameters anew from the group's normal given what is shared, accepted by how its likelihood differs from that
 * normal. It takes most groups anywhere at once. Far out in a tail the two may differ so much that a chain would stay
 * there; the slices, which always move, see to that. Needs `walk.joint` set up for the present spreads.
 */
export function jump(walk: Walk, g: number): void {
  const { state, random, before } = walk;
  const mean = expectedLogScale(walk, itemAt(walk.layout.groups, g));
  setPulls(walk, walk.joint, g, mean, state.shapeCentre, before);
  const shapeNow = state.logShape[g] as number;
  const scaleNow = state.logScale[g] as number;
  const logShape = walk.freeShape ? (random.normal() + before.shape) / before.rootShape : shapeNow;
  const logScale = (random.normal() + before.scale - before.rootCross * logShape) / before.rootScale;
  const fit = groupFit(walk, g, logShape, logScale);
  const change =
    fit - (state.fit[g] as number) - normalChange(walk.normal, g, scaleNow, shapeNow, logScale, logShape);
  const accepted = Math.log(random.uniform()) < change;
  if (walk.gain > 0) walk.jumped[g] = 0.98 * (walk.jumped[g] as number) + (accepted ? 0.02 : 0);
  if (!accepted) return;
  state.logShape[g] = logShape;
  state.logScale[g] = logScale;
  state.fit[g] = fit;
}

/** In the burn-in: widens or narrows the first interval of a slice until about one shrink does. */
function tune({ gain }: Walk, widths: Float64Array, g: number, shrinks: number): void {
  if (gain > 0) widths[g] = (widths[g] as number) * Math.exp(0.3 * gain * (SHRINKS - shrinks));
}

/** Places the groups without lives by what is shared: the predictive distribution. */
export function predictUnseen(walk: Walk): void {
  const { state, random } = walk;
  walk.layout.groups.forEach((group, g) => {
    if (group.surface !== null) return;
    const logScale = expectedLogScale(walk, group) + state.betweenScale * random.normal();
    state.logScale[g] = Math.min(Math.max(logScale, LOG_SCALE_LIMITS[0]), LOG_SCALE_LIMITS[1]);
    if (!walk.freeShape) return;
    const logShape = state.shapeCentre + state.betweenShape * random.normal();
    state.logShape[g] = Math.min(Math.max(logShape, LOG_SHAPE_LIMITS[0]), LOG_SHAPE_LIMITS[1]);
  });
}
