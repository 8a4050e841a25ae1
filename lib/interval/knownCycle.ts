/** What every choice of an age for one known model needs: its cycles, and its costs checked. */
import { UsageError } from '../errors.js';
import { survival } from '../life/distribution/index.js';
import type { ExponentialModel, LifeModel, WeibullModel } from '../life/model.js';
import { type Cycle, singleDraw, weibullCycle } from './cycle.js';
import { otherCycle } from './otherCycle.js';
import type { AgeCosts } from './rates.js';

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

/** Cycles of a model, as good as exact, openings at a rate per unit of age. Throws UsageError in the name of `where`. */
export function knownCycle(where: string, model: LifeModel, openingsPerDay = 0): Cycle {
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

/** Throws UsageError where a parameter of the model is out of range. */
export function checkModel(where: string, model: LifeModel): void {
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

/** The costs, each whole, or a UsageError in the name of `where`. */
export function checkedCosts(where: string, { replacement, leak, opening }: ChooseAgeCosts): AgeCosts {
  const { early, wear } = typeof leak === 'object' && leak !== null ? leak : { early: leak, wear: leak };
  aboveZero(where, 'the cost of a replacement', replacement);
  aboveZero(where, 'the cost of a leak', early);
  aboveZero(where, 'the cost of a leak', wear);
  notNegative(where, 'the rate of openings', opening?.rate ?? 0);
  notNegative(where, 'the cost of an opening', opening?.cost ?? 0);
  return { replacement, earlyLeak: early, wearLeak: wear, opening: opening?.cost ?? 0 };
}

export function aboveZero(where: string, what: string, value: number): void {
  if (typeof value !== 'number' || !(value > 0 && Number.isFinite(value))) {
    throw new UsageError(where, `${what} must be a finite number above 0.`, value);
  }
}

function notNegative(where: string, what: string, value: number): void {
  if (typeof value !== 'number' || !(value >= 0 && Number.isFinite(value))) {
    throw new UsageError(where, `${what} must be a finite number, 0 or above.`, value);
  }
}

/** A span of ages with null for an end that is never reached. */
export function openEnd([low, high]: readonly [number, number]): [number, number | null] {
  return [low, high === Infinity ? null : high];
}
