/** The way there: expected events and cost by year from the diaphragms as they stand now (METHODS 4.6). */
import { meanOf } from '../cost/spread.js';
import type { GroupCost } from '../cost/types.js';
import { expectedEvents } from '../demand/path.js';
import type { Fleet } from '../fleet/types.js';
import type { GroupedFleet } from '../group/types.js';
import type { ReplacementPolicy } from '../interval/dueRule.js';
import { floatAt, itemAt } from '../numeric/columns.js';
import { DAYS_PER_MONTH } from '../numeric/day.js';
import type { YearlyCost } from './types.js';

/** The path covers at least so many years. */
const LEAST_YEARS = 5;
const MONTHS_PER_YEAR = 12;
/** Posterior draws and step of the path: means over them, the same for both policies. */
const PATH_OPTIONS = { draws: 60, stepDays: DAYS_PER_MONTH / 2 };

/** Years from the day of the data on; replacements count every diaphragm fitted, as in the long run. */
export function yearlyPath(
  fleet: Fleet,
  grouped: GroupedFleet,
  costs: readonly GroupCost[],
  policy: ReplacementPolicy,
): YearlyCost['years'] {
  const years = Math.max(LEAST_YEARS, Math.ceil(fleet.site.horizonMonths / MONTHS_PER_YEAR));
  const path = Array.from({ length: years }, (_, y) => ({
    year: y + 1,
    replacements: 0,
    leaks: 0,
    opened: 0,
    cost: 0,
  }));
  expectedEvents(fleet, grouped, policy, years * MONTHS_PER_YEAR, PATH_OPTIONS).forEach((events, g) => {
    const cost = itemAt(costs, g);
    const each = { planned: meanOf(cost.replacement), leak: meanOf(cost.leak), opened: meanOf(cost.opening) };
    for (let month = 0; month < years * MONTHS_PER_YEAR; month++) {
      const year = itemAt(path, Math.floor(month / MONTHS_PER_YEAR));
      const planned = floatAt(events.planned, month);
      const leaks = floatAt(events.leaks, month);
      const opened = floatAt(events.opened, month);
      year.replacements += planned + leaks + opened;
      year.leaks += leaks;
      year.opened += opened;
      year.cost += planned * each.planned + leaks * each.leak + opened * each.opened;
    }
  });
  return path;
}
