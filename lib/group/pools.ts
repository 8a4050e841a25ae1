/**
 * One pool per material. Groups of a material share its shape and the effect of size; another material says nothing of
 * how this one wears, and a common shape would let a material that fails by chance pull down the shapes of all others
 * (METHODS 2.3 has one shape for all; on simulated plants the bounds of groups with few leaks then missed low).
 */
import { type PooledPosterior, type PoolingLayout, poolGroups, sweepsFor } from '../life/estimate/pooling.js';
import { itemAt } from '../numeric/columns.js';

/** The pools side by side, groups in the order of the layout: sweep i of one pool belongs with sweep i of the others. */
export type MaterialPools = Pick<
  PooledPosterior,
  'logScale' | 'logShape' | 'drawn' | 'effectiveSize' | 'largestRHat'
>;

/** `materialOf[g]` names the material of group g. */
export function poolByMaterial(
  layout: PoolingLayout,
  materialOf: readonly string[],
  options: { seed: number; draws: number },
): MaterialPools {
  const sweeps = sweepsFor(layout.groups.length);
  const logScale: Float64Array[] = [];
  const logShape: Float64Array[] = [];
  let [effectiveSize, largestRHat] = [Infinity, 1];
  let drawn = new Int32Array();
  for (const material of new Set(materialOf)) {
    const members = materialOf.map((_, g) => g).filter((g) => materialOf[g] === material);
    const pool = poolGroups(partOf(layout, members), { ...options, sweeps, label: material });
    members.forEach((g, i) => {
      logScale[g] = itemAt(pool.logScale, i);
      logShape[g] = itemAt(pool.logShape, i);
    });
    effectiveSize = Math.min(effectiveSize, pool.effectiveSize);
    largestRHat = Math.max(largestRHat, pool.largestRHat);
    drawn = Int32Array.from(pool.drawn);
  }
  return { logScale, logShape, drawn, effectiveSize, largestRHat };
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
