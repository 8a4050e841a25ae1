/**
 * The pooling model with every group's likelihood taken as a normal (normals.ts), for given spreads. Everything else is
 * then jointly normal: groups are eliminated one by one (a 2 x 2 block each), which leaves the precision of the shared
 * parameters only (places, effect of size, common shape): a small matrix that is factored by Cholesky. Block elimination
 * of a hierarchical normal model as in Gelman et al., Bayesian Data Analysis 3rd ed. ch. 5 and 15 (from memory).
 */
import { itemAt } from '../../../numeric/columns.js';
import { logBell, type Spreads, type Walk } from './walk.js';

/** The joint normal under given spreads. */
export interface JointNormal extends Spreads {
  /** Log of the posterior density of the log spreads in the normal model, all else integrated out, up to a constant. */
  logMarginal: number;
  /** Shared parameters (locations, then size, then common shape): mean, and lower triangle of the factor L of their precision L L'. */
  mean: Float64Array;
  factor: Float64Array;
  /** Per group, given what is shared: upper triangle of the root R of its precision R'R. */
  rootScale: Float64Array;
  rootCross: Float64Array;
  rootShape: Float64Array;
}

/** How many shared parameters there are, and which is which; -1 where it is left out. */
export interface SharedIndex {
  count: number;
  size: number;
  shape: number;
}

export function sharedIndex(locations: number, sizeEffect: boolean, freeShape: boolean): SharedIndex {
  const size = sizeEffect ? locations : -1;
  const shape = freeShape ? locations + (sizeEffect ? 1 : 0) : -1;
  return { count: locations + (sizeEffect ? 1 : 0) + (freeShape ? 1 : 0), size, shape };
}

export function emptyJoint(groups: number, shared: number): JointNormal {
  const column = (): Float64Array => new Float64Array(groups);
  return {
    betweenScale: 1,
    betweenDuty: 1,
    betweenShape: 1,
    logMarginal: 0,
    mean: new Float64Array(shared),
    factor: new Float64Array(shared * shared),
    rootScale: column(),
    rootCross: column(),
    rootShape: column(),
  };
}

/** Sets a joint normal up for the spreads that it holds. */
export function condition(walk: Walk, joint: JointNormal): void {
  joint.factor.fill(0);
  joint.mean.fill(0);
  joint.logMarginal = spreadsPrior(walk, joint) + sharedPrior(walk, joint) + eliminateGroups(walk, joint);
  joint.logMarginal += factorise(joint.factor, joint.mean);
}

/** Log prior of the logarithms of the spreads that are moved. */
function spreadsPrior({ priors, freeShape, duties }: Walk, joint: JointNormal): number {
  let total = logBell(joint.betweenScale, priors.betweenScale) + Math.log(joint.betweenScale);
  if (freeShape) total += logBell(joint.betweenShape, priors.betweenShape) + Math.log(joint.betweenShape);
  if (duties.length > 0)
    total += logBell(joint.betweenDuty, priors.betweenDuty) + Math.log(joint.betweenDuty);
  return total;
}

/** Precision and pull of the priors of what is shared; returns the log of their normalising constant. */
function sharedPrior(walk: Walk, { factor, mean, betweenDuty }: JointNormal): number {
  const { priors, index, layout } = walk;
  const n = index.count;
  const dutyPrior = 1 / betweenDuty ** 2;
  for (let j = 0; j < layout.locations.length; j++) {
    const { parent, centre } = itemAt(layout.locations, j);
    const own = parent === null ? walk.materialPrecision : dutyPrior;
    add(factor, j * n + j, own);
    if (parent === null) add(mean, j, own * centre);
    else {
      add(factor, parent * n + parent, own);
      add(factor, Math.max(j, parent) * n + Math.min(j, parent), -own);
    }
  }
  if (index.size >= 0) add(factor, index.size * (n + 1), 1 / priors.size ** 2);
  if (index.shape >= 0) {
    const weight = 1 / priors.shapeCentre[1] ** 2;
    add(factor, index.shape * (n + 1), weight);
    add(mean, index.shape, weight * priors.shapeCentre[0]);
  }
  return -walk.duties.length * Math.log(betweenDuty);
}

