/**
 * Moves that carry the groups along with what they share. Where groups' own data are thin, a group sits where the
 * shared parameters put it, and moving the two in turn creeps; moving both together does not (interweaving, Yu & Meng
 * 2011, from memory). Each is a random-walk proposal that keeps the groups' standardised residuals.
 */
import { at, itemAt } from '../../../numeric/columns.js';
import { expectedLogScale, groupFit, logBell, type Step, type Walk } from './walk.js';

/** Share of proposals that should be taken along one line (Gelman, Roberts & Gilks 1996, from memory). */
const TAKEN = 0.44;

/** Moves the places of groups by `shift(g)` on the scale axis and `shapeShift(g)` on the shape axis, if it is taken. */
function carry(
  walk: Walk,
  groups: readonly number[],
  shift: ((g: number) => number) | null,
  shapeShift: ((g: number) => number) | null,
  step: Step,
  priorChange: number,
): boolean {
  const { state, tried } = walk;
  let change = priorChange;
  for (const g of groups) {
    const logScale = at(state.logScale, g) + (shift === null ? 0 : shift(g));
    const logShape = at(state.logShape, g) + (shapeShift === null ? 0 : shapeShift(g));
    const fit = groupFit(walk, g, logShape, logScale);
    tried.logScale[g] = logScale;
    tried.logShape[g] = logShape;
    tried.fit[g] = fit;
    change += fit - at(state.fit, g);
  }
  const taken = Math.log(walk.random.uniform()) < change;
  step.logSize += walk.gain * ((taken ? 1 : 0) - TAKEN);
  if (taken) {
    for (const g of groups) {
      state.logScale[g] = at(tried.logScale, g);
      state.logShape[g] = at(tried.logShape, g);
      state.fit[g] = at(tried.fit, g);
    }
  }
  return taken;
}

function proposal(walk: Walk, step: Step): number {
  return Math.exp(step.logSize) * walk.random.normal();
}

/** A material or duty with every duty and group under it. */
export function carryLocation(walk: Walk, j: number): void {
  const { state } = walk;
  const { parent, centre } = itemAt(walk.layout.locations, j);
  const step = itemAt(walk.steps.locations, j);
  const change = proposal(walk, step);
  const place = at(state.locations, j) + change;
  let priorChange = 0;
  if (parent !== null) {
    const above = at(state.locations, parent);
    priorChange =
      logBell(place - above, state.betweenDuty) - logBell(place - change - above, state.betweenDuty);
  } else if (Math.abs(place - centre) > walk.priors.materialHalfWidth) return;
  const moved = carry(walk, itemAt(walk.groupsUnder, j), () => change, null, step, priorChange);
  if (!moved) return;
  state.locations[j] = place;
  for (const duty of itemAt(walk.dutiesOf, j)) state.locations[duty] = at(state.locations, duty) + change;
}

/** The effect of size with every group. */
export function carrySizeEffect(walk: Walk): void {
  const { state, priors } = walk;
  const change = proposal(walk, walk.steps.size);
  const priorChange = logBell(state.size + change, priors.size) - logBell(state.size, priors.size);
  const shift = (g: number): number => change * itemAt(walk.layout.groups, g).logSize;
  if (carry(walk, walk.seen, shift, null, walk.steps.size, priorChange)) state.size += change;
}

/** The common shape with every group. */
export function carryShapeCentre(walk: Walk): void {
  const { state } = walk;
  const [mean, sd] = walk.priors.shapeCentre;
  const change = proposal(walk, walk.steps.shapeCentre);
  const priorChange = logBell(state.shapeCentre + change - mean, sd) - logBell(state.shapeCentre - mean, sd);
  if (carry(walk, walk.seen, null, () => change, walk.steps.shapeCentre, priorChange))
    state.shapeCentre += change;
}

/** The spread between groups on the scale axis: residuals grow and shrink with it. */
export function carryBetweenScale(walk: Walk): void {
  const { state } = walk;
  const change = proposal(walk, walk.steps.spread);
  const factor = Math.exp(change) - 1;
  const shift = (g: number): number =>
    factor * (at(state.logScale, g) - expectedLogScale(walk, itemAt(walk.layout.groups, g)));
  const priorChange = spreadPrior(state.betweenScale, change, walk.priors.betweenScale);
  if (carry(walk, walk.seen, shift, null, walk.steps.spread, priorChange)) state.betweenScale *= 1 + factor;
}

/** The spread between groups on the shape axis. */
export function carryBetweenShape(walk: Walk): void {
  const { state } = walk;
  const change = proposal(walk, walk.steps.shapeSpread);
  const factor = Math.exp(change) - 1;
  const shift = (g: number): number => factor * (at(state.logShape, g) - state.shapeCentre);
  const priorChange = spreadPrior(state.betweenShape, change, walk.priors.betweenShape);
  if (carry(walk, walk.seen, null, shift, walk.steps.shapeSpread, priorChange))
    state.betweenShape *= 1 + factor;
}

/** The spread between duties: duties move away from or towards their material, groups with them. */
export function carryBetweenDuty(walk: Walk): void {
  const { state } = walk;
  const { locations, groups } = walk.layout;
  const change = proposal(walk, walk.steps.dutySpread);
  const factor = Math.exp(change) - 1;
  const away = (j: number): number => {
    const { parent } = itemAt(locations, j);
    return parent === null ? 0 : factor * (at(state.locations, j) - at(state.locations, parent));
  };
  const priorChange = spreadPrior(state.betweenDuty, change, walk.priors.betweenDuty);
  const shift = (g: number): number => away(itemAt(groups, g).location);
  if (!carry(walk, walk.seen, shift, null, walk.steps.dutySpread, priorChange)) return;
  for (const j of walk.duties) state.locations[j] = at(state.locations, j) + away(j);
  state.betweenDuty *= 1 + factor;
}

/** Change of the log prior of log(spread) under a half-normal prior of the spread. */
function spreadPrior(spread: number, change: number, prior: number): number {
  return change + logBell(spread * Math.exp(change), prior) - logBell(spread, prior);
}
