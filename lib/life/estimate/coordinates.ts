/**
 * Every fitted distribution in the same three coordinates, so that bounds are written once: `b` = log shape (for a
 * lognormal and a generalised gamma -log sigma, for smallest values log of location over scale), `e` = log scale (mu; log location),
 * `s` = what is estimated besides: log share of faulty fittings, skew q, or the failure-free time in units of the scale. With b and s
 * held all ages go up with exp(e), but for a failure-free time given as a number.
 */
import { at, sum } from '../../numeric/columns.js';
import { mergeForFit } from '../mergeSample.js';
import type { FittedModel, FittingFault, WeibullModel } from '../model.js';
import type { LifeSample } from '../sampleTypes.js';
import { earlyLeaks } from './fitFault.js';
import { EARLY_LEAKS_NEEDED, FAULT_SHARE_PRIOR, type LifeFit, type ShapePrior } from './fitTypes.js';
import { lawLikelihood } from './lawLikelihood.js';
import { prepareRows, prepareShares } from './weibull/prepareRows.js';
import { evaluator, logLikelihood, sumOfPowers } from './weibull/weibullLikelihood.js';

export interface Coordinates {
  b: number;
  e: number;
  s: number;
}

/** What the third coordinate of a fit is, where it moves. */
type Third = 'share' | 'skew' | 'time' | null;

/** Which coordinates of a fit may move. */
export interface Space {
  at: Coordinates;
  spreadMoves: boolean;
  thirdMoves: boolean;
  model(point: Coordinates): FittedModel;
  /** Log likelihood plus log prior, where the fit had one. */
  target(point: Coordinates): number;
  /** The target at a `b` and its best `e`, where that is known in closed form. */
  bestAt: ((b: number) => number) | null;
}

/** The space of a fit. `prior` replaces the fit's own prior of the shape. */
export function spaceOf(fit: LifeFit, prior: ShapePrior | null = fit.prior): Space {
  const third = thirdOf(fit);
  const model = (point: Coordinates): FittedModel => modelAt(fit, point, third);
  const rows = mergeForFit(fit.sample);
  const plain = likelihoodOf(fit, rows, model, third);
  const sharePrior = third === 'share' && earlyLeaks(rows) < EARLY_LEAKS_NEEDED;
  const profile = third === null && isPlain(fit) ? profileOfShape(rows) : null;
  const penalty = ({ b, s }: Coordinates): number =>
    (prior === null ? 0 : 0.5 * ((b - Math.log(prior.median)) / prior.sdLog) ** 2) +
    (sharePrior ? 0.5 * ((s - Math.log(FAULT_SHARE_PRIOR.median)) / FAULT_SHARE_PRIOR.sdLog) ** 2 : 0);
  return {
    at: coordinatesOf(fit.model, third),
    spreadMoves: !fit.shapeFixed,
    thirdMoves: third !== null,
    model,
    target: (point) => (isOutside(point, third) ? Number.NEGATIVE_INFINITY : plain(point) - penalty(point)),
    bestAt: profile === null ? null : (b) => profile(b) - penalty({ b, e: 0, s: 0 }),
  };
}

/** The model at values of the fit's own parameters, in their order. */
export function modelFromParameters(fit: LifeFit, values: readonly number[]): FittedModel {
  const { model } = fit;
  const named = new Map(fit.parameters.map(({ name }, i) => [name, at(values, i)]));
  if (model.kind === 'smallestValue') {
    const { location = model.location, logScale = Math.log(model.scale) } = Object.fromEntries(named);
    return { ...model, location, scale: Math.exp(logScale) };
  }
  const third = thirdOf(fit);
  const point = coordinatesOf(model, third);
  for (const [name, value] of named) {
    if (name === 'logShape') point.b = value;
    else if (name === 'logSigma') point.b = -value;
    else if (name === 'logShare' || name === 'q') point.s = value;
    else if (name !== 'failureFree') point.e = value;
  }
  const time = named.get('failureFree');
  if (time !== undefined) point.s = time / Math.exp(point.e);
  return modelAt(fit, point, third);
}

/** Steps for differences by the fit's own parameters: they follow the standard errors where a parameter is an age. */
export function parameterSteps(fit: LifeFit, most: number): number[] {
  return fit.parameters.map(({ name, standardError }) =>
    name === 'location' || name === 'failureFree' ? 0.01 * standardError : most,
  );
}

