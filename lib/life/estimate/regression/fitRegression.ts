/** How life depends on covariates: accelerated failure time, a straight line for log age. */
import { UsageError } from '../../../errors.js';
import type { Warning } from '../../../findings.js';
import { at, floatAt, itemAt, sum } from '../../../numeric/columns.js';
import { invertSymmetric, multiply } from '../../../numeric/matrix.js';
import { listed } from '../../../numeric/words.js';
import { failureCount, hasClusters } from '../../sample.js';
import type { LifeSample } from '../../sampleTypes.js';
import { arrange } from './arrange.js';
import { sandwich, scoresOf } from './covariance.js';
import { coefficientNames, readDesign, shapeIndex } from './design.js';
import { maximiseRegression, type Problem } from './maximise.js';
import { mergeRegression } from './mergeRows.js';
import type { Maximum } from './newton.js';
import { requireEstimable } from './requireEstimable.js';
import { EXACT, prepareRegression, type RegressionRows } from './rows.js';
import { standardLaw } from './standardLaw.js';
import type { Covariates, Design, RegressionFit, RegressionOptions } from './types.js';

const DEFAULT_FAILURES_PER_COEFFICIENT = 5;

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
  requireKnownCauses(sample);
  const count = sample.lower.length;
  const design = readDesign(covariates, count, options);
  const spreads = options.kind === 'exponential' ? 0 : design.shapeGroups.length;
  const names = coefficientNames(design, spreads === 0);
  const arranged = arrange(design, covariates, sample.count, names.length);
  const share = options.failuresPerCoefficient ?? DEFAULT_FAILURES_PER_COEFFICIENT;
  requireEstimable(sample, covariates, design, arranged, share);
  const groups = shapeIndex(design, covariates, count);
  const rows = prepareRegression(sample, arranged.standard.columns, groups, arranged.factor);
  const problem: Problem = { law: standardLaw(options.kind), rows: mergeRegression(rows), spreads };
  const top = maximiseRegression(problem);
  requireTop(top, names);
  const robust = options.covariance === undefined ? hasClusters(sample) : options.covariance === 'robust';
  const plain = invertSymmetric(top.information, names.length);
  requireHeld(plain, names);
  const scores = scoresOf({ ...problem, rows }, top.theta);
  const used = robust ? sandwich(scores, plain, names.length, sample) : plain;
  const { back } = arranged;
  const turned = (matrix: readonly number[]): number[] => turn(back, matrix, names.length);
  return {
    kind: options.kind,
    ...tableOf(names, asGiven(top.theta, back, rows.centre), turned(used)),
    robust,
    plainCovariance: turned(plain),
    ...likelihoodOf(top, rows, names.length),
    failures: failureCount(sample),
    lives: sum(sample.count),
    converged: top.converged,
    iterations: top.iterations,
    reason: top.reason,
    warnings: warningsOf(sample, robust, names.length),
    design,
    sample,
    covariates: copyOf(covariates, design),
  };
}

function tableOf(
  names: readonly string[],
  values: readonly number[],
  covariance: number[],
): Pick<RegressionFit, 'coefficients' | 'standardErrors' | 'covariance'> {
  const size = names.length;
  return {
    coefficients: Object.fromEntries(names.map((name, j) => [name, at(values, j)])),
    standardErrors: Object.fromEntries(
      names.map((name, j) => [name, Math.sqrt(at(covariance, j * size + j))]),
    ),
    covariance,
  };
}

/** The search counts densities of log age less its centre; the density of age is that over age. */
function likelihoodOf(
  top: Maximum,
  rows: RegressionRows,
  size: number,
): { logLikelihood: number; aic: number } {
  let logLikelihood = top.value;
  for (let i = 0; i < rows.kind.length; i++) {
    if (rows.kind[i] === EXACT) {
      logLikelihood -= floatAt(rows.count, i) * (floatAt(rows.upper, i) + rows.centre);
    }
  }
  return { logLikelihood, aic: 2 * size - 2 * logLikelihood };
}

function asGiven(theta: readonly number[], back: readonly number[], centre: number): number[] {
  const size = theta.length;
  const out = theta.map((_, i) => theta.reduce((total, x, j) => total + at(back, i * size + j) * x, 0));
  out[0] = at(out, 0) + centre;
  return out;
}

/** back M back', made symmetric to the last digit. */
function turn(back: readonly number[], matrix: readonly number[], size: number): number[] {
  const transposed = back.map((_, k) => at(back, (k % size) * size + Math.floor(k / size)));
  const out = multiply(multiply(back, matrix, size), transposed, size);
  return out.map((x, k) => 0.5 * (x + at(out, (k % size) * size + Math.floor(k / size))));
}

function requireTop(top: Maximum, names: readonly string[]): void {
  if (top.converged) return;
  const away = top.runaway.map((j) => itemAt(names, j));
  const slopes = away.filter((name) => name !== 'intercept' && !name.startsWith('logSigma'));
  if (slopes.length > 0) {
    const rule = `the coefficient of ${listed(slopes)} runs away: the likelihood rises without limit. The covariates part lives that failed from those that did not; leave out or join what parts them.`;
    throw new UsageError('fitRegression', rule);
  }
  if (away.length > 0) {
    const rule = `${listed(away)} runs away: the covariates explain every failure exactly, or all failures are at one age. Take fewer covariates, or kind exponential.`;
    throw new UsageError('fitRegression', rule);
  }
  const rule = `there is no single best set of coefficients (${top.reason}): the data are too few or too alike. Take fewer covariates or spreads, or join levels.`;
  throw new UsageError('fitRegression', rule);
}

/** One failure gives a log spread a standard error of about 1. */
const LARGEST_LOG_SIGMA_ERROR = 5;

/** A likelihood so flat that its slopes vanish to the last digit on the way to no limit. */
function requireHeld(plain: readonly number[], names: readonly string[]): void {
  const size = names.length;
  const loose = names.filter(
    (name, j) => name.startsWith('logSigma') && Math.sqrt(at(plain, j * size + j)) > LARGEST_LOG_SIGMA_ERROR,
  );
  if (loose.length === 0) return;
  const rule = `the data do not hold ${listed(loose)}: its failures are too few or too loosely known. Take fewer covariates or spreads.`;
  throw new UsageError('fitRegression', rule);
}

function requireKnownCauses({ otherHazard }: LifeSample): void {
  if (otherHazard?.some((hazard) => hazard > 0)) {
    const rule =
      'rows of unknown cause are not taken; leave otherHazard out to count them as failures, or give them as sound.';
    throw new UsageError('fitRegression', rule);
  }
}

/** Below so many positions per coefficient the sandwich claims too much. */
const FEWEST_CLUSTERS_PER_COEFFICIENT = 10;

function warningsOf(sample: LifeSample, robust: boolean, size: number): Warning[] {
  if (!robust) return [];
  const clusters = new Set(sample.cluster).size;
  if (clusters >= FEWEST_CLUSTERS_PER_COEFFICIENT * size) return [];
  return [
    {
      code: 'few-positions',
      text: `The position-robust covariance rests on ${clusters} positions for ${size} coefficients, and is then too small.`,
      todo: 'Read the bounds as a little wider than printed, or take fewer covariates.',
    },
  ];
}

function copyOf(covariates: Covariates, design: Design): Covariates {
  return Object.fromEntries(
    design.terms.map(({ name, kind }) => {
      const column = covariates[name] as ArrayLike<number> & readonly string[];
      return [name, kind === 'number' ? Float64Array.from(column as ArrayLike<number>) : [...column]];
    }),
  );
}
