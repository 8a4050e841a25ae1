/** Long-run cost per year of a policy, by part, over joint draws of life models and costs. */
import { COST_PARTS, type CostPart, type DrawnCost } from '../cost/draw.js';
import { meanOf } from '../cost/spread.js';
import type { GroupCost } from '../cost/types.js';
import { type Cycle, wearShare } from '../interval/cycle.js';
import { floatAt, itemAt } from '../numeric/columns.js';
import { DAYS_PER_YEAR } from '../numeric/day.js';

/** Events per year of all positions of one group, over the draws. */
export interface GroupRates {
  /** Every diaphragm fitted. */
  fitted: Float64Array;
  scheduled: Float64Array;
  leaks: Float64Array;
}

/** Rates of `positions` positions whose diaphragms are replaced at an age; null = run until it leaks. */
export function groupRates(cycle: Cycle, days: number | null, positions: number): GroupRates {
  const parts = cycle.partsAt(days ?? Infinity);
  const { survival, uptime, early } = parts;
  const perYear = (share: (d: number) => number): Float64Array =>
    uptime.map((up, d) => (positions * DAYS_PER_YEAR * share(d)) / up);
  return {
    fitted: perYear(() => 1),
    scheduled: perYear((d) => floatAt(survival, d)),
    leaks: perYear((d) => floatAt(early, d) + wearShare(parts, d)),
  };
}

/** Which rate each part of the cost follows. */
const DRIVER: Readonly<Record<CostPart, keyof GroupRates>> = {
  part: 'fitted',
  labour: 'fitted',
  recalibration: 'fitted',
  stopShare: 'scheduled',
  leakDowntime: 'leaks',
  lostBatch: 'leaks',
  cleanup: 'leaks',
};

export interface LongRun {
  /** Mean cost per year by part. */
  parts: Record<CostPart, number>;
  /** Total per year of each joint draw of models and costs. */
  totals: Float64Array;
  /** Leaks per year of each draw. */
  leaks: Float64Array;
  /** Means. */
  leaksPerYear: number;
  fittedPerYear: number;
}

/** Adds up groups: means with the means of the spreads, totals draw by draw with drawn costs. */
export function longRun(
  rates: readonly GroupRates[],
  costs: readonly GroupCost[],
  drawn: readonly DrawnCost[],
  draws: number,
): LongRun {
  const parts = Object.fromEntries(COST_PARTS.map((part) => [part, 0])) as Record<CostPart, number>;
  const totals = new Float64Array(draws);
  const leaks = new Float64Array(draws);
  let fittedPerYear = 0;
  rates.forEach((rate, g) => {
    for (const part of COST_PARTS) {
      const driver = rate[DRIVER[part]];
      const amounts = itemAt(drawn, g)[part];
      parts[part] += meanOf(itemAt(costs, g)[part]) * mean(driver);
      for (let d = 0; d < draws; d++)
        totals[d] = floatAt(totals, d) + floatAt(driver, d) * floatAt(amounts, d);
    }
    for (let d = 0; d < draws; d++) leaks[d] = floatAt(leaks, d) + floatAt(rate.leaks, d);
    fittedPerYear += mean(rate.fitted);
  });
  return { parts, totals, leaks, leaksPerYear: mean(leaks), fittedPerYear };
}

function mean(values: Float64Array): number {
  let total = 0;
  for (let d = 0; d < values.length; d++) total += floatAt(values, d);
  return values.length === 0 ? 0 : total / values.length;
}
