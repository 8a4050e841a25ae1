/** What goes into the pooling model and what comes out of it. The model itself is described in ../pooling.ts. */
import type { WearSurface } from '../weibull/wearSurface.js';

/** One group of lives. Ages are days. */
export interface PooledGroup {
  /** Index of its place on the log-scale axis: into `PoolingLayout.locations`. */
  location: number;
  /** log(size / 25). */
  logSize: number;
  /** Its wear-out log-likelihood, or null where it has no lives: then it is only predicted. */
  surface: Pick<WearSurface, 'logLikelihood' | 'bestLogRate'> | null;
}

/**
 * A place on the log-scale axis: a material (`parent` null), or a duty of a material (`parent` is the material's
 * index). The centre of a material is where its flat prior is centred; of a duty it is not used.
 */
export interface PooledLocation {
  parent: number | null;
  centre: number;
}

export interface PoolingLayout {
  groups: PooledGroup[];
  locations: PooledLocation[];
}

/** Priors of the pooling model, all on log scale and log shape. Standard deviations unless said otherwise. */
export interface PoolingPriors {
  /** Half width of the flat prior of a material's log scale. */
  materialHalfWidth: number;
  /** Effect of log(size / 25). */
  size: number;
  /** Half-normal: spread between groups of one material. */
  betweenScale: number;
  /** Half-normal: spread between duties of one material. */
  betweenDuty: number;
  /** Common log shape: mean and standard deviation. */
  shapeCentre: readonly [mean: number, sd: number];
  /** Half-normal: spread of log shape between groups. */
  betweenShape: number;
}

export const POOLING_PRIORS: PoolingPriors = {
  materialHalfWidth: 3,
  size: 0.3,
  betweenScale: 0.5,
  betweenDuty: 1,
  shapeCentre: [Math.log(2), 0.5],
  betweenShape: 0.3,
};

export interface PoolingOptions {
  /** Names the stream of random numbers, so that several pools of one seed are independent. */
  label?: string;
  seed: number;
  /** Joint draws to hand over. */
  draws: number;
  priors?: Partial<PoolingPriors>;
  /** Fixes log shape of every group; shape terms are then left out. */
  fixedLogShape?: number;
  /** False leaves the effect of size out. */
  sizeEffect?: boolean;
  /** Sweeps kept per chain; by default as many as it takes, within what the number of groups allows. */
  sweeps?: number;
  /** Groups of the whole plant, where this pool is a part of it: they share the time. */
  groups?: number;
}

/** Values of the parameters that all groups share, sweep by sweep or draw by draw. */
export interface SharedDraws {
  size: Float64Array;
  betweenScale: Float64Array;
  betweenDuty: Float64Array;
  shapeCentre: Float64Array;
  betweenShape: Float64Array;
  /** One column per location. */
  locations: Float64Array[];
}

export interface PooledPosterior {
  /** Per group, every kept sweep of both chains, one chain after the other. */
  logScale: Float64Array[];
  logShape: Float64Array[];
  shared: SharedDraws;
  /** Which sweeps make up the joint draws, evenly spread over both chains. */
  drawn: Int32Array;
  /** Smallest effective size of the kept sweeps over the shapes and scales of the groups. */
  effectiveSize: number;
  /** Largest split R-hat over all parameters. */
  largestRHat: number;
}
