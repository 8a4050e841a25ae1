/** Numbers, spans and dates in the words of a person. */
import { DAYS_PER_MONTH, dayFromText, MS_PER_DAY } from '../numeric/day.js';

export { chanceWords, percent } from '../interval/words.js';

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];
/** From here on toFixed writes an exponent. */
const LARGEST_FIXED = 1e21;
const NO_BREAK_SPACE = '\u00a0';
/** Marks that turn the direction of what follows, and control characters: not for a picture or a sentence. */
const STEERING = /[\p{Cc}\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu;

/** A number to `digits` significant digits, with a space between thousands: 12 300. Never an exponent. */
export function amount(value: number, digits = 3): string {
  if (!Number.isFinite(value)) return 'no limit';
  const rounded = value === 0 ? 0 : Number(value.toPrecision(digits));
  const places = Math.max(0, Math.min(20, digits - 1 - Math.floor(Math.log10(Math.abs(rounded) || 1))));
  const digitsOf =
    Math.abs(rounded) < LARGEST_FIXED ? Math.abs(rounded).toFixed(places) : String(BigInt(Math.abs(rounded)));
  const [whole = '0', fraction] = digitsOf.split('.');
  const tail = fraction?.replace(/0+$/, '') ?? '';
  const sign = rounded < 0 ? '−' : '';
  return `${sign}${whole.replace(/\B(?=(\d{3})+(?!\d))/g, NO_BREAK_SPACE)}${tail === '' ? '' : `.${tail}`}`;
}

/** Pieces, leaks, replacements as an expectation: whole above 10, one decimal below. */
export function pieces(value: number): string {
  const rounded = Math.abs(value) >= 9.95 ? Math.round(value) : Math.round(value * 10) / 10;
  if (rounded === 0 && value > 0) return 'under 0.1';
  return amount(rounded, 6);
}

/** "3 to 7"; one number where both read the same. */
export function range(low: number, high: number, words: (value: number) => string = amount): string {
  const [from, to] = [words(low), words(high)];
  return from === to ? from : `${from} to ${to}`;
}

export function monthsFromDays(days: number): number {
  return days / DAYS_PER_MONTH;
}

/** "8 months" of 243 days. */
export function spanWords(days: number | null): string {
  if (days === null) return 'no schedule';
  const months = monthsText(days);
  return `${months} ${months === '1' ? 'month' : 'months'}`;
}

/** "8" of 243 days, "8.5" of 259. */
export function monthsText(days: number): string {
  const months = monthsFromDays(days);
  return amount(months >= 10 ? Math.round(months) : Math.round(months * 2) / 2 || months, 3);
}

/** "12 Mar 2027" of 2027-03-12; other texts as they are. */
export function dateWords(text: string): string {
  const day = dayFromText(text);
  if (day === null) return text;
  const date = new Date(day * MS_PER_DAY);
  return `${date.getUTCDate()} ${MONTHS[date.getUTCMonth()] ?? ''} ${date.getUTCFullYear()}`;
}

/** "Mar" and "2027" of 2027-03. */
export function monthWords(month: string): { name: string; year: string } {
  return { name: MONTHS[Number(month.slice(5, 7)) - 1] ?? month, year: month.slice(0, 4) };
}

/** "1 position", "3 positions". */
export function count(number: number, one: string, many = `${one}s`): string {
  return `${amount(number, 9)} ${number === 1 ? one : many}`;
}

/** A name from the plant's files without characters that steer a terminal or the direction of a text. */
export function plainName(text: string): string {
  return text
    .replace(STEERING, ' ')
    .replace(/[ \t\r\n]+/g, ' ')
    .trim();
}

/** Letters, digits and hyphens of a text, for ids. */
export function slug(text: string): string {
  const letters = text
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 40);
  return letters === '' ? 'x' : letters;
}
