/** The whole day on which a cumulative hazard is reached, looked up: a law beside fitting faults has no closed form for it. */
import { floatAt } from '../../../numeric/columns.js';
import { countUpTo } from '../../../numeric/sorted.js';
import type { LifeLaw } from '../../distribution/law.js';
import type { LifeModel } from '../../model.js';

const FIRST_DAYS = 256;
/** Beyond so many days ages are worked out one by one. */
const MOST_DAYS = 65_536;

/**
 * A function from a hazard to an age of the same whole day as `ageAtHazard`'s: the day itself, a quarter below half a day. Days go from half a
 * day before to half a day after. The table grows as far as it is asked.
 */
export function dayOfHazard(law: LifeLaw<LifeModel>, model: LifeModel): (hazard: number) => number {
  let reached = hazards(law, model, new Float64Array(0), FIRST_DAYS);
  return (hazard) => {
    while (!(floatAt(reached, reached.length - 1) > hazard)) {
      if (reached.length >= MOST_DAYS) return law.ageAtHazard(model, hazard);
      reached = hazards(law, model, reached, 2 * reached.length);
    }
    return Math.max(0.25, countUpTo(reached, hazard));
  };
}

/** Cumulative hazard at the end of day 0, 1, 2 and so on. */
function hazards(law: LifeLaw<LifeModel>, model: LifeModel, known: Float64Array, days: number): Float64Array {
  const reached = new Float64Array(days);
  reached.set(known);
  for (let day = known.length; day < days; day++) reached[day] = law.cumulativeHazard(model, day + 0.5);
  return reached;
}
