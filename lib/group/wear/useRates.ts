/** How much each position is used: one rate a counter, over all of its lives. */
import type { Fleet } from '../../fleet/types.js';
import { columnOf, floatAt, wholeAt } from '../../numeric/columns.js';
import { WEAR_COUNTERS, type WearCounter } from './types.js';
import { COUNTER_OF, type UsedLives } from './usedLives.js';

/** Counts a day by position; NaN where not known. */
export type UseRates = Readonly<Record<WearCounter, Float64Array>>;

/** Counts over days of the lives whose counts are known: mended counters, one number a position, free of how long each life lasted. */
export function useRates(fleet: Fleet, exposed: UsedLives): UseRates {
  const rateOf = (counter: WearCounter): Float64Array => {
    const { exposure } = exposed[COUNTER_OF[counter]];
    const counts = new Float64Array(fleet.positions.length);
    const days = new Float64Array(fleet.positions.length);
    for (let life = 0; life < exposed.length; life++) {
      const own = floatAt(exposure, life);
      if (Number.isNaN(own)) continue;
      const position = wholeAt(fleet.lives.position, life);
      counts[position] = floatAt(counts, position) + own;
      days[position] = floatAt(days, position) + floatAt(exposed.days, life);
    }
    return columnOf(counts, (total, p) => (floatAt(days, p) > 0 ? total / floatAt(days, p) : Number.NaN));
  };
  return Object.fromEntries(WEAR_COUNTERS.map((counter) => [counter, rateOf(counter)])) as Record<
    WearCounter,
    Float64Array
  >;
}