/** Sets the roots of the groups and adds what they say of the shared parameters; returns their part of the log marginal density. */
function eliminateGroups(walk: Walk, joint: JointNormal): number {
  const { normal, seen, freeShape } = walk;
  const scalePrior = 1 / joint.betweenScale ** 2;
  const shapePrior = freeShape ? 1 / joint.betweenShape ** 2 : 1;
  let twice = seen.length * Math.log(scalePrior * shapePrior);
  for (let i = 0; i < seen.length; i++) {
    const g = seen[i] as number;
    const cross = normal.cross[g] as number;
    const scalePull = normal.scalePull[g] as number;
    const shapePull = normal.shapePull[g] as number;
    const scale = (normal.scale[g] as number) + scalePrior;
    const shape = (normal.shape[g] as number) + shapePrior;
    const determinant = scale * shape - cross * cross;
    const rootScale = Math.sqrt(scale);
    joint.rootScale[g] = rootScale;
    joint.rootCross[g] = cross / rootScale;
    joint.rootShape[g] = Math.sqrt(determinant / scale);
    // Where the group would be if what is shared were 0.
    const scaleMean = (shape * scalePull - cross * shapePull) / determinant;
    const shapeMean = (scale * shapePull - cross * scalePull) / determinant;
    twice += scalePull * scaleMean + shapePull * shapeMean - Math.log(determinant);
    const onScale = (scalePrior * (shape * (normal.scale[g] as number) - cross * cross)) / determinant;
    const onShape = (shapePrior * (scale * (normal.shape[g] as number) - cross * cross)) / determinant;
    addOnScale(walk, joint, g, onScale, scalePrior * scaleMean);
    if (freeShape)
      addOnShape(
        walk,
        joint,
        g,
        (scalePrior * shapePrior * cross) / determinant,
        onShape,
        shapePrior * shapeMean,
      );
  }
  return twice / 2;
}

/** Precision and pull of a group, itself integrated out, on its expected log scale: its place and the effect of size. */
function addOnScale(
  walk: Walk,
  { factor, mean }: JointNormal,
  g: number,
  weight: number,
  pull: number,
): void {
  const { count, size } = walk.index;
  const place = walk.locationOf[g] as number;
  add(factor, place * (count + 1), weight);
  add(mean, place, pull);
  if (size < 0) return;
  const logSize = walk.logSize[g] as number;
  add(factor, size * count + place, weight * logSize);
  add(factor, size * (count + 1), weight * logSize * logSize);
  add(mean, size, pull * logSize);
}

/** The same on the common log shape: `both` ties it to the expected log scale. */
function addOnShape(
  walk: Walk,
  { factor, mean }: JointNormal,
  g: number,
  both: number,
  weight: number,
  pull: number,
): void {
  const { count, size, shape } = walk.index;
  add(factor, shape * count + (walk.locationOf[g] as number), both);
  if (size >= 0) add(factor, shape * count + size, both * (walk.logSize[g] as number));
  add(factor, shape * (count + 1), weight);
  add(mean, shape, pull);
}

function add(column: Float64Array, i: number, value: number): void {
  column[i] = (column[i] as number) + value;
}

/**
 * Cholesky factor of a symmetric matrix in its lower triangle, in place, and the pull turned into the mean; returns half
 * of the mean's quadratic form less half the log determinant.
 */
function factorise(a: Float64Array, mean: Float64Array): number {
  const n = mean.length;
  let product = 0;
  let square = 0;
  for (let i = 0; i < n; i++) {
    const row = i * n;
    let pull = mean[i] as number;
    let diagonal = a[row + i] as number;
    for (let j = 0; j < i; j++) {
      const other = j * n;
      let value = a[row + j] as number;
      for (let k = 0; k < j; k++) value -= (a[row + k] as number) * (a[other + k] as number);
      value /= a[other + j] as number;
      a[row + j] = value;
      diagonal -= value * value;
      pull -= value * (mean[j] as number);
    }
    const root = Math.sqrt(diagonal);
    a[row + i] = root;
    pull /= root;
    mean[i] = pull;
    product += Math.log(root);
    square += pull * pull;
  }
  solveUpper(a, mean);
  return square / 2 - product;
}

/** Solves L' x = z in place, L the lower triangle. */
export function solveUpper(factor: Float64Array, z: Float64Array): void {
  const n = z.length;
  for (let i = n - 1; i >= 0; i--) {
    const value = (z[i] as number) / (factor[i * n + i] as number);
    z[i] = value;
    for (let k = 0; k < i; k++) z[k] = (z[k] as number) - (factor[i * n + k] as number) * value;
  }
}

/** Turns distances into z = L' x in place. */
export function multiplyUpper(factor: Float64Array, x: Float64Array): void {
  const n = x.length;
  for (let i = 0; i < n; i++) {
    let total = 0;
    for (let k = i; k < n; k++) total += (factor[k * n + i] as number) * (x[k] as number);
    x[i] = total;
  }
}
