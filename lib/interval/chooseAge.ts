/** The replacement age of least cost for one known life model. */
import { UsageError } from '../errors.js';
import type { LifeModel } from '../life/model.js';
import { type ChooseAgeCosts, checkedCosts, knownCycle, openEnd } from './knownCycle.js';
import { leastCost } from './leastCost.js';
import { drawRate } from './rates.js';

export type { ChooseAgeCosts } from './knownCycle.js';

export interface ChosenAge {
  action: 'replace' | 'run';
  /** In the model's unit of age; null with 'run'. */
  age: number | null;
  /** Cost per unit of age at that choice. */
  costRate: number;
  /** Cost per unit of age where nothing is replaced before it leaks. */
  costRateRun: number;
  /** Ages round the best that cost at most 2 % more; a high end of null means that running is within it too. */
  within2percent: [number, number | null];
  within5percent: [number, number | null];
  /** The costs used, each whole: to show that a leak was not taken as an extra. */
  costs: { replacement: number; earlyLeak: number; wearLeak: number; opening: number };
}

/**
 * Replacement age of least long-run cost rate for a known model, fitting faults and openings included. All ages are
 * searched, so that of several minima the deepest is found; where none beats leaving it until it leaks (no wear-out,
 * or a leak no dearer than a replacement) the answer is 'run'. Throws UsageError on costs that are not above 0.
 * Renewal reward: Barlow & Proschan 1965, ch. 4 (from memory); with fitting faults: METHODS 4.2.
 *
 *     chooseAge({ kind: 'weibull', shape: 3, scale: 1000 }, { replacement: 1, leak: 5 }).age   // 502.6
 */
export function chooseAge(model: LifeModel, costs: ChooseAgeCosts): ChosenAge {
  const checked = checkedCosts('chooseAge', costs);
  const best = leastCost(knownCycle('chooseAge', model, costs.opening?.rate), checked);
  return {
    action: best.age === null ? 'run' : 'replace',
    age: best.age,
    costRate: best.rate,
    costRateRun: best.rateEver,
    within2percent: openEnd(best.within2percent),
    within5percent: openEnd(best.within5percent),
    costs: checked,
  };
}

/**
 * Long-run cost per unit of age if a diaphragm is replaced at `age`, or when it leaks or is opened before. `age`
 * is above 0; Infinity leaves it until it leaks. Throws UsageError on costs or an age that are not above 0.
 */
export function costRate(model: LifeModel, age: number, costs: ChooseAgeCosts): number {
  if (!(age > 0)) throw new UsageError('costRate', 'the age must be above 0.', age);
  const checked = checkedCosts('costRate', costs);
  const cycle = knownCycle('costRate', model, costs.opening?.rate);
  return drawRate(cycle.partsAt(age), checked, cycle.openingsPerDay, 0);
}
