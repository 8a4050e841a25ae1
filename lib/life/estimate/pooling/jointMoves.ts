/**
 * Moves of what groups share that take the groups along. Moving the two in turn creeps, because a group sits where the
 * shared parameters put it and they sit where the groups are. Here the normal model of jointNormal.ts proposes: it is
 * the posterior with each group's likelihood replaced by a normal. In it the marginal density of the spreads is known,
 * and given the spreads every other parameter is a standardised distance z ~ N(0, I) from a known mean. The posterior
 * itself is that model times w, the product over groups of likelihood over normal. A move that leaves the normal model
 * as it is (reversible) and is then accepted with probability min(1, w after / w before) leaves the posterior as it is.
 * Were the likelihoods normal, each move would be accepted; where they are not, the ratio makes up for it.
 *
 *  - each spread in turn: Metropolis steps on the marginal, which ask for no likelihood; every z stays;
 *  - places, effect of size and common shape: their z is turned towards fresh random numbers by an angle; the z of the
 *    groups stay, so that groups follow by as much as their own leaks leave them free.
 *
 * (Surrogate transitions: Liu 2001, Monte Carlo Strategies in Scientific Computing, sec. 9.4.3; turning z: Neal 1998,
 * Regression and classification using Gaussian process priors; partial non-centring: Papaspiliopoulos, Roberts & Sköld
 * 2007; all from memory.)
 */
import { itemAt } from '../../../numeric/columns.js';
import { condition, type JointNormal, multiplyUpper, solveUpper } from './jointNormal.js';
import { type NormalPlace, normalChange } from './normals.js';
import { groupFit, type Spreads, type Step, type Walk } from './walk.js';

/** Metropolis steps of a spread in one move. */
const SPREAD_STEPS = 2;
/** Their standard deviation, on the log of the spread, where the step size is 1. */
const SPREAD_WIDTH = 1.4;
/** Share of moves that should be taken: steps are shortened in the burn-in where it is less. */
const TAKEN = 0.35;
/** Step sizes end here: the spreads of one pool are seldom known to better than a factor e; a right angle forgets z. */
const LONGEST_SPREAD_STEP = 1.65;
const RIGHT_ANGLE = Math.PI / 2;

/** Each spread in turn. Leaves `walk.joint` set up for the spreads as they are then. */
export function moveSpreads(walk: Walk): void {
  const { joint, state, steps } = walk;
  joint.betweenScale = state.betweenScale;
  joint.betweenDuty = state.betweenDuty;
  joint.betweenShape = state.betweenShape;
  condition(walk, joint);
  moveSpread(walk, 'betweenScale', steps.betweenScale);
  if (walk.duties.length > 0) moveSpread(walk, 'betweenDuty', steps.betweenDuty);
  if (walk.freeShape) moveSpread(walk, 'betweenShape', steps.betweenShape);
}

function moveSpread(walk: Walk, which: keyof Spreads, step: Step): void {
  const { joint, state } = walk;
  const to = proposeSpread(walk, which, SPREAD_WIDTH * Math.exp(step.logSize));
  if (to === joint) return;
  if (!settle(walk, step, LONGEST_SPREAD_STEP, follow(walk, to, 0))) return;
  state[which] = to[which];
  walk.spareJoints[walk.spareJoints.indexOf(to)] = joint;
  walk.joint = to;
}

/** Places, effect of size and common shape together. Needs `walk.joint` set up for the present spreads. */
export function movePlaces(walk: Walk): void {
  const angle = Math.min(Math.exp(walk.steps.places.logSize), RIGHT_ANGLE);
  settle(walk, walk.steps.places, RIGHT_ANGLE, follow(walk, walk.joint, angle));
}

/** Random steps of one spread on its marginal in the normal model, given the other spreads; returns where they end. */
function proposeSpread(walk: Walk, which: keyof Spreads, width: number): JointNormal {
  const { random, spareJoints } = walk;
  let here = walk.joint;
  for (let i = 0; i < SPREAD_STEPS; i++) {
    const there = itemAt(spareJoints, here === spareJoints[0] ? 1 : 0);
    there.betweenScale = here.betweenScale;
    there.betweenDuty = here.betweenDuty;
    there.betweenShape = here.betweenShape;
    there[which] *= Math.exp(width * random.normal());
    condition(walk, there);
    if (Math.log(random.uniform()) < there.logMarginal - here.logMarginal) here = there;
  }
  return here;
}

/** Where all goes when the spreads become those of `to` and the shared z is turned; returns the change of log w. */
function follow(walk: Walk, to: JointNormal, angle: number): number {
  const change = shareTried(walk, to, angle);
  return change === Number.NEGATIVE_INFINITY ? change : change + groupsTried(walk, to);
}