export function coordinatesOf(model: FittedModel, third: Third = null): Coordinates {
  if (model.kind === 'lognormal') return { b: -Math.log(model.sigma), e: model.mu, s: 0 };
  if (model.kind === 'generalisedGamma') return { b: -Math.log(model.sigma), e: model.mu, s: model.q };
  if (model.kind === 'exponential') return { b: 0, e: Math.log(model.scale), s: 0 };
  if (model.kind === 'smallestValue') {
    return { b: Math.log(model.location / model.scale), e: Math.log(model.location), s: 0 };
  }
  const place = { b: Math.log(model.shape), e: Math.log(model.scale) };
  if (model.kind !== 'weibull') return { ...place, s: 0 };
  if (third === 'time') return { ...place, s: (model.failureFree ?? 0) / model.scale };
  return { ...place, s: model.fault === undefined ? 0 : Math.log(model.fault.share) };
}

function thirdOf(fit: LifeFit): Third {
  const has = (wanted: string): boolean => fit.parameters.some(({ name }) => name === wanted);
  if (has('logShare')) return 'share';
  if (has('failureFree')) return 'time';
  return has('q') ? 'skew' : null;
}

/** Beyond what a law can be. A failure-free time needs a shape of 1 or more, or its likelihood has no limit. */
function isOutside({ b, e, s }: Coordinates, third: Third): boolean {
  if (third === 'share') return s > 0;
  if (third === 'time' && (s < 0 || b < 0)) return true;
  if (third === 'skew' && Math.abs(s) > 30) return true;
  return !(Math.abs(b) < 300 && Math.abs(e) < 700);
}

function modelAt(fit: LifeFit, { b, e, s }: Coordinates, third: Third): FittedModel {
  const { kind } = fit.model;
  const scale = Math.exp(e);
  if (kind === 'exponential') return { kind, scale };
  if (kind === 'lognormal') return { kind, mu: e, sigma: Math.exp(-b) };
  if (kind === 'generalisedGamma') return { kind, mu: e, sigma: Math.exp(-b), q: s };
  if (kind === 'smallestValue') return { kind, location: scale, scale: Math.exp(e - b) };
  if (kind !== 'weibull') return { kind, shape: Math.exp(b), scale };
  const model: WeibullModel = { kind, shape: Math.exp(b), scale };
  const { fault, failureFree } = fit.model;
  if (failureFree !== undefined) model.failureFree = third === 'time' ? Math.max(s * scale, 0) : failureFree;
  if (fault !== undefined)
    model.fault = third === 'share' ? { ...fault, share: Math.min(Math.exp(s), 1) } : fault;
  return model;
}

function likelihoodOf(
  fit: LifeFit,
  rows: LifeSample,
  model: (point: Coordinates) => FittedModel,
  third: Third,
): (point: Coordinates) => number {
  const { kind } = fit.model;
  if (kind === 'lognormal' || kind === 'loglogistic') return (point) => logLikelihood(rows, model(point));
  if (fit.failureFree !== undefined || (kind !== 'weibull' && kind !== 'exponential')) {
    const likelihood = lawLikelihood(rows);
    return (point) => likelihood(model(point));
  }
  const fault = fit.model.kind === 'weibull' ? fit.model.fault : undefined;
  const evaluate = lastShareKept(rows, fault);
  return ({ b, e, s }) => {
    const share = third === 'share' ? Math.min(Math.exp(s), 1) : (fault?.share ?? 0);
    return evaluate(share)(Math.exp(b), Math.exp(e));
  };
}

function isPlain({ model, failureFree }: LifeFit): boolean {
  return model.kind === 'weibull' && model.fault === undefined && failureFree === undefined;
}

/** Log likelihood at the best scale, scale^shape = sum of weight t^shape / failures; not where failures lie in intervals. */
function profileOfShape(sample: LifeSample): Space['bestAt'] {
  const rows = prepareRows(sample);
  const { exact, interval, constant, mixed } = rows;
  if (mixed || interval.count.length > 0) return null;
  const failures = sum(exact.count);
  const logAges = exact.count.reduce((total, count, i) => total + count * at(exact.logAge, i), 0);
  return (b) => {
    const shape = Math.exp(b);
    const logMean = Math.log(sumOfPowers(rows, shape) / failures);
    return constant + failures * (b - 1 - logMean) + shape * logAges;
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
