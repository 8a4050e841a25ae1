/** Where diaphragms stand whose group is worn by its use: by their own count, and by the maker's limit in days. */
import type { Limit } from '../fleet/types.js';
import type { Group, RunningLife } from '../group/types.js';
import type { Day } from '../numeric/day.js';
import { limitsOf } from './cap.js';
import { LATE_SHARE } from './dueRule.js';
import type { IntervalAdvice } from './types.js';

/** Whether an interval is counted in use: one that is kept as practised is kept in days, as it is practised. */
export function goesByUse({ onClock, action }: Pick<IntervalAdvice, 'onClock' | 'action'>): boolean {
  return onClock !== undefined && action === 'replace';
}

/** Ages by the calendar on a day, with their chances. */
export function calendarStand({ fitted, ages }: RunningLife, today: Day): RunningLife['ages'] {
  return fitted === null ? ages : [{ age: Math.max(today - fitted, 0), chance: 1 }];
}

/**
 * Ages at which the plan counts on from the day of the data, so that each diaphragm comes due on the day on which its own count reaches the
 * interval at its own rate, which may be somewhat off that of its class; and none gets older than the maker's limit in days.
 */
export function standByUse(
  life: RunningLife,
  intervalDays: number,
  group: Group,
  limits: readonly Limit[],
  today: Day,
): RunningLife['ages'] {
  if (life.fitted === null) return life.ages;
  const calendarAge = Math.max(today - life.fitted, 0);
  const most = Math.min(...limitsOf(limits, group).map(({ maxDays }) => maxDays ?? Infinity), Infinity);
  const least = calendarAge + (1 + LATE_SHARE) * intervalDays - most;
  return life.ages.map(({ age, chance }) => ({
    age: Math.max(intervalDays - (intervalDays - age) / (life.pace ?? 1), least, 0),
    chance,
  }));
}
