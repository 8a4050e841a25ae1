/** Numbers, amounts and dates in the words of a person. */
import { dayFromText, MS_PER_DAY } from '../numeric/day.js';

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

/** A number to so many significant digits, without an exponent. */
export function rounded(value: number, digits: number): number {
  return value === 0 || !Number.isFinite(value) ? value : Number(value.toPrecision(digits));
}

/** An amount to three significant digits with thin groups: 1 230 000. */
export function money(amount: number): string {
  return grouped(rounded(amount, 3));
}

/** A whole number with a space between thousands. */
export function grouped(value: number): string {
  const text = Math.abs(value) >= 100 ? Math.round(value).toString() : String(rounded(value, 3));
  return text.replace(/\B(?=(\d{3})+(?!\d))/g, '\u00a0');
}

/** A share as a whole percentage; what is not quite 0 or 1 is never shown as 0 % or 100 %. */
export function share(value: number): string {
  if (value > 0 && value < 0.005) return 'under 1 %';
  if (value < 1 && value > 0.995) return 'over 99 %';
  return `${Math.round(value * 100)} %`;
}

/** 3 March 2027 of 2027-03-03. */
export function longDate(text: string): string {
  const day = dayFromText(text);
  if (day === null) return text;
  const date = new Date(day * MS_PER_DAY);
  return `${date.getUTCDate()} ${MONTHS[date.getUTCMonth()] ?? ''} ${date.getUTCFullYear()}`;
}
