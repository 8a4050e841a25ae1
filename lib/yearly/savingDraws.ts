/** Today's practice and the proposal in each draw of what is not known: what stands behind the range of the saving. */
import { amountDrawer } from '../cost/draw.js';
import { groupCosts } from '../cost/groupCost.js';
import type { Fleet } from '../fleet/types.js';
import type { GroupedFleet } from '../group/types.js';
import { practisedPolicy, proposedPolicy } from '../interval/policies.js';
import type { IntervalAdvice } from '../interval/types.js';
import { groupCycle } from '../interval/weigh.js';
import { randomStream } from '../numeric/random.js';
import { plantLines } from './lines.js';
import { longRun, rememberedRates } from './longRun.js';
import { drawnTotals, drawPrices } from './price.js';

/** Long-run cost a year in the site's currency, one entry a draw; each draw sees the same plant, models and prices. */
export interface SavingDraws {
  today: number[];
  proposed: number[];
  /** Today less proposed: above 0 the proposal is cheaper. */
  saving: number[];
}

/**
 * The draws behind `saving.low`, `high` and `chance` of compareCost, for the same fleet, groups, intervals and seed: 400 or so plants
 * that the records allow, each with its life models and its prices. Pure and seeded.
 */
export function savingDraws(
  fleet: Fleet,
  grouped: GroupedFleet,
  intervals: readonly IntervalAdvice[],
  { seed = 1 }: { seed?: number } = {},
): SavingDraws {
  const cycles = grouped.groups.map(groupCycle);
  const draws = cycles[0]?.count ?? 0;
  const lines = plantLines(fleet, grouped);
  const prices = drawPrices(
    groupCosts(fleet, grouped),
    lines,
    amountDrawer(draws, randomStream(seed, 'cost draws')),
  );
  const ratesOf = rememberedRates(cycles);
  const costs = [practisedPolicy(grouped), proposedPolicy(intervals)].map((policy) =>
    Array.from(drawnTotals(longRun(policy, lines, ratesOf, draws), prices).all),
  );
  const [today = [], proposed = []] = costs;
  return { today, proposed, saving: today.map((cost, d) => cost - (proposed[d] ?? 0)) };
}
