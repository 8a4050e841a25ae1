/** How often diaphragms of a group leak and are fitted under an interval. */
import { columnOf, floatAt } from '../numeric/columns.js';
import { DAYS_PER_YEAR } from '../numeric/day.js';
import { type Cycle, wearShare } from './cycle.js';
import { meanOver } from './rates.js';

/** Per position and year, means over the draws. */
export interface EventsPerYear {
  leaksPerYear: number;
  /** Every diaphragm fitted: on schedule, after a leak, after an opening. */
  replacementsPerYear: number;
}

/** Of age replacement at an interval, days; null = run until it leaks. */
export function eventsPerYear(cycle: Cycle, days: number | null): EventsPerYear {
  const parts = cycle.partsAt(days ?? Infinity);
  const { uptime, early } = parts;
  const leaks = columnOf(uptime, (up, d) => (floatAt(early, d) + wearShare(parts, d)) / up);
  return {
    leaksPerYear: DAYS_PER_YEAR * meanOver(leaks),
    replacementsPerYear: DAYS_PER_YEAR * meanOver(columnOf(uptime, (up) => 1 / up)),
  };
}
