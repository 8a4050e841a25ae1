/**
 * A life sample: columns of equal length that cover every kind of censoring.
 *
 *     lower[i] = upper[i]     failed exactly there
 *     upper[i] = Infinity     still sound at lower[i]           (right-censored)
 *     lower[i] = 0            failed before upper[i]            (left-censored)
 *     otherwise               failed in (lower[i], upper[i]]    (interval-censored)
 *     entry[i]                age at which records begin, 0 if watched from new (delayed entry)
 *     count[i]                how many identical lives (a weight: fractional inside the library, whole at its door)
 *     cluster[i]              which position it belongs to
 *     otherHazard[i]          above 0: why the life ended is not known. It failed as the row says, or something else ended it,
 *                             whose hazard over the time in question adds up to this (exact age: hazard per unit of age)
 */
export interface LifeSample {
  readonly lower: Float64Array;
  readonly upper: Float64Array;
  readonly entry: Float64Array;
  readonly count: Float64Array;
  readonly cluster: Int32Array;
  /** Left out where every life that ended is known to have failed. The Weibull likelihood alone takes it. */
  readonly otherHazard?: Float64Array | undefined;
}

/** Two-sided bounds round an estimate, all in the unit of the estimate. */
export interface Bounds {
  estimate: number;
  low: number;
  high: number;
}

/** Draws from a posterior of Weibull wear-out with fitting faults: draw d is (shape[d], scale[d], share[d]). */
export interface LifeDraws {
  shape: Float64Array;
  scale: Float64Array;
  /** Chance that a fitting is faulty. */
  share: Float64Array;
  /** The early-leak law of a faulty fitting, the same in every draw; scale in days. */
  faultShape: number;
  faultScale: number;
}
