/** Residuals of a regression on the scale of its error. */
import { at, columnOf, floatAt } from '../../../numeric/columns.js';
import { designMatrix, shapeIndex } from './design.js';
import { coefficientValues } from './oneRow.js';
import type { RegressionFit } from './types.js';

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
  const matrix = designMatrix(design, covariates, rows);
  const group = shapeIndex(design, covariates, rows);
  const values = coefficientValues(fit);
  const residual = (age: number, i: number): number => {
    let location = at(values, 0);
    matrix.forEach((column, j) => {
      location += at(values, j + 1) * floatAt(column, i);
    });
    const sigma = fit.kind === 'exponential' ? 1 : Math.exp(at(values, matrix.length + 1 + at(group, i)));
    return (Math.log(age) - location) / sigma;
  };
  return {
    lower: columnOf(sample.lower, residual),
    upper: columnOf(sample.upper, residual),
    entry: columnOf(sample.entry, residual),
  };
}
