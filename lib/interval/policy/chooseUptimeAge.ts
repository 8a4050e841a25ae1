/** The replacement age of least downtime for one known life model. */
import { UsageError } from '../../errors.js';
import type { LifeModel } from '../../life/model.js';
import { chooseAge, costRate } from '../chooseAge.js';

/** How long a position stands still, in the model's unit of age. A replacement, a leak and an opening each renew. */
export interface Downtimes {
  /** Per replacement on schedule, above 0. */
  replacement: number;
  /** Per leak, the whole time down, above 0; or early leaks of faulty fittings apart from wear-out leaks. */
  leak: number | { early: number; wear: number };
  /** Openings for other work: how many per unit of age in service, and the time down of one. */
  opening?: { rate: number; down: number };
}

export interface ChosenUptimeAge {
  action: 'replace' | 'run';
  /** In the model's unit of age; null with 'run'. */
  age: number | null;
  /** Share of all time in service at that choice, and where nothing is replaced before it leaks. */
  availability: number;
  availabilityRun: number;
  /** Share of all time down: 1 less the availability, with all its digits. */
  down: number;
  downRun: number;
  /** Ages round the best whose time down per time in service is at most 2 % more; a null end means that running is within it. */
  within2percent: [number, number | null];
  within5percent: [number, number | null];
}

/**
 * Replacement age of highest availability: in service over in service and down, in the long run. It is the age of least time
 * down per time in service, so that times down take the place of costs (Barlow & Hunter 1960; Barlow & Proschan 1965, ch. 4;
 * from memory). A diaphragm does not age while its position stands still. 'run' where a leak holds up no longer than a
 * replacement or nothing wears out. One hour on ages in days is 1 / 24.
 * @throws UsageError on times that are not above 0
 */
export function chooseUptimeAge(model: LifeModel, down: Downtimes): ChosenUptimeAge {
  const best = chooseAge(model, asCosts(down));
  return {
    action: best.action,
    age: best.age,
    availability: 1 / (1 + best.costRate),
    availabilityRun: 1 / (1 + best.costRateRun),
    down: shareDown(best.costRate),
    downRun: shareDown(best.costRateRun),
    within2percent: best.within2percent,
    within5percent: best.within5percent,
  };
}

/** Share of all time in service if a diaphragm is replaced at `age`; Infinity leaves it until it leaks. Throws UsageError as above. */
export function availability(model: LifeModel, age: number, down: Downtimes): number {
  if (!(age > 0)) throw new UsageError('availability', 'the age must be above 0.', age);
  return 1 / (1 + costRate(model, age, asCosts(down)));
}

function asCosts({ replacement, leak, opening }: Downtimes): Parameters<typeof chooseAge>[1] {
  const times = { replacement, leak };
  return opening === undefined ? times : { ...times, opening: { rate: opening.rate, cost: opening.down } };
}

/** From time down per time in service. */
function shareDown(perUp: number): number {
  return perUp / (1 + perUp);
}
