/**
 * Dates as plants write them. Whether day or month comes first is found from all dates of a column, never from one of them; a year of
 * two digits is 1950 to 2049; a time of day is left out and the day taken as written.
 */
import { dayFromText, textFromDay } from '../../numeric/day.js';
import { monthOfWord } from './months.js';
import type { DateOrder } from './types.js';

/** A date taken apart, before it is known which part is which. */
export type DateParts =
  | { kind: 'certain'; iso: string }
  /** Two numbers and a year: day and month, in an order to be found. */
  | { kind: 'either'; first: number; second: number; year: number };

const TIME = /[T ]+\d{1,2}:\d{2}(:\d{2}([.,]\d+)?)?( ?[AaPp]\.?[Mm]\.?)?( ?(Z|UTC|GMT|[+-]\d{2}:?\d{2}))?$/;
const ISO = /^(\d{4})-(\d{2})-(\d{2})$/;
const YEAR_FIRST = /^(\d{4})[-/. ](\d{1,2})[-/. ](\d{1,2})$/;
const COMPACT = /^((?:19|20)\d{2})(\d{2})(\d{2})$/;
const YEAR_LAST = /^(\d{1,2})([-/.] ?)(\d{1,2})\2(\d{4}|\d{2})$/;
const DAY_NAME_YEAR = /^(\d{1,2})\.?[- /]?(\p{L}+)\.?[- /,]*(\d{4}|\d{2})$/u;
const NAME_DAY_YEAR = /^(\p{L}+)\.?[- /]?(\d{1,2}),?[- /]+(\d{4}|\d{2})$/u;
const SERIAL = /^\d{5}$/;

/** Whether a text has a time of day after its date. */
export function hasTime(text: string): boolean {
  return TIME.test(text);
}

/** Whether a text is a date with a year of two digits. */
export function hasShortYear(text: string): boolean {
  const date = text.trim().replace(TIME, '');
  if (YEAR_FIRST.test(date)) return false;
  const year = YEAR_LAST.exec(date)?.[4] ?? DAY_NAME_YEAR.exec(date)?.[3] ?? NAME_DAY_YEAR.exec(date)?.[3];
  return year?.length === 2;
}

/** The parts of a date, or null where the text is no date that exists. */
export function datePartsOf(raw: string): DateParts | null {
  const text = raw.trim().replace(TIME, '');
  if (ISO.test(text)) return certain(text);
  const ymd = YEAR_FIRST.exec(text) ?? COMPACT.exec(text);
  if (ymd !== null) return certain(isoOf(Number(ymd[1]), Number(ymd[2]), Number(ymd[3])));
  const last = YEAR_LAST.exec(text);
  if (last !== null) {
    return {
      kind: 'either',
      first: Number(last[1]),
      second: Number(last[3]),
      year: fullYear(last[4] ?? ''),
    };
  }
  return namedDate(text) ?? serialDate(text);
}

/** The date in the order found, as YYYY-MM-DD, whether or not there is such a day: who reads it says so. */
export function isoInOrder(parts: DateParts, order: DateOrder): string {
  if (parts.kind === 'certain') return parts.iso;
  const { first, second, year } = parts;
  const [day, month] = order === 'month first' ? [second, first] : [first, second];
  return isoOf(year, month, day);
}

function namedDate(text: string): DateParts | null {
  const dayFirst = DAY_NAME_YEAR.exec(text);
  if (dayFirst !== null) return named(dayFirst[2], dayFirst[1], dayFirst[3]);
  const nameFirst = NAME_DAY_YEAR.exec(text);
  return nameFirst === null ? null : named(nameFirst[1], nameFirst[2], nameFirst[3]);
}

function named(word = '', day = '', year = ''): DateParts | null {
  const month = monthOfWord(word);
  return month === null ? null : certain(isoOf(fullYear(year), month, Number(day)));
}

/**
 * Days of a spreadsheet, which counts from 1900 and believes that 1900 was a leap year (ISO/IEC 29500-1, 18.17.4): serial 61 is 1900-03-01,
 * and there is no day for serial 60.
 */
export function isoOfSerial(serial: number, since1904 = false): string | null {
  const whole = Math.floor(serial);
  if (since1904) return textFromDay(SINCE_1904 + whole);
  if (whole === 60 || whole < 1) return null;
  return textFromDay(whole < 60 ? SINCE_1900 + 1 + whole : SINCE_1900 + whole);
}

const SINCE_1900 = -25569;
const SINCE_1904 = -24107;

function serialDate(text: string): DateParts | null {
  if (!SERIAL.test(text)) return null;
  const iso = isoOfSerial(Number(text));
  return iso === null ? null : certain(iso);
}

function certain(iso: string): DateParts | null {
  return dayFromText(iso) === null ? null : { kind: 'certain', iso };
}

function fullYear(digits: string): number {
  const year = Number(digits);
  if (digits.length !== 2) return year;
  return year < 50 ? 2000 + year : 1900 + year;
}

function isoOf(year: number, month: number, day: number): string {
  const two = (part: number): string => String(part).padStart(2, '0');
  return `${String(year).padStart(4, '0')}-${two(month)}-${two(day)}`;
}
