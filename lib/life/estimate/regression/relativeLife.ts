/** How many times as long lives last at one set of covariates as at another. */
import { UsageError } from '../../../errors.js';
import { at } from '../../../numeric/columns.js';
import { localPrecision } from '../../../numeric/localWords.js';
import { amount, listed } from '../../../numeric/words.js';
import { zOf } from '../../empirical/kaplanMeier.js';
import type { Bounds } from '../../sampleTypes.js';
import { coefficientValues, columnsAt, linearVariance, requireKnown } from './oneRow.js';
import type { CovariateValues, RegressionLaw } from './types.js';

export interface RelativeLife extends Bounds {
  level: number;
  /** "lasts 0.62 times as long, 90 % bounds 0.50 to 0.77". */
  words: string;
  /** "Lives at line B are 0.62 times as long as at line A, 90 % range 0.50 to 0.77." */
  sentence: string;
}

/**
 * Life at `to` over life at `from`: the same ratio for every quantile, since covariates stretch the age axis. Covariates that
 * neither names are the same at both. Bounds by the normal approximation of the log ratio, under the fit's covariance.
 * @throws UsageError for names or levels that the fit does not know, a covariate named at one end only, one that an interaction
 * needs and nobody gives, and ends whose spreads differ (the ratio then depends on the quantile: use `predictLife`)
 */
export function relativeLife(
  fit: RegressionLaw,
  from: CovariateValues,
  to: CovariateValues,
  { level = 0.9 }: { level?: number } = {},
): RelativeLife {
  const z = zOf('relativeLife', level);
  requireEnds(fit, from, to);
  const [start, end] = [columnsAt(fit, filled(fit, from)), columnsAt(fit, filled(fit, to))];
  const size = Object.keys(fit.coefficients).length;
  const direction = new Array<number>(size).fill(0);
  for (let j = 0; j < start.length; j++) direction[j + 1] = at(end, j) - at(start, j);
  const values = coefficientValues(fit);
  const log = direction.reduce((total, x, j) => total + (x === 0 ? 0 : x * at(values, j)), 0);
  const width = z * Math.sqrt(linearVariance(fit, direction));
  const [estimate, low, high] = [Math.exp(log), Math.exp(log - width), Math.exp(log + width)];
  const share = `${amount(100 * level, 4)} %`;
  const span = `${ratioWords(low)} to ${ratioWords(high)}`;
  const words = `lasts ${ratioWords(estimate)} times as long, ${share} bounds ${span}`;
  const sentence = `Lives at ${valuesWords(to)} are ${ratioWords(estimate)} times as long as at ${valuesWords(from)}, ${share} range ${span}.`;
  return { estimate, low, high, level, words, sentence };
}

/** "material FKM and temperature 90". */
function valuesWords(values: CovariateValues): string {
  const parts = Object.entries(values).map(
    ([name, value]) => `${name} ${typeof value === 'number' ? amount(value, 6) : value}`,
  );
  return parts.length === 0 ? 'the same covariates' : listed(parts);
}

/** Two digits at least, so that 0.5 reads 0.50. */
function ratioWords(ratio: number): string {
  return ratio >= 10 || ratio < 1e-6 ? amount(ratio, 3) : localPrecision(ratio, ratio >= 1 ? 3 : 2);
}

function requireEnds(fit: RegressionLaw, from: CovariateValues, to: CovariateValues): void {
  requireKnown('relativeLife', fit, from);
  requireKnown('relativeLife', fit, to);
  for (const name of new Set([...Object.keys(from), ...Object.keys(to)])) {
    if (Object.hasOwn(from, name) && Object.hasOwn(to, name)) continue;
    throw new UsageError('relativeLife', 'a covariate must be given at both ends or at neither.', name);
  }
  for (const { factors, name } of fit.design.columns) {
    const given = factors.filter(({ term }) => Object.hasOwn(from, term));
    if (given.length > 0 && given.length < factors.length) {
      const missing = factors.find(({ term }) => !Object.hasOwn(from, term))?.term;
      throw new UsageError(
        'relativeLife',
        `the ratio depends on ${missing} by the column ${name}: give it at both ends.`,
      );
    }
  }
  for (const name of fit.design.shapeBy) {
    if (from[name] !== to[name]) {
      const rule = `the spread differs by ${name}, so the ratio depends on the quantile: compare two calls of predictLife.`;
      throw new UsageError('relativeLife', rule);
    }
  }
}

/** What is not given is the same at both ends: any value serves. */
function filled({ design }: RegressionLaw, values: CovariateValues): CovariateValues {
  const rest = design.terms
    .filter(({ name }) => !Object.hasOwn(values, name))
    .map((term) => [term.name, term.kind === 'levels' ? (term.levels[0] as string) : term.low]);
  return { ...Object.fromEntries(rest), ...values };
}
