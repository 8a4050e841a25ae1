/** The replacement age of least discounted cost over an endless horizon, for one known life model. */
import { UsageError } from '../../errors.js';
import type { LifeModel } from '../../life/model.js';
import type { ChosenAge } from '../chooseAge.js';
import type { Cycle } from '../cycle.js';
import { aboveZero, type ChooseAgeCosts, checkedCosts, knownCycle, openEnd } from '../knownCycle.js';
import { leastCost } from '../leastCost.js';
import { type AgeCosts, drawRate } from '../rates.js';

export interface DiscountedCosts extends ChooseAgeCosts {
  /**
   * Continuous rate per unit of age, above 0: money t later is worth exp(-rate t) as much. 5 % a year on ages in days is
   * log(1.05) / 365.25.
   */
  discountRate: number;
}

export interface ChosenDiscountedAge extends ChosenAge {
  /** Expected value today, with a diaphragm just fitted, of all that is still to be paid. */
  presentCost: number;
  /** The same where nothing is replaced before it leaks. */
  presentCostRun: number;
}

/**
 * Replacement age of least expected discounted cost for ever, counted from a fitting that is paid already. `costRate` is
 * the steady payment per unit of age that is worth as much: discount rate times present cost. As the discount rate goes to
 * 0 it goes to the cost rate of `chooseAge`, and the age to the age there. Fox 1966; Barlow & Proschan 1965, ch. 4 (from memory).
 *
 * Discounting at a rate is an end of all payments that comes by chance at that rate, which is an opening that costs nothing:
 * the cycles of `chooseAge` with openings at the two rates together.
 *
 * @throws UsageError on costs or a discount rate that are not above 0
 */
export function chooseDiscountedAge(model: LifeModel, costs: DiscountedCosts): ChosenDiscountedAge {
  const { cycle, discounted, undiscounted } = discountedCycle('chooseDiscountedAge', model, costs);
  const best = leastCost(cycle, discounted);
  return {
    action: best.age === null ? 'run' : 'replace',
    age: best.age,
    costRate: best.rate,
    costRateRun: best.rateEver,
    presentCost: best.rate / costs.discountRate,
    presentCostRun: best.rateEver / costs.discountRate,
    within2percent: openEnd(best.within2percent),
    within5percent: openEnd(best.within5percent),
    costs: undiscounted,
  };
}

/**
 * Expected value today of all that is to be paid for ever, with a diaphragm just fitted that is replaced at `age`, and each
 * after it, or at a leak or opening before. `age` is above 0; Infinity leaves it until it leaks. Throws UsageError as above.
 */
export function discountedCost(model: LifeModel, age: number, costs: DiscountedCosts): number {
  if (!(age > 0)) throw new UsageError('discountedCost', 'the age must be above 0.', age);
  const { cycle, discounted } = discountedCycle('discountedCost', model, costs);
  return drawRate(cycle.partsAt(age), discounted, cycle.openingsPerDay, 0) / costs.discountRate;
}

function discountedCycle(
  where: string,
  model: LifeModel,
  costs: DiscountedCosts,
): { cycle: Cycle; discounted: AgeCosts; undiscounted: AgeCosts } {
  const undiscounted = checkedCosts(where, costs);
  const { discountRate, opening } = costs;
  aboveZero(where, 'the discount rate', discountRate);
  const openings = opening?.rate ?? 0;
  const rate = openings + discountRate;
  const discounted = { ...undiscounted, opening: (undiscounted.opening * openings) / rate };
  return { cycle: knownCycle(where, model, rate), discounted, undiscounted };
}
