/**
 * Life models of many groups at once, so that a group with few leaks learns from its like.
 * Model and priors: partial pooling after Gelman 2006 and Chung et al. 2013, from memory.
 *
 *     log scale_g = material + [duty] + b log(size / 25) + u_g     u_g ~ N(0, s^2)
 *     log shape_g = c + v_g                                        v_g ~ N(0, w^2)
 *
 * Priors in `POOLING_PRIORS`. The full posterior is sampled, spreads included, never plugged in: each group's own
 * likelihood comes as a table (wearSurface.ts). The model with every likelihood taken as a normal proposes, for what is
 * shared with the groups along (jointMoves.ts) and for each group; acceptance makes up for the difference. Groups are
 * also moved by slices given what is shared, and what is shared by its conjugate normal or a slice given the groups:
 * these always move, also where a likelihood is far from normal. Two chains start apart; their agreement (split R-hat)
 * and effective size are handed over with the draws. With some fifty parameters, ridges that bend, and spreads that may
 * be 0, a chain is surer than importance weights on a normal proposal at the mode.
 */
import { itemAt } from '../../numeric/columns.js';
import { randomStream } from '../../numeric/random.js';
import { type Chain, type ChainRecord, keptOf, runTo, startChain } from './pooling/chain.js';
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
/** Most group visits per chain: sets the number of sweeps, within the two limits below. */
const VISITS = 200_000;
const FEWEST_SWEEPS = 600;
const MOST_SWEEPS = 5500;
const BURN_IN_SHARE = 0.08;
const SHORTEST_BURN_IN = 300;
/** The chains are looked at first after this share of the most sweeps, and end at this effective size and R-hat. */
const FIRST_SHARE = 0.2;
const ENOUGH = 1150;
const GOOD_RHAT = 1.01;

/** Samples the pooling model. Deterministic for a seed. Preconditions: every index of the layout is inside. */
export function poolGroups(layout: PoolingLayout, options: PoolingOptions): PooledPosterior {
  const most = options.sweeps ?? mostSweeps(options.groups ?? layout.groups.length);
  const burnIn = Math.max(SHORTEST_BURN_IN, Math.round(most * BURN_IN_SHARE));
  const setting: WalkSetting = {
    layout,
    priors: { ...POOLING_PRIORS, ...options.priors },
    fixedLogShape: options.fixedLogShape,
    sizeEffect: options.sizeEffect !== false,
  };
  const chains = Array.from({ length: CHAINS }, (_, chain) =>
    startChain(setting, burnIn, most, randomStream(options.seed, `pooling/${options.label ?? ''}/${chain}`)),
  );
  const quality = runUntilEnough(chains, setting, most, options.sweeps !== undefined);
  const records = chains.map(keptOf);
  return {
    ...joined(records),
    ...quality,
    drawn: evenlySpread(options.draws, CHAINS * itemAt(chains, 0).kept),
  };
}

/** Runs chains as far as their effective size asks for, and no further than `most`; `whole` goes all the way. */
function runUntilEnough(chains: Chain[], setting: WalkSetting, most: number, whole: boolean): Quality {
  let sweeps = whole ? most : Math.min(most, Math.max(FEWEST_SWEEPS, Math.round(most * FIRST_SHARE)));
  for (;;) {
    for (const chain of chains) runTo(chain, sweeps);
    const quality = qualityOf(chains.map(keptOf), setting);
    const short = ENOUGH / Math.max(quality.effectiveSize, 1);
    if (sweeps >= most || (short <= 1 && quality.largestRHat <= GOOD_RHAT)) return quality;
    sweeps = Math.min(most, Math.ceil(sweeps * Math.min(Math.max(1.05 * short, 1.1), 2)));
  }
}

/** Most sweeps per chain for a plant of so many groups: more groups, fewer sweeps, so that the time stays in bounds. */
function mostSweeps(groups: number): number {
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

type Quality = Pick<PooledPosterior, 'effectiveSize' | 'largestRHat'>;

/**
 * Worst effective size over the shapes and scales of the groups, which are all that anyone uses, and worst agreement of
 * the chains over everything sampled. Predicted groups are independent draws given the rest.
 */
function qualityOf(chains: ChainRecord[], setting: WalkSetting): Quality {
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
