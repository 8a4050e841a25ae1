/** Bounds round an estimate, by four methods. */
import { UsageError } from '../../../errors.js';
import type { Warning } from '../../../findings.js';
import { localPrecision } from '../../../numeric/localWords.js';
import { condensed } from '../../mergeSample.js';
import { hasClusters } from '../../sample.js';
import { DEFAULT_SHAPE_PRIOR, type LifeFit } from '../fitTypes.js';
import { largestAge } from '../weibull/weibullLikelihood.js';
import { bootstrapBounds } from './boundsBootstrap.js';
import { fixedShapeBounds } from './boundsChiSquare.js';
import { likelihoodBounds } from './boundsLikelihood.js';
import { freeVariance, normalBounds } from './boundsNormal.js';
import { posteriorBounds } from './boundsPosterior.js';
import type { BoundsMethod, BoundsOptions, FreeBounds, LifeBounds, Tails } from './boundsTypes.js';
import { type BoundedQuantity, type Quantity, quantityOf } from './quantity.js';
import { robustCovariance } from './robust.js';

export type { BoundsMethod, BoundsOptions, LifeBounds } from './boundsTypes.js';
export type { BoundedQuantity } from './quantity.js';

/** From so many failures on likelihood bounds are the default, below it the posterior (METHODS 2.1). */
export const FAILURES_FOR_LIKELIHOOD = 5;

/**
 * Bounds of one quantity of a fit: shape, scale, mean life, an age by which a share has failed, survival at an age, or survival for
 * so much longer of a life that has reached an age.
 *
 * - `normal`: log axis (survival: log(-log S)), position-robust covariance where a position has two lives.
 * - `likelihood`: profile likelihood; with such positions the drop is widened by the robust variance over the plain one.
 * - `bootstrap`: percentiles, or BCa ends, of refits to resampled positions (or lives), or to samples drawn from the model; from `seed`.
 * - `posterior`: prior of the shape (printed in the warnings), estimate = posterior median.
 *
 * Without failures and with a fixed shape: the exact chi-square lower bound, whatever the method. Ends that do not
 * exist are 0 and Infinity.
 * @throws UsageError for an unknown quantity or method, a level not between 0 and 1, and the mean of a fit that has none
 */
export function lifeBounds(fit: LifeFit, options: BoundsOptions): LifeBounds {
  const { level = 0.9, side = 'both' } = options;
  if (!(level > 0 && level < 1)) throw new UsageError('lifeBounds', 'level must be between 0 and 1.', level);
  if (!['both', 'lower', 'upper'].includes(side)) {
    throw new UsageError('lifeBounds', "side must be 'both', 'lower' or 'upper'.", side);
  }
  const quantity = quantityOf(options.of);
  if (quantity.name === 'shape' && fit.shapeFixed) {
    throw new UsageError('lifeBounds', 'the shape was fixed, so it has no bounds.');
  }
  if (fit.failures === 0) return withoutFailures(fit, quantity, level, side);
  const method = options.method ?? defaultMethod(fit);
  requireFinite(fit, quantity, method);
  requireServed(fit, quantity, method);
  const robust = (options.robust ?? true) && hasClusters(fit.sample);
  const fromModel = method === 'bootstrap' && options.resample === 'model';
  const free = boundsBy(method, fit, quantity, tailsOf(level, side, quantity), robust, options);
  const estimate = quantity.back(free.middle ?? quantity.free(fit.model));
  const [low, high] = quantity.rises ? [free.low, free.high] : [free.high, free.low];
  const asked = options.prior ?? fit.prior ?? DEFAULT_SHAPE_PRIOR;
  return {
    estimate,
    low: Math.min(quantity.back(low), estimate),
    high: Math.max(quantity.back(high), estimate),
    level,
    side,
    method,
    robust: robust && method !== 'posterior' && !fromModel,
    warnings: [
      ...(free.warnings ?? []),
      ...(method === 'posterior' && !fit.shapeFixed ? [priorWarning(asked.median, asked.sdLog)] : []),
      ...(robust && method === 'posterior' ? [POSTERIOR_NOT_ROBUST] : []),
      ...(robust && fromModel ? [MODEL_NOT_ROBUST] : []),
      ...(method === options.method || takesPrior(fit) ? [] : fewFailures(fit)),
      ...beyondData(fit, options.of, estimate),
    ],
  };
}

function boundsBy(
  method: BoundsMethod,
  fit: LifeFit,
  quantity: Quantity,
  tails: Tails,
  robust: boolean,
  options: BoundsOptions,
): FreeBounds {
  if (method === 'posterior') {
    return posteriorBounds(fit, quantity, tails, options.prior ?? fit.prior ?? DEFAULT_SHAPE_PRIOR);
  }
  if (method === 'bootstrap') {
    return bootstrapBounds(fit, quantity, tails, { ...options, robust });
  }
  const plain = freeVariance(fit, quantity, fit.covariance);
  const robustly = robust ? freeVariance(fit, quantity, robustCovariance(fit)) : plain;
  if (method === 'normal') {
    return normalBounds(fit, quantity, tails, robust ? robustCovariance(fit) : fit.covariance);
  }
  if (method === 'likelihood') {
    return likelihoodBounds(fit, quantity, tails, Math.sqrt(robustly), Math.max(1, robustly / plain));
  }
  const rule = "method must be 'normal', 'likelihood', 'bootstrap' or 'posterior'.";
  throw new UsageError('lifeBounds', rule, method);
}