/** Fills `tried.shared`; returns the part of log w that makes up for the prior of materials being flat. */
function shareTried(walk: Walk, to: JointNormal, angle: number): number {
  const { joint, tried, state, index, random, layout, priors } = walk;
  const { shared } = tried;
  const places = state.locations.length;
  for (let j = 0; j < places; j++) shared[j] = state.locations[j] as number;
  if (index.size >= 0) shared[index.size] = state.size;
  if (index.shape >= 0) shared[index.shape] = state.shapeCentre;
  for (let i = 0; i < shared.length; i++) shared[i] = (shared[i] as number) - (joint.mean[i] as number);
  multiplyUpper(joint.factor, shared);
  if (angle > 0) turn(shared, angle, random.normal);
  solveUpper(to.factor, shared);
  for (let i = 0; i < shared.length; i++) shared[i] = (shared[i] as number) + (to.mean[i] as number);
  let change = 0;
  for (let j = 0; j < places; j++) {
    const { parent, centre } = itemAt(layout.locations, j);
    if (parent !== null) continue;
    const after = (shared[j] as number) - centre;
    if (Math.abs(after) > priors.materialHalfWidth) return Number.NEGATIVE_INFINITY;
    const before = (state.locations[j] as number) - centre;
    change += (walk.materialPrecision * (after * after - before * before)) / 2;
  }
  return change;
}

function turn(z: Float64Array, angle: number, normal: () => number): void {
  const keep = Math.cos(angle);
  const fresh = Math.sin(angle);
  for (let i = 0; i < z.length; i++) z[i] = keep * (z[i] as number) + fresh * normal();
}

/** Fills `tried` for every group with lives, its z kept; returns the change of their log w. */
function groupsTried(walk: Walk, to: JointNormal): number {
  const { state, tried, joint, index, seen, freeShape, before, after } = walk;
  const sizeAfter = index.size < 0 ? 0 : (tried.shared[index.size] as number);
  const shapeAfter = index.shape < 0 ? 0 : (tried.shared[index.shape] as number);
  let change = 0;
  for (let i = 0; i < seen.length; i++) {
    const g = seen[i] as number;
    const j = walk.locationOf[g] as number;
    const logSize = walk.logSize[g] as number;
    const logScale = state.logScale[g] as number;
    const logShape = state.logShape[g] as number;
    setPulls(
      walk,
      joint,
      g,
      (state.locations[j] as number) + state.size * logSize,
      state.shapeCentre,
      before,
    );
    const zScale = before.rootScale * logScale + before.rootCross * logShape - before.scale;
    const zShape = before.rootShape * logShape - before.shape;
    setPulls(walk, to, g, (tried.shared[j] as number) + sizeAfter * logSize, shapeAfter, after);
    const shape = freeShape ? (zShape + after.shape) / after.rootShape : logShape;
    const scale = (zScale + after.scale - after.rootCross * shape) / after.rootScale;
    const fit = groupFit(walk, g, shape, scale);
    tried.logScale[g] = scale;
    tried.logShape[g] = shape;
    tried.fit[g] = fit;
    change += fit - (state.fit[g] as number) - normalChange(walk.normal, g, logScale, logShape, scale, shape);
  }
  return change;
}

/** The root R of group g's precision given what is shared, and R times its mean. */
export function setPulls(
  { normal, freeShape }: Walk,
  joint: JointNormal,
  g: number,
  mean: number,
  shapeCentre: number,
  out: NormalPlace,
): void {
  const rootScale = joint.rootScale[g] as number;
  const rootCross = joint.rootCross[g] as number;
  const rootShape = joint.rootShape[g] as number;
  const scale = ((normal.scalePull[g] as number) + mean / joint.betweenScale ** 2) / rootScale;
  const shapePull = (normal.shapePull[g] as number) + (freeShape ? shapeCentre / joint.betweenShape ** 2 : 0);
  out.rootScale = rootScale;
  out.rootCross = rootCross;
  out.rootShape = rootShape;
  out.scale = scale;
  out.shape = (shapePull - rootCross * scale) / rootShape;
}

/** Takes what was tried with this change of log w, or leaves all as it was; tunes the step in the burn-in. */
function settle(walk: Walk, step: Step, longest: number, change: number): boolean {
  const { state, tried, index, seen } = walk;
  const taken = Math.log(walk.random.uniform()) < change;
  step.logSize = Math.min(step.logSize + walk.gain * ((taken ? 1 : 0) - TAKEN), Math.log(longest));
  if (!taken) return false;
  for (let j = 0; j < state.locations.length; j++) state.locations[j] = tried.shared[j] as number;
  if (index.size >= 0) state.size = tried.shared[index.size] as number;
  if (index.shape >= 0) state.shapeCentre = tried.shared[index.shape] as number;
  for (let i = 0; i < seen.length; i++) {
    const g = seen[i] as number;
    state.logScale[g] = tried.logScale[g] as number;
    state.logShape[g] = tried.logShape[g] as number;
    state.fit[g] = tried.fit[g] as number;
  }
  return true;
}
