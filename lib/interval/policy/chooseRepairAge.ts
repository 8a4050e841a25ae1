/** Replacement where leaks between are cured by a repair that leaves the diaphragm as old as it was. */
import { UsageError } from '../../errors.js';
import { lawOf } from '../../life/distribution/functions.js';
import type { LifeModel } from '../../life/model.js';
import { at, floatAt } from '../../numeric/columns.js';
import { findRoot } from '../../numeric/roots.js';
import { aboveZero } from '../knownCycle.js';
import { hazardFarOut } from './hazardFarOut.js';

export interface RepairCosts {
  /** Cost of a replacement on schedule, above 0. */
  replacement: number;
  /** The whole cost of a leak that is cured by a repair such as a re-tightening, above 0. */
  repair: number;
}

export interface ChosenRepairAge {
  action: 'replace' | 'run';
  /** In the model's unit of age; null with 'run'. */
  age: number | null;
  /** Cost per unit of age at that choice; with 'run' what it comes down to in the end, 0 where leaks die out. */
  costRate: number;
  /** Cost per unit of age in the end if it is never replaced; null where it grows without limit. */
  costRateRun: number | null;
  /** Every local minimum, in order: one may be worth more than the answer where a leak rate falls only at ages nobody will see. */
  minima: { age: number; costRate: number }[];
}

/**
 * Replacement age of least long-run cost rate [replacement + repair H(T)] / T, where a leak is cured without renewing: the
 * diaphragm stays as old as it was and leaks again at the rate of its age (minimal repair). H is the cumulative hazard.
 *
 * It fits leaks that a re-tightening really cures, such as a bonnet that weeps since the elastomer settled. A diaphragm that
 * leaks through is not one of them: that one is replaced, and `chooseAge` is right. With fitting faults, or a mixture of lives,
 * H is that of the lot: a repaired one leaks like any of its age.
 *
 * For a Weibull with shape above 1: scale times (replacement / (repair (shape - 1)))^(1 / shape) (Barlow & Hunter 1960, from
 * memory); for any other model by the roots of T h(T) - H(T) = replacement / repair, to 1e9 leaks. Without wear-out there is none, and the
 * answer is 'run'; so it is with a leak rate that falls in the end (lognormal, log-logistic), for ever the cheapest by the
 * letter of the model; its `minima` hold the age that means something.
 *
 *     chooseRepairAge({ kind: 'weibull', shape: 2, scale: 1000 }, { replacement: 1, repair: 0.5 }).age   // 1414.2
 *
 * @throws UsageError on costs that are not above 0, and where a share fails at once
 */
export function chooseRepairAge(model: LifeModel, costs: RepairCosts): ChosenRepairAge {
  const { replacement, repair } = checked('chooseRepairAge', model, costs);
  const far = repair * hazardFarOut(model);
  const costRateRun = far === Infinity ? null : far;
  const rate = (age: number): number => repairCostRate(model, age, costs);
  const minima = bestAges(model, replacement / repair)
    .map((age) => ({ age, costRate: rate(age) }))
    // A leak rate that is level in the end has minima of rounding there.
    .filter(({ costRate }) => Math.abs(costRate - far) > LEVEL * far || far === Infinity);
  const best = minima.reduce((one, other) => (other.costRate < one.costRate ? other : one), {
    age: Infinity,
    costRate: far,
  });
  if (best.age === Infinity) return { action: 'run', age: null, costRate: far, costRateRun, minima };
  return { action: 'replace', ...best, costRateRun, minima };
}

/**
 * Long-run cost per unit of age if a diaphragm is replaced at `age`, and each leak before is cured without renewing it.
 * Throws UsageError on costs that are not above 0 or an age that is not finite and above 0.
 */
export function repairCostRate(model: LifeModel, age: number, costs: RepairCosts): number {
  const { replacement, repair } = checked('repairCostRate', model, costs);
  if (!(age > 0 && age < Infinity))
    throw new UsageError('repairCostRate', 'the age must be a finite number above 0.', age);
  return (replacement + repair * lawOf(model).cumulativeHazard(model, age)) / age;
}

/** Share of the cost rate in the end that makes no difference. */
const LEVEL = 1e-6;

function checked(where: string, model: LifeModel, costs: RepairCosts): RepairCosts {
  aboveZero(where, 'the cost of a replacement', costs.replacement);
  aboveZero(where, 'the cost of a repair', costs.repair);
  if (lawOf(model).cumulativeHazard(model, 0) > 0)
    throw new UsageError(where, 'where a share fails at once, no repair leaves a life as old as it was.');
  return costs;
}

/** Ages at which the cost rate has a minimum; `ratio` is a replacement over a repair. */
function bestAges(model: LifeModel, ratio: number): number[] {
  if (model.kind === 'exponential') return [];
  if (model.kind === 'weibull' && !model.fault?.share && !model.failureFree) {
    const { shape, scale } = model;
    const age = shape > 1 ? scale * (ratio / (shape - 1)) ** (1 / shape) : Infinity;
    return age > 0 && age < Infinity ? [age] : [];
  }
  const law = lawOf(model);
  // Slope of the cost rate, times what is above 0: below it while a day more is cheaper than the mean.
  const slope = (age: number): number =>
    age * Math.exp(law.logHazard(model, age)) - law.cumulativeHazard(model, age) - ratio;
  const ages = searchedAges(model, ratio);
  const found: number[] = [];
  // At age 0 nothing has leaked, and a day more is always worth while.
  let [low, falling] = [1e-12 * floatAt(ages, 0), true];
  for (let i = 0; i < ages.length; i++) {
    const age = floatAt(ages, i);
    const falls = slope(age) < 0;
    if (falling && !falls) found.push(findRoot(slope, low, age, { relative: 1e-14 }).root);
    [low, falling] = [age, falls];
  }
  return found;
}

/** Beyond this many leaks, times a replacement over a repair where that is more, the cost rate is what it will be. */
const MANY_LEAKS = 1e9;

/** From where leaks cost next to nothing beside a replacement, finely to far beyond where they cost as much, then by doubling. */
function searchedAges(model: LifeModel, ratio: number): Float64Array {
  const law = lawOf(model);
  const start = law.ageAtHazard(model, Math.min(1e-13, 1e-3 * ratio));
  const spread = Math.log(law.ageAtHazard(model, 1.4) / law.ageAtHazard(model, 0.29));
  const ages = [Math.max(start, 1e-300, 1e-9 * law.ageAtHazard(model, 1))];
  const step = Math.exp(Math.min(0.25, 0.2 * spread));
  const most = MANY_LEAKS * Math.max(1, ratio);
  for (let age = at(ages, 0); age < 1e300; ) {
    const leaks = law.cumulativeHazard(model, age);
    if (!(leaks < most)) break;
    age *= leaks < 100 * Math.max(1, ratio) ? step : 2;
    ages.push(age);
  }
  return Float64Array.from(ages);
}
