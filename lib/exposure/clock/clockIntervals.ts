/** What an interval on a clock is in days, position by position. */
import { UsageError } from '../../errors.js';
import { amount, daysWords } from '../../numeric/words.js';
import { ageAtCount } from '../ageAtCount.js';
import { type DailyRate, joinedRate } from '../rates.js';
import { type ClockChoice, DAYS } from './types.js';

/** A position with the rates of its counters by the names of the clocks; null or left out where not known. */
export interface ClockPosition {
  name: string;
  rates: Readonly<Record<string, DailyRate | null>>;
}

/** Days. Null where the position has no rate, or one of 0, so that the clock does not run there. */
export interface ClockInterval {
  name: string;
  age: number | null;
  /** 5th and 95th percentile by how evenly its counter rises; both `age` where nothing says so. `high` may be Infinity. */
  low: number | null;
  high: number | null;
  words: string;
}

/**
 * The age in days at which each position reaches an interval on the chosen clock, by its own rate and its spread (`ageAtCount`). On
 * a combination the clock runs at 1 + weight times the rate a day.
 * @throws UsageError for an interval that is not above 0
 */
export function clockIntervals(
  choice: Pick<ClockChoice, 'clock' | 'parts' | 'law'>,
  interval: number,
  positions: readonly ClockPosition[],
): ClockInterval[] {
  if (!(interval > 0 && interval < Infinity)) {
    throw new UsageError('clockIntervals', 'the interval must be above 0 and finite.', interval);
  }
  return positions.map(({ name, rates }) => {
    const rate = rateOnClock(choice, rates);
    const found = rate === null ? null : ageAtCount(rate, interval);
    if (found === null) return { name, age: null, low: null, high: null, words: without(choice, name) };
    const { age, low, high } = found;
    const range = low === high ? '' : ` (90 % range ${spanWords(low, high)})`;
    const words = `${name}: ${amount(interval)} ${unitOf(choice)} are ${daysWords(age)}${range}.`;
    return { name, age, low, high, words };
  });
}

function spanWords(low: number, high: number): string {
  return high === Infinity ? `${amount(low)} days to no limit` : `${amount(low)} to ${amount(high)} days`;
}

function unitOf({ clock, parts }: Pick<ClockChoice, 'clock' | 'parts'>): string {
  return parts.length > 1 ? `days and weighted ${parts[1] ?? ''}` : clock;
}

function without({ parts }: Pick<ClockChoice, 'parts'>, name: string): string {
  const counter = parts.find((part) => part !== DAYS) ?? DAYS;
  return `${name}: no rate of ${counter} is known, or it is 0, so it keeps its interval in days. Read its counter, or give its rate.`;
}

function rateOnClock(
  { parts, law }: Pick<ClockChoice, 'parts' | 'law'>,
  rates: ClockPosition['rates'],
): DailyRate | null {
  const counter = parts.find((part) => part !== DAYS);
  if (counter === undefined) return { perDay: 1, source: 'given', resets: 0, spread: null };
  const rate = rates[counter] ?? null;
  const weight = law.weight?.estimate;
  return rate === null || weight === undefined ? rate : joinedRate(rate, weight);
}
