/** How many lives to test, and how long, to demonstrate that parts last (IEC 61649 and Meeker & Escobar 1998 ch. 10, from memory). */
import { UsageError } from '../../errors.js';
import { betaCdf, gammaQuantile } from '../../numeric/special.js';
import { rankQuantile } from '../empirical/ranks.js';

/**
 * Test time, summed over all lives, in units of the mean life to be shown with certainty `level` where the failure rate is constant
 * and up to `failures` are allowed: half the chi-square quantile of 2 r + 2 degrees of freedom (NIST/SEMATECH e-Handbook 8.3.1.1).
 * @throws UsageError for failures that are no whole number from 0 on, and a level not between 0 and 1
 */
export function exponentialTestFactor(failures: number, level: number): number {
  requireFailures('exponentialTestFactor', failures);
  requireShare('exponentialTestFactor', 'level', level);
  return gammaQuantile(level, failures + 1);
}

export interface SurvivalDemand {
  /** Share that must be shown to survive the mission, between 0 and 1. */
  survival: number;
  /** Certainty, between 0 and 1. */
  level: number;
  /** Failures allowed; 0 by default. */
  failures?: number;
}

/**
 * Number of lives to test for one mission each, so that with no more than `failures` the share that survives is shown: smallest n
 * at which more would fail with chance `level` or above. Without failures (success run) it is log(1 - level) / log(survival),
 * rounded up.
 * @throws UsageError for shares not between 0 and 1, failures that are no whole number from 0 on, and a demand that takes 1e12
 * lives or more
 */
export function livesToDemonstrate(demand: SurvivalDemand): number {
  const { survival, level, failures } = checked('livesToDemonstrate', demand);
  const shown = (n: number): boolean =>
    betaCdf(survival, n - failures, failures + 1) <= (1 - level) * (1 + 1e-12);
  let [short, enough] = [failures, failures + 1];
  while (!shown(enough)) {
    [short, enough] = [enough, 2 * enough];
    if (enough > 1e12)
      throw new UsageError('livesToDemonstrate', 'the demand takes 1e12 lives or more.', survival);
  }
  while (enough - short > 1) {
    const middle = Math.floor((short + enough) / 2);
    if (shown(middle)) enough = middle;
    else short = middle;
  }
  return enough;
}

/**
 * How many missions long to test each of `lives` Weibull lives of a known shape, so that with no more than `failures` of them the
 * share that survives one mission is shown: fewer lives are paid for with a longer test, cheaply where the shape is large.
 * Below 1 where more lives are tested than `livesToDemonstrate` asks for.
 * @throws UsageError for shares not between 0 and 1, a shape not above 0, failures that are no whole number from 0 on, and lives that
 * are no whole number above the failures
 */
export function missionsToTest(demand: SurvivalDemand & { lives: number; shape: number }): number {
  const { survival, level, failures } = checked('missionsToTest', demand);
  const { lives, shape } = demand;
  if (!(Number.isInteger(lives) && lives > failures)) {
    throw new UsageError('missionsToTest', 'lives must be a whole number above the failures allowed.', lives);
  }
  if (!(shape > 0 && shape < Infinity)) {
    throw new UsageError('missionsToTest', 'shape must be above 0 and finite.', shape);
  }
  // Least share that survives the test, by its complement where that keeps more digits.
  const failing = rankQuantile(failures + 1, lives, level);
  const logSurviving =
    failing < 0.5 ? Math.log1p(-failing) : Math.log(rankQuantile(lives - failures, lives, 1 - level));
  return (logSurviving / Math.log(survival)) ** (1 / shape);
}

function checked(where: string, { survival, level, failures = 0 }: SurvivalDemand): Required<SurvivalDemand> {
  requireShare(where, 'survival', survival);
  requireShare(where, 'level', level);
  requireFailures(where, failures);
  return { survival, level, failures };
}

function requireShare(where: string, name: string, value: number): void {
  if (!(value > 0 && value < 1)) throw new UsageError(where, `${name} must be between 0 and 1.`, value);
}

function requireFailures(where: string, failures: number): void {
  if (!(Number.isInteger(failures) && failures >= 0)) {
    throw new UsageError(where, 'failures must be a whole number from 0 on.', failures);
  }
}
