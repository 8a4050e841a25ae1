/**
 * Calendar days as whole numbers: day 0 is 1970-01-01, always UTC, no clock and no time zone anywhere, so that
 * the number of days between two dates never depends on where the program runs.
 */
import { addMonths as addMonthsToDate } from 'date-fns/addMonths';

/** Days since 1970-01-01. */
export type Day = number;

export const MS_PER_DAY = 86_400_000;
/** Mean length of a Gregorian month in days: 365.25 / 12. */
export const DAYS_PER_MONTH = 30.4375;
export const DAYS_PER_YEAR = 365.25;

const PATTERN = /^(\d{4})-(\d{2})-(\d{2})$/;

/** The day written as YYYY-MM-DD, or null where the text is not such a date or the date does not exist. */
export function dayFromText(text: string): Day | null {
  const match = PATTERN.exec(text);
  if (match === null) return null;
  const ms = Date.parse(`${text}T00:00:00Z`);
  if (Number.isNaN(ms)) return null;
  const day = Math.round(ms / MS_PER_DAY);
  // Some engines roll 02-30 over to 03-01; a date that does not come back as written does not exist.
  return textFromDay(day) === text ? day : null;
}

/** Days of one plant are few and are written many times. */
const WRITTEN = new Map<Day, string>();
const MOST_WRITTEN = 50_000;

/** YYYY-MM-DD of a day. */
export function textFromDay(day: Day): string {
  const known = WRITTEN.get(day);
  if (known !== undefined) return known;
  const text = new Date(day * MS_PER_DAY).toISOString().slice(0, 10);
  if (WRITTEN.size < MOST_WRITTEN) WRITTEN.set(day, text);
  return text;
}

/** YYYY-MM of a day. */
export function monthOfDay(day: Day): string {
  return textFromDay(day).slice(0, 7);
}

/** The year a day falls in. */
export function yearOfDay(day: Day): number {
  return new Date(day * MS_PER_DAY).getUTCFullYear();
}

/** First day of the month that a day falls in. */
export function startOfMonth(day: Day): Day {
  const date = new Date(day * MS_PER_DAY);
  return Math.round(Date.UTC(date.getUTCFullYear(), date.getUTCMonth(), 1) / MS_PER_DAY);
}

/** The same day of the month a number of calendar months later; the 31st becomes the last day of a shorter month. */
export function addMonths(day: Day, months: number): Day {
  const utc = new Date(day * MS_PER_DAY);
  // date-fns counts in local time: hand it the calendar fields as local ones and take them back.
  const local = new Date(utc.getUTCFullYear(), utc.getUTCMonth(), utc.getUTCDate());
  const moved = addMonthsToDate(local, months);
  return Math.round(Date.UTC(moved.getFullYear(), moved.getMonth(), moved.getDate()) / MS_PER_DAY);
}
