/** From which age on a diaphragm is replaced when its line is down anyway, before its interval is up. */
import { meanOf } from '../cost/spread.js';
import { floatAt } from '../numeric/columns.js';
import { type Cycle, type CycleParts, wearShare } from './cycle.js';
import { type AgeCosts, drawRate } from './rates.js';
import type { Weighed } from './weigh.js';

/** Draws in which nothing is left at an age say nothing of it. */
const NOTHING_LEFT = 1e-9;

/**
 * Days; null where there is none below the interval. A stop that happens anyway saves the share of a stop made for the
 * replacements (METHODS 4.5: where all that is old enough is done together, so that such a stop falls away), so that
 * replacing early may pay. It does from the age on at which keeping the diaphragm costs, over all
 * that is still to come, at least as much more than a fresh one as the replacement costs now (`keepingCost`). An
 * opening of the valve itself is no question: what is taken out is not put back.
 * Opportunity-based age replacement: Dekker & Dijkstra 1992 (from memory), with the posterior mean in place of one law.
 */
export function opportunityAge(weighed: Weighed, days: number | null): number | null {
  const { cycle, costs, cost } = weighed;
  if (days === null) return null;
  const now = meanOf(cost.opening);
  const values = keepingCosts(cycle, costs, days);
  // From the last age on at which keeping is the cheaper: early leaks can make it dearer before, when the diaphragm is new.
  let last = values.length - 1;
  while (last >= 0 && itemValue(values, last) >= now) last--;
  if (last === values.length - 1) return null;
  if (last < 0) return 1;
  const [below, above] = [values[last], values[last + 1]] as [AgeValue, AgeValue];
  const place = (now - below.value) / (above.value - below.value);
  const age = Math.ceil(below.age + place * (above.age - below.age));
  return age < days ? age : null;
}

interface AgeValue {
  age: number;
  value: number;
}

function itemValue(values: readonly AgeValue[], i: number): number {
  return (values[i] as AgeValue).value;
}

/** Mean cost of keeping a diaphragm at each age of the cycle up to the interval, and at the interval. */
export function keepingCosts(cycle: Cycle, costs: AgeCosts, days: number): AgeValue[] {
  const whole = cycle.partsAt(days);
  const found: AgeValue[] = [];
  for (let i = 0; i < cycle.ages.length && floatAt(cycle.ages, i) < days; i++) {
    const value = keepingCost(cycle.onGrid(i), whole, costs);
    if (value !== null) found.push({ age: floatAt(cycle.ages, i), value });
  }
  return [...found, { age: days, value: costs.replacement }];
}

/**
 * What a diaphragm of an age costs above a fresh one over all time to come under age replacement at the age of `whole`:
 * in each draw what is still to pay in its cycle less the cost rate times the time it still takes, averaged over the
 * draws in which it can be that old. 0 for a fresh one; the cost of a replacement at the interval. Null where no draw
 * gets so old. Relative value of a renewal reward process (Tijms 1994, from memory).
 */
export function keepingCost(at: CycleParts, whole: CycleParts, costs: AgeCosts): number | null {
  let total = 0;
  let draws = 0;
  for (let d = 0; d < at.uptime.length; d++) {
    const alive = floatAt(at.survival, d);
    if (alive < NOTHING_LEFT) continue;
    const time = floatAt(whole.uptime, d) - floatAt(at.uptime, d);
    const toPay =
      costs.replacement * floatAt(whole.survival, d) +
      costs.earlyLeak * (floatAt(whole.early, d) - floatAt(at.early, d)) +
      costs.wearLeak * (wearShare(whole, d) - wearShare(at, d)) +
      costs.opening * at.openingsPerDay * time;
    total += (toPay - drawRate(whole, costs, at.openingsPerDay, d) * time) / alive;
    draws += 1;
  }
  return draws === 0 ? null : total / draws;
}
