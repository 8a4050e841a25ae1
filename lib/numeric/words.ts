/**
 * Numbers, money, ages and dates in the words of a person: the one place where they are rounded for reading, so that
 * two places of a page never say one thing differently.
 *
 * Ages are said in months of 30.4375 days, to half a month below two years, whole from there on and to ten from 20 years
 * on; under a month in days. The ends of a span are rounded inwards, so that what is named lies in the span.
 */
import { DAYS_PER_MONTH, type Day, dayFromText, MS_PER_DAY, textFromDay } from './day.js';
import { currentWriting } from './locale.js';

const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
];
const NO_BREAK_SPACE = '\u00a0';
/** From here on toFixed writes an exponent. */
const LARGEST_FIXED = 1e21;
/** Half months are said below this many months. */
const WHOLE_FROM_MONTHS = 24;
/** From here on nobody plans by the month: tens of months, and hundreds from a thousand on. */
const ROUGH_FROM_MONTHS = 240;
/** A limit of 730 days means 24 months, though 24 mean months are 730.5 days. */
const SLACK_DAYS = 0.5;
/** Ages from here on are said in months. */
export const SHORTEST_MONTH_DAYS = DAYS_PER_MONTH - 1;

/** A number to `digits` significant digits, with a space between thousands: 12 300. Never an exponent. */
export function amount(value: number, digits = 3): string {
  if (!Number.isFinite(value)) return 'no limit';
  // Most are small whole numbers, and need no rounding.
  if (Number.isInteger(value) && value >= 0 && value < 1000 && digits >= 3) return String(value);
  const rounded = value === 0 ? 0 : Number(value.toPrecision(digits));
  const places = Math.max(0, Math.min(20, digits - 1 - Math.floor(Math.log10(Math.abs(rounded) || 1))));
  const writing = currentWriting();
  if (writing !== null) return writing.number(rounded, decimalsOf(rounded, places));
  const digitsOf =
    Math.abs(rounded) < LARGEST_FIXED ? Math.abs(rounded).toFixed(places) : String(BigInt(Math.abs(rounded)));
  const [whole = '0', fraction] = digitsOf.split('.');
  const tail = fraction?.replace(/0+$/, '') ?? '';
  const sign = rounded < 0 ? '−' : '';
  return `${sign}${grouped(whole)}${tail === '' ? '' : `.${tail}`}`;
}

/** Decimals of a number, at most `most`, without zeros at the end. */
function decimalsOf(value: number, most: number): number {
  return value.toFixed(most).split('.')[1]?.replace(/0+$/, '').length ?? 0;
}

/** A number with just so many decimals: "2.0". */
export function fixed(value: number, places: number): string {
  return currentWriting()?.number(value, places) ?? value.toFixed(places);
}

/** Whole digits with a space between thousands; never put into decimals. */
function grouped(whole: string): string {
  return whole.replace(/\B(?=(\d{3})+(?!\d))/g, NO_BREAK_SPACE);
}

/** An amount of money in whole units to three significant digits: "1 230 EUR", "under 1 EUR", "0 EUR". */
export function money(value: number, currency: string): string {
  if (value > 0 && value < 1) return `under 1 ${currency}`;
  if (value < 0 && value > -1) return `0 ${currency}`;
  return `${amount(Math.round(Number(value.toPrecision(3))), 3)} ${currency}`;
}

/** Pieces, leaks, replacements as an expectation: whole from 10, one decimal below. */
export function pieces(value: number): string {
  const rounded = Math.abs(value) >= 9.95 ? Math.round(value) : Math.round(value * 10) / 10;
  if (rounded === 0 && value > 0) return `under ${amount(0.1)}`;
  return amount(rounded, 6);
}

/** Hours of work, to one decimal: "12.4 h". */
export function hoursWords(hours: number): string {
  return `${hoursText(hours)} h`;
}

/** Hours of work to one decimal. */
export function hoursText(hours: number): string {
  const rounded = Math.round(hours * 10) / 10;
  return rounded === 0 && hours > 1e-9 ? `under ${amount(0.1)}` : amount(rounded, 9);
}

