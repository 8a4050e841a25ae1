/**
 * Parameters to numbers: functions of a life model, model first. Ages are in the unit of the model's scale.
 * All throw UsageError where a parameter, an age or a chance is out of range.
 */
import { UsageError } from '../../errors.js';
import type { RandomStream } from '../../numeric/random.js';
import type { LifeKind, LifeModel } from '../model.js';
import { competingLaw } from './competing.js';
import { exponentialLaw } from './exponential.js';
import { gammaLaw } from './gamma.js';
import { generalisedGammaLaw } from './generalisedGamma.js';
import type { LifeLaw } from './law.js';
import { logLogisticLaw } from './loglogistic.js';
import { lognormalLaw } from './lognormal.js';
import { mixtureLaw } from './mixture.js';
import { smallestValueLaw } from './smallestValue.js';
import { weibullLaw } from './weibull.js';
import { weibullAfterLaw } from './weibullAfter.js';

const LAWS = {
  weibull: weibullLaw,
  exponential: exponentialLaw,
  lognormal: lognormalLaw,
  loglogistic: logLogisticLaw,
  gamma: gammaLaw,
  generalisedGamma: generalisedGammaLaw,
  smallestValue: smallestValueLaw,
  mixture: mixtureLaw(rulesOf),
  competing: competingLaw(rulesOf),
} as const;

/** The rules of the model's distribution, after a check of its parameters. For inner loops: look up once, call often. */
export function lawOf(model: LifeModel): LifeLaw<LifeModel> {
  const law = rulesOf(model);
  law.check(model);
  return law;
}

/** The rules without the check, for models that are parts of one that was checked. */
function rulesOf(model: LifeModel): LifeLaw<LifeModel> {
  const after = model.kind === 'weibull' && model.failureFree !== undefined;
  const law = (after ? weibullAfterLaw : LAWS[model.kind as LifeKind]) as LifeLaw<LifeModel> | undefined;
  if (law === undefined) throw new UsageError('life model', 'kind is not known.', model.kind);
  return law;
}

/** Chance of a life longer than t, from 0 to 1. Example: { kind: 'weibull', shape: 2, scale: 1000 } at 1000 gives 0.3679. */
export function survival(model: LifeModel, t: number): number {
  return Math.exp(logSurvival(model, t));
}

/** log of survival; keeps its digits where survival itself is too small for a number. */
export function logSurvival(model: LifeModel, t: number): number {
  return -cumulativeHazard(model, t);
}

/**
 * Chance that a life which has reached age `given` is longer than t: survival at t over survival at `given`, 1 where t is not above
 * `given`. Exact where both are too small for a number.
 * @throws UsageError where no life reaches `given`
 */
export function conditionalSurvival(model: LifeModel, t: number, given: number): number {
  const reached = cumulativeHazard(model, given);
  const hazardAtAge = cumulativeHazard(model, t);
  if (reached === Infinity)
    throw new UsageError('conditionalSurvival', 'no life reaches the age given.', given);
  return t <= given ? 1 : Math.exp(reached - hazardAtAge);
}

/** Failures per unit of age among new lives, at age t. */
export function density(model: LifeModel, t: number): number {
  return Math.exp(logDensity(model, t));
}

/** log of the density. */
export function logDensity(model: LifeModel, t: number): number {
  const law = lawOf(model);
  requireAge('logDensity', t);
  const reached = law.cumulativeHazard(model, t);
  return reached === Infinity ? Number.NEGATIVE_INFINITY : law.logHazard(model, t) - reached;
}

/** Failure rate at age t of lives that have reached t, per unit of age. */
export function hazard(model: LifeModel, t: number): number {
  const law = lawOf(model);
  requireAge('hazard', t);
  return Math.exp(law.logHazard(model, t));
}

/** Integral of the failure rate up to t: -log survival, exact for small t. */
export function cumulativeHazard(model: LifeModel, t: number): number {
  const law = lawOf(model);
  requireAge('cumulativeHazard', t);
  return law.cumulativeHazard(model, t);
}

/** The age by which a share p of lives has failed, 0 <= p < 1 (p = 0.1 is B10); exact for tiny p. */
export function quantile(model: LifeModel, p: number): number {
  const law = lawOf(model);
  if (!(p >= 0 && p < 1)) throw new UsageError('quantile', 'p must be at or above 0 and below 1.', p);
  return law.ageAtHazard(model, -Math.log1p(-p));
}

/**
 * Mean life; Infinity where the distribution has none (log-logistic with shape at or below 1, generalised gamma with
 * sigma q at or below -1, and what is made of such).
 */
export function meanLife(model: LifeModel): number {
  return lawOf(model).meanUpTo(model, Infinity);
}

/**
 * Variance of life, in the square of the unit of age; Infinity where the distribution has none (log-logistic with shape at or
 * below 2, generalised gamma with sigma q at or below -1/2).
 */
export function lifeVariance(model: LifeModel): number {
  return lawOf(model).variance(model);
}

/** Mean life as far as age t: the integral of survival from 0 to t, the mean cycle of replacing at age t. */
export function meanUpTo(model: LifeModel, t: number): number {
  const law = lawOf(model);
  requireAge('meanUpTo', t);
  return law.meanUpTo(model, t);
}

/** Mean of what is left of a life that has reached age t. */
export function remainingLife(model: LifeModel, t: number): number {
  const law = lawOf(model);
  requireAge('remainingLife', t);
  return law.remaining(model, t);
}

/**
 * Lives at random. With `survivedTo` the ages at failure of lives that have already reached that age.
 * @param count how many, a whole number from 0
 */
export function drawLives(
  model: LifeModel,
  count: number,
  random: RandomStream,
  options: { survivedTo?: number } = {},
): Float64Array {
  const law = lawOf(model);
  if (!(Number.isInteger(count) && count >= 0)) {
    throw new UsageError('drawLives', 'count must be a whole number from 0.', count);
  }
  const { survivedTo = 0 } = options;
  requireAge('drawLives', survivedTo);
  if (survivedTo === 0) return Float64Array.from({ length: count }, () => law.draw(model, random));
  const reached = law.cumulativeHazard(model, survivedTo);
  const draw = (): number => law.ageAtHazard(model, reached - Math.log(random.uniform()));
  return Float64Array.from({ length: count }, () => Math.max(survivedTo, draw()));
}

function requireAge(where: string, t: number): void {
  if (!(t >= 0)) throw new UsageError(where, 'age must be a number at or above 0.', t);
}
