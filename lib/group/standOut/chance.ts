/** Chance of so many leaks or more, and how small an effect it can find. */
import { floatAt } from '../../numeric/columns.js';
import { poissonCdf } from '../../numeric/counts.js';
import { gammaP, gammaQuantile, logGamma } from '../../numeric/special.js';
import type { SmallestEffect } from './types.js';

/** Fewer leaks are never acted on (METHODS 3.5). */
export const FEWEST_LEAKS = 3;
/** Share of effects that are to be found where the smallest one is named. */
const POWER = 0.8;

/**
 * P(X >= leaks) for a Poisson count with the mean expected. Where more leaked than expected: the chance of exactly so many, times
 * 1 + m / (x + 1) + m² / ((x + 1)(x + 2)) + ..., whose terms shrink from the first on.
 */
export function poissonTail(leaks: number, expected: number): number {
  if (leaks <= 0) return 1;
  if (!(expected > 0)) return 0;
  if (expected >= leaks) return gammaP(leaks, expected);
  let [term, total] = [1, 1];
  for (let x = leaks + 1; term > 1e-17 * total; x++) {
    term *= expected / x;
    total += term;
  }
  return total * Math.exp(leaks * Math.log(expected) - expected - logFactorial(leaks));
}

/** log 0!, log 1!, ... as far as they were asked for. */
const LOG_FACTORIALS = [0];

function logFactorial(n: number): number {
  for (let k = LOG_FACTORIALS.length; k <= n && k < 1000; k++) {
    LOG_FACTORIALS.push((LOG_FACTORIALS[k - 1] as number) + Math.log(k));
  }
  return LOG_FACTORIALS[n] ?? logGamma(n + 1);
}

/** The same averaged over draws of what is expected; 1 for fewer leaks than are acted on. */
export function averagedTail(leaks: number, expected: Float64Array): number {
  if (leaks < FEWEST_LEAKS) return 1;
  let total = 0;
  for (let d = 0; d < expected.length; d++) total += poissonTail(leaks, floatAt(expected, d));
  return Math.min(1, total / expected.length);
}

/**
 * The smallest effect that is found in four of five cases where it is the only one of its kind: so many leaks as come by chance
 * with a chance of rate / tested or less, and the times the rate at which so many come in four of five cases. What is expected
 * stays as it is: a position that leaks more often is renewed more often, and expects a little less (K30).
 */
export function smallestEffect(expected: number, tested: number, rate: number): SmallestEffect {
  let leaks = FEWEST_LEAKS;
  while (1 - poissonCdf(leaks - 1, expected) > rate / tested) leaks++;
  return { expected, leaks, times: gammaQuantile(POWER, leaks) / expected };
}
