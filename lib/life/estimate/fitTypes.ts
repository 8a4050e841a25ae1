/** Types of a fit and of what may be asked of it. */
import type { Warning } from '../../findings.js';
import type { FittedKind, FittedModel, FittingFault } from '../model.js';
import type { LifeSample } from '../sampleTypes.js';

/** Prior of log shape, normal. The default is printed with every result that used it. */
export interface ShapePrior {
  /** Median of the shape. */
  median: number;
  /** Standard deviation of log shape. */
  sdLog: number;
}

/** METHODS 2.3: log shape ~ N(log 2, 0.5²), so that 95 % of shapes lie between 0.75 and 5.3. */
export const DEFAULT_SHAPE_PRIOR: ShapePrior = { median: 2, sdLog: 0.5 };

/**
 * Prior of log share of faulty fittings, normal: median 0.01 and 95 % between 0.001 and 0.05 (METHODS 3.1). The limits are
 * not symmetric on the log axis; 0.9375 is the standard deviation that puts 95 % between them.
 */
export const FAULT_SHARE_PRIOR = { median: 0.01, sdLog: 0.9375 } as const;

/** Early-leak law of a faulty fitting unless another is given: half leak within 6.3 days, 99 % within 67. */
export const DEFAULT_FAULT_LAW = { shape: 0.8, scale: 10 } as const;

/** Leaks younger than this many days count as early (METHODS 3.1). */
export const EARLY_DAYS = 60;

/** So many early leaks let the data speak for the share of faulty fittings (METHODS 3.1). */
export const EARLY_LEAKS_NEEDED = 5;

export interface FitOptions {
  kind: FittedKind;
  /** Fixes the shape of a Weibull: from theory or from other plants. */
  shape?: number;
  /**
   * Fitting faults of a Weibull, ages in days: a known part; a law whose share is to be estimated; or 'estimate', which
   * takes DEFAULT_FAULT_LAW.
   */
  fault?: FittingFault | { shape: number; scale: number } | 'estimate';
  /**
   * A Weibull's age before which none fails: known as a number, or to be estimated. Ages in the unit of the sample.
   */
  failureFree?: number | 'estimate';
  /** Prior of the shape (Weibull, log-logistic, and of 1 / sigma of a lognormal): the fit is then the posterior mode, and few failures are enough. */
  prior?: ShapePrior;
  /** 'likelihood' (default), or 'posterior' for the mode under `prior` or DEFAULT_SHAPE_PRIOR. */
  method?: 'likelihood' | 'posterior';
}

export interface Parameter {
  /** logShape, logScale, mu, logSigma or logShare; q, location and failureFree as they are. */
  name: string;
  estimate: number;
  standardError: number;
}

export interface LifeFit {
  kind: FittedKind;
  model: FittedModel;
  /** At the model, without any prior. */
  logLikelihood: number;
  /** The estimated parameters on the scale of the covariance, in its order; fixed ones are left out. */
  parameters: Parameter[];
  /**
   * Covariance of `parameters`, row by row in one list: for a Weibull [var(log shape), cov, cov, var(log scale)]. From the
   * observed information; empty where there is none (no failures).
   */
  covariance: number[];
  /** Failures, weights included. */
  failures: number;
  /** Lives, weights included. */
  lives: number;
  converged: boolean;
  iterations: number;
  /** Why the search stopped. */
  reason: string;
  warnings: Warning[];
  method: 'likelihood' | 'posterior';
  /** The prior of the shape that was used, or null. */
  prior: ShapePrior | null;
  /** True where `shape` was given. */
  shapeFixed: boolean;
  /** Whether a failure-free time was given or estimated (it has no standard error, and no place in `parameters`, at 0). */
  failureFree?: 'given' | 'estimate';
  /** The sample as given, positions kept. */
  sample: LifeSample;
}
