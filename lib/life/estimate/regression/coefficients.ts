/** From the place where a search ended to coefficients by name, and what is refused there. */
import { UsageError } from '../../../errors.js';
import type { Warning } from '../../../findings.js';
import { at, itemAt } from '../../../numeric/columns.js';
import { multiply } from '../../../numeric/matrix.js';
import { listed } from '../../../numeric/words.js';
import type { LifeSample } from '../../sampleTypes.js';
import type { Maximum } from './newton.js';
import type { Covariates, Design, RegressionFit } from './types.js';

export function tableOf(
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

export function asGiven(theta: readonly number[], back: readonly number[], centre: number): number[] {
  const size = theta.length;
  const out = theta.map((_, i) => theta.reduce((total, x, j) => total + at(back, i * size + j) * x, 0));
  out[0] = at(out, 0) + centre;
  return out;
}

/** back M back', made symmetric to the last digit. */
export function turn(back: readonly number[], matrix: readonly number[], size: number): number[] {
  const transposed = back.map((_, k) => at(back, (k % size) * size + Math.floor(k / size)));
  const out = multiply(multiply(back, matrix, size), transposed, size);
  return out.map((x, k) => 0.5 * (x + at(out, (k % size) * size + Math.floor(k / size))));
}

export function requireTop(where: string, top: Maximum, names: readonly string[]): void {
  if (top.converged) return;
  const away = top.runaway.map((j) => itemAt(names, j));
  const slopes = away.filter((name) => name !== 'intercept' && !name.startsWith('logSigma'));
  if (slopes.length > 0) {
    const rule = `the coefficient of ${listed(slopes)} runs away: the likelihood rises without limit. The covariates part lives that failed from those that did not; leave out or join what parts them.`;
    throw new UsageError(where, rule);
  }
  if (away.length > 0) {
    const rule = `${listed(away)} runs away: the covariates explain every failure exactly, or all failures are at one age. Take fewer covariates, or kind exponential.`;
    throw new UsageError(where, rule);
  }
  const rule = `there is no single best set of coefficients (${top.reason}): the data are too few or too alike. Take fewer covariates or spreads, or join levels.`;
  throw new UsageError(where, rule);
}

/** One failure gives a log spread a standard error of about 1. */
const LARGEST_LOG_SIGMA_ERROR = 5;

/** A likelihood so flat that its slopes vanish to the last digit on the way to no limit. */
export function requireHeld(where: string, plain: readonly number[], names: readonly string[]): void {
  const size = names.length;
  const loose = names.filter(
    (name, j) => name.startsWith('logSigma') && Math.sqrt(at(plain, j * size + j)) > LARGEST_LOG_SIGMA_ERROR,
  );
  if (loose.length === 0) return;
  const rule = `the data do not hold ${listed(loose)}: its failures are too few or too loosely known. Take fewer covariates or spreads.`;
  throw new UsageError(where, rule);
}

export function requireKnownCauses(where: string, { otherHazard }: LifeSample): void {
  if (otherHazard?.some((hazard) => hazard > 0)) {
    const rule =
      'rows of unknown cause are not taken; leave otherHazard out to count them as failures, or give them as sound.';
    throw new UsageError(where, rule);
  }
}

/** Below so many positions per coefficient the sandwich claims too much. */
const FEWEST_CLUSTERS_PER_COEFFICIENT = 10;

export function warningsOf(sample: LifeSample, robust: boolean, size: number): Warning[] {
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

export function copyOf(covariates: Covariates, design: Design): Covariates {
  return Object.fromEntries(
    design.terms.map(({ name, kind }) => {
      const column = covariates[name] as ArrayLike<number> & readonly string[];
      return [name, kind === 'number' ? Float64Array.from(column as ArrayLike<number>) : [...column]];
    }),
  );
}
