/** The policies of a group side by side, over its posterior draws. */
import { columnOf, floatAt } from '../../numeric/columns.js';
import { DAYS_PER_YEAR } from '../../numeric/day.js';
import { eventsPerYear } from '../eventsPerYear.js';
import { meanOver } from '../rates.js';
import { rangePerYear } from '../settle.js';
import type { PolicyFigures } from '../types.js';
import { isUnused } from '../unused.js';
import { ratesOf, type Weighed } from '../weigh.js';
import { type DrawRenewals, drawRenewals, renewalsAt } from './drawRenewals.js';

/** Steps of the grid up to twice the advised interval, which falls on the middle one. */
const STEPS = 48;

/**
 * Age replacement at the advised interval and as practised today, running until it leaks, and block replacement (at fixed
 * dates whatever the age, and at every leak or opening between) at the advised interval and at its best: cost, leaks and
 * diaphragms fitted per position and year. No block without an interval; no best block where none up to twice the advised
 * interval, or the maker's limit where that is less, is cheaper than running, or the cost still falls there. Minimal repair is left out: the records say
 * of no leak whether a re-tightening would have cured it.
 */
export function comparePolicies(weighed: Weighed, days: number | null): PolicyFigures[] {
  if (isUnused(weighed)) return [];
  const ages: PolicyFigures[] = [
    ageFigures(weighed, 'advised', days),
    ageFigures(weighed, 'today', weighed.group.today.days),
    ageFigures(weighed, 'run', null),
  ];
  if (days === null) return ages;
  const { cycle, group } = weighed;
  const renewals = drawRenewals(group.draws, cycle.openingsPerDay, (2 * days) / STEPS, STEPS);
  const block = blockFigures(weighed, 'block', days, renewals);
  const best = bestBlock(weighed, renewals);
  return best === null
    ? [...ages, block]
    : [...ages, block, blockFigures(weighed, 'best block', best, renewals)];
}

function ageFigures(
  { cycle, costs }: Weighed,
  policy: PolicyFigures['policy'],
  days: number | null,
): PolicyFigures {
  return {
    policy,
    days,
    ...perYear(ratesOf(cycle, costs, days)),
    ...eventsPerYear(cycle, days),
  };
}

function blockFigures(
  weighed: Weighed,
  policy: PolicyFigures['policy'],
  days: number,
  renewals: DrawRenewals,
): PolicyFigures {
  const { cycle } = weighed;
  const count = columnOf({ length: cycle.count }, (_, d) => renewalsAt(renewals, d, days));
  const renewed = meanOver(count) / days;
  return {
    policy,
    days,
    ...perYear(blockRates(weighed, days, count)),
    leaksPerYear: DAYS_PER_YEAR * (renewed - cycle.openingsPerDay),
    replacementsPerYear: DAYS_PER_YEAR * (1 / days + renewed),
  };
}

/** Cost per day of every draw; early and wear-out leaks cost the same in a plan. */
function blockRates({ cycle, costs }: Weighed, days: number, count: Float64Array): Float64Array {
  const openings = cycle.openingsPerDay;
  return columnOf(
    count,
    (renewed) =>
      (costs.replacement + costs.wearLeak * (renewed - openings * days)) / days + costs.opening * openings,
  );
}

function perYear(rates: Float64Array): Pick<PolicyFigures, 'costPerYear' | 'costRange'> {
  return { costPerYear: meanOver(rates) * DAYS_PER_YEAR, costRange: rangePerYear(rates) };
}

/** Whole days of least mean cost on the grid, by the parabola through the three points round it; null where running is cheaper. */
function bestBlock(weighed: Weighed, renewals: DrawRenewals): number | null {
  const { cycle, best, makersCap } = weighed;
  const { step, steps, count } = renewals;
  const means = new Float64Array(steps + 1).fill(Infinity);
  for (let i = 1; i <= steps; i++) {
    const column = columnOf({ length: cycle.count }, (_, d) => floatAt(count, d * (steps + 1) + i));
    means[i] = meanOver(blockRates(weighed, i * step, column));
  }
  let at = 1;
  for (let i = 2; i <= steps; i++) if (floatAt(means, i) < floatAt(means, at)) at = i;
  const limit = makersCap?.days ?? Infinity;
  if (!(floatAt(means, at) < best.rateEver)) return null;
  if (at === steps) return limit < at * step ? Math.floor(limit) : null;
  const bent = at === 1 ? 0 : vertex(floatAt(means, at - 1), floatAt(means, at), floatAt(means, at + 1));
  return Math.max(1, Math.floor(Math.min(Math.round((at + bent) * step), limit)));
}

/** Where a parabola through values at -1, 0 and 1 is least. */
function vertex(left: number, here: number, right: number): number {
  return (0.5 * (left - right)) / (left - 2 * here + right);
}
