/** Dates in words: 3 March 2027. */
import type { Day } from '../numeric/day.js';
import { textFromDay } from '../numeric/day.js';

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

/** '3 March 2027' of a day. */
export function dayWords(day: Day): string {
  const text = textFromDay(day);
  return `${Number(text.slice(8))} ${monthWords(text.slice(0, 7))}`;
}

/** 'March 2027' of '2027-03'. */
export function monthWords(month: string): string {
  return `${MONTHS[Number(month.slice(5)) - 1] ?? ''} ${month.slice(0, 4)}`;
}
