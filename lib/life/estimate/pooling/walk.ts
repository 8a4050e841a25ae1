/** The state of one chain of the sampler of ../pooling.ts, and what its moves share. */
import { columnOf, itemAt } from '../../../numeric/columns.js';
import type { RandomStream } from '../../../numeric/random.js';
import { LOG_SCALE_LIMITS, LOG_SHAPE_LIMITS } from '../weibull/wearColumn.js';
import { emptyJoint, type JointNormal, type SharedIndex, sharedIndex } from './jointNormal.js';
import { type GroupNormals, type NormalPlace, noNormals } from './normals.js';
import type { SliceState } from './slice.js';
import type { PooledGroup, PoolingLayout, PoolingPriors } from './types.js';

/** Spreads between groups on the scale axis, between duties, and between groups on the shape axis. */
export interface Spreads {
  betweenScale: number;
  betweenDuty: number;
  betweenShape: number;
}

export interface ChainState extends Spreads {
  logScale: Float64Array;
  logShape: Float64Array;
  /** Log-likelihood of each group at its present place. */
  fit: Float64Array;
  locations: Float64Array;
  size: number;
  shapeCentre: number;
}

/** A step whose size is tuned in the burn-in. */
export interface Step {
  logSize: number;
}

/** Everything a move needs: the model, the state, who hangs on whom, step sizes and the random stream. */
export interface Walk {
  layout: PoolingLayout;
  priors: PoolingPriors;
  /** False where the shape is fixed. */
  freeShape: boolean;
  sizeEffect: boolean;
  state: ChainState;
  random: RandomStream;
  /** Groups with lives; the others are only predicted. */
  seen: readonly number[];
  /** Per location: groups right at it (those with lives), and duties of it. */
  groupsAt: readonly (readonly number[])[];
  dutiesOf: readonly (readonly number[])[];
  /** Locations that are duties of a material. */
  duties: readonly number[];
  /** First widths of the slices, per group. */
  scaleWidth: Float64Array;
  ridgeWidth: Float64Array;
  /** Share of jumps that were taken lately, per group. */
  jumped: Float64Array;
  steps: { betweenScale: Step; betweenDuty: Step; betweenShape: Step; places: Step };
  /** Which shared parameter is which in the joint normal. */
  index: SharedIndex;
  /** The layout's groups by columns. */
  locationOf: Int32Array;
  logSize: Float64Array;
  /** Precision that stands for the flat prior of a material in the joint normal: of a uniform as wide. */
  materialPrecision: number;
  /** The joint normal at the present spreads (see jointMoves.ts for when), and room for two more. */
  joint: JointNormal;
  spareJoints: JointNormal[];
  /** Each group's likelihood as a normal, for proposals. */
  normal: GroupNormals;
  /** How fast steps are being tuned: above 0 in the burn-in, 0 after it. */
  gain: number;
  /** Sweeps done. */
  sweeps: number;
  /** Scratch. */
  slice: SliceState;
  before: NormalPlace;
  after: NormalPlace;
  tried: { shared: Float64Array; logScale: Float64Array; logShape: Float64Array; fit: Float64Array };
}

export interface WalkSetting {
  layout: PoolingLayout;
  priors: PoolingPriors;
  fixedLogShape?: number | undefined;
  sizeEffect: boolean;
}

