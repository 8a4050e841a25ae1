/** Drawn plants whose diaphragms wear by a known clock. */

import type { ClockColumns } from '../../../lib/exposure/clock/types.js';
import { lifeSample } from '../../../lib/life/sample.js';
import { randomStream } from '../../../lib/numeric/random.js';

export interface PlantTruth {
  seed: number;
  /** z of a life is days times dayShare plus cycles times cycleShare, Weibull of shape 3. */
  dayShare: number;
  cycleShare: number;
  /** Standard deviation of the log of cycles per day between positions, about one a day. */
  rateSd: number;
  positions?: number;
}

const LIVES_PER_POSITION = 2;

/** Two lives a position, replaced at ages from 200 to 1000 days; a scale of 600. */
export function plantOf({ seed, dayShare, cycleShare, rateSd, positions = 60 }: PlantTruth): ClockColumns {
  const random = randomStream(seed, 'clock plants');
  const [lower, upper, cluster, exit, rate] = [[], [], [], [], []] as number[][] as [
    number[],
    number[],
    number[],
    number[],
    number[],
  ];
  for (let position = 0; position < positions; position++) {
    const perDay = Math.exp(rateSd * random.normal());
    for (let k = 0; k < LIVES_PER_POSITION; k++) {
      const z = 600 * (-Math.log(random.uniform())) ** (1 / 3);
      const life = z / (dayShare + cycleShare * perDay);
      const replaced = 200 + 800 * random.uniform();
      const age = Math.min(life, replaced);
      lower.push(age);
      upper.push(life <= replaced ? age : Infinity);
      cluster.push(position);
      exit.push(age * perDay);
      rate.push(perDay);
    }
  }
  return { days: lifeSample({ lower, upper, cluster }), exposures: { 'steam cycles': { exit, rate } } };
}
