/**
 * What a life distribution has to supply. The functions that readers call (survival, quantile ...) are derived from these
 * few rules in distribution/index.ts, all through the cumulative hazard, so that both tails keep their digits.
 */
import type { RandomStream } from '../../numeric/random.js';

export interface LifeLaw<Model> {
  /** Throws UsageError where a parameter is out of range. */
  check(model: Model): void;
  /** H(t) = -log survival; above 0 at age 0 only where a share fails at once. */
  cumulativeHazard(model: Model, t: number): number;
  /** Log of the failure rate at t. */
  logHazard(model: Model, t: number): number;
  /** The age at which the cumulative hazard reaches a value: the inverse of H. */
  ageAtHazard(model: Model, hazard: number): number;
  /** Integral of survival from 0 to t (t may be Infinity): mean life as far as t. */
  meanUpTo(model: Model, t: number): number;
  /** Mean of what is left of a life that has reached t. */
  remaining(model: Model, t: number): number;
  /** Variance of life; Infinity where there is none. */
  variance(model: Model): number;
  /** One life at random. */
  draw(model: Model, random: RandomStream): number;
}
