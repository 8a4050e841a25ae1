/**
 * Every fitted distribution in the same three coordinates, so that bounds are written once: `b` = log shape (for a
 * lognormal -log sigma), `e` = log scale (for a lognormal mu), `s` = log share of faulty fittings where it was estimated.
 */
import { at } from '../../numeric/columns.js';
import { mergeForFit } from '../mergeSample.js';
import type { FittedModel, FittingFault, WeibullModel } from '../model.js';
import type { LifeSample } from '../sampleTypes.js';
import { earlyLeaks } from './fitFault.js';
import { EARLY_LEAKS_NEEDED, FAULT_SHARE_PRIOR, type LifeFit, type ShapePrior } from './fitTypes.js';
import { prepareRows, prepareShares } from './prepareRows.js';
import { evaluator, logLikelihood } from './weibullLikelihood.js';

export interface Coordinates {
  b: number;
  e: number;
  s: number;
}

/** Which coordinates of a fit may move. */
export interface Space {
  at: Coordinates;
  spreadMoves: boolean;
  shareMoves: boolean;
  model(point: Coordinates): FittedModel;
  /** Log likelihood plus log prior, where the fit had one. */
  target(point: Coordinates): number;
}

/** The space of a fit. `prior` replaces the fit's own prior of the shape. */
export function spaceOf(fit: LifeFit, prior: ShapePrior | null = fit.prior): Space {
  const shareMoves = fit.parameters.some(({ name }) => name === 'logShare');
  const model = (point: Coordinates): FittedModel => modelAt(fit, point, shareMoves);
  const rows = mergeForFit(fit.sample);
  const plain = likelihoodOf(fit, rows, model, shareMoves);
  const sharePrior = shareMoves && earlyLeaks(rows) < EARLY_LEAKS_NEEDED;
  const penalty = ({ b, s }: Coordinates): number =>
    (prior === null ? 0 : 0.5 * ((b - Math.log(prior.median)) / prior.sdLog) ** 2) +
    (sharePrior ? 0.5 * ((s - Math.log(FAULT_SHARE_PRIOR.median)) / FAULT_SHARE_PRIOR.sdLog) ** 2 : 0);
  return {
    at: coordinatesOf(fit.model),
    spreadMoves: !fit.shapeFixed,
    shareMoves,
    model,
    target: (point) => (point.s > 0 ? Number.NEGATIVE_INFINITY : plain(point) - penalty(point)),
  };
}

/** The model at values of the fit's own parameters, in their order. */
export function modelFromParameters(fit: LifeFit, values: readonly number[]): FittedModel {
  const point = coordinatesOf(fit.model);
  fit.parameters.forEach(({ name }, i) => {
    const value = at(values, i);
    if (name === 'logShape') point.b = value;
    else if (name === 'logSigma') point.b = -value;
    else if (name === 'logShare') point.s = value;
    else point.e = value;
  });
  return modelAt(fit, point, true);
}

export function coordinatesOf(model: FittedModel): Coordinates {
  if (model.kind === 'lognormal') return { b: -Math.log(model.sigma), e: model.mu, s: 0 };
  if (model.kind === 'exponential') return { b: 0, e: Math.log(model.scale), s: 0 };
  const share = model.kind === 'weibull' ? model.fault?.share : undefined;
  return { b: Math.log(model.shape), e: Math.log(model.scale), s: share === undefined ? 0 : Math.log(share) };
}

function modelAt(fit: LifeFit, { b, e, s }: Coordinates, shareMoves: boolean): FittedModel {
  const { kind } = fit.model;
  if (kind === 'exponential') return { kind, scale: Math.exp(e) };
  if (kind === 'lognormal') return { kind, mu: e, sigma: Math.exp(-b) };
  if (kind === 'loglogistic') return { kind, shape: Math.exp(b), scale: Math.exp(e) };
  const model: WeibullModel = { kind, shape: Math.exp(b), scale: Math.exp(e) };
  const fault = fit.model.fault;
  if (fault !== undefined) model.fault = shareMoves ? { ...fault, share: Math.min(Math.exp(s), 1) } : fault;
  return model;
}

function likelihoodOf(
  fit: LifeFit,
  rows: LifeSample,
  model: (point: Coordinates) => FittedModel,
  shareMoves: boolean,
): (point: Coordinates) => number {
  if (fit.model.kind === 'lognormal' || fit.model.kind === 'loglogistic') {
    return (point) => logLikelihood(rows, model(point));
  }
  const fault = fit.model.kind === 'weibull' ? fit.model.fault : undefined;
  const evaluate = lastShareKept(rows, fault);
  return ({ b, e, s }) => {
    const share = shareMoves ? Math.min(Math.exp(s), 1) : (fault?.share ?? 0);
    return evaluate(share)(Math.exp(b), Math.exp(e));
  };
}

/** Rows are prepared anew only when the share moves. */
function lastShareKept(
  rows: LifeSample,
  fault: FittingFault | undefined,
): (share: number) => (shape: number, scale: number) => number {
  const prepare = fault === undefined ? () => prepareRows(rows) : prepareShares(rows, fault);
  let last = Number.NaN;
  let kept: (shape: number, scale: number) => number = () => Number.NaN;
  return (share) => {
    if (share !== last) {
      kept = evaluator(prepare(share));
      last = share;
    }
    return kept;
  };
}
