/** How groups are carried along with a shared parameter: the machinery of jointMoves.ts, where the method is told. */
import { floatAt, itemAt } from '../../../numeric/columns.js';
import { expectedLogScale, groupFit, logBell, type Step, type Walk } from './walk.js';

/** Share of proposals that should be taken along one line (Gelman, Roberts & Gilks 1996, from memory). */
const TAKEN = 0.44;

/** A step of a shared parameter: how to take it, how to take it back, and what it does to the log prior. */
export interface SharedStep {
  apply(): void;
  undo(): void;
  /** Change of the log prior of the shared parameters; -Infinity where the step leads out of it. */
  priorChange: number;
}

/** Takes a step of a spread with the groups listed, or leaves all as it was. */
export function carry(walk: Walk, groups: readonly number[], step: Step, shared: SharedStep): void {
  let change = shared.priorChange;
  if (change > Number.NEGATIVE_INFINITY) {
    change -= standardise(walk, groups);
    shared.apply();
    change += destandardise(walk, groups);
  }
  settle(walk, groups, step, shared, change);
}

/**
 * The same for a step that moves the groups' conditional means only: their spread, and with it the volume of the map,
 * stays, and a group goes along by as much as its mean.
 */
export function carryAlong(walk: Walk, groups: readonly number[], step: Step, shared: SharedStep): void {
  const { state, tried } = walk;
  let change = shared.priorChange;
  if (change > Number.NEGATIVE_INFINITY) {
    for (const g of groups) tried.logScale[g] = expectedLogScale(walk, itemAt(walk.layout.groups, g));
    const centre = state.shapeCentre;
    shared.apply();
    for (const g of groups) change += shiftGroup(walk, g, floatAt(tried.logScale, g), centre);
  }
  settle(walk, groups, step, shared, change);
}

/** Keeps or takes back a step that changes the log posterior by so much. */
function settle(
  { state, tried, random, gain }: Walk,
  groups: readonly number[],
  step: Step,
  shared: SharedStep,
  change: number,
): void {
  const taken = Math.log(random.uniform()) < change;
  step.logSize += gain * ((taken ? 1 : 0) - TAKEN);
  if (!taken) {
    if (shared.priorChange > Number.NEGATIVE_INFINITY) shared.undo();
    return;
  }
  for (const g of groups) {
    state.logScale[g] = tried.logScale[g] as number;
    state.logShape[g] = tried.logShape[g] as number;
    state.fit[g] = tried.fit[g] as number;
  }
}

/**
 * Where a group goes when what is shared has moved its expected log scale from `mean` and its expected log shape from
 * `centre`; returns the change of its log density.
 */
function shiftGroup(walk: Walk, g: number, mean: number, centre: number): number {
  const { state, tried, normal, freeShape } = walk;
  const scalePrior = 1 / state.betweenScale ** 2;
  const shapePrior = freeShape ? 1 / state.betweenShape ** 2 : 1;
  const meanAfter = expectedLogScale(walk, itemAt(walk.layout.groups, g));
  const scalePull = scalePrior * (meanAfter - mean);
  const shapePull = shapePrior * (state.shapeCentre - centre);
  // Precision times the shift of the conditional mean equals the change of the pull.
  const cross = normal.cross[g] as number;
  const scalePrecision = (normal.scale[g] as number) + scalePrior;
  const shapePrecision = (normal.shape[g] as number) + shapePrior;
  const determinant = scalePrecision * shapePrecision - cross * cross;
  const before = state.logScale[g] as number;
  const shapeBefore = state.logShape[g] as number;
  const logScale = before + (shapePrecision * scalePull - cross * shapePull) / determinant;
  const logShape = freeShape
    ? shapeBefore + (scalePrecision * shapePull - cross * scalePull) / determinant
    : shapeBefore;
  const fit = groupFit(walk, g, logShape, logScale);
  tried.logScale[g] = logScale;
  tried.logShape[g] = logShape;
  tried.fit[g] = fit;
  const onScale = ((before - mean) ** 2 - (logScale - meanAfter) ** 2) * scalePrior;
  const onShape = freeShape
    ? ((shapeBefore - centre) ** 2 - (logShape - state.shapeCentre) ** 2) * shapePrior
    : 0;
  return fit - (state.fit[g] as number) + (onScale + onShape) / 2;
}

