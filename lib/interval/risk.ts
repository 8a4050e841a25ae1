/** What not knowing the life model exactly may cost, draw by draw. */
import { columnOf, floatAt } from '../numeric/columns.js';
import { DAYS_PER_YEAR } from '../numeric/day.js';
import { drawRates, meanOver } from './rates.js';
import { ratesOf, type Weighed } from './weigh.js';

/** Amounts per position and year. */
export interface Risk {
  /**
   * What the interval costs above the least of each draw's own best age (or of running), on average over the draws: what
   * perfect knowledge of the life model would save. An upper end to what more data can be worth.
   */
  expectedRegret: number;
  /** Mean of what the interval costs above today's practice over the tenth of the draws in which it does worst; below 0 where it saves even there. */
  worstTenth: number;
}

/** Share of the draws that count as the bad case. */
const WORST_SHARE = 0.1;

/**
 * Risk of an interval (null = run until it leaks). Each draw's best is looked for at the ages of the cycle and at the
 * interval itself; the curve is flat there, so that ages between would change the regret by less than its own noise.
 * Expected regret is the expected value of perfect information (Raiffa & Schlaifer 1961, from memory).
 */
export function riskOf(weighed: Weighed, days: number | null): Risk {
  const { cycle, costs, group } = weighed;
  const proposed = ratesOf(cycle, costs, days);
  const today = ratesOf(cycle, costs, group.today.days);
  const least = leastByDraw(weighed, proposed);
  const regret = columnOf(proposed, (rate, d) => rate - floatAt(least, d));
  const loss = columnOf(proposed, (rate, d) => rate - floatAt(today, d)).sort();
  const worst = loss.subarray(loss.length - Math.max(1, Math.round(WORST_SHARE * loss.length)));
  return {
    expectedRegret: meanOver(regret) * DAYS_PER_YEAR,
    worstTenth: meanOver(worst) * DAYS_PER_YEAR,
  };
}

/** Least cost rate of every draw over the ages of the cycle, running included, and at most the rates given. */
function leastByDraw({ cycle, costs }: Weighed, atMost: Float64Array): Float64Array {
  const least = Float64Array.from(atMost);
  for (let i = 0; i < cycle.ages.length; i++) {
    const rates = drawRates(cycle.onGrid(i), costs, cycle.openingsPerDay);
    for (let d = 0; d < least.length; d++) {
      if (floatAt(rates, d) < floatAt(least, d)) least[d] = floatAt(rates, d);
    }
  }
  return least;
}
