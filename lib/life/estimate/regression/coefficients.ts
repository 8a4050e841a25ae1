/** From the place where a search ended to coefficients by name, and what is refused there. */
import { UsageError } from '../../../errors.js';
import type { Warning } from '../../../findings.js';
import { at, itemAt } from '../../../numeric/columns.js';
import { listed } from '../../../numeric/words.js';
import type { LifeSample } from '../../sampleTypes.js';
import type { Arranged, Combination } from './arrange.js';
import type { Maximum } from './newton.js';
import type { ReadColumns } from './readColumns.js';
import type { Covariates, RegressionFit } from './types.js';

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

export function asGiven(theta: readonly number[], back: readonly Combination[], centre: number): number[] {
  const out = back.map(({ places, shares }) =>
    places.reduce((total, place, k) => total + at(shares, k) * at(theta, place), 0),
  );
  out[0] = at(out, 0) + centre;
  return out;
}

/** back M back', made symmetric to the last digit. */
export function turn(back: readonly Combination[], matrix: readonly number[], size: number): number[] {
  const half = combined(back, matrix, size);
  const out = combined(back, half, size);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < i; j++) {
      const middle = 0.5 * (at(out, i * size + j) + at(out, j * size + i));
      out[i * size + j] = middle;
      out[j * size + i] = middle;
    }
  }
  return out;
}

/** (back M)', so that twice makes back M' back'. */
function combined(back: readonly Combination[], matrix: readonly number[], size: number): number[] {
  // A list of doubles from the first entry on.
  const out = new Array<number>(size * size).fill(0.5).fill(0);
  back.forEach(({ places, shares }, i) => {
    places.forEach((place, k) => {
      addToColumn(out, i, matrix, place, itemAt(shares, k), size);
    });
  });
  return out;
}

/** Adds a share of a row of one matrix to a column of another. */
function addToColumn(
  out: number[],
  column: number,
  matrix: readonly number[],
  row: number,
  share: number,
  size: number,
): void {
  for (let k = 0; k < size; k++) {
    const place = k * size + column;
    out[place] = (out[place] as number) + share * (matrix[row * size + k] as number);
  }
}

/** `named`: the coefficient of each place in theta. */
export function requireTop(
  where: string,
  top: Maximum,
  names: readonly string[],
  { named, factor: { levels } }: Pick<Arranged, 'named' | 'factor'>,
): void {
  if (top.converged) return;
  // Locations of levels only follow: some life of each level failed.
  const beside = top.runaway.filter((j) => j >= levels);
  const away = (beside.length > 0 ? beside : top.runaway).map((j) => itemAt(names, at(named, j)));
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

/** @throws UsageError for a variance that is no number above 0: a column in units whose squares no number holds */
export function requireNumbers(where: string, covariance: readonly number[], names: readonly string[]): void {
  const beyond = names.filter((_, j) => {
    const variance = at(covariance, j * names.length + j);
    return !(variance > 0 && variance < Infinity);
  });
  if (beyond.length === 0) return;
  const rule = `the variance of the coefficient of ${listed(beyond)} is beyond what numbers can hold: give its column in another unit.`;
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

export function copyOf(covariates: Covariates, columns: ReadColumns): Covariates {
  return Object.fromEntries(
    Array.from(columns, ([name, read]) => {
      return [name, read.kind === 'number' ? read.values : (covariates[name] as readonly string[]).slice()];
    }),
  );
}
