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

/** Survival exp(-(t / scale)^shape); with `fault`, times [1 - share Fe(t)] (METHODS 3.1, Chan & Meeker 1999). */
export interface WeibullModel {
  kind: 'weibull';
  shape: number;
  scale: number;
  fault?: FittingFault;
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

export type LifeModel = WeibullModel | ExponentialModel | LognormalModel | LogLogisticModel;
export type LifeKind = LifeModel['kind'];
