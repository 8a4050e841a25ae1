/** Options and results of a regression of log age. */
import type { Warning } from '../../../findings.js';
import type { FittedKind } from '../../model.js';

/** Laws in which covariates move the logarithm of life and leave its spread. */
export type RegressionKind = Extract<FittedKind, 'weibull' | 'exponential' | 'lognormal' | 'loglogistic'>;

import type { LifeSample } from '../../sampleTypes.js';

/** One value a row: numbers, or the names of levels. */
export type Covariate = ArrayLike<number> | readonly string[];
export type Covariates = Readonly<Record<string, Covariate>>;

/** Covariates of one life, by name: a number or a level. */
export type CovariateValues = Readonly<Record<string, number | string>>;

/**
 * What a number is turned into before it is multiplied by its coefficient.
 *
 *     'log', 'power'       its natural logarithm: life goes with the covariate to the power of the coefficient
 *     'arrhenius'          1 / (R T) of a temperature in degrees C: the coefficient is the activation energy in kJ/mol
 *     { arrhenius: 'eV' }  the same with Boltzmann's constant: the coefficient is in electron volts
 */
export type CovariateTransform = 'log' | 'power' | 'arrhenius' | { arrhenius: 'kJ/mol' | 'eV' };

export interface RegressionOptions {
  /** Law of life at given covariates: weibull (log age has smallest value errors), exponential, lognormal or loglogistic. */
  kind: RegressionKind;
  /** Pairs of covariates whose effects depend on each other; the column is the product, named 'a:b' or 'a=level:b'. */
  interactions?: readonly (readonly [string, string])[];
  transforms?: Readonly<Record<string, CovariateTransform>>;
  /** Level that the others of a covariate are compared with; the first in sorted order by default. */
  reference?: Readonly<Record<string, string>>;
  /** Covariates of text whose every level (or combination of levels) has a spread of its own; one spread by default. */
  shapeBy?: readonly string[];
  /**
   * 'plain': inverse of the observed information. 'robust': sandwich with scores summed by position (Lin & Wei 1989). By default
   * robust where a position has two lives or more (METHODS 1.7).
   */
  covariance?: 'plain' | 'robust';
  /** Failures asked for per coefficient besides intercept and spread; 5 by default, 0 to ask for none. */
  failuresPerCoefficient?: number;
}

export interface NumberTerm {
  kind: 'number';
  name: string;
  transform: CovariateTransform | null;
  /** Smallest and largest value seen, before the transform. */
  low: number;
  high: number;
}

export interface LevelTerm {
  kind: 'levels';
  name: string;
  /** The first is the reference. */
  levels: string[];
}

export type Term = NumberTerm | LevelTerm;

/** A column of the regression is the product of its factors: a (transformed) number, or 1 at a level and 0 elsewhere. */
export interface DesignColumn {
  name: string;
  factors: readonly { term: string; level: string | null }[];
}

/** How covariates become columns: plain data, so that a fit can predict. */
export interface Design {
  terms: Term[];
  columns: DesignColumn[];
  shapeBy: string[];
  /** Names of the groups with a spread of their own; one empty name where the spread is common. */
  shapeGroups: string[];
}

/** What a fit says of lives at given covariates. */
export interface RegressionLaw {
  kind: RegressionKind;
  /**
   * log age is intercept + sum of coefficient times column + sigma times an error. By name, in this order: intercept, each
   * covariate as given ('name', or 'name=level' for each level but the reference), interactions, logSigma ('logSigma:name=level'
   * with `shapeBy`). Sigma is 1 / shape of a Weibull or log-logistic law. An exponential fit has no logSigma.
   */
  coefficients: Record<string, number>;
  /** Square roots of the diagonal of `covariance`, by the same names. */
  standardErrors: Record<string, number>;
  /** Covariance of the coefficients in their order, row by row in one list. */
  covariance: number[];
  /** Whether `covariance` is the sandwich by position. */
  robust: boolean;
  /** Inverse of the observed information, whatever `covariance` is. */
  plainCovariance: number[];
  logLikelihood: number;
  /** 2 (coefficients) - 2 log-likelihood. */
  aic: number;
  /** Failures and lives, counts included. */
  failures: number;
  lives: number;
  converged: boolean;
  iterations: number;
  /** Why the search stopped. */
  reason: string;
  warnings: Warning[];
  design: Design;
}

export interface RegressionFit extends RegressionLaw {
  /** Sample and covariates as given. */
  sample: LifeSample;
  covariates: Covariates;
}
