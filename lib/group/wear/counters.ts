/** The counter of a clock, and its weight beside days. */
import { WEAR_COUNTERS, type WearClock, type WearCounter } from './types.js';

/** Precondition: a clock that is not days alone. */
export function counterOf({ parts }: Pick<WearClock, 'parts'>): WearCounter {
  return WEAR_COUNTERS.find((each) => parts.includes(each)) as WearCounter;
}

/** Days that one count is worth on a clock that adds counts to days; null on others. */
export function weightOf({ law }: Pick<WearClock, 'law'>): number | null {
  return law?.weight?.estimate ?? null;
}
