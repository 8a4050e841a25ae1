/** Why watching ended: at an age fixed beforehand, or at an event. Tests and bounds count the last event differently. */
import { UsageError } from '../errors.js';
import { at, floatAt } from '../numeric/columns.js';
import type { RecurrentEvents } from './recurrentEvents.js';

export type EndedBy = 'time' | 'failure';

/** Watches with their events, one per system. */
export interface SystemHistory {
  start: number;
  end: number;
  /** Ascending; several events at one age are listed apart. */
  ages: number[];
}

/**
 * Histories of systems watched in one spell each, events counted one by one.
 * @throws UsageError for a system with a gap in its watching, counts that are not whole, an unknown `endedBy`, and `endedBy`
 * 'failure' where a watch does not end at its last event
 */
export function systemHistories(
  { systems, watch, event }: RecurrentEvents,
  endedBy: EndedBy,
  where: string,
): SystemHistory[] {
  if (endedBy !== 'time' && endedBy !== 'failure') {
    throw new UsageError(where, "endedBy must be 'time' or 'failure'.", endedBy);
  }
  const histories = Array.from({ length: systems }, (): SystemHistory => ({ start: -1, end: -1, ages: [] }));
  const order = [...watch.system.keys()].sort((i, j) => floatAt(watch.start, i) - floatAt(watch.start, j));
  for (const i of order) {
    const history = histories[at(watch.system, i)] as SystemHistory;
    const first = history.start < 0;
    if (!first && floatAt(watch.start, i) !== history.end) {
      throw new UsageError(where, 'a system must be watched without a gap.', floatAt(watch.start, i));
    }
    if (first) history.start = floatAt(watch.start, i);
    history.end = floatAt(watch.end, i);
  }
  for (let k = 0; k < event.age.length; k++) {
    const count = floatAt(event.count, k);
    if (!Number.isInteger(count)) throw new UsageError(where, 'events must be whole numbers.', count);
    const { ages } = histories[at(event.system, k)] as SystemHistory;
    for (let copy = 0; copy < count; copy++) ages.push(floatAt(event.age, k));
  }
  if (endedBy === 'failure' && histories.some(({ ages, end }) => ages[ages.length - 1] !== end)) {
    throw new UsageError(where, "endedBy 'failure' asks that every watch ends at its last event.");
  }
  return histories;
}

/** The events that chance places: the last one is where watching ended, if an event ended it. */
export function placedEvents({ ages }: SystemHistory, endedBy: EndedBy): number[] {
  return endedBy === 'failure' ? ages.slice(0, -1) : ages;
}
