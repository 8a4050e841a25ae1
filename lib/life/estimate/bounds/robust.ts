/**
 * Position-robust covariance (METHODS 1.7; Lin & Wei 1989): lives of one position resemble each other, so the inverse of
 * the information claims too much. The sandwich H^-1 J H^-1 takes J from the scores summed within each position.
 */
import { UsageError } from '../../../errors.js';
import { at, floatAt } from '../../../numeric/columns.js';
import { differentiate } from '../../../numeric/differentiate.js';
import { multiply } from '../../../numeric/matrix.js';
import { otherHazardOf } from '../../sample.js';
import type { LifeSample } from '../../sampleTypes.js';
import { modelFromParameters, parameterSteps } from '../coordinates.js';
import type { LifeFit } from '../fitTypes.js';
import { weibullDerivatives } from '../weibull/weibullDerivatives.js';
import { prepareRows, rowLogLikelihood } from '../weibull/weibullLikelihood.js';

/** Sandwich covariance of the fit's parameters, in the form and order of `fit.covariance`. */
export function robustCovariance(fit: LifeFit): number[] {
  const size = requireCovariance('robustCovariance', fit);
  return multiply(multiply(fit.covariance, scoreProduct(fit), size), fit.covariance, size);
}

/**
 * By how much positions inflate the variance: the mean over parameters of the eigenvalues of H^-1 J, trace(H^-1 J) / k. About 1
 * where lives are independent.
 */
export function clusterInflation(fit: LifeFit): number {
  const size = requireCovariance('clusterInflation', fit);
  const product = multiply(fit.covariance, scoreProduct(fit), size);
  let trace = 0;
  for (let i = 0; i < size; i++) trace += at(product, i * size + i);
  return trace / size;
}

/** J: sum over positions of the outer product of their scores. */
export function scoreProduct(fit: LifeFit): number[] {
  const { sample } = fit;
  const size = fit.parameters.length;
  const scoreOf = rowScores(fit);
  const byCluster = new Map<number, number[]>();
  const out = new Array<number>(size * size).fill(0);
  for (let i = 0; i < sample.lower.length; i++) {
    const score = scoreOf(i);
    const count = floatAt(sample.count, i);
    const cluster = at(sample.cluster, i);
    // A negative cluster says that the lives of this row are apart from each other.
    if (cluster < 0) addOuter(out, score, count);
    else {
      const total = byCluster.get(cluster) ?? new Array<number>(size).fill(0);
      score.forEach((x, j) => {
        total[j] = at(total, j) + count * x;
      });
      byCluster.set(cluster, total);
    }
  }
  for (const total of byCluster.values()) addOuter(out, total, 1);
  return out;
}

/** Score of one life of row i; identical rows are worked out once. */
function rowScores(fit: LifeFit): (i: number) => readonly number[] {
  const { sample } = fit;
  const known = new Map<string, readonly number[]>();
  const score = scorer(fit);
  return (i) => {
    const key = `${floatAt(sample.lower, i)} ${floatAt(sample.upper, i)} ${floatAt(sample.entry, i)} ${otherHazardOf(sample, i)}`;
    const kept = known.get(key) ?? score(single(sample, i));
    known.set(key, kept);
    return kept;
  };
}

function scorer(fit: LifeFit): (one: LifeSample) => readonly number[] {
  const { model } = fit;
  const plain = fit.parameters.every(({ name }) => name === 'logShape' || name === 'logScale');
  if (plain && fit.failureFree === undefined && (model.kind === 'weibull' || model.kind === 'exponential')) {
    const shape = model.kind === 'weibull' ? model.shape : 1;
    const fault = model.kind === 'weibull' ? model.fault : undefined;
    return (one) => {
      const { gradient } = weibullDerivatives(prepareRows(one, fault), shape, model.scale);
      return fit.parameters.length === 2 ? gradient : gradient.slice(1);
    };
  }
  const here = fit.parameters.map(({ estimate }) => estimate);
  const steps = parameterSteps(fit, 1e-3);
  return (one) => {
    const value = (x: readonly number[]): number => rowLogLikelihood(one, 0, modelFromParameters(fit, x));
    return differentiate(value, here, steps);
  };
}

function single(sample: LifeSample, i: number): LifeSample {
  const row = (column: Float64Array): Float64Array => column.slice(i, i + 1);
  return {
    lower: row(sample.lower),
    upper: row(sample.upper),
    entry: row(sample.entry),
    count: Float64Array.of(1),
    cluster: Int32Array.of(-1),
    otherHazard: sample.otherHazard && row(sample.otherHazard),
  };
}

function addOuter(out: number[], score: readonly number[], weight: number): void {
  const size = score.length;
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      out[i * size + j] = at(out, i * size + j) + weight * at(score, i) * at(score, j);
    }
  }
}

function requireCovariance(where: string, fit: LifeFit): number {
  if (fit.covariance.length === 0) {
    throw new UsageError(where, 'the fit has no covariance: there are no failures.');
  }
  return fit.parameters.length;
}