/** A share as a percentage; what is not quite 0 or 1 is never shown as 0 % or 100 %. */
export function percent(share: number): string {
  if (share > 0 && share < 0.005) return 'under 1 %';
  if (share < 1 && share >= 0.995) return 'over 99 %';
  return `${Math.round(share * 100)} %`;
}

/** A lower bound as a percentage to one decimal, never said higher than it is: "97.7 %". */
export function percentAtLeast(share: number): string {
  return `${amount(Math.floor(share * 1000 + 1e-9) / 10, 4)} %`;
}

/** A chance that was estimated by draws: none of them going the other way is not certainty. */
export function chanceWords(chance: number): string {
  return percent(Math.min(Math.max(chance, 0.001), 0.999));
}

/** "p = 0.012" of a test, "p < 0.0001" below that. */
export function pValueWords(p: number): string {
  return p < 1e-4 ? `p < ${amount(0.0001)}` : `p = ${amount(p, 2)}`;
}

/** "1 position", "3 positions", "1 200 positions". */
export function count(number: number, one: string, many = `${one}s`): string {
  return `${amount(number, 9)} ${number === 1 ? one : many}`;
}

/** A count that may be an expectation, to one decimal: "1 leak", "27.5 leaks"; "no leak" with `none`. */
export function counted(number: number, one: string, many: string, none?: string): string {
  if (number === 0 && none !== undefined) return none;
  return count(Math.round(number * 10) / 10, one, many);
}

/** "3 to 7"; one number where both read the same. */
export function range(low: number, high: number, words: (value: number) => string = amount): string {
  const [from, to] = [words(low), words(high)];
  return from === to ? from : `${from} to ${to}`;
}

/** "a", "a and b", "a, b and c"; beyond `most` names "a, b and 7 more". */
export function listed(names: readonly string[], most = Infinity): string {
  const shown = names.length > most ? [...names.slice(0, most), `${names.length - most} more`] : [...names];
  const last = shown.pop() ?? '';
  return shown.length === 0 ? last : `${shown.join(', ')} and ${last}`;
}

export function monthsFromDays(days: number): number {
  return days / DAYS_PER_MONTH;
}

/** Months of an age as they are said: to the half below two years, whole from there on. */
export function monthCount(days: number): number {
  return stepped(days, Math.round, 0);
}

function stepped(days: number, round: (x: number) => number, slackDays: number): number {
  const months = monthsFromDays(days + Math.abs(slackDays));
  const step = months < WHOLE_FROM_MONTHS ? 0.5 : months < ROUGH_FROM_MONTHS ? 1 : months < 1000 ? 10 : 100;
  return round(monthsFromDays(days + slackDays) / step) * step;
}

/** "8" of 243 days, "8.5" of 259, "24" of 730; a tenth of a month below half a month. */
export function monthsText(days: number): string {
  const months = monthCount(days);
  return months === 0 ? amount(monthsFromDays(days), 1) : amount(months, 9);
}

/** An age in a place whose unit is months: "8.5", and in days with their unit under a month: "12 days". */
export function monthsOrDays(days: number): string {
  return days < SHORTEST_MONTH_DAYS ? daysWords(days) : monthsText(days);
}

/** "9 months", "7.5 months", "12 days". */
export function ageWords(days: number): string {
  if (days < SHORTEST_MONTH_DAYS) return daysWords(days);
  const months = monthCount(days);
  return `${amount(months, 9)} ${months === 1 ? 'month' : 'months'}`;
}

/** An interval that may be none: "8 months", "12 days", "no schedule". */
export function spanWords(days: number | null): string {
  return days === null ? 'no schedule' : ageWords(days);
}

/** A span of ages in months without the word, ends rounded inwards: "8.5 to 11". In days where that leaves nothing. */
export function monthsSpan([low, high]: readonly [number, number]): string {
  const from = stepped(low, Math.ceil, -SLACK_DAYS);
  const to = stepped(high, Math.floor, SLACK_DAYS);
  if (from > to || from === 0) return `${Math.ceil(low)} to ${Math.floor(high)} days`;
  return range(from, to, (months) => amount(months, 9));
}

/** A span of ages with its unit, ends rounded inwards: "8.5 to 11 months", "12 to 19 days". */
export function ageSpan(span: readonly [number, number]): string {
  const text = monthsSpan(span);
  return text.endsWith('days') ? text : `${text} ${text === '1' ? 'month' : 'months'}`;
}

