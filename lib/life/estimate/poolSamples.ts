/** Groups of lives fitted together, each learning from its like (METHODS 2.3): the door to the pooling model for any samples. */
import { quantileSorted } from 'simple-statistics';
import { UsageError } from '../../errors.js';
import type { Warning } from '../../findings.js';
import { columnOf, floatAt, itemAt } from '../../numeric/columns.js';
import { joinSamples } from '../joinSamples.js';
import { failureCount } from '../sample.js';
import type { Bounds, LifeSample } from '../sampleTypes.js';
import { inUnit } from './fitLocationScale.js';
import { DEFAULT_SHAPE_PRIOR } from './fitTypes.js';
import { borrowedShare } from './pooling/borrowedShare.js';
import {
  POOLING_PRIORS,
  type PooledPosterior,
  type PoolingLayout,
  type PoolingPriors,
  poolGroups,
} from './pooling.js';
import { maximiseWeibull } from './weibull/maximiseWeibull.js';
import { wearColumns } from './weibull/wearColumn.js';
import { type WearSurface, wearSurface } from './weibull/wearSurface.js';
import { largestAge, type PreparedRows, prepareRows } from './weibull/weibullLikelihood.js';

export interface SampleGroup {
  name: string;
  sample: LifeSample;
  /** Its size over a common reference; 1 by default. The model has an effect of the logarithm of it. */
  size?: number;
}

export interface PoolSamplesOptions {
  /** Seed of the draws, a whole number; 1 by default. */
  seed?: number;
  /** Joint draws per group; 1000 by default. */
  draws?: number;
  /** Two-sided level of the bounds; 0.9 by default. */
  level?: number;
  /** Fixes the shape of every group (IEC 61649). */
  shape?: number;
  /** Priors that differ from POOLING_PRIORS. */
  priors?: Partial<Omit<PoolingPriors, 'betweenDuty'>>;
}

/** One group, in the unit of its ages. */
export interface PooledSample {
  name: string;
  failures: number;
  shape: Bounds;
  scale: Bounds;
  /** Share of what is known of the scale that came from the other groups, 0 to 1. */
  borrowed: number;
  /** Joint draws: draw d belongs together over all groups. */
  draws: { shape: Float64Array; scale: Float64Array };
}

export interface PooledSamples {
  groups: PooledSample[];
  /** A group of which nothing has been seen yet, of size 1. */
  newGroup: Pick<PooledSample, 'shape' | 'scale' | 'draws'>;
  /** Standard deviation between groups: of log scale and of log shape. */
  between: { scale: Bounds; shape: Bounds };
  /** Power of size by which the scale grows. */
  sizeEffect: Bounds;
  /** The scales sampled again under other priors of the spread between groups, in the order of the groups. */
  otherSpreads: { spread: number; scale: Bounds[] }[];
  priors: Omit<PoolingPriors, 'betweenDuty'>;
  level: number;
  seed: number;
  effectiveSize: number;
  largestRHat: number;
  warnings: Warning[];
}

const OTHER_SPREADS = [0.5, 2];
/** Ages are counted so that the oldest is about this many: the model's limits are for ages in days. */
const OLDEST = 1000;
const ENOUGH_DRAWS = 1000;
/** Groups of one kind do not live this many times as long as each other. */
const MOST_APART = 1e6;

/**
 * Fits Weibull laws to groups of one kind. Scales and shapes of the groups scatter round a common one, by how much is estimated too:
 * a group with many failures speaks for itself, one with few leans on the others, and a new one is predicted. Estimates are posterior
 * medians, bounds equal-tailed.
 * @throws UsageError where there is no group, a name appears twice, a size is not above 0, ages seem to be in different units,
 * or no group has a failure
 */
export function poolSamples(groups: readonly SampleGroup[], options: PoolSamplesOptions = {}): PooledSamples {
  const { seed = 1, draws = 1000, level = 0.9 } = options;
  requireGroups(groups, options);
  const priors = { ...POOLING_PRIORS, ...options.priors };
  const unit = groups.reduce((most, { sample }) => Math.max(most, largestAge(sample)), 0) / OLDEST;
  const rows = groups.map(({ sample }) => prepareRows(inUnit(sample, unit)));
  const surfaces = rows.map((each) => wearSurface(each));
  const centre = centreOf(prepareRows(inUnit(joinSamples(groups.map(({ sample }) => sample)), unit)));
  const layout = layoutOf(groups, surfaces, centre);
  const sizeEffect = hasSizes(groups);
  const common = { seed, draws, sizeEffect, ...fixed(options.shape) };
  const posterior = poolGroups(layout, { ...common, priors, label: 'samples' });
  const report = reporter(posterior, level, unit);
  const bounds = (values: Float64Array): Bounds => boundsOf(values, level);
  const { shared } = posterior;
  const { betweenDuty: _, ...shown } = priors;
  return {
    groups: groups.map(({ name, sample }, g) => ({
      name,
      failures: failureCount(sample),
      ...report(g),
      borrowed: borrowedShare(itemAt(posterior.logScale, g), itemAt(surfaces, g), flatPrior(priors, centre)),
    })),
    newGroup: report(groups.length),
    between: { scale: bounds(shared.betweenScale), shape: bounds(shared.betweenShape) },
    sizeEffect: bounds(shared.size),
    otherSpreads: OTHER_SPREADS.map((factor) => {
      const betweenScale = factor * priors.betweenScale;
      const label = `samples, spread ${betweenScale}`;
      const again = poolGroups(layout, { ...common, priors: { ...priors, betweenScale }, label });
      return { spread: betweenScale, scale: groups.map((_, g) => reporter(again, level, unit)(g).scale) };
    }),
    priors: shown,
    level,
    seed,
    effectiveSize: posterior.effectiveSize,
    largestRHat: posterior.largestRHat,
    warnings: qualityWarnings(posterior),
  };
}