/** A group's conditional normal given what is shared: mean, and the upper triangle of the root of its precision. */
interface Conditional {
  scaleMean: number;
  shapeMean: number;
  rootScale: number;
  rootCross: number;
  rootShape: number;
}

/** Writes each group's standardised distances; returns the groups' log density less the log volume of the map. */
function standardise(walk: Walk, groups: readonly number[]): number {
  const { state, tried, conditional } = walk;
  let total = 0;
  for (const g of groups) {
    setConditional(walk, g, conditional);
    const scale = (state.logScale[g] as number) - conditional.scaleMean;
    const shape = (state.logShape[g] as number) - conditional.shapeMean;
    tried.logScale[g] = conditional.rootScale * scale + conditional.rootCross * shape;
    tried.logShape[g] = conditional.rootShape * shape;
    total +=
      (state.fit[g] as number) + logPrior(walk, g, state.logScale[g] as number, state.logShape[g] as number);
    total -= Math.log(conditional.rootScale * conditional.rootShape);
  }
  return total;
}

/** Turns standardised distances into places under the shared parameters as they are now; returns as `standardise`. */
function destandardise(walk: Walk, groups: readonly number[]): number {
  const { tried, conditional } = walk;
  let total = 0;
  for (const g of groups) {
    setConditional(walk, g, conditional);
    const shape = (tried.logShape[g] as number) / conditional.rootShape;
    const scale = ((tried.logScale[g] as number) - conditional.rootCross * shape) / conditional.rootScale;
    const logScale = conditional.scaleMean + scale;
    const logShape = walk.freeShape ? conditional.shapeMean + shape : (walk.state.logShape[g] as number);
    const fit = groupFit(walk, g, logShape, logScale);
    tried.logScale[g] = logScale;
    tried.logShape[g] = logShape;
    tried.fit[g] = fit;
    total +=
      fit + logPrior(walk, g, logScale, logShape) - Math.log(conditional.rootScale * conditional.rootShape);
  }
  return total;
}

/** Log density of a group's place given what is shared. */
function logPrior(walk: Walk, g: number, logScale: number, logShape: number): number {
  const { state } = walk;
  const scale = logScale - expectedLogScale(walk, itemAt(walk.layout.groups, g));
  const onScale = logBell(scale, state.betweenScale) - Math.log(state.betweenScale);
  if (!walk.freeShape) return onScale;
  return onScale + logBell(logShape - state.shapeCentre, state.betweenShape) - Math.log(state.betweenShape);
}

/** Normal of a group given what is shared: its likelihood as `walk.normal` has it, times its prior. */
function setConditional(walk: Walk, g: number, out: Conditional): void {
  const { state, normal } = walk;
  const scalePrior = 1 / state.betweenScale ** 2;
  const shapePrior = walk.freeShape ? 1 / state.betweenShape ** 2 : 1;
  const cross = normal.cross[g] as number;
  out.rootScale = Math.sqrt((normal.scale[g] as number) + scalePrior);
  out.rootCross = cross / out.rootScale;
  out.rootShape = Math.sqrt((normal.shape[g] as number) + shapePrior - out.rootCross ** 2);
  const mean = expectedLogScale(walk, itemAt(walk.layout.groups, g));
  // Solve precision * means = pull by the two triangles.
  const scalePull = (normal.scalePull[g] as number) + scalePrior * mean;
  const shapePull = (normal.shapePull[g] as number) + shapePrior * state.shapeCentre;
  const first = scalePull / out.rootScale;
  out.shapeMean = (shapePull - out.rootCross * first) / out.rootShape ** 2;
  out.scaleMean = (first - out.rootCross * out.shapeMean) / out.rootScale;
}
