/**
 * Life models of many groups at once, so that a group with few leaks learns from its like.
 * Model and priors: partial pooling after Gelman 2006 and Chung et al. 2013, from memory.
 *
 *     log scale_g = material + [duty] + b log(size / 25) + u_g     u_g ~ N(0, s^2)
 *     log shape_g = c + v_g                                        v_g ~ N(0, w^2)
 *
 * Priors in `POOLING_PRIORS`. The full posterior is sampled, spreads included, never plugged in: each group's own
 * likelihood comes as a table (wearSurface.ts); groups are moved by slices given what is shared, shared parameters by
 * their conjugate normal or a slice given the groups, and both together by interweaving moves. Two chains start apart;
 * their agreement (split R-hat) and effective size are handed over with the draws. With some fifty parameters, ridges
 * that bend, and spreads that may be 0, a chain is surer than a normal proposal at the mode with importance weights.
 */
import { itemAt } from '../../numeric/columns.js';
import { randomStream } from '../../numeric/random.js';
import { type ChainRecord, runChain } from './pooling/chain.js';
import { effectiveSize, splitRHat } from './pooling/quality.js';
import {
  POOLING_PRIORS,
  type PooledPosterior,
  type PoolingLayout,
  type PoolingOptions,
} from './pooling/types.js';
import type { WalkSetting } from './pooling/walk.js';

export type * from './pooling/types.js';
export { POOLING_PRIORS } from './pooling/types.js';

const CHAINS = 2;
/** Group visits per chain: sets the number of sweeps, within the two limits below. */
const VISITS = 130_000;
const FEWEST_SWEEPS = 600;
const MOST_SWEEPS = 5500;
const BURN_IN_SHARE = 0.12;
const SHORTEST_BURN_IN = 300;

/** Samples the pooling model. Deterministic for a seed. Preconditions: every index of the layout is inside. */
export function poolGroups(layout: PoolingLayout, options: PoolingOptions): PooledPosterior {
  const sweeps = options.sweeps ?? sweepsFor(layout.groups.length);
  const burnIn = Math.max(SHORTEST_BURN_IN, Math.round(sweeps * BURN_IN_SHARE));
  const setting: WalkSetting = {
    layout,
    priors: { ...POOLING_PRIORS, ...options.priors },
    fixedLogShape: options.fixedLogShape,
    sizeEffect: options.sizeEffect !== false,
  };
  const chains = Array.from({ length: CHAINS }, (_, chain) =>
    runChain(setting, burnIn, sweeps, randomStream(options.seed, `pooling/${options.label ?? ''}/${chain}`)),
  );
  return {
    ...joined(chains),
    ...quality(chains, setting),
    drawn: evenlySpread(options.draws, CHAINS * sweeps),
  };
}

/** Kept sweeps per chain for a plant of so many groups: more groups, fewer sweeps, so that the time stays in bounds. */
export function sweepsFor(groups: number): number {
  return Math.min(MOST_SWEEPS, Math.max(FEWEST_SWEEPS, Math.round(VISITS / Math.max(groups, 1))));
}

/** Indices of `draws` sweeps, evenly spread. */
function evenlySpread(draws: number, sweeps: number): Int32Array {
  return Int32Array.from({ length: draws }, (_, d) => Math.floor(((d + 0.5) * sweeps) / draws));
}

function joined(chains: ChainRecord[]): Pick<PooledPosterior, 'logScale' | 'logShape' | 'shared'> {
  const first = itemAt(chains, 0);
  const join = (column: ColumnOf): Float64Array => {
    const parts = chains.map(column);
    const all = new Float64Array(parts.reduce((length, part) => length + part.length, 0));
    parts.reduce((start, part) => {
      all.set(part, start);
      return start + part.length;
    }, 0);
    return all;
  };
  return {
    logScale: first.logScale.map((_, g) => join((chain) => itemAt(chain.logScale, g))),
    logShape: first.logShape.map((_, g) => join((chain) => itemAt(chain.logShape, g))),
    shared: {
      size: join((chain) => chain.shared.size),
      betweenScale: join((chain) => chain.shared.betweenScale),
      betweenDuty: join((chain) => chain.shared.betweenDuty),
      shapeCentre: join((chain) => chain.shared.shapeCentre),
      betweenShape: join((chain) => chain.shared.betweenShape),
      locations: first.shared.locations.map((_, j) => join((chain) => itemAt(chain.shared.locations, j))),
    },
  };
}

/**
 * Worst effective size over the shapes and scales of the groups, which are all that anyone uses, and worst agreement of
 * the chains over everything sampled. Predicted groups are independent draws given the rest.
 */
function quality(
  chains: ChainRecord[],
  setting: WalkSetting,
): Pick<PooledPosterior, 'effectiveSize' | 'largestRHat'> {
  const own = groupColumns(setting).map((column) => effectiveSize(chains.map(column)));
  const agreement = [...groupColumns(setting), ...sharedColumns(setting)].map((column) =>
    splitRHat(chains.map(column)),
  );
  return { effectiveSize: Math.min(...own), largestRHat: Math.max(1, ...agreement) };
}

type ColumnOf = (chain: ChainRecord) => Float64Array;

/** Shape and scale of every group that has lives. */
function groupColumns({ layout, fixedLogShape }: WalkSetting): ColumnOf[] {
  const seen = layout.groups.map((_, g) => g).filter((g) => itemAt(layout.groups, g).surface !== null);
  const scales = seen.map((g) => (chain: ChainRecord) => itemAt(chain.logScale, g));
  if (fixedLogShape !== undefined) return scales;
  return [...scales, ...seen.map((g) => (chain: ChainRecord) => itemAt(chain.logShape, g))];
}

/** Shared parameters that the chain really moves. */
function sharedColumns({ layout, fixedLogShape, sizeEffect }: WalkSetting): ColumnOf[] {
  const columns: ColumnOf[] = layout.locations.map(
    (_, j) => (chain: ChainRecord) => itemAt(chain.shared.locations, j),
  );
  columns.push((chain) => chain.shared.betweenScale);
  if (sizeEffect) columns.push((chain) => chain.shared.size);
  if (layout.locations.some(({ parent }) => parent !== null)) {
    columns.push((chain) => chain.shared.betweenDuty);
  }
  if (fixedLogShape !== undefined) return columns;
  return [...columns, (chain) => chain.shared.shapeCentre, (chain) => chain.shared.betweenShape];
}