/** The groups, and a new one of size 1 behind them. */
function layoutOf(
  groups: readonly SampleGroup[],
  surfaces: readonly WearSurface[],
  centre: number,
): PoolingLayout {
  const seen = groups.map(({ size = 1 }, g) => ({
    location: 0,
    logSize: Math.log(size),
    surface: itemAt(surfaces, g),
  }));
  return {
    groups: [...seen, { location: 0, logSize: 0, surface: null }],
    locations: [{ parent: null, centre }],
  };
}

function reporter(
  posterior: PooledPosterior,
  level: number,
  unit: number,
): (g: number) => Pick<PooledSample, 'shape' | 'scale' | 'draws'> {
  return (g) => {
    const shape = itemAt(posterior.logShape, g).map(Math.exp);
    const scale = itemAt(posterior.logScale, g).map((log) => unit * Math.exp(log));
    const taken = (column: Float64Array): Float64Array =>
      columnOf(posterior.drawn, (sweep) => floatAt(column, sweep));
    return {
      shape: boundsOf(shape, level),
      scale: boundsOf(scale, level),
      draws: { shape: taken(shape), scale: taken(scale) },
    };
  };
}

function boundsOf(values: Float64Array, level: number): Bounds {
  const sorted = Array.from(values.slice().sort());
  const at = (p: number): number => quantileSorted(sorted, p);
  return { estimate: at(0.5), low: at((1 - level) / 2), high: at((1 + level) / 2) };
}

/** Middle of the flat prior: the fit of all lives together; without failures, as if half a one had been. */
function centreOf(all: PreparedRows): number {
  if (all.exact.count.length + all.interval.count.length === 0) {
    return wearColumns(all)(Math.log(DEFAULT_SHAPE_PRIOR.median)).nudgedLogScale;
  }
  return Math.log(maximiseWeibull(all, { prior: DEFAULT_SHAPE_PRIOR }).scale);
}

function flatPrior(priors: PoolingPriors, centre: number): Parameters<typeof borrowedShare>[2] {
  const [shapeMean, centreSd] = priors.shapeCentre;
  return {
    centre,
    halfWidth: priors.materialHalfWidth,
    shapeMean,
    shapeSd: Math.hypot(centreSd, priors.betweenShape),
  };
}

function fixed(shape: number | undefined): { fixedLogShape?: number } {
  return shape === undefined ? {} : { fixedLogShape: Math.log(shape) };
}

function hasSizes(groups: readonly SampleGroup[]): boolean {
  return new Set(groups.map(({ size = 1 }) => size)).size > 1;
}

function qualityWarnings({ effectiveSize }: Pick<PooledPosterior, 'effectiveSize'>): Warning[] {
  if (effectiveSize >= ENOUGH_DRAWS) return [];
  return [
    {
      code: 'few-effective-draws',
      text: `The draws are worth ${Math.round(effectiveSize)} independent ones, fewer than ${ENOUGH_DRAWS}: bounds are uncertain in the second digit.`,
      todo: 'Leave out groups without failures, or read the bounds with care.',
    },
  ];
}

function requireGroups(
  groups: readonly SampleGroup[],
  { level = 0.9, draws = 1000, shape = 1 }: PoolSamplesOptions,
): void {
  const refuse = (rule: string, value: unknown): never => {
    throw new UsageError('poolSamples', rule, value);
  };
  if (groups.length === 0) refuse('give at least one group.', groups.length);
  const names = new Set<string>();
  for (const { name, sample, size = 1 } of groups) {
    if (names.has(name)) refuse('every group needs a name of its own.', name);
    names.add(name);
    if (!(size > 0 && size < Infinity)) refuse(`size of ${name} must be above 0 and finite.`, size);
    if (sample.otherHazard !== undefined) refuse(`${name} has failures of unknown cause.`, 'otherHazard');
  }
  const oldest = groups.map(({ sample }) => largestAge(sample));
  if (Math.max(...oldest) > MOST_APART * Math.min(...oldest)) {
    refuse(
      'the oldest lives of the groups differ by more than a factor of a million: give all ages in one unit.',
      oldest,
    );
  }
  if (groups.every(({ sample }) => failureCount(sample) === 0)) {
    refuse('no group has a failure, so there is nothing to learn from one another.', 0);
  }
  if (!(shape > 0 && shape < Infinity)) refuse('shape must be above 0 and finite.', shape);
  if (!(level > 0 && level < 1)) refuse('level must be between 0 and 1.', level);
  if (!(Number.isInteger(draws) && draws >= 20)) refuse('draws must be a whole number from 20.', draws);
}
