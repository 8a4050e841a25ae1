/** The counter of a clock. */
import { WEAR_COUNTERS, type WearClock, type WearCounter } from './types.js';

/** Precondition: a clock that is not days alone. */
export function counterOf({ parts }: Pick<WearClock, 'parts'>): WearCounter {
  return WEAR_COUNTERS.find((each) => parts.includes(each)) as WearCounter;
}
