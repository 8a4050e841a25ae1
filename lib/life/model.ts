/**
 * A life model is plain data: a kind and its parameters. Functions take the model first.
 * Shape and scale of the Weibull are beta and eta in IEC 61649.
 */

/** Fitting faults: each fitting is faulty with chance `share`; a faulty one leaks early by Weibull(shape, scale). */
export interface FittingFault {
  share: number;
  shape: number;
  scale: number;
}

/**
 * Survival exp(-(t / scale)^shape); with `fault`, times [1 - share Fe(t)] (METHODS 3.1, Chan & Meeker 1999). With
 * `failureFree` (gamma or t0 in IEC 61649) none fails before that age, and t counts from it; not together with `fault`.
 */
export interface WeibullModel {
  kind: 'weibull';
  shape: number;
  scale: number;
  fault?: FittingFault;
  /** In the unit of the scale, at or above 0. */
  failureFree?: number;
}

/** Survival exp(-t / scale): `scale` is the mean. */
export interface ExponentialModel {
  kind: 'exponential';
  scale: number;
}

/** log life is normal with mean `mu` and standard deviation `sigma`. */
export interface LognormalModel {
  kind: 'lognormal';
  mu: number;
  sigma: number;
}

/** Survival 1 / (1 + (t / scale)^shape): `scale` is the median. */
export interface LogLogisticModel {
  kind: 'loglogistic';
  shape: number;
  scale: number;
}

/** Survival Q(shape, t / scale), the upper incomplete gamma function: the mean is shape times scale. */
export interface GammaModel {
  kind: 'gamma';
  shape: number;
  scale: number;
}

/**
 * log life is mu + sigma w, where exp(q w) / q² is a gamma variable of shape 1 / q² (Prentice 1974, from memory; R's flexsurv
 * documents the same). q = 1 is the Weibull, q = 0 the lognormal, q = sigma the gamma.
 */
export interface GeneralisedGammaModel {
  kind: 'generalisedGamma';
  mu: number;
  sigma: number;
  q: number;
}

/**
 * Survival exp(-exp((t - location) / scale)) from age 0 on: at `location` 63.2 % have failed. The share that the law has below
 * age 0 counts as failed at age 0; it is next to nothing where location is 20 scales or more.
 */
export interface SmallestValueModel {
  kind: 'smallestValue';
  location: number;
  scale: number;
}

/**
 * Two kinds of lives or more in one lot: a life is of part k with chance `share`. Survival is the sum of shares times the
 * survivals of the parts; shares add up to 1.
 */
export interface MixtureModel {
  kind: 'mixture';
  parts: { share: number; model: LifeModel }[];
}

/** A life ends by whichever of several independent modes comes first: survival is the product of theirs. */
export interface CompetingModel {
  kind: 'competing';
  modes: LifeModel[];
}

/** Models that can be fitted to lives by `fitLife`. */
export type FittedModel =
  | WeibullModel
  | ExponentialModel
  | LognormalModel
  | LogLogisticModel
  | GammaModel
  | GeneralisedGammaModel
  | SmallestValueModel;
export type FittedKind = FittedModel['kind'];

export type LifeModel = FittedModel | MixtureModel | CompetingModel;
export type LifeKind = LifeModel['kind'];
