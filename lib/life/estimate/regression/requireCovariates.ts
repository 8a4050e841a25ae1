/** The door of a regression: what of covariates and options makes no sense, said with row and column. */
import { UsageError } from '../../../errors.js';
import { ownOf } from './ownOf.js';
import { type ReadColumn, readColumn } from './readColumns.js';
import type { Covariate, Covariates, CovariateTransform, RegressionOptions } from './types.js';

const WHERE = 'fitRegression';
const KINDS = ['weibull', 'exponential', 'lognormal', 'loglogistic'];
const ABSOLUTE_ZERO = -273.15;

/**
 * @throws UsageError for an unknown kind or option, a column of another length than the sample, a missing or wrong value (with
 * row and column), a column that is the same in every row, a name that a coefficient has already, and a value that its
 * transform cannot take
 */
export function requireCovariates(
  covariates: Covariates,
  rows: number,
  options: RegressionOptions,
): Map<string, ReadColumn> {
  requireOptions(covariates, options);
  const out = new Map<string, ReadColumn>();
  for (const [name, column] of Object.entries(covariates)) {
    requireName(name);
    if (column.length !== rows) {
      throw new UsageError(
        WHERE,
        `covariate ${name} must be as long as the sample (${rows}).`,
        column.length,
      );
    }
    const read = readColumn(column) ?? refuseColumn(name, column);
    requireTransform(name, column, ownOf(options.transforms, name));
    requireVaried(name, column, read);
    out.set(name, read);
  }
  return out;
}

function requireOptions(covariates: Covariates, options: RegressionOptions): void {
  const { kind, covariance, failuresPerCoefficient: share, shapeBy = [], interactions = [] } = options;
  if (!KINDS.includes(kind)) throw new UsageError(WHERE, `kind must be one of ${KINDS.join(', ')}.`, kind);
  if (covariance !== undefined && covariance !== 'plain' && covariance !== 'robust') {
    throw new UsageError(WHERE, "covariance must be 'plain' or 'robust'.", covariance);
  }
  if (share !== undefined && !(share >= 0 && share < Infinity)) {
    throw new UsageError(WHERE, 'failuresPerCoefficient must be a number at or above 0.', share);
  }
  for (const [a, b] of interactions) {
    if (a === b)
      throw new UsageError(WHERE, 'an interaction needs two different covariates.', `${a} and ${b}`);
  }
  const named = { ...options.transforms, ...options.reference };
  for (const name of [...Object.keys(named), ...shapeBy]) {
    if (!Object.hasOwn(covariates, name))
      throw new UsageError(WHERE, 'an option names an unknown covariate.', name);
  }
  for (const name of [...shapeBy, ...Object.keys(options.reference ?? {})]) {
    if (typeof covariates[name]?.[0] !== 'string') {
      throw new UsageError(WHERE, 'shapeBy and reference take covariates of text.', name);
    }
  }
  if (shapeBy.length > 0 && kind === 'exponential') {
    throw new UsageError(WHERE, 'an exponential law has no spread, so shapeBy makes no sense.', kind);
  }
}

/** Coefficients are found by name, and an object puts names of digits before all others. */
function requireName(name: string): void {
  const taken = name === 'intercept' || name.startsWith('logSigma');
  if (name === '' || taken || /^\d+$/.test(name)) {
    const rule = 'a covariate needs a name that is not intercept or logSigma and not made of digits only.';
    throw new UsageError(WHERE, rule, name);
  }
}

/** Says what is wrong with a column that cannot be read. */
function refuseColumn(name: string, column: Covariate): never {
  for (let i = 0; i < column.length; i++) requireValue(name, column, i);
  throw new UsageError(WHERE, `covariate ${name} cannot be read.`);
}

function requireValue(name: string, column: Covariate, i: number): void {
  const value: unknown = column[i];
  if (typeof value === typeof column[0]) {
    if (typeof value === 'number' ? Number.isFinite(value) : typeof value === 'string' && value !== '')
      return;
  }
  const place = `row ${i + 1}, covariate ${name}:`;
  if (value === undefined || value === null || value === '' || Number.isNaN(value)) {
    const todo = 'Leave lives without it out of sample and covariates, or fill it in.';
    throw new UsageError(WHERE, `${place} the value is missing. ${todo}`, value);
  }
  if (typeof value !== typeof column[0] || (typeof value !== 'number' && typeof value !== 'string')) {
    throw new UsageError(WHERE, `${place} values must be all numbers or all text.`, value);
  }
  if (typeof value === 'number' && !Number.isFinite(value)) {
    throw new UsageError(WHERE, `${place} the value must be finite.`, value);
  }
}

function requireTransform(name: string, column: Covariate, transform: CovariateTransform | undefined): void {
  if (transform === undefined) return;
  const logs = transform === 'log' || transform === 'power';
  const unit = typeof transform === 'object' ? transform?.arrhenius : undefined;
  if (!logs && transform !== 'arrhenius' && unit !== 'kJ/mol' && unit !== 'eV') {
    const rule = `the transform of ${name} must be log, power, arrhenius or { arrhenius: 'kJ/mol' or 'eV' }.`;
    throw new UsageError(WHERE, rule, JSON.stringify(transform));
  }
  requireAbove(name, column, logs ? 0 : ABSOLUTE_ZERO, logs ? '0' : 'absolute zero, in degrees C');
}

function requireAbove(name: string, column: Covariate, limit: number, words: string): void {
  for (let i = 0; i < column.length; i++) {
    const value: unknown = column[i];
    if (typeof value !== 'number') throw new UsageError(WHERE, `${name} is text: it has no transform.`, name);
    if (!(value > limit)) {
      throw new UsageError(
        WHERE,
        `row ${i + 1}, covariate ${name}: the transform takes numbers above ${words}.`,
        value,
      );
    }
  }
}

function requireVaried(name: string, column: Covariate, read: ReadColumn): void {
  const varied = read.kind === 'levels' ? read.names.length > 1 : read.high > read.low;
  if (varied) return;
  throw new UsageError(WHERE, `covariate ${name} is the same in every row: leave it out.`, column[0]);
}
