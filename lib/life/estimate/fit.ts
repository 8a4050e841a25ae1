/** Data to parameters: the fit of one life distribution to one sample. */
import { UsageError } from '../../errors.js';
import { condensed } from '../mergeSample.js';
import type { FittedKind, FittingFault, WeibullModel } from '../model.js';
import { hasFailures } from '../sample.js';
import type { LifeSample } from '../sampleTypes.js';
import { whyShapeNotEstimable } from './estimable.js';
import { fitFailureFree } from './fitFailureFree.js';
import { type FamilyKind, fitFamily } from './fitFamily.js';
import { fitWithShare } from './fitFault.js';
import { fitLocationScale } from './fitLocationScale.js';
import { summaryOf } from './fitSummary.js';
import {
  DEFAULT_FAULT_LAW,
  DEFAULT_SHAPE_PRIOR,
  type FitOptions,
  type LifeFit,
  type ShapePrior,
} from './fitTypes.js';
import { maximiseWeibull, type WeibullMaximum } from './weibull/maximiseWeibull.js';
import { inverse } from './weibull/weibullDerivatives.js';
import { prepareRows } from './weibull/weibullLikelihood.js';

/** The laws that `fitLife` fits. */
export const FITTED_KINDS: readonly FittedKind[] = [
  'weibull',
  'exponential',
  'lognormal',
  'loglogistic',
  'gamma',
  'generalisedGamma',
  'smallestValue',
];

export type { FitOptions, LifeFit, ShapePrior } from './fitTypes.js';

/**
 * Fits a life distribution by maximum likelihood (METHODS 1.2; Meeker & Escobar 1998 ch. 8 and 11), all kinds of rows.
 *
 * With `shape` the Weibull's shape is fixed and only its scale is estimated (IEC 61649); without any failure the best scale
 * is then Infinity, said in `reason`, and `lifeBounds` still gives the lower bound. With `prior` or method 'posterior' the
 * fit is the posterior mode under a normal prior of log shape.
 *
 * @throws UsageError where no finite shape fits best and neither `shape` nor a prior is given: no failures, all failures at
 * one age with no life older, a sole failure at the largest age, or a likelihood that rises without limit on the way. See
 * `whyShapeNotEstimable` to ask first.
 */
export function fitLife(sample: LifeSample, options: FitOptions): LifeFit {
  requireOptions(options);
  const prior = options.prior ?? (options.method === 'posterior' ? DEFAULT_SHAPE_PRIOR : null);
  const shape = options.kind === 'exponential' ? 1 : options.shape;
  requireEstimable(sample, options, prior);
  if (options.kind === 'lognormal' || options.kind === 'loglogistic') {
    return fitLocationScale(sample, options.kind, prior);
  }
  if (isWide(options.kind)) return fitFamily(sample, options.kind);
  if (!hasFailures(condensed(sample))) return withoutFailures(sample, options);
  const { fault, failureFree } = options;
  if (failureFree !== undefined) return fitFailureFree(sample, failureFree, shape, prior);
  if (fault !== undefined && !isKnown(fault)) {
    return fitWithShare(sample, fault === 'estimate' ? DEFAULT_FAULT_LAW : fault, shape, prior);
  }
  const top = maximiseWeibull(prepareRows(sample, fault), { fixedShape: shape, prior });
  requireTop(top);
  return weibullFit(sample, options, top, fault, prior);
}

function weibullFit(
  sample: LifeSample,
  options: FitOptions,
  top: WeibullMaximum,
  fault: FittingFault | undefined,
  prior: ShapePrior | null,
): LifeFit {
  const fixed = options.kind === 'exponential' || options.shape !== undefined;
  const covariance = fixed ? [1 / top.information[2]] : inverse(top.information);
  const se = (i: number): number => Math.sqrt(covariance[fixed ? 0 : 3 * i] as number);
  const logScale = { name: 'logScale', estimate: Math.log(top.scale), standardError: se(1) };
  const logShape = { name: 'logShape', estimate: Math.log(top.shape), standardError: se(0) };
  const weibull: WeibullModel = { kind: 'weibull', shape: top.shape, scale: top.scale };
  if (fault !== undefined) weibull.fault = { ...fault };
  return {
    kind: options.kind,
    model: options.kind === 'exponential' ? { kind: 'exponential', scale: top.scale } : weibull,
    logLikelihood: top.logLikelihood,
    parameters: fixed ? [logScale] : [logShape, logScale],
    covariance,
    ...summaryOf(sample, fixed, prior),
    converged: top.converged,
    iterations: top.iterations,
    reason: top.reason,
  };
}

