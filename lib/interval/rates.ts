/** Cost per day of cycles, draw by draw and on average (METHODS 4.2 and 4.3). */
import { floatAt } from '../numeric/columns.js';
import { type Cycle, type CycleParts, wearShare } from './cycle.js';

/** Costs of one event each. A leak's cost is the whole cost, not the extra over a replacement. */
export interface AgeCosts {
  replacement: number;
  earlyLeak: number;
  wearLeak: number;
  /** Per opening for other work, which renews the diaphragm. */
  opening: number;
}

/** Cost per day of draw d. */
export function drawRate(parts: CycleParts, costs: AgeCosts, openingsPerDay: number, d: number): number {
  const perCycle =
    costs.replacement * floatAt(parts.survival, d) +
    costs.earlyLeak * floatAt(parts.early, d) +
    costs.wearLeak * wearShare(parts, d);
  return perCycle / floatAt(parts.uptime, d) + costs.opening * openingsPerDay;
}

/** Cost per day of every draw. */
export function drawRates(parts: CycleParts, costs: AgeCosts, openingsPerDay: number): Float64Array {
  const rates = new Float64Array(parts.uptime.length);
  for (let d = 0; d < rates.length; d++) rates[d] = drawRate(parts, costs, openingsPerDay, d);
  return rates;
}

/** Mean over draws, which weigh alike unless weights (adding up to 1) are given. */
export function meanOver(values: Float64Array, weights?: Float64Array): number {
  let total = 0;
  for (let d = 0; d < values.length; d++)
    total += floatAt(values, d) * (weights === undefined ? 1 : floatAt(weights, d));
  return weights === undefined ? total / values.length : total;
}

/**
 * Slope of the mean cost rate at an age. In one draw g' = (S / A) (r - g), where r is what waiting one more day
 * costs: the leak rates times what a leak costs above a replacement, and openings likewise.
 */
export function meanSlope(cycle: Cycle, costs: AgeCosts, age: number, weights?: Float64Array): number {
  const parts = cycle.partsAt(age);
  const leaks = cycle.leakRatesAt(age);
  const openings = (costs.opening - costs.replacement) * cycle.openingsPerDay;
  const slopes = new Float64Array(cycle.count);
  for (let d = 0; d < cycle.count; d++) {
    const waiting =
      floatAt(leaks.early, d) * (costs.earlyLeak - costs.replacement) +
      floatAt(leaks.wear, d) * (costs.wearLeak - costs.replacement) +
      openings;
    const rate = drawRate(parts, costs, cycle.openingsPerDay, d);
    slopes[d] = (floatAt(parts.survival, d) / floatAt(parts.uptime, d)) * (waiting - rate);
  }
  return meanOver(slopes, weights);
}
