/** Intervals in whole months. */
import { DAYS_PER_MONTH } from '../numeric/day.js';

export interface MonthsInterval {
  days: number;
  /** Whole months of 30.4375 days; null where the interval is not a whole number of them. */
  months: number | null;
}

/** A limit of 730 days means 24 months to whoever set it, though 24 mean months are 730.5 days. */
const LIMIT_SLACK_DAYS = 0.5;
/** A practised age within this share of a whole number of months is that number of months. */
const NEAR_SHARE = 0.05;

/**
 * The longest whole number of months that fits under an age. Days are rounded and never above the age: 12 months under
 * a limit of 365 days are 365 days. `slackDays` is 0 where the age is no limit that somebody set. Under one month there is none, and the age itself is taken, in whole days.
 */
export function monthsUnder(age: number, slackDays = LIMIT_SLACK_DAYS): MonthsInterval {
  const months = Math.floor((age + slackDays) / DAYS_PER_MONTH);
  if (months < 1) return { days: Math.max(1, Math.floor(age)), months: null };
  return { days: Math.min(Math.round(months * DAYS_PER_MONTH), Math.floor(age)), months };
}

/** A practised age as it is kept: in whole months where it is close to them, else in days; never above the cap. */
export function monthsNear(age: number, cap: number): MonthsInterval {
  if (age > cap) return monthsUnder(cap);
  const months = Math.round(age / DAYS_PER_MONTH);
  const days = Math.round(months * DAYS_PER_MONTH);
  if (months >= 1 && Math.abs(days - age) <= NEAR_SHARE * age)
    return { days: Math.min(days, Math.floor(cap)), months };
  return { days: Math.max(1, Math.round(age)), months: null };
}