export function startWalk(setting: WalkSetting, random: RandomStream): Walk {
  const { layout, priors, sizeEffect } = setting;
  const { groups, locations } = layout;
  const freeShape = setting.fixedLogShape === undefined;
  const seen = groups.map((_, g) => g).filter((g) => itemAt(groups, g).surface !== null);
  const index = sharedIndex(locations.length, sizeEffect, freeShape);
  const column = (value: number): Float64Array => new Float64Array(groups.length).fill(value);
  return {
    layout,
    priors,
    freeShape,
    sizeEffect,
    state: startState(setting, random),
    random,
    seen,
    ...whoHangsOnWhom(layout, seen),
    duties: locations.map((_, j) => j).filter((j) => itemAt(locations, j).parent !== null),
    scaleWidth: column(1),
    ridgeWidth: column(1),
    jumped: column(1),
    steps: {
      betweenScale: { logSize: 0 },
      betweenDuty: { logSize: 0 },
      betweenShape: { logSize: 0 },
      places: { logSize: 0 },
    },
    index,
    locationOf: Int32Array.from(groups, ({ location }) => location),
    logSize: columnOf(groups, ({ logSize }) => logSize),
    materialPrecision: 3 / priors.materialHalfWidth ** 2,
    joint: emptyJoint(groups.length, index.count),
    spareJoints: [emptyJoint(groups.length, index.count), emptyJoint(groups.length, index.count)],
    normal: noNormals(groups.length),
    gain: 0,
    sweeps: 0,
    slice: { value: 0, logDensity: 0 },
    before: { rootScale: 1, rootCross: 0, rootShape: 1, scale: 0, shape: 0 },
    after: { rootScale: 1, rootCross: 0, rootShape: 1, scale: 0, shape: 0 },
    tried: {
      shared: new Float64Array(index.count),
      logScale: column(0),
      logShape: column(0),
      fit: column(0),
    },
  };
}

function whoHangsOnWhom(
  { groups, locations }: PoolingLayout,
  seen: readonly number[],
): Pick<Walk, 'groupsAt' | 'dutiesOf'> {
  const groupsAt: number[][] = locations.map(() => []);
  const dutiesOf: number[][] = locations.map(() => []);
  for (const g of seen) groupsAt[itemAt(groups, g).location]?.push(g);
  locations.forEach(({ parent }, j) => {
    if (parent !== null) dutiesOf[parent]?.push(j);
  });
  return { groupsAt, dutiesOf };
}

/** Starts away from the middle, differently in each chain, so that agreement of chains means something. */
function startState({ layout, priors, fixedLogShape }: WalkSetting, random: RandomStream): ChainState {
  const { groups, locations } = layout;
  const [shapeMean, shapeSd] = priors.shapeCentre;
  const shapeCentre = fixedLogShape ?? shapeMean + 0.5 * shapeSd * random.normal();
  const places = locations.map(({ parent, centre }) => {
    const middle = parent === null ? centre : itemAt(locations, parent).centre;
    return middle + 0.3 * random.normal();
  });
  const logShape = columnOf(groups, () => shapeCentre);
  const logScale = columnOf(groups, ({ location }) => (places[location] as number) + 0.1 * random.normal());
  return {
    logScale,
    logShape,
    fit: columnOf(
      groups,
      ({ surface }, g) => surface?.logLikelihood(shapeCentre, logScale[g] as number) ?? 0,
    ),
    locations: Float64Array.from(places),
    size: 0,
    betweenScale: priors.betweenScale * (0.3 + random.uniform()),
    betweenDuty: priors.betweenDuty * (0.3 + random.uniform()),
    shapeCentre,
    betweenShape: priors.betweenShape * (0.3 + random.uniform()),
  };
}

/** Log-likelihood of group g; minus infinity outside the limits of shape and scale, which are part of the prior. */
export function groupFit(walk: Walk, g: number, logShape: number, logScale: number): number {
  if (logShape < LOG_SHAPE_LIMITS[0] || logShape > LOG_SHAPE_LIMITS[1]) return Number.NEGATIVE_INFINITY;
  if (logScale < LOG_SCALE_LIMITS[0] || logScale > LOG_SCALE_LIMITS[1]) return Number.NEGATIVE_INFINITY;
  return itemAt(walk.layout.groups, g).surface?.logLikelihood(logShape, logScale) ?? 0;
}

/** Mean of a group's log scale given what is shared. */
export function expectedLogScale({ state }: Walk, { location, logSize }: PooledGroup): number {
  return (state.locations[location] as number) + state.size * logSize;
}

/** Log-density of a normal at a distance from its mean, without the constant and the -log sd. */
export function logBell(distance: number, sd: number): number {
  return -(distance * distance) / (2 * sd * sd);
}
