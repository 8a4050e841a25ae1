/** The state of one chain of the sampler of ../pooling.ts, and what its moves share. */
import { itemAt } from '../../../numeric/columns.js';
import type { RandomStream } from '../../../numeric/random.js';
import { LOG_SCALE_LIMITS, LOG_SHAPE_LIMITS } from '../wearColumn.js';
import { type GroupNormals, noNormals } from './normals.js';
import type { SliceState } from './slice.js';
import type { PooledGroup, PoolingLayout, PoolingPriors } from './types.js';

export interface ChainState {
  logScale: Float64Array;
  logShape: Float64Array;
  /** Log-likelihood of each group at its present place. */
  fit: Float64Array;
  locations: Float64Array;
  size: number;
  betweenScale: number;
  betweenDuty: number;
  shapeCentre: number;
  betweenShape: number;
}

/** A random-walk step whose size is tuned in the burn-in. */
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
  /** Per location: groups right at it, and duties of it, and all groups at or below it (those with lives). */
  groupsAt: readonly (readonly number[])[];
  dutiesOf: readonly (readonly number[])[];
  groupsUnder: readonly (readonly number[])[];
  /** Locations that are duties of a material. */
  duties: readonly number[];
  /** First widths of the slices, per group. */
  scaleWidth: Float64Array;
  ridgeWidth: Float64Array;
  /** Share of jumps of `redraw` that were taken lately, per group. */
  redrawn: Float64Array;
  steps: {
    spread: Step;
    shapeSpread: Step;
    shapeCentre: Step;
    size: Step;
    dutySpread: Step;
    locations: Step[];
  };
  /** Per location: how far it goes with the common shape, by the burn-in. */
  withShape: Float64Array;
  /** Each group's likelihood as a normal, for proposals. */
  normal: GroupNormals;
  /** How fast steps are being tuned: above 0 in the burn-in, 0 after it. */
  gain: number;
  /** Scratch. */
  slice: SliceState;
  conditional: {
    scaleMean: number;
    shapeMean: number;
    rootScale: number;
    rootCross: number;
    rootShape: number;
  };
  tried: { logScale: Float64Array; logShape: Float64Array; fit: Float64Array };
}

export interface WalkSetting {
  layout: PoolingLayout;
  priors: PoolingPriors;
  fixedLogShape?: number | undefined;
  sizeEffect: boolean;
}

export function startWalk(setting: WalkSetting, random: RandomStream): Walk {
  const { layout, priors } = setting;
  const { groups, locations } = layout;
  const seen = groups.map((_, g) => g).filter((g) => itemAt(groups, g).surface !== null);
  const { groupsAt, dutiesOf, groupsUnder } = whoHangsOnWhom(layout, seen);
  return {
    layout,
    priors,
    freeShape: setting.fixedLogShape === undefined,
    sizeEffect: setting.sizeEffect,
    state: startState(setting, random),
    random,
    seen,
    groupsAt,
    dutiesOf,
    groupsUnder,
    duties: locations.map((_, j) => j).filter((j) => itemAt(locations, j).parent !== null),
    scaleWidth: new Float64Array(groups.length).fill(1),
    ridgeWidth: new Float64Array(groups.length).fill(1),
    redrawn: new Float64Array(groups.length).fill(1),
    steps: {
      spread: step(),
      shapeSpread: step(),
      shapeCentre: step(),
      size: step(),
      dutySpread: step(),
      locations: locations.map(step),
    },
    gain: 0,
    slice: { value: 0, logDensity: 0 },
    conditional: { scaleMean: 0, shapeMean: 0, rootScale: 1, rootCross: 0, rootShape: 1 },
    normal: noNormals(groups.length),
    withShape: new Float64Array(locations.length),
    tried: {
      logScale: new Float64Array(groups.length),
      logShape: new Float64Array(groups.length),
      fit: new Float64Array(groups.length),
    },
  };
}

function step(): Step {
  return { logSize: Math.log(0.3) };
}

function whoHangsOnWhom(
  { groups, locations }: PoolingLayout,
  seen: readonly number[],
): Pick<Walk, 'groupsAt' | 'dutiesOf' | 'groupsUnder'> {
  const groupsAt: number[][] = locations.map(() => []);
  const dutiesOf: number[][] = locations.map(() => []);
  for (const g of seen) groupsAt[itemAt(groups, g).location]?.push(g);
  locations.forEach(({ parent }, j) => {
    if (parent !== null) dutiesOf[parent]?.push(j);
  });
  const groupsUnder = locations.map((_, j) => [
    ...itemAt(groupsAt, j),
    ...itemAt(dutiesOf, j).flatMap((duty) => itemAt(groupsAt, duty)),
  ]);
  return { groupsAt, dutiesOf, groupsUnder };
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
  const logShape = Float64Array.from(groups, () => shapeCentre);
  const logScale = Float64Array.from(
    groups,
    ({ location }) => (places[location] as number) + 0.1 * random.normal(),
  );
  return {
    logScale,
    logShape,
    fit: Float64Array.from(
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
