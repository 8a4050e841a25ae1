/** Moments that any law has by quadrature: over the cumulative hazard, in which every life is exponential with mean 1. */
import { UsageError } from '../../errors.js';
import { integrate } from '../../numeric/quadrature.js';
import type { LifeLaw } from './law.js';

/** Beyond this cumulative hazard nothing is left that a number could show. */
const LAST_HAZARD = 745;

/**
 * Mean of what is left of a life that has reached t: the integral of survival beyond t over survival at t.
 * @throws UsageError where no life reaches t
 */
export function remainingByHazard<Model>(law: LifeLaw<Model>, model: Model, t: number): number {
  const reached = law.cumulativeHazard(model, t);
  if (reached === Infinity) throw new UsageError('remainingLife', 'no life reaches that age.', t);
  const ageAt = (more: number): number => law.ageAtHazard(model, reached + more) - t;
  const points = [1e-6, 1e-3, 0.03, 0.3, 1, 3, 8, 20, 45, 120].map(ageAt);
  const left = (u: number): number => Math.exp(reached - law.cumulativeHazard(model, t + u));
  return integrate(left, 0, ageAt(LAST_HAZARD), { points, relative: 1e-12 }).value;
}

/**
 * Mean squared distance from the mean, without the difference of two large numbers. For laws whose tail falls at least as
 * fast as some power of exp(-t); a share that has failed at age 0 counts with age 0.
 */
export function varianceByHazard<Model>(law: LifeLaw<Model>, model: Model): number {
  const mean = law.meanUpTo(model, Infinity);
  const atOnce = law.cumulativeHazard(model, 0);
  const inLog = (x: number): number => {
    const more = Math.exp(x);
    return (law.ageAtHazard(model, atOnce + more) - mean) ** 2 * Math.exp(x - atOnce - more);
  };
  const points = [1e-9, 1e-4, 0.01, 0.1, 0.5, 1, 2, 5, 15, 40, 150].map(Math.log);
  const spread = integrate(inLog, -45, Math.log(LAST_HAZARD), { points, relative: 1e-12 }).value;
  return spread - Math.expm1(-atOnce) * mean * mean;
}
