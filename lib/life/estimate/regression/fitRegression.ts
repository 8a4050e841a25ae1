/** How life depends on covariates: accelerated failure time, a straight line for log age. */
import { invertArrow } from '../../../numeric/arrow.js';
import { hasClusters } from '../../sample.js';
import type { LifeSample } from '../../sampleTypes.js';
import { arrange } from './arrange.js';
import {
  asGiven,
  copyOf,
  requireHeld,
  requireKnownCauses,
  requireNumbers,
  requireTop,
  tableOf,
  turn,
  warningsOf,
} from './coefficients.js';
import { sandwich, scoresOf } from './covariance.js';
import { coefficientNames, readDesign, shapeIndex } from './design.js';
import { maximiseRegression, type Problem } from './maximise.js';
import { mergeRegression } from './mergeRows.js';
import type { Maximum } from './newton.js';
import { requireEstimable } from './requireEstimable.js';
import { type Ages, prepareAges, type RegressionRows } from './rows.js';
import { standardLaw } from './standardLaw.js';
import type { Covariates, RegressionFit, RegressionOptions } from './types.js';

const WHERE = 'fitRegression';
export const DEFAULT_FAILURES_PER_COEFFICIENT = 5;

/**
 * Regression of log age on covariates by maximum likelihood (Meeker & Escobar 1998 ch. 17; Lawless 2003 ch. 6; from memory). A
 * coefficient b says that one unit more makes lives exp(b) times as long, in the same way at every age. Takes every kind of
 * censoring, delayed entry and counts.
 *
 * Covariates are columns as long as the sample: numbers, or text whose levels are compared with a reference, the first level in
 * sorted order. No covariates fit the law alone.
 *
 * @throws UsageError for missing or wrong values (row and column named), columns that are constant or follow from others, a level
 * without a failure, more coefficients than the failures carry, a coefficient that runs away because the covariates separate
 * lives, covariates that explain every failure exactly, rows of unknown cause, and options that make no sense
 */
export function fitRegression(
  sample: LifeSample,
  covariates: Covariates,
  options: RegressionOptions,
): RegressionFit {
  requireKnownCauses(WHERE, sample);
  const count = sample.lower.length;
  const { design, columns } = readDesign(covariates, count, options);
  const spreads = options.kind === 'exponential' ? 0 : design.shapeGroups.length;
  const names = coefficientNames(design, spreads === 0);
  const arranged = arrange(design, columns, sample.count, names.length);
  const share = options.failuresPerCoefficient ?? DEFAULT_FAILURES_PER_COEFFICIENT;
  const ages = prepareAges(sample);
  requireEstimable(ages, columns, design, arranged, share);
  const groups = shapeIndex(design, covariates, count);
  const rows: RegressionRows = { ...ages, x: arranged.standard.columns, group: groups, ...arranged.factor };
  const problem: Problem = {
    law: standardLaw(options.kind),
    rows: mergeRegression(rows, ages.silent),
    spreads,
    reach: arranged.standard.reach,
  };
  const top = maximiseRegression(problem);
  requireTop(WHERE, top, names, arranged);
  const robust =
    options.covariance === undefined
      ? ages.placed > 0 && hasClusters(sample)
      : options.covariance === 'robust';
  const plain = invertArrow(top.information);
  requireHeld(WHERE, plain, names);
  const scores = scoresOf({ ...problem, rows }, top.theta);
  const { back } = arranged;
  const plainCovariance = turn(back, plain, names.length);
  requireNumbers(WHERE, plainCovariance, names);
  const covariance = robust
    ? turn(back, sandwich(scores, plain, names.length, sample), names.length)
    : plainCovariance.slice();
  return {
    kind: options.kind,
    ...tableOf(names, asGiven(top.theta, back, rows.centre), covariance),
    robust,
    plainCovariance,
    ...likelihoodOf(top, ages, names.length),
    failures: ages.failures,
    lives: ages.lives,
    converged: top.converged,
    iterations: top.iterations,
    reason: top.reason,
    warnings: warningsOf(sample, robust, names.length),
    design,
    sample,
    covariates: copyOf(covariates, columns),
  };
}

/** The search counts densities of log age less its centre; the density of age is that over age. */
function likelihoodOf(top: Maximum, ages: Ages, size: number): { logLikelihood: number; aic: number } {
  const logLikelihood = top.value - ages.exactLogs;
  return { logLikelihood, aic: 2 * size - 2 * logLikelihood };
}
