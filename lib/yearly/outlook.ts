/** What the saving hangs on, from the same rates and prices as the comparison itself. */
import { fromSetting } from '../cost/amount.js';
import type { AmountDrawer } from '../cost/draw.js';
import type { ReplacementPolicy } from '../interval/dueRule.js';
import { at } from '../numeric/columns.js';
import { breakEvens } from './breakEven.js';
import { costByInterval, type IntervalInputs, reachOf, scaledRuns } from './costByInterval.js';
import { downtimeFront } from './downtimeFront.js';
import type { LongRun, RatesOf } from './longRun.js';
import type { CostOutlook } from './outlookTypes.js';
import type { YearlyPath } from './path.js';
import { payBack } from './payBack.js';
import { swings } from './swing.js';

/** One policy: its intervals, its long run and the years ahead. */
export interface PolicyView {
  policy: ReplacementPolicy;
  run: LongRun;
  path: YearlyPath;
}

export interface OutlookInputs extends IntervalInputs {
  ratesOf: RatesOf;
  draws: number;
  /** The drawer of `prices`, so that settings are high or low together with them. */
  draw: AmountDrawer;
}

export function costOutlook(
  inputs: OutlookInputs,
  { today, proposed }: Record<ReplacementPolicy['name'], PolicyView>,
): CostOutlook {
  const { fleet, grouped, costs, lines, ratesOf, draws, draw } = inputs;
  const { money, currency } = fleet.site;
  const days = { today: today.policy.intervalDays, proposed: proposed.policy.intervalDays };
  const runs = scaledRuns(proposed.policy, lines, ratesOf, draws);
  const reach = reachOf(fleet, grouped, days.proposed);
  const byInterval = costByInterval(inputs, runs, today.run, days, reach);
  const discount = fromSetting('discount_rate_per_year', money.discountRatePerYear);
  const rates = draw(discount);
  return {
    byInterval,
    front: downtimeFront(money, runs, today.run, byInterval, draw),
    swings: swings({
      costs,
      lines,
      materials: grouped.groups.map(({ material }) => material),
      runs,
      today: today.run,
      days: days.proposed,
      reach,
      currency,
    }),
    breakEven: breakEvens({ money, currency, costs, lines, today: today.run, proposed: proposed.run, draw }),
    payBack: payBack(
      { years: today.path.years, drawn: today.path.drawn },
      { years: proposed.path.years, drawn: proposed.path.drawn },
      {
        mean: discount.mean,
        drawn: Float64Array.from(proposed.path.draws, (d) => at(rates, d)),
      },
    ),
  };
}