/** "1 day", "156 days", whole days. */
export function daysWords(days: number): string {
  return count(Math.round(days), 'day');
}

/** How long a shelf lasts, never said longer than it is: 'under a month', '1 month', '14 months', 'over 10 years'. */
export function coverWords(months: number): string {
  if (months < 1) return 'under a month';
  if (months >= 120) return 'over 10 years';
  return count(Math.floor(months), 'month');
}

/** "3 March 2027" of a day. */
export function dayWords(day: Day): string {
  const writing = currentWriting();
  if (writing !== null) return writing.longDate(day);
  const text = textFromDay(day);
  return `${Number(text.slice(8))} ${monthYear(text.slice(0, 7))}`;
}

/** "March 2027" of 2027-03. */
export function monthYear(month: string): string {
  const [writing, day] = [currentWriting(), dayFromText(`${month.slice(0, 7)}-01`)];
  if (writing !== null && day !== null) return writing.monthYear(day);
  return `${MONTHS[Number(month.slice(5, 7)) - 1] ?? ''} ${month.slice(0, 4)}`;
}

/** "12 Mar 2027" of 2027-03-12, for tables and labels; other texts as they are. */
export function dateWords(text: string): string {
  const day = dayFromText(text);
  if (day === null) return text;
  const writing = currentWriting();
  if (writing !== null) return writing.date(day);
  const date = new Date(day * MS_PER_DAY);
  return `${date.getUTCDate()} ${shortMonth(date.getUTCMonth())} ${date.getUTCFullYear()}`;
}

/** "Mar" and "2027" of 2027-03. */
export function monthWords(month: string): { name: string; year: string } {
  const [writing, day] = [currentWriting(), dayFromText(`${month.slice(0, 7)}-01`)];
  const name =
    writing === null || day === null ? shortMonth(Number(month.slice(5, 7)) - 1) : writing.month(day);
  return { name: name || month, year: month.slice(0, 4) };
}

function shortMonth(index: number): string {
  return (MONTHS[index] ?? '').slice(0, 3);
}

/** The number that a text begins with, as `amount` and `fixed` write it now; null where there is none. */
export function numberOfWords(text: string): number | null {
  const { thousands = NO_BREAK_SPACE, decimal = '.' } = currentWriting() ?? {};
  const found = /^(?:under |over |about )?([−+-]?\d[\d.,'’ \u00a0]*)/.exec(text.trim())?.[1];
  if (found === undefined) return null;
  const plain = (thousands === '' ? found : found.replaceAll(thousands, '')).replace('−', '-');
  const number = Number(/^[+-]?\d+(?:\.\d+)?/.exec(plain.replace(decimal, '.'))?.[0]);
  return Number.isFinite(number) ? number : null;
}

/** The first date in a text, as `dateWords` writes it now, or the first day of a month by itself; null where there is none or its month is not in letters. */
export function dayOfWords(text: string): Day | null {
  const year = /(?<!\d)\d{4}(?!\d)/.exec(text)?.[0];
  if (year === undefined) return null;
  const names = monthNames();
  const month = names.findIndex((name) => !/^\d/.test(name) && text.includes(name));
  if (month < 0) return null;
  const name = names[month] ?? '';
  const at = text.indexOf(name);
  const around = `${text.slice(Math.max(0, at - 8), at)} ${text.slice(at + name.length, at + name.length + 9)}`;
  const day = /(?<!\d)\d{1,2}(?!\d)/.exec(around)?.[0];
  const two = (number: string | number): string => String(number).padStart(2, '0');
  const isMonth = !/[\p{L}\d]/u.test(text.replace(name, '').replace(year, ''));
  return day === undefined && !isMonth ? null : dayFromText(`${year}-${two(month + 1)}-${two(day ?? 1)}`);
}

function monthNames(): string[] {
  const writing = currentWriting();
  return MONTHS.map((_, i) => (writing === null ? shortMonth(i) : writing.month(MID_MONTH + 30 * i)));
}

/** 15 January 1970; thirty days on is in February, and so on through December. */
const MID_MONTH = 14;
