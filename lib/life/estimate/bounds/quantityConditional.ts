/** Bounds of the chance that a life of a given age lasts on: S(age + further) / S(age), on the axis log(-log). */
import { UsageError } from '../../../errors.js';
import { findRoot } from '../../../numeric/roots.js';
import { lawOf } from '../../distribution/functions.js';
import type { FittedModel } from '../../model.js';
import type { Quantity } from './quantity.js';

/** `[age, further]`: the age reached, from 0, and how much longer the life is to last. */
export function conditionalSurvivalQuantity([age, further]: readonly [number, number]): Quantity {
  if (!(age >= 0 && age < Infinity && further > 0 && further < Infinity)) {
    const rule = 'conditionalSurvival needs a finite age from 0 and a finite further age above 0.';
    throw new UsageError('lifeBounds', rule, `${age}, ${further}`);
  }
  const free = (model: FittedModel): number => logHazardBetween(model, age, further);
  return {
    name: 'conditionalSurvival',
    free,
    locate: (unit, wanted) => locationOf(unit, age, further, wanted),
    back: (value) => Math.exp(-Math.exp(value)),
    rises: false,
    most: 1,
  };
}

/** log of the cumulative hazard from one age to another; for a plain Weibull without loss of digits where they lie close. */
function logHazardBetween(model: FittedModel, age: number, further: number): number {
  const law = lawOf(model);
  if (model.kind === 'exponential') return Math.log(further / model.scale);
  if (model.kind === 'weibull' && model.fault === undefined && model.failureFree === undefined) {
    if (age === 0) return model.shape * Math.log(further / model.scale);
    const ratio = Math.expm1(model.shape * Math.log1p(further / age));
    return model.shape * Math.log(age / model.scale) + Math.log(ratio);
  }
  return Math.log(law.cumulativeHazard(model, age + further) - law.cumulativeHazard(model, age));
}

/**
 * Location at which the hazard between the ages has a given logarithm; `unit` has location 0. It falls as the location rises: in all
 * laws of log age whose hazard times age never falls, as here. Where the hazard is below the wanted one at any location (a log-logistic
 * has a limit) it is -Infinity.
 */
function locationOf(unit: FittedModel, age: number, further: number, wanted: number): number {
  if (unit.kind === 'exponential') return Math.log(further) - wanted;
  if (unit.kind === 'weibull') return (logHazardBetween(unit, age, further) - wanted) / unit.shape;
  const shift = (e: number): number => {
    const unitOfAge = Math.exp(-e);
    return logHazardBetween(unit, age * unitOfAge, further * unitOfAge) - wanted;
  };
  let [low, high] = [Math.log(age + further), Math.log(age + further)];
  for (let stride = 0.5; stride < 300 && !(shift(low) > 0); stride *= 2) low -= stride;
  for (let stride = 0.5; stride < 300 && !(shift(high) < 0); stride *= 2) high += stride;
  if (!(shift(low) > 0)) return Number.NEGATIVE_INFINITY;
  const { root, converged } = findRoot(shift, low, high, { absolute: 1e-12 });
  return converged ? root : Number.NaN;
}
