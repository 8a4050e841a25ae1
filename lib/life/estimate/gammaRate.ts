/**
 * A constant failure rate with a gamma prior: what a few failures add to what was believed (Martz & Waller, Bayesian Reliability
 * Analysis, 1982, from memory; NIST/SEMATECH e-Handbook 8.3.1.5 and 8.4.6).
 */
import { UsageError } from '../../errors.js';
import { gammaP, gammaQuantile } from '../../numeric/special.js';

/** Belief about a failure rate: as if `shape` failures had been seen in `time`. Mean rate shape / time. */
export interface GammaRate {
  shape: number;
  /** In the unit of life. */
  time: number;
}

/** What a gamma belief about the rate says of the mean life, which is 1 / rate. */
export interface MeanLifeBelief {
  /** As likely below as above. */
  median: number;
  /** 1 / mean rate. */
  reciprocalMeanRate: number;
  low: number;
  high: number;
}

/**
 * The belief after `failures` in `totalTime`, summed over all lives.
 * @throws UsageError for a prior whose shape or time is not above 0, and counts or times below 0
 */
export function gammaRateAfter(prior: GammaRate, seen: { totalTime: number; failures: number }): GammaRate {
  requireBelief('gammaRateAfter', prior);
  requireNotBelow('gammaRateAfter', 'failures', seen.failures);
  requireNotBelow('gammaRateAfter', 'totalTime', seen.totalTime);
  return { shape: prior.shape + seen.failures, time: prior.time + seen.totalTime };
}

/**
 * Median and credible bounds of the mean life.
 * @param options.level share of certainty, 0.9 by default, two-sided unless `side` says otherwise
 * @throws UsageError for a belief whose shape or time is not above 0, and a level not between 0 and 1
 */
export function meanLifeBelief(
  belief: GammaRate,
  options: { level?: number; side?: 'both' | 'lower' | 'upper' } = {},
): MeanLifeBelief {
  requireBelief('meanLifeBelief', belief);
  const { level = 0.9, side = 'both' } = options;
  requireLevel('meanLifeBelief', level);
  const tail = side === 'both' ? (1 - level) / 2 : 1 - level;
  const life = (p: number): number => belief.time / gammaQuantile(p, belief.shape);
  return {
    median: life(0.5),
    reciprocalMeanRate: belief.time / belief.shape,
    low: side === 'upper' ? 0 : life(1 - tail),
    high: side === 'lower' ? Infinity : life(tail),
  };
}

/**
 * Chance, by the belief, that the mean life is above `life`.
 * @throws UsageError for a belief whose shape or time is not above 0, and a life not above 0
 */
export function chanceMeanLifeAbove(belief: GammaRate, life: number): number {
  requireBelief('chanceMeanLifeAbove', belief);
  if (!(life > 0)) throw new UsageError('chanceMeanLifeAbove', 'life must be above 0.', life);
  return gammaP(belief.shape, belief.time / life);
}

/**
 * How long to test so that, with `failures` in the test, the mean life is above the objective with chance `level`. 0 where the
 * prior says so already. In the unit of the prior's time.
 * @throws UsageError for a prior whose shape or time is not above 0, an objective not above 0, failures below 0, and a level
 * not between 0 and 1
 */
export function gammaTestLength(
  prior: GammaRate,
  test: { objective: number; failures: number; level: number },
): number {
  requireBelief('gammaTestLength', prior);
  const { objective, failures, level } = test;
  if (!(objective > 0 && objective < Infinity)) {
    throw new UsageError('gammaTestLength', 'the objective must be above 0 and finite.', objective);
  }
  requireNotBelow('gammaTestLength', 'failures', failures);
  requireLevel('gammaTestLength', level);
  return Math.max(0, objective * gammaQuantile(level, prior.shape + failures) - prior.time);
}

function requireBelief(where: string, { shape, time }: GammaRate): void {
  for (const [name, value] of [
    ['shape', shape],
    ['time', time],
  ] as const) {
    if (!(value > 0 && value < Infinity))
      throw new UsageError(where, `${name} must be above 0 and finite.`, value);
  }
}

function requireNotBelow(where: string, name: string, value: number): void {
  if (!(value >= 0 && value < Infinity)) {
    throw new UsageError(where, `${name} must be at or above 0 and finite.`, value);
  }
}

function requireLevel(where: string, level: number): void {
  if (!(level > 0 && level < 1)) throw new UsageError(where, 'level must be between 0 and 1.', level);
}
