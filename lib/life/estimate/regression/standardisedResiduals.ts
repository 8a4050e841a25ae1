/** Residuals of a regression on the scale of its error. */
import { at, columnOf, floatAt, itemAt, wholeAt } from '../../../numeric/columns.js';
import { designMatrix, isLevelTerm, shapeIndex } from './design.js';
import { coefficientValues } from './oneRow.js';
import type { DesignColumn, RegressionFit } from './types.js';

/** Columns as long as the sample: -Infinity for an age of 0, Infinity in `upper` for a life still sound. */
export interface StandardisedResiduals {
  lower: Float64Array;
  upper: Float64Array;
  entry: Float64Array;
}

/**
 * (log age - location) / sigma of each age of a life, censoring and entry kept (Lawless 2003 ch. 6, from memory). If the fit is true
 * they are errors of its law: smallest value (weibull, exponential), normal (lognormal) or logistic (loglogistic), whatever the
 * covariates; draw them against each covariate to see where the line bends or the spread changes.
 */
export function standardisedResiduals(fit: RegressionFit): StandardisedResiduals {
  const { sample, design, covariates } = fit;
  const rows = sample.lower.length;
  const location = locations(fit, rows);
  const group = shapeIndex(design, covariates, rows);
  const spreads = coefficientValues(fit).slice(design.columns.length + 1);
  const sigmas = fit.kind === 'exponential' ? [1] : spreads.map(Math.exp);
  const residual = (age: number, i: number): number =>
    (Math.log(age) - floatAt(location, i)) / at(sigmas, wholeAt(group, i));
  return {
    lower: columnOf(sample.lower, residual),
    upper: columnOf(sample.upper, residual),
    entry: columnOf(sample.entry, residual),
  };
}

/** Intercept plus coefficient times column, of each row: a factor adds that of the row's level, with no column for each level. */
function locations({ design, covariates, coefficients }: RegressionFit, rows: number): Float64Array {
  const out = new Float64Array(rows).fill(coefficients.intercept as number);
  for (const term of design.terms.filter(isLevelTerm)) {
    const values = covariates[term.name] as readonly string[];
    // The reference has none.
    const parts = new Map(term.levels.map((level) => [level, coefficients[`${term.name}=${level}`] ?? 0]));
    for (let i = 0; i < rows; i++) out[i] = floatAt(out, i) + (parts.get(itemAt(values, i)) ?? 0);
  }
  const columns = design.columns.filter((column) => !isLevel(column));
  designMatrix({ ...design, columns }, covariates, rows).forEach((column, j) => {
    const slope = coefficients[itemAt(columns, j).name] as number;
    for (let i = 0; i < rows; i++) out[i] = floatAt(out, i) + slope * floatAt(column, i);
  });
  return out;
}

/** Whether a column is 1 at one level of a factor and 0 elsewhere. */
function isLevel({ factors }: DesignColumn): boolean {
  return factors.length === 1 && itemAt(factors, 0).level !== null;
}
