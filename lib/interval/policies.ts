/** The two policies that are held against each other. */
import type { GroupedFleet } from '../group/types.js';
import { goesByUse } from './byUse.js';
import type { ReplacementPolicy } from './dueRule.js';
import type { IntervalAdvice } from './types.js';

/** The intervals as proposed: 'run' and an interval that cannot be named mean: until it leaks. Windows keep within the maker's limit. */
export function proposedPolicy(intervals: readonly IntervalAdvice[]): ReplacementPolicy {
  const intervalDays = intervals.map(({ workDays }) => workDays);
  const byUse = intervals.map(goesByUse);
  return byUse.includes(true)
    ? { name: 'proposed', intervalDays, byUse }
    : { name: 'proposed', intervalDays };
}

/** What the plant does today, as read from its history. */
export function practisedPolicy({ groups }: GroupedFleet): ReplacementPolicy {
  return { name: 'today', intervalDays: groups.map(({ today }) => today.days) };
}
