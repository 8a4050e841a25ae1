/** The shortest time from one scheduled replacement to the next that a plant's grid of time must tell apart. */
import { linePeriod } from '../fleet/calendar.js';
import type { Fleet } from '../fleet/types.js';
import type { GroupedFleet } from '../group/types.js';
import type { ReplacementPolicy } from '../interval/dueRule.js';
import { addMonths } from '../numeric/day.js';

/**
 * Days; Infinity where nothing is replaced on schedule. On a line with windows nothing is replaced between them, however short its interval:
 * there the least gap between two windows counts where that is longer.
 */
export function shortestWait(fleet: Fleet, grouped: GroupedFleet, policy: ReplacementPolicy): number {
  const gaps = new Map<string, number>();
  let least = Infinity;
  for (const { position, groupNow, groupNext } of grouped.running) {
    const line = fleet.positions[position]?.line ?? '';
    const gap = gaps.get(line) ?? leastGap(fleet, line);
    gaps.set(line, gap);
    for (const group of [groupNow, groupNext])
      least = Math.min(least, Math.max(gap, policy.intervalDays[group] ?? Infinity));
  }
  return least;
}

/** Least gap between two windows of a line and of its repeated calendar, days; 0 where it has none. */
function leastGap(fleet: Fleet, line: string): number {
  const period = linePeriod(fleet, line);
  if (period === null) return 0;
  const days = period.windows.map(({ day }) => day);
  days.push(...days.slice(0, 1).map((day) => addMonths(day, period.months)));
  let gap = Infinity;
  for (const [i, day] of days.entries()) {
    const before = days[i - 1];
    if (before !== undefined && day > before) gap = Math.min(gap, day - before);
  }
  return gap;
}
