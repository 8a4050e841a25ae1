/**
 * One pool per material. Groups of a material share its shape and the effect of size; another material says nothing of
 * how this one wears, and a common shape would let a material that fails by chance pull down the shapes of all others
 * (METHODS 2.3 has one shape for all; on simulated plants the bounds of groups with few leaks then missed low).
 */
import { type PooledPosterior, type PoolingLayout, poolGroups } from '../life/estimate/pooling.js';
import { itemAt } from '../numeric/columns.js';

/**
 * The pools side by side, groups in the order of the layout. A pool runs as long as it needs, so that columns of two
 * materials may differ in length; draw d of one belongs with draw d of the others.
 */
export interface MaterialPools extends Pick<PooledPosterior, 'effectiveSize' | 'largestRHat'> {
  logScale: Float64Array[];
  logShape: Float64Array[];
  /** Per group: the spread between the groups of its pool. */
  betweenScale: Float64Array[];
  /** Per group: which sweeps of its columns make up the joint draws. */
  drawn: Int32Array[];
}

/** `materialOf[g]` names the material of group g. */
export function poolByMaterial(
  layout: PoolingLayout,
  materialOf: readonly string[],
  options: { seed: number; draws: number },
): MaterialPools {
  const groups = layout.groups.length;
  const pools: MaterialPools = {
    logScale: [],
    logShape: [],
    betweenScale: [],
    drawn: [],
    effectiveSize: Infinity,
    largestRHat: 1,
  };
  for (const material of new Set(materialOf)) {
    const members = materialOf.map((_, g) => g).filter((g) => materialOf[g] === material);
    const pool = poolGroups(partOf(layout, members), { ...options, groups, label: material });
    members.forEach((g, i) => {
      pools.logScale[g] = itemAt(pool.logScale, i);
      pools.logShape[g] = itemAt(pool.logShape, i);
      pools.betweenScale[g] = pool.shared.betweenScale;
      pools.drawn[g] = pool.drawn;
    });
    pools.effectiveSize = Math.min(pools.effectiveSize, pool.effectiveSize);
    pools.largestRHat = Math.max(pools.largestRHat, pool.largestRHat);
  }
  return pools;
}

/** The layout of some of the groups: their places, and the places those hang on. */
function partOf({ groups, locations }: PoolingLayout, members: readonly number[]): PoolingLayout {
  const needed = new Set<number>();
  for (const g of members) {
    const { location } = itemAt(groups, g);
    needed.add(location);
    const { parent } = itemAt(locations, location);
    if (parent !== null) needed.add(parent);
  }
  const kept = [...needed].sort((a, b) => a - b);
  const placeOf = new Map(kept.map((old, i) => [old, i]));
  const place = (old: number): number => placeOf.get(old) ?? 0;
  return {
    groups: members.map((g) => {
      const group = itemAt(groups, g);
      return { ...group, location: place(group.location) };
    }),
    locations: kept.map((old) => {
      const { parent, centre } = itemAt(locations, old);
      return { parent: parent === null ? null : place(parent), centre };
    }),
  };
}
