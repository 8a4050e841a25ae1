/** How many pieces of each item make a whole kit complete with the chance asked for (METHODS 5.5). */
import { columnOf, floatAt, itemAt } from '../numeric/columns.js';

/** Chance that at most k pieces of an item are needed. */
export type CountCdf = (k: number) => number;

/**
 * Raises the pieces of the items of one kit, one at a time where a piece adds most to the chance that nothing is missing,
 * until that chance is at or above the target: the fewest pieces for items whose chances fall off at a growing rate
 * (marginal analysis; Fox 1966, from memory). `least` are numbers with which each item alone is at the target. Items are
 * taken as independent; they share what is not known of a life model, which makes the kit safer than said, not less.
 */
export function completeKit(needed: readonly CountCdf[], least: readonly number[], target: number): number[] {
  const levels = [...least];
  const chance = columnOf(needed, (cdf, i) => cdf(itemAt(levels, i)));
  const more = columnOf(needed, (cdf, i) => cdf(itemAt(levels, i) + 1));
  while (chance.reduce((all, each) => all * each, 1) < target) {
    const best = mostGained(chance, more);
    if (best < 0) break;
    levels[best] = itemAt(levels, best) + 1;
    chance[best] = floatAt(more, best);
    more[best] = itemAt(needed, best)(itemAt(levels, best) + 1);
  }
  return levels;
}

/** Item of which one more piece raises the chance most, -1 where no piece adds anything. */
function mostGained(chance: Float64Array, more: Float64Array): number {
  let best = -1;
  let most = 1;
  for (let i = 0; i < chance.length; i++) {
    const gain = floatAt(more, i) / floatAt(chance, i);
    if (gain <= most) continue;
    most = gain;
    best = i;
  }
  return best;
}
