/** How far the data reach (METHODS 2.4). */
import { UsageError } from '../../errors.js';
import type { Warning } from '../../findings.js';
import { floatAt, itemAt } from '../../numeric/columns.js';
import { localNumber } from '../../numeric/localWords.js';
import { failureCount } from '../sample.js';
import type { LifeSample } from '../sampleTypes.js';

/** Lives that must still be at risk, and failures that must have come by then. */
const AT_RISK = 5;
const FAILURES = 2;
/** Weights may be fractions, whose sums are whole but for rounding. */
const ROUNDING = 1e-9;
/** A life this many times as old as the supported age stands alone. */
const ALONE = 1.5;

export interface SupportOptions {
  /** Failures were recorded by the day and given as intervals round it: the day is meant, not the end of the interval. */
  wholeDays?: boolean;
}

export interface DataSupport {
  /** What `supportedAge` returns. */
  age: number | null;
  lives: number;
  failures: number;
  /** Largest age watched, however few reached it. */
  oldest: number;
  warnings: Warning[];
}

interface Event {
  age: number;
  risk: number;
  failures: number;
}

/**
 * Largest age with 5 or more lives at risk and 2 or more failures at or before it; null where there is none. A life is
 * at risk after its entry and until it ends, so neither a forgotten valve nor a life that came late moves it. A failure
 * somewhere in an interval counts from the end of it on. Statements beyond this age are extrapolation. Ages in any one unit.
 */
export function supportedAge(sample: LifeSample, { wholeDays = false }: SupportOptions = {}): number | null {
  const events = eventsOf(sample, wholeDays);
  let risk = 0;
  let failures = 0;
  let reach: number | null = null;
  for (let i = 0; i < events.length; ) {
    const { age } = itemAt(events, i);
    const before = risk;
    for (; i < events.length && itemAt(events, i).age === age; i++) {
      risk += itemAt(events, i).risk;
      failures += itemAt(events, i).failures;
    }
    if (before >= AT_RISK - ROUNDING && failures >= FAILURES - ROUNDING) reach = age;
  }
  return reach;
}

/**
 * How far a sample reaches, with what follows in words: nothing supported, lives that stand alone beyond it, and each of the
 * `ages` asked for that lies beyond it.
 * @throws UsageError for an age that is negative or no number
 */
export function dataSupport(
  sample: LifeSample,
  options: SupportOptions & { ages?: readonly number[] } = {},
): DataSupport {
  const age = supportedAge(sample, options);
  const oldest = eventsOf(sample, options.wholeDays ?? false).reduce(
    (most, one) => Math.max(most, one.age),
    0,
  );
  const asked = options.ages ?? [];
  const bad = asked.find((one) => !(one >= 0));
  if (bad !== undefined) throw new UsageError('dataSupport', 'ages must be numbers at or above 0.', bad);
  const lives = sample.count.reduce((sum, count) => sum + count, 0);
  const warnings = age === null ? [NOTHING] : [];
  if (age !== null && oldest > ALONE * age) warnings.push(standsAlone(age, oldest));
  for (const one of asked) if (age !== null && one > age) warnings.push(beyond(one, age));
  return { age, lives, failures: failureCount(sample), oldest, warnings };
}

/** Entries and ends in order of age. */
function eventsOf(sample: LifeSample, wholeDays: boolean): Event[] {
  const events: Event[] = [];
  for (let i = 0; i < sample.lower.length; i++) {
    const count = floatAt(sample.count, i);
    const entry = floatAt(sample.entry, i);
    const upper = floatAt(sample.upper, i);
    const failed = upper !== Infinity;
    const seen = wholeDays ? Math.floor(upper) : upper;
    const end = failed ? seen : floatAt(sample.lower, i);
    events.push({ age: entry, risk: count, failures: 0 });
    events.push({ age: Math.max(end, entry), risk: -count, failures: failed ? count : 0 });
  }
  // At one age: those who end there are still at risk, those who enter there not yet; so ends are looked at first.
  return events.sort((a, b) => a.age - b.age || a.risk - b.risk);
}

const NOTHING: Warning = {
  code: 'no-supported-age',
  text: `At no age were ${AT_RISK} lives at risk with ${FAILURES} failures behind them: the data support no age.`,
  todo: 'Wait for more lives or failures, or borrow from like groups; until then keep what is practised.',
};

function standsAlone(age: number, oldest: number): Warning {
  return {
    code: 'lives-beyond-support',
    text: `The oldest life is ${digits(oldest)}, but from ${digits(age)} on fewer than ${AT_RISK} lives were at risk.`,
    todo: 'See that lives this old are really still in service and not forgotten in the records.',
  };
}

function beyond(asked: number, age: number): Warning {
  return {
    code: 'beyond-support',
    text: `The age ${digits(asked)} is beyond ${digits(age)}, the largest that the data support: it is an extrapolation.`,
    todo: 'Do not plan on it before lives of that age have been seen.',
  };
}

function digits(age: number): string {
  return localNumber(Number(age.toPrecision(4)));
}
