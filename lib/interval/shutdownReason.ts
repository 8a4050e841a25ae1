/** Why a position is on the list of a shutdown, in words. */
import type { Day } from '../numeric/day.js';
import { safestAct } from './survivalTarget.js';
import { ageWords, amountWords, percent } from './words.js';
import { NO_LATER_WINDOW_DAYS, overdueOn, type TaskWindow, type WorkPosition } from './workList.js';

/** What was found when the shutdown was filled. */
export interface Outcome {
  fits: boolean;
  crewHours: number | null;
  /** Expected cost of leaving it until the next window. */
  waiting: number;
  nextWindow: Day | null;
  /** Names of the shutdowns at which it did not fit before. */
  carriedFrom: readonly string[];
}

/** One sentence: how it stands against its interval, what happened before, and what waiting costs. */
export function reasonOf(
  place: WorkPosition,
  stop: TaskWindow,
  { fits, crewHours, waiting, nextWindow: next, carriedFrom }: Outcome,
): string {
  const parts = [dueWords(place, stop)];
  if (carriedFrom.length > 0) parts.push(`did not fit at ${carriedFrom.join(', ')}`);
  if (!fits) parts.push(`does not fit into the ${crewHours} crew hours and stays until the next window`);
  const until = next === null ? 'another year' : 'the next window';
  if (waiting > 0) parts.push(`leaving it until ${until} costs ${amountWords(waiting)} on average`);
  if (place.position.criticality === 'safety') parts.push(safetyWords(place, stop, next));
  return `${parts.filter((part) => part !== '').join('; ')}.`;
}

function dueWords(place: WorkPosition, stop: TaskWindow): string {
  const interval = `interval ${ageWords(place.now.intervalDays ?? 0)}`;
  if (!place.fittedKnown)
    return `${interval}; its fitting day is not on record and was taken from what fits the records`;
  const overdue = overdueOn(place, stop.start) ?? 0;
  if (overdue === 0) return `${interval}, reached on that day`;
  const days = Math.abs(overdue);
  return overdue > 0
    ? `${interval}, passed by ${days} days`
    : `${interval}, reached ${days} days after this window`;
}

/** METHODS 4.4: with fitting faults a fresh diaphragm can be the riskier one. */
function safetyWords(place: WorkPosition, stop: TaskWindow, next: Day | null): string {
  const days = (next ?? stop.start + NO_LATER_WINDOW_DAYS) - stop.start;
  const { act, left, replaced } = safestAct(
    place.now.group.draws,
    stop.start - place.fitted,
    days,
    place.next.group.draws,
  );
  return act === 'leave'
    ? `a fresh one is more likely to leak before the next window: at least ${percent(left)} hold if left, ${percent(replaced)} if replaced (lower 90 % bounds)`
    : '';
}
