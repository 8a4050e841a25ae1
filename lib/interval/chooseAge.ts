/** The replacement age of least cost for one known life model. */
import { UsageError } from '../errors.js';
import { survival } from '../life/distribution/index.js';
import type { ExponentialModel, LifeModel, WeibullModel } from '../life/model.js';
import { type Cycle, singleDraw, weibullCycle } from './cycle.js';
import { leastCost } from './leastCost.js';
import { otherCycle } from './otherCycle.js';
import { type AgeCosts, drawRate } from './rates.js';

export interface ChooseAgeCosts {
  /** Cost of a replacement on schedule, above 0. */
  replacement: number;
  /**
   * The whole cost of a leak, above 0, and not the extra over a replacement: a replacement of 1 and an extra of 4 make
   * a leak of 5. One number, or early leaks of faulty fittings apart from wear-out leaks.
   */
  leak: number | { early: number; wear: number };
  /** Openings for other work: how many per position and day, and the cost of one. Each renews the diaphragm. */
  opening?: { rate: number; cost: number };
}

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
  const best = leastCost(cycleOf('chooseAge', model, costs), checked);
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
  const cycle = cycleOf('costRate', model, costs);
  return drawRate(cycle.partsAt(age), checked, cycle.openingsPerDay, 0);
}

function cycleOf(where: string, model: LifeModel, { opening }: ChooseAgeCosts): Cycle {
  const openingsPerDay = opening?.rate ?? 0;
  checkModel(where, model);
  if (!isWeibull(model)) return otherCycle(model, openingsPerDay);
  const draws =
    model.kind === 'exponential'
      ? singleDraw(1, model.scale)
      : singleDraw(model.shape, model.scale, model.fault);
  return weibullCycle(draws, { openingsPerDay, exact: true });
}

/** Weibull from the day of fitting, of which the exponential is one: its cycles have a closed form. */
function isWeibull(model: LifeModel): model is WeibullModel | ExponentialModel {
  return model.kind === 'exponential' || (model.kind === 'weibull' && !model.failureFree);
}

function checkModel(where: string, model: LifeModel): void {
  const above: number[] = [];
  if ('mu' in model) above.push(model.sigma, Math.exp(model.mu));
  else if ('scale' in model) above.push(model.scale);
  if ('shape' in model) above.push(model.shape);
  if (model.kind === 'weibull' && model.fault !== undefined) {
    above.push(model.fault.shape, model.fault.scale);
    const { share } = model.fault;
    if (!(share >= 0 && share < 1))
      throw new UsageError(where, 'the fault share must be from 0 to below 1.', share);
  }
  for (const value of above) {
    if (!(value > 0 && Number.isFinite(value))) {
      throw new UsageError(where, 'shapes and scales must be finite numbers above 0.', value);
    }
  }
  // Rules of the law itself, such as those of a failure-free time.
  survival(model, 0);
}

function checkedCosts(where: string, { replacement, leak, opening }: ChooseAgeCosts): AgeCosts {
  const { early, wear } = typeof leak === 'object' && leak !== null ? leak : { early: leak, wear: leak };
  aboveZero(where, 'the cost of a replacement', replacement);
  aboveZero(where, 'the cost of a leak', early);
  aboveZero(where, 'the cost of a leak', wear);
  notNegative(where, 'the rate of openings', opening?.rate ?? 0);
  notNegative(where, 'the cost of an opening', opening?.cost ?? 0);
  return { replacement, earlyLeak: early, wearLeak: wear, opening: opening?.cost ?? 0 };
}

function aboveZero(where: string, what: string, value: number): void {
  if (typeof value !== 'number' || !(value > 0 && Number.isFinite(value))) {
    throw new UsageError(where, `${what} must be a finite number above 0.`, value);
  }
}

function notNegative(where: string, what: string, value: number): void {
  if (typeof value !== 'number' || !(value >= 0 && Number.isFinite(value))) {
    throw new UsageError(where, `${what} must be a finite number, 0 or above.`, value);
  }
}

function openEnd([low, high]: [number, number]): [number, number | null] {
  return [low, high === Infinity ? null : high];
}