function withoutFailures(sample: LifeSample, options: FitOptions): LifeFit {
  if (options.failureFree !== undefined) {
    throw new UsageError('fitLife', 'without failures leave out failureFree.', options.failureFree);
  }
  const shape = options.shape as number;
  return {
    kind: options.kind,
    model:
      options.kind === 'exponential'
        ? { kind: 'exponential', scale: Infinity }
        : { kind: 'weibull', shape, scale: Infinity },
    logLikelihood: 0,
    parameters: [],
    covariance: [],
    ...summaryOf(sample, true, null),
    converged: false,
    iterations: 0,
    reason: 'there are no failures, so the best scale is without limit; lifeBounds gives its lower bound',
  };
}

function isKnown(fault: NonNullable<FitOptions['fault']>): fault is FittingFault {
  return fault !== 'estimate' && 'share' in fault;
}

function requireOptions(options: FitOptions): void {
  const { kind, shape, fault, prior } = options;
  if (!FITTED_KINDS.includes(kind)) {
    throw new UsageError('fitLife', `kind must be one of ${FITTED_KINDS.join(', ')}.`, kind);
  }
  if (shape !== undefined && kind !== 'weibull') {
    throw new UsageError('fitLife', 'only the shape of a Weibull can be fixed.', kind);
  }
  if (shape !== undefined && !(shape > 0 && shape < Infinity)) {
    throw new UsageError('fitLife', 'shape must be above 0 and finite.', shape);
  }
  if (fault !== undefined && kind !== 'weibull') {
    throw new UsageError('fitLife', 'fitting faults belong to a Weibull.', kind);
  }
  if (fault !== undefined && fault !== 'estimate') requireFault(fault);
  requireFailureFree(options);
  if (prior !== undefined && !(prior.median > 0 && prior.sdLog > 0)) {
    throw new UsageError('fitLife', 'prior needs a median and an sdLog above 0.', JSON.stringify(prior));
  }
}

/** A prior of the shape belongs to laws with such a shape, where the failure-free time is not estimated beside it. */
function requireFailureFree({ kind, failureFree, fault, prior, method, shape }: FitOptions): void {
  const asked = prior !== undefined || method === 'posterior';
  if (asked && isWide(kind)) {
    throw new UsageError(
      'fitLife',
      'the prior of the shape belongs to a Weibull, lognormal or log-logistic.',
      kind,
    );
  }
  if (failureFree === undefined) return;
  if (kind !== 'weibull') throw new UsageError('fitLife', 'a failure-free time belongs to a Weibull.', kind);
  if (fault !== undefined) {
    throw new UsageError(
      'fitLife',
      'fitting faults leak early: leave out failureFree or fault.',
      failureFree,
    );
  }
  if (failureFree !== 'estimate' && !(failureFree >= 0 && failureFree < Infinity)) {
    throw new UsageError(
      'fitLife',
      "failureFree must be 'estimate' or a finite age at or above 0.",
      failureFree,
    );
  }
  if (failureFree !== 'estimate') return;
  if (asked) throw new UsageError('fitLife', 'with a prior give failureFree as a number.', failureFree);
  if (shape !== undefined && shape <= 1) {
    throw new UsageError(
      'fitLife',
      'a failure-free time cannot be estimated with a shape at or below 1.',
      shape,
    );
  }
}

function isWide(kind: FitOptions['kind']): kind is FamilyKind {
  return kind === 'gamma' || kind === 'generalisedGamma' || kind === 'smallestValue';
}

function requireFault(fault: FittingFault | { shape: number; scale: number }): void {
  const good =
    fault.shape > 0 && fault.scale > 0 && (!isKnown(fault) || (fault.share >= 0 && fault.share < 1));
  if (good) return;
  const rule = 'fault needs a shape and a scale above 0, and a share from 0 to below 1.';
  throw new UsageError('fitLife', rule, JSON.stringify(fault));
}

function requireEstimable(sample: LifeSample, options: FitOptions, prior: ShapePrior | null): void {
  if (options.shape !== undefined || options.kind === 'exponential') return;
  const rows = condensed(sample);
  if (prior !== null && hasFailures(rows)) return;
  const why = whyShapeNotEstimable(rows);
  if (why !== null) {
    const todo = isWide(options.kind)
      ? 'A Weibull can be given a shape or a prior'
      : 'Give `shape` or a `prior`';
    throw new UsageError('fitLife', `the shape cannot be estimated: ${why}. ${todo}.`);
  }
}

function requireTop(top: WeibullMaximum): void {
  if (top.converged) return;
  throw new UsageError(
    'fitLife',
    `no best parameters were found: ${top.reason}. Give \`shape\` or a \`prior\`.`,
  );
}
