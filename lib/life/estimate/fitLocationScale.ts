/** Lognormal and log-logistic fits: log life has a centre `mu` and a spread `sigma`. */
import { UsageError } from '../../errors.js';
import { invertArrow } from '../../numeric/arrow.js';
import { at, floatAt } from '../../numeric/columns.js';
import { differentiate, differentiateTwice } from '../../numeric/differentiate.js';
import { invertSymmetric } from '../../numeric/matrix.js';
import { minimiseSimplex } from '../../numeric/minimise.js';
import { mergeSample } from '../mergeSample.js';
import type { FittedModel } from '../model.js';
import { isFailure } from '../sample.js';
import type { LifeSample } from '../sampleTypes.js';
import { summaryOf } from './fitSummary.js';
import type { LifeFit, ShapePrior } from './fitTypes.js';
import { maximiseRegression } from './regression/maximise.js';
import { mergeRegression } from './regression/mergeRows.js';
import { prepareRegression } from './regression/rows.js';
import { standardLaw } from './regression/standardLaw.js';
import { largestAge, logLikelihood } from './weibull/weibullLikelihood.js';

type Kind = 'lognormal' | 'loglogistic';

/**
 * Precondition: an estimable sample. A regression without covariates: Newton on analytic derivatives. With a prior, for failures of
 * unknown cause, and where that does not settle, a search without derivatives.
 */
export function fitLocationScale(sample: LifeSample, kind: Kind, prior: ShapePrior | null): LifeFit {
  const quick = prior === null && sample.otherHazard === undefined ? fitByNewton(sample, kind) : null;
  return quick ?? fitBySearch(sample, kind, prior);
}

function fitByNewton(sample: LifeSample, kind: Kind): LifeFit | null {
  const rows = prepareRegression(sample, [], new Int32Array(sample.lower.length));
  const top = maximiseRegression({ law: standardLaw(kind), rows: mergeRegression(rows), spreads: 1 });
  if (!top.converged) return null;
  const [mu, logSigma] = [at(top.theta, 0) + rows.centre, at(top.theta, 1)];
  return result(sample, kind, null, mu, logSigma, invertArrow(top.information), top.iterations);
}

/** The search runs on (mu, log sigma), ages in units of the largest one. */
function fitBySearch(sample: LifeSample, kind: Kind, prior: ShapePrior | null): LifeFit {
  const unit = largestAge(sample);
  const rows = inUnit(mergeSample(sample), unit);
  const target = (x: readonly number[]): number => {
    const [mu, logSigma] = [at(x, 0), at(x, 1)];
    if (Math.abs(logSigma) > 30 || Math.abs(mu) > 600) return Infinity;
    const value = penalty(prior, -logSigma) - logLikelihood(rows, modelOf(kind, mu, Math.exp(logSigma)));
    return Number.isNaN(value) ? Infinity : value;
  };
  const first = minimiseSimplex(target, startAt(rows), { step: [0.3, 0.3], tolerance: 1e-13 });
  const { at: top, iterations } = polish(target, first.at);
  const [mu, logSigma] = [at(top, 0), at(top, 1)];
  if (!first.converged || Math.abs(logSigma) > 15) {
    throw new UsageError('fitLife', 'no best parameters were found: the likelihood rises without limit.');
  }
  const covariance = invertSymmetric(differentiateTwice(target, top, [0, 1], stepsAt(top, 5e-3)), 2);
  return result(
    sample,
    kind,
    prior,
    mu + Math.log(unit),
    logSigma,
    covariance,
    first.iterations + iterations,
  );
}

function result(
  sample: LifeSample,
  kind: Kind,
  prior: ShapePrior | null,
  mu: number,
  logSigma: number,
  covariance: number[],
  iterations: number,
): LifeFit {
  const model = modelOf(kind, mu, Math.exp(logSigma));
  const spread = { estimate: logSigma, standardError: Math.sqrt(at(covariance, 3)) };
  const centre = { estimate: mu, standardError: Math.sqrt(at(covariance, 0)) };
  const lognormal = kind === 'lognormal';
  return {
    kind,
    model,
    logLikelihood: logLikelihood(mergeSample(sample), model),
    parameters: lognormal
      ? [
          { name: 'mu', ...centre },
          { name: 'logSigma', ...spread },
        ]
      : [
          { name: 'logShape', ...spread, estimate: -logSigma },
          { name: 'logScale', ...centre },
        ],
    covariance: lognormal
      ? covariance
      : [at(covariance, 3), -at(covariance, 1), -at(covariance, 2), at(covariance, 0)],
    ...summaryOf(sample, false, prior),
    converged: true,
    iterations,
    reason: 'the slopes vanish at a maximum',
  };
}

/** The model with centre mu and spread sigma of log life. */
export function modelOf(kind: Kind, mu: number, sigma: number): FittedModel {
  return kind === 'lognormal' ? { kind, mu, sigma } : { kind, shape: 1 / sigma, scale: Math.exp(mu) };
}

/** Newton with derivatives by differences: sharpens the simplex's eight digits to about eleven. */
function polish(
  target: (x: readonly number[]) => number,
  start: number[],
): { at: number[]; iterations: number } {
  let x = start;
  for (let iteration = 1; iteration <= 6; iteration++) {
    const gradient = differentiate(target, x, stepsAt(x, 1e-3));
    const inverse = invertSymmetric(differentiateTwice(target, x, [0, 1], stepsAt(x, 5e-3)), 2);
    const step = [0, 1].map(
      (i) => at(inverse, 2 * i) * at(gradient, 0) + at(inverse, 2 * i + 1) * at(gradient, 1),
    );
    x = x.map((value, i) => value - at(step, i));
    if (Math.abs(at(step, 0)) < 1e-12 * (1 + Math.abs(at(x, 0))) && Math.abs(at(step, 1)) < 1e-12) {
      return { at: x, iterations: iteration };
    }
  }
  return { at: x, iterations: 6 };
}

/** Steps natural to (mu, log sigma): the centre moves in units of sigma. */
function stepsAt(x: readonly number[], step: number): number[] {
  return [step * Math.exp(at(x, 1)), step];
}

function startAt(sample: LifeSample): number[] {
  let [n, total, squares] = [0, 0, 0];
  for (let i = 0; i < sample.lower.length; i++) {
    if (!isFailure(sample, i)) continue;
    const log = Math.log(0.5 * (floatAt(sample.lower, i) + floatAt(sample.upper, i)));
    n += floatAt(sample.count, i);
    total += floatAt(sample.count, i) * log;
    squares += floatAt(sample.count, i) * log * log;
  }
  const variance = Math.max(squares / n - (total / n) ** 2, 1e-6);
  return [total / n, 0.5 * Math.log(variance)];
}

export function inUnit(sample: LifeSample, unit: number): LifeSample {
  const scaled = (column: Float64Array): Float64Array => column.map((x) => x / unit);
  const { lower, upper, entry, otherHazard } = sample;
  // Exact rows carry a hazard per unit of age, intervals a hazard over the interval.
  const other = otherHazard?.map((x, i) => (floatAt(lower, i) === floatAt(upper, i) ? x * unit : x));
  return { ...sample, lower: scaled(lower), upper: scaled(upper), entry: scaled(entry), otherHazard: other };
}

function penalty(prior: ShapePrior | null, logShape: number): number {
  return prior === null ? 0 : 0.5 * ((logShape - Math.log(prior.median)) / prior.sdLog) ** 2;
}
