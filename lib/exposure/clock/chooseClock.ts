/** Which clock wears diaphragms: days, a counter, or both. */
import { UsageError } from '../../errors.js';
import type { RegressionKind } from '../../life/estimate/regression/types.js';
import { failureCount } from '../../life/sample.js';
import type { LifeSample } from '../../life/sampleTypes.js';
import { lawOnClock } from './clockLaw.js';
import { compareClocks } from './compareClocks.js';
import { sampleOf } from './readClocks.js';
import type { ClockChoice, ClockColumns, ClockLaw, ClockOptions } from './types.js';
import { clockWords } from './words.js';

const FEWEST_FAILURES_ON_DAYS = 3;

/**
 * Fits lives on the clock of days, on each exposure and on days plus a weight times each exposure, and chooses by AIC of the
 * lives in days: an exact failure counts the rate of the clock at its age (Oakes 1995; Duchesne & Lawless 2000; from memory), one known to
 * an interval needs none. The weight counts as a parameter, and a combination must be 2 better than its parts. METHODS 3.2: the data
 * cannot tell where the best clock leads its rival by less than 2, where rates differ between lives by a standard deviation of
 * their logs under 0.15, or where under 80 % of plants of resampled positions choose the same or add days to it; the clock is then days.
 *
 * Clocks are compared on the lives of which every exposure is known. The others stay in days and are named; an exposure that is known
 * of fewer than half of the lives, or of fewer than 5 failures, is left out.
 *
 * @throws UsageError for columns that make no sense (exposure and row named), options out of range, and lives compared of which none
 * failed or to which no law can be fitted on any clock
 */
export function chooseClock(columns: ClockColumns, options: ClockOptions = {}): ClockChoice {
  const { kind = 'weibull', level = 0.9 } = options;
  const { lawOnChosen, leadParts: _parts, unknown, ...comparison } = compareClocks(columns, options);
  const choice = {
    ...comparison,
    law: lawOnChosen(),
    onDays: onDaysOf(columns, unknown, kind, level),
  };
  return { ...choice, words: clockWords(choice) };
}

function onDaysOf(
  { days, names }: ClockColumns,
  rows: number[],
  kind: RegressionKind,
  level: number,
): ClockChoice['onDays'] {
  const called = rows.map((i) => names?.[i] ?? `life ${i + 1}`);
  const rest: LifeSample = sampleOf(days, rows);
  if (failureCount(rest) < FEWEST_FAILURES_ON_DAYS) return { rows, names: called, law: null };
  return { rows, names: called, law: lawOrNone(rest, kind, level) };
}

/** Null where the lives are too alike to hold a law. */
function lawOrNone(sample: LifeSample, kind: RegressionKind, level: number): ClockLaw | null {
  try {
    return lawOnClock(sample, kind, level);
  } catch (error) {
    if (error instanceof UsageError) return null;
    throw error;
  }
}
