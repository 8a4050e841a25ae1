/** How many pieces are handed out within a time that can be borne, where the fill rate asks for at once. */
import { UsageError } from '../errors.js';
import { demandOverPeriods } from './demandOverPeriods.js';
import type { LeadTimeDemand } from './leadTimeDemand.js';
import { stockMeasures } from './measures.js';
import type { StockPolicy } from './policy.js';

/**
 * Share of pieces asked for that are handed out within `wait`, first asked first served: the fill rate of the same policy with a
 * lead time shorter by that (Kruse 1981, from memory), since orders placed until then will have come. `wait` is in lead times, from 0
 * to 1; in periods, up to leadPeriods, for a policy with reviews. Demand is taken to come evenly over the lead time (an empirical law
 * tells nothing of parts of it, and is refused there). Throws UsageError on a wait outside, and as stockMeasures does.
 * @example servedWithin({ kind: 'baseStock', level: 3 }, { kind: 'poisson', mean: 3 }, 0.5) // 0.809
 */
export function servedWithin(policy: StockPolicy, demand: LeadTimeDemand, wait: number): number {
  const reviewed = policy.kind === 'review' || policy.kind === 'reviewReorder';
  const longest = reviewed ? policy.leadPeriods : 1;
  if (!(wait >= 0 && wait <= longest)) {
    throw new UsageError('servedWithin', 'wait must be from 0 to the lead time.', wait);
  }
  if (reviewed) {
    return stockMeasures({ ...policy, leadPeriods: policy.leadPeriods - wait }, demand).fillRate;
  }
  return stockMeasures(policy, demandOverPeriods('servedWithin', demand, 1 - wait)).fillRate;
}
