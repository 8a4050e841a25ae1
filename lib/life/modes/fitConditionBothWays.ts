/** Lives ended for their condition: read both ways, because such an end is neither a leak nor independent of one (METHODS 1.4). */
import { UsageError } from '../../errors.js';
import type { Warning } from '../../findings.js';
import { at, floatAt } from '../../numeric/columns.js';
import { localPrecision } from '../../numeric/localWords.js';
import { quantile } from '../distribution/functions.js';
import { fitLife } from '../estimate/fit.js';
import type { FitOptions, LifeFit } from '../estimate/fitTypes.js';
import type { LifeModel } from '../model.js';
import { isFailure } from '../sample.js';
import type { LifeSample } from '../sampleTypes.js';
import { middleOf } from './modeRows.js';

export interface ConditionOptions extends Partial<FitOptions> {
  /** What is to be planned on: the larger, the better. By default the age by which 10 % have leaked. */
  of?: (model: LifeModel) => number;
}

export interface ConditionReading {
  fit: LifeFit;
  /** What `of` gives. */
  value: number;
}

export interface ConditionFit {
  /** Every removal for condition as a leak: lives come out too short, because some would have gone on. */
  asLeak: ConditionReading;
  /** Every one as sound so far: lives come out too long, because those taken out were about to leak. Null without any other leak to fit. */
  asCensored: ConditionReading | null;
  /** The reading to plan on. */
  pessimistic: 'leak' | 'censored';
  /** Removals for condition, weights included. */
  removals: number;
  /** Whether the two values differ by more than 5 %. */
  parts: boolean;
  warnings: Warning[];
}

const SPAN = 0.05;

/**
 * Fits a sample with the removals for condition as leaks and as censored, and names the pessimistic fit; the truth is between.
 * A diaphragm taken out because it looked or tested bad was nearer to its leak than others of its age, so that it is no
 * independent censoring (Lawless 2003 sec. 2.2.2, from memory).
 *
 * @param condition for each row whether it was ended for its condition; such a row may be given as an end or as still sound
 * at its age
 * @throws UsageError for a column of another length, no such row, and where the fit with them as leaks cannot be estimated
 */
export function fitConditionBothWays(
  sample: LifeSample,
  condition: ArrayLike<boolean | number>,
  options: ConditionOptions = {},
): ConditionFit {
  const { of = (model: LifeModel) => quantile(model, 0.1), kind = 'weibull', ...rest } = options;
  const marked = markedRows(sample, condition);
  const asLeak = readingOf(withEnds(sample, marked, true), { kind, ...rest }, of);
  const asCensored = readingOrNull(withEnds(sample, marked, false), { kind, ...rest }, of);
  const removals = marked.reduce((total, i) => total + floatAt(sample.count, i), 0);
  const pessimistic = asCensored !== null && asCensored.value < asLeak.value ? 'censored' : 'leak';
  const parts = asCensored === null || Math.abs(asCensored.value / asLeak.value - 1) > SPAN;
  return {
    asLeak,
    asCensored,
    pessimistic,
    removals,
    parts,
    warnings: parts ? [warningOf(removals, asLeak, asCensored)] : [],
  };
}

function markedRows(sample: LifeSample, condition: ArrayLike<boolean | number>): number[] {
  const rows = sample.lower.length;
  if (condition.length !== rows) {
    throw new UsageError(
      'fitConditionBothWays',
      `condition must be as long as the sample (${rows} rows).`,
      condition.length,
    );
  }
  const marked = Array.from(sample.lower.keys()).filter((i) => Boolean(condition[i]));
  if (marked.length > 0) return marked;
  throw new UsageError('fitConditionBothWays', 'no row was ended for its condition; use fitLife.');
}

/** The marked rows as ends (those given as sound at exactly their age) or as sound at their age. */
function withEnds(sample: LifeSample, marked: readonly number[], ended: boolean): LifeSample {
  const lower = sample.lower.slice();
  const upper = sample.upper.slice();
  for (const i of marked) {
    if (ended && !isFailure(sample, i)) {
      const age = middleOf(sample, i);
      if (!(age > floatAt(sample.entry, i))) {
        throw new UsageError(
          'fitConditionBothWays',
          `row ${i + 1}: it ended at its entry, so it tells nothing.`,
          age,
        );
      }
      lower[i] = age;
      upper[i] = age;
    }
    if (!ended) {
      lower[i] = middleOf(sample, i);
      upper[i] = Infinity;
    }
  }
  return { ...sample, lower, upper };
}

function readingOf(
  sample: LifeSample,
  options: FitOptions,
  of: (model: LifeModel) => number,
): ConditionReading {
  const fit = fitLife(sample, options);
  return { fit, value: of(fit.model) };
}

/** Null where too few leaks are left. */
function readingOrNull(
  sample: LifeSample,
  options: FitOptions,
  of: (model: LifeModel) => number,
): ConditionReading | null {
  try {
    return readingOf(sample, options, of);
  } catch (error) {
    if (error instanceof UsageError) return null;
    throw error;
  }
}

function warningOf(removals: number, asLeak: ConditionReading, asCensored: ConditionReading | null): Warning {
  const other =
    asCensored === null
      ? 'without them there are too few leaks to tell'
      : `counted as sound so far it gives ${localPrecision(asCensored.value, 3)}`;
  return {
    code: 'condition-removals',
    text: `${removals} lives were ended for their condition. Counted as leaks the fit gives ${localPrecision(asLeak.value, 3)}, ${other}; the truth lies between.`,
    todo: 'Plan on the careful reading, and record what was found and whether it still held tight.',
  };
}

export interface EarlyScheduled {
  /** Scheduled removals, and those among them that came early with damage found. */
  scheduled: number;
  early: number;
  /** Whether they look like removals for condition. */
  looks: boolean;
}

/** Share of the usual age before which a removal is early, and share of all from which on they are told (METHODS 1.4). */
const EARLY_AGE = 0.8;
const EARLY_SHARE = 0.1;

/**
 * Whether scheduled removals look like removals for condition: more than 10 % of them before 80 % of the usual age, with a
 * finding other than sound.
 * @param ages of scheduled removals, in the unit of `usualAge`
 * @param damaged for each whether something other than sound was found
 */
export function earlyScheduled(
  ages: ArrayLike<number>,
  damaged: ArrayLike<boolean | number>,
  usualAge: number,
): EarlyScheduled {
  if (damaged.length !== ages.length) {
    throw new UsageError('earlyScheduled', 'damaged must be as long as ages.', damaged.length);
  }
  if (!(usualAge > 0)) throw new UsageError('earlyScheduled', 'usualAge must be above 0.', usualAge);
  let early = 0;
  for (let i = 0; i < ages.length; i++) if (damaged[i] && at(ages, i) < EARLY_AGE * usualAge) early++;
  return { scheduled: ages.length, early, looks: early > EARLY_SHARE * ages.length };
}
