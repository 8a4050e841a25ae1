/** Residuals of a regression: lives on the scale of their own cumulative hazard. */
import { at, columnOf, floatAt } from '../../../numeric/columns.js';
import type { LifeSample } from '../../sampleTypes.js';
import { designMatrix, shapeIndex } from './design.js';
import { coefficientValues } from './oneRow.js';
import { standardLaw } from './standardLaw.js';
import type { RegressionFit } from './types.js';

/**
 * Each age of a life turned into its cumulative hazard under the fit, censoring and entry kept (Cox & Snell 1968). If the fit is
 * true these are lives from the exponential law of mean 1: draw their cumulative hazard against a line of slope 1, or fit them.
 */
export function coxSnell(fit: RegressionFit): LifeSample {
  const { sample, design, covariates } = fit;
  const rows = sample.lower.length;
  const matrix = designMatrix(design, covariates, rows);
  const group = shapeIndex(design, covariates, rows);
  const values = coefficientValues(fit);
  const law = standardLaw(fit.kind);
  const hazard = (age: number, i: number): number => {
    if (age === 0 || age === Infinity) return age;
    let location = at(values, 0);
    matrix.forEach((column, j) => {
      location += at(values, j + 1) * floatAt(column, i);
    });
    const sigma = fit.kind === 'exponential' ? 1 : Math.exp(at(values, matrix.length + 1 + at(group, i)));
    // Above 0, since an exact age of 0 has no density.
    return Math.max(-law.logSurvival((Math.log(age) - location) / sigma), Number.MIN_VALUE);
  };
  return {
    lower: columnOf(sample.lower, hazard),
    upper: columnOf(sample.upper, hazard),
    entry: columnOf(sample.entry, hazard),
    count: sample.count.slice(),
    cluster: sample.cluster.slice(),
  };
}
