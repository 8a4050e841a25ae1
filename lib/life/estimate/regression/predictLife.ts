/** The life model at given covariates, with bounds of its quantiles and of survival. */
import { UsageError } from '../../../errors.js';
import type { Warning } from '../../../findings.js';
import { at, columnOf } from '../../../numeric/columns.js';
import { amount } from '../../../numeric/words.js';
import { lawOf, survival } from '../../distribution/functions.js';
import { zOf } from '../../empirical/kaplanMeier.js';
import type { FittedModel } from '../../model.js';
import { shapeIndex } from './design.js';
import { asColumns, coefficientValues, columnsAt, linearVariance, requireKnown } from './oneRow.js';
import { standardLaw } from './standardLaw.js';
import type { CovariateValues, RegressionKind, RegressionLaw } from './types.js';

export interface PredictOptions {
  /** Chances of failure whose ages are wanted, each between 0 and 1. */
  quantiles?: ArrayLike<number>;
  /** Ages whose survival is wanted, above 0. */
  ages?: ArrayLike<number>;
  /** 0.9 by default, two-sided. */
  level?: number;
}

export interface PredictedLife {
  model: FittedModel;
  /** Columns: the age by which a share p has failed. */
  quantiles: { p: Float64Array; age: Float64Array; low: Float64Array; high: Float64Array };
  /** Columns: the share that gets older than each age. */
  survival: { age: Float64Array; survival: Float64Array; low: Float64Array; high: Float64Array };
  level: number;
  warnings: Warning[];
}

/**
 * Life at covariates of which every one is given. Bounds by the normal approximation under the fit's covariance: of the log age for
 * a quantile, and of z = (log age - location) / sigma for survival, where both are closest to normal (Meeker & Escobar 1998,
 * sections 8.4.3 and 17.5, from memory).
 * @throws UsageError for a covariate that is missing or unknown, a quantile not between 0 and 1, an age not above 0
 */
export function predictLife(
  fit: RegressionLaw,
  covariates: CovariateValues,
  options: PredictOptions = {},
): PredictedLife {
  const { level = 0.9, quantiles = [], ages = [] } = options;
  const z = zOf('predictLife', level);
  requireAll(fit, covariates);
  const line = lineAt(fit, covariates);
  const model = modelAt(fit.kind, line.location, line.sigma);
  return {
    model,
    quantiles: quantilesOf(fit, line, quantiles, z),
    survival: survivalOf(fit, line, model, ages, z),
    level,
    warnings: outside(fit, covariates),
  };
}

interface Line {
  location: number;
  sigma: number;
  /** Place of the spread among the coefficients; -1 where sigma is fixed at 1. */
  place: number;
  /** Slopes of the location by the coefficients. */
  direction: number[];
}

function lineAt(fit: RegressionLaw, covariates: CovariateValues): Line {
  const values = coefficientValues(fit);
  const columns = columnsAt(fit, covariates);
  const direction = values.map((_, j) => (j === 0 ? 1 : (columns[j - 1] ?? 0)));
  const place =
    fit.kind === 'exponential'
      ? -1
      : columns.length + 1 + at(shapeIndex(fit.design, asColumns(covariates), 1), 0);
  const location = direction.reduce((total, x, j) => total + (x === 0 ? 0 : x * at(values, j)), 0);
  return { location, sigma: place < 0 ? 1 : Math.exp(at(values, place)), place, direction };
}

function modelAt(kind: RegressionKind, location: number, sigma: number): FittedModel {
  if (kind === 'lognormal') return { kind, mu: location, sigma };
  const scale = Math.exp(location);
  if (!(scale > 0 && scale < Infinity)) {
    const rule =
      'the life at these covariates is beyond what numbers can hold: they are far outside the data.';
    throw new UsageError('predictLife', rule, `log scale ${location}`);
  }
  return kind === 'exponential' ? { kind, scale } : { kind, shape: 1 / sigma, scale };
}

/** log age of the quantile is location + sigma w, so its slope by log sigma is sigma w. */
function quantilesOf(
  fit: RegressionLaw,
  line: Line,
  chances: ArrayLike<number>,
  z: number,
): PredictedLife['quantiles'] {
  const p = Float64Array.from(chances);
  const unit = modelAt(fit.kind, 0, line.sigma);
  const distance = columnOf(p, (chance) => {
    if (!(chance > 0 && chance < 1)) {
      throw new UsageError('predictLife', 'quantiles must be between 0 and 1.', chance);
    }
    return Math.log(lawOf(unit).ageAtHazard(unit, -Math.log1p(-chance)));
  });
  const limit = (sign: number): Float64Array =>
    columnOf(distance, (apart) => {
      const width = z * Math.sqrt(linearVariance(fit, moved(line, apart)));
      return Math.exp(line.location + apart + sign * width);
    });
  return { p, age: limit(0), low: limit(-1), high: limit(1) };
}

/** z = (log age - location) / sigma has the slopes -direction / sigma, and -z by log sigma. */
function survivalOf(
  fit: RegressionLaw,
  line: Line,
  model: FittedModel,
  ages: ArrayLike<number>,
  z: number,
): PredictedLife['survival'] {
  const age = Float64Array.from(ages);
  const law = standardLaw(fit.kind);
  const limits = (sign: number): Float64Array =>
    columnOf(age, (t) => {
      if (!(t > 0 && t < Infinity))
        throw new UsageError('predictLife', 'ages must be above 0 and finite.', t);
      const distance = Math.log(t) - line.location;
      const width = z * Math.sqrt(linearVariance(fit, moved(line, distance)));
      return Math.exp(law.logSurvival((distance + sign * width) / line.sigma));
    });
  const [low, high] = [limits(1), limits(-1)];
  return { age, survival: columnOf(age, (t) => survival(model, t)), low, high };
}

/** Slopes of location + sigma w at a fixed w = distance / sigma. */
function moved({ direction, place }: Line, distance: number): number[] {
  return direction.map((x, j) => (j === place ? distance : x));
}

function requireAll(fit: RegressionLaw, covariates: CovariateValues): void {
  requireKnown('predictLife', fit, covariates);
  for (const { name } of fit.design.terms) {
    if (!Object.hasOwn(covariates, name))
      throw new UsageError('predictLife', 'every covariate must be given.', name);
  }
}

function outside({ design }: RegressionLaw, covariates: CovariateValues): Warning[] {
  return design.terms.flatMap((term) => {
    const value = covariates[term.name] as number;
    if (term.kind !== 'number' || (value >= term.low && value <= term.high)) return [];
    return [
      {
        code: 'outside-data',
        text: `${term.name} ${amount(value, 4)} lies outside the data (${amount(term.low, 4)} to ${amount(term.high, 4)}): this is an extrapolation.`,
        todo: 'Plan on it only where something besides these data says that the line goes on.',
      },
    ];
  });
}
