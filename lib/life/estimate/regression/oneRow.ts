/** One set of covariates under a fit: its columns, and variances of sums of coefficients. */
import { UsageError } from '../../../errors.js';
import { at, floatAt } from '../../../numeric/columns.js';
import { designMatrix } from './design.js';
import { transformed } from './transformed.js';
import type { Covariates, CovariateValues, RegressionLaw } from './types.js';

/** Coefficients in their order. */
export function coefficientValues({ coefficients }: RegressionLaw): number[] {
  return Object.values(coefficients);
}

/** Values of the design's columns. Precondition: every covariate is given and known. */
export function columnsAt({ design }: RegressionLaw, values: CovariateValues): number[] {
  return designMatrix(design, asColumns(values), 1).map((column) => floatAt(column, 0));
}

/** One value each, as columns of one row. */
export function asColumns(values: CovariateValues): Covariates {
  return Object.fromEntries(Object.entries(values).map(([name, value]) => [name, [value]])) as Covariates;
}

/** Variance of the sum of direction[j] times coefficient j. */
export function linearVariance({ covariance }: RegressionLaw, direction: readonly number[]): number {
  const size = direction.length;
  let total = 0;
  for (let i = 0; i < size; i++) {
    if (at(direction, i) === 0) continue;
    for (let j = 0; j < size; j++) {
      if (at(direction, j) !== 0) total += at(direction, i) * at(covariance, i * size + j) * at(direction, j);
    }
  }
  return Math.max(total, 0);
}

/** @throws UsageError for a covariate, level or number that the fit cannot take */
export function requireKnown(where: string, { design }: RegressionLaw, values: CovariateValues): void {
  for (const [name, value] of Object.entries(values)) {
    const term = design.terms.find((known) => known.name === name);
    if (term === undefined) {
      const rule = `the fit has no covariate of that name; it has ${design.terms.map((t) => t.name).join(', ')}.`;
      throw new UsageError(where, rule, name);
    }
    if (term.kind === 'levels') {
      if (typeof value === 'string' && term.levels.includes(value)) continue;
      throw new UsageError(where, `${name} must be one of ${term.levels.join(', ')}.`, value);
    }
    if (typeof value !== 'number' || !Number.isFinite(transformed(term.transform, value))) {
      throw new UsageError(where, `${name} must be a finite number that its transform takes.`, value);
    }
    if (!Number.isFinite(value)) throw new UsageError(where, `${name} must be finite.`, value);
  }
}