/** A log-logistic of shape 1 or less has no mean, so there is nothing to put bounds round; a posterior goes by its median. */
function requireFinite(fit: LifeFit, quantity: Quantity, method: BoundsMethod): void {
  if (method === 'posterior' || quantity.name !== 'mean' || Number.isFinite(quantity.free(fit.model))) return;
  const rule = 'the fitted law has no finite mean; ask for an age by which a share has failed, { quantile }.';
  throw new UsageError('lifeBounds', rule, JSON.stringify(fit.model));
}

function defaultMethod(fit: LifeFit): BoundsMethod {
  if (fit.prior !== null) return 'posterior';
  if (!takesPrior(fit)) return 'likelihood';
  return fit.failures >= FAILURES_FOR_LIKELIHOOD ? 'likelihood' : 'posterior';
}

/** The prior of the shape is one of laws with two parameters whose spread is that of a Weibull's. */
function takesPrior({ model, parameters }: LifeFit): boolean {
  if (parameters.some(({ name }) => name === 'failureFree')) return false;
  return !['gamma', 'generalisedGamma', 'smallestValue'].includes(model.kind);
}

/** What a law has not, or a method cannot give. */
function requireServed(fit: LifeFit, quantity: Quantity, method: BoundsMethod): void {
  const { kind } = fit.model;
  if (quantity.name === 'shape' && (kind === 'generalisedGamma' || kind === 'smallestValue')) {
    throw new UsageError('lifeBounds', 'the law has no shape; ask for a quantile or survival.', kind);
  }
  if (method === 'posterior' && !takesPrior(fit)) {
    const rule =
      'posterior bounds need the prior of a shape, which this fit has not; use likelihood or bootstrap.';
    throw new UsageError('lifeBounds', rule, kind);
  }
  const middle = quantity.free(fit.model);
  if ((method === 'normal' || method === 'likelihood') && !Number.isFinite(middle)) {
    const rule = `the ${quantity.name} asked for lies on an edge (0, 1 or without limit) under the fitted law, where these bounds do not exist; ask for another age or share, or use bootstrap.`;
    throw new UsageError('lifeBounds', rule, quantity.back(middle));
  }
}

function fewFailures(fit: LifeFit): Warning[] {
  if (fit.failures >= FAILURES_FOR_LIKELIHOOD) return [];
  return [
    {
      code: 'likelihood-few-failures',
      text: `Likelihood bounds from fewer than ${FAILURES_FOR_LIKELIHOOD} failures are too narrow, and this law takes no prior.`,
      todo: 'Fit a Weibull, whose posterior bounds hold with few failures.',
    },
  ];
}

/** Chances to leave out at the two ends of the free axis; for survival the axis runs the other way. */
function tailsOf(level: number, side: 'both' | 'lower' | 'upper', quantity: Quantity): Tails {
  const tail = side === 'both' ? (1 - level) / 2 : 1 - level;
  const low = side === 'upper' ? 0 : tail;
  const high = side === 'lower' ? 0 : tail;
  return quantity.rises ? { below: low, above: high } : { below: high, above: low };
}

/** Shape known, nothing failed: the scale has an exact lower bound and no upper one. */
function withoutFailures(
  fit: LifeFit,
  quantity: Quantity,
  level: number,
  side: 'both' | 'lower' | 'upper',
): LifeBounds {
  const shape = fit.model.kind === 'weibull' ? fit.model.shape : 1;
  const { low } = fixedShapeBounds(fit.sample, shape, { level, side });
  const model =
    fit.model.kind === 'weibull'
      ? { ...fit.model, scale: low }
      : { kind: 'exponential' as const, scale: low };
  const least = side === 'upper' ? 0 : quantity.back(quantity.free(model));
  return {
    estimate: quantity.most,
    low: least,
    high: quantity.most,
    level,
    side,
    method: 'chi-square',
    robust: false,
    warnings: fit.warnings,
  };
}

const POSTERIOR_NOT_ROBUST: Warning = {
  code: 'posterior-not-robust',
  text: 'Some positions have several lives; the posterior takes all lives as independent of each other.',
  todo: 'With 5 failures or more use likelihood or bootstrap bounds, which respect positions.',
};

const MODEL_NOT_ROBUST: Warning = {
  code: 'bootstrap-not-robust',
  text: 'Some positions have several lives; samples drawn from the model take all lives as independent of each other.',
  todo: 'Resample the lives instead, or use likelihood bounds, which respect positions.',
};

function priorWarning(median: number, sdLog: number): Warning {
  return {
    code: 'shape-prior',
    text: `The bounds rest on a prior of the shape (median ${median}, standard deviation of log shape ${sdLog}) and a flat one of log scale within 3 of its best value.`,
    todo: 'Try another prior where the shape decides.',
  };
}

/** Ages beyond the largest seen are extrapolation. */
function beyondData(fit: LifeFit, of: BoundedQuantity, estimate: number): Warning[] {
  const largest = largestAge(condensed(fit.sample));
  const age = ageAsked(of, estimate);
  if (!(age > largest)) return [];
  return [
    {
      code: 'beyond-data',
      text: `The age ${localPrecision(age, 4)} is beyond the largest age observed, ${localPrecision(largest, 4)}: the value is an extrapolation.`,
      todo: 'Do not plan on it before lives of that age have been seen.',
    },
  ];
}

/** The age that a quantity speaks of: of a share failed the age itself, of survival the age asked for. */
function ageAsked(of: BoundedQuantity, estimate: number): number {
  if (typeof of !== 'object') return 0;
  if ('survival' in of) return of.survival;
  if ('conditionalSurvival' in of) return of.conditionalSurvival[0] + of.conditionalSurvival[1];
  return estimate;
}
