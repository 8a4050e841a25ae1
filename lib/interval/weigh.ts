/** What the draws say about a group: the candidate interval, today's practice and running, weighed against each other. */
import { meanOf } from '../cost/spread.js';
import type { GroupCost } from '../cost/types.js';
import type { Group } from '../group/types.js';
import { floatAt } from '../numeric/columns.js';
import { DAYS_PER_YEAR } from '../numeric/day.js';
import { daysWords } from '../numeric/words.js';
import type { Cap } from './cap.js';
import { type Cycle, weibullCycle } from './cycle.js';
import { type LeastCost, leastCost } from './leastCost.js';
import { type MonthsInterval, monthsUnder } from './months.js';
import { type AgeCosts, drawRates, meanOver } from './rates.js';

export interface Weighed {
  group: Group;
  cost: GroupCost;
  costs: AgeCosts;
  cycle: Cycle;
  best: LeastCost;
  /** The maker's limit, or null. */
  makersCap: Cap | null;
  /** What held the candidate down, in words, or null. */
  heldBy: string | null;
  /** The practical interval; null = run until it leaks. */
  candidate: MonthsInterval | null;
  /** Chance that the candidate costs less than today's practice. 0.5 where they are the same. */
  chanceBetter: number;
  /** Chance that the candidate costs less than running until it leaks. */
  chanceBeatsRun: number;
  /** Chance that running until it leaks costs less than today's practice. */
  chanceRunBetter: number;
}

/** Costs as the posterior mean plan takes them: the mean of each spread. Early and wear-out leaks cost the same. */
export function meanCosts(cost: GroupCost): AgeCosts {
  const leak = meanOf(cost.leak);
  return {
    replacement: meanOf(cost.replacement),
    earlyLeak: leak,
    wearLeak: leak,
    opening: meanOf(cost.opening),
  };
}

/** Cycles of a group over its posterior, with its own rate of openings. */
export function groupCycle(group: Group): Cycle {
  return weibullCycle(group.draws, { openingsPerDay: group.openingsPerYear / DAYS_PER_YEAR });
}

/** Weighs a group. Needs a replacement that costs something. */
export function weigh(group: Group, cost: GroupCost, makersCap: Cap | null): Weighed {
  const cycle = groupCycle(group);
  const costs = meanCosts(cost);
  const best = leastCost(cycle, costs);
  const { candidate, heldBy } = practical(best, makersCap, group.supportedAge);
  const ratesAt = (days: number | null): Float64Array => ratesOf(cycle, costs, days);
  const today = ratesAt(group.today.days);
  const run = ratesAt(null);
  const proposed = ratesAt(candidate?.days ?? null);
  const same = candidate !== null && group.today.days !== null && isSame(candidate, group.today.days);
  return {
    group,
    cost,
    costs,
    cycle,
    best,
    makersCap,
    heldBy,
    candidate,
    chanceBetter: same ? 0.5 : chanceBelow(proposed, today),
    chanceBeatsRun: chanceBelow(proposed, run),
    chanceRunBetter: chanceBelow(run, today),
  };
}

/** Cost per day of every draw for an interval, null = run. */
export function ratesOf(cycle: Cycle, costs: AgeCosts, days: number | null): Float64Array {
  return drawRates(cycle.partsAt(days ?? Infinity), costs, cycle.openingsPerDay);
}

/** Mean cost per year for an interval, null = run. */
export function costPerYear({ cycle, costs }: Weighed, days: number | null): number {
  return meanOver(ratesOf(cycle, costs, days)) * DAYS_PER_YEAR;
}

/** An interval and a practised age are one where they are less than half a month apart. */
export function isSame(interval: MonthsInterval, practisedDays: number): boolean {
  return Math.abs(interval.days - practisedDays) < Math.min(15, 0.05 * practisedDays + 0.5);
}

/** True where a practised age lies in a span of ages. */
export function isWithin(days: number | null, [low, high]: readonly [number, number]): boolean {
  return days !== null && days >= low && days <= high;
}

/**
 * METHODS 4.3: the longest whole number of months within 2 % of the least mean cost and never above the cap; where
 * none lies within, the next lower. The cap is the lower of the maker's limit and the supported age.
 */
function practical(
  best: LeastCost,
  makersCap: Cap | null,
  supportedAge: number | null,
): { candidate: MonthsInterval | null; heldBy: string | null } {
  const supported = supportedAge ?? Infinity;
  const makers = makersCap?.days ?? Infinity;
  const reach = best.within2percent[1];
  if (best.age === null) {
    if (makersCap === null) return { candidate: null, heldBy: null };
    return { candidate: monthsUnder(makers), heldBy: makersCap.text };
  }
  // Where running is within 2 % of the best age and nothing caps it, the best age itself is the longest with a reason.
  const longest = Math.min(
    reach === Infinity ? Math.max(best.age, Math.min(makers, supported)) : reach,
    makers,
    supported,
  );
  const free = monthsUnder(Number.isFinite(reach) ? reach : best.age, 0);
  const capped = longest === makers || longest === supported;
  const candidate = capped ? monthsUnder(longest) : free;
  if (candidate.days >= free.days && longest >= Math.min(reach, best.age)) return { candidate, heldBy: null };
  const byMaker = makersCap !== null && makers <= supported;
  return { candidate, heldBy: byMaker ? makersCap.text : `supported age ${daysWords(supported)}` };
}

function chanceBelow(a: Float64Array, b: Float64Array): number {
  let below = 0;
  for (let d = 0; d < a.length; d++) below += floatAt(a, d) < floatAt(b, d) ? 1 : 0;
  return below / a.length;
}
