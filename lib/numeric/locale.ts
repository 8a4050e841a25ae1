/**
 * How numbers and dates are written for a reader, where the plant names a locale: the one place that asks Intl.
 *
 * Words are made all over the library by functions that know nothing of the plant (`words.ts`), so the locale is not
 * handed through but holds while a piece of work is done: `inLocale`. Without one, and outside, all is written the house
 * way. Numbers that machines read (CSV columns, plan.json) never pass here.
 */
import { UsageError } from '../errors.js';
import { type Day, MS_PER_DAY } from './day.js';

export interface Writing {
  /** A number with so many decimals, thousands set apart. */
  number(value: number, places: number): string;
  /** The mark before the decimals, and the one between thousands ('' where none is used). */
  decimal: string;
  thousands: string;
  /** "12 Mar 2027", "12 March 2027", "March 2027", "Mar". */
  date(day: Day): string;
  longDate(day: Day): string;
  monthYear(day: Day): string;
  month(day: Day): string;
}

let current: Writing | null = null;

/**
 * Does some work with numbers and dates written as the locale ("de-DE") has it; without a locale the house way. It holds
 * until the work returns, so the work must not be asynchronous. Throws UsageError for a locale that is not known.
 */
export function inLocale<Result>(locale: string | null | undefined, work: () => Result): Result {
  const before = current;
  current = locale === null || locale === undefined ? null : writingOf(locale);
  try {
    return work();
  } finally {
    current = before;
  }
}

/** The writing that holds now; null is the house way. */
export function currentWriting(): Writing | null {
  return current;
}

/** True where Intl knows the language of a well-formed tag; "de_DE", "klingon" and "xx-XX" it does not. */
export function isLocale(tag: string): boolean {
  try {
    return Intl.NumberFormat.supportedLocalesOf(tag).length === 1;
  } catch {
    return false;
  }
}

const known = new Map<string, Writing>();

function writingOf(locale: string): Writing {
  const made = known.get(locale);
  if (made !== undefined) return made;
  if (!isLocale(locale)) {
    throw new UsageError('inLocale', 'locale must be one that Intl knows, such as en-GB.', locale);
  }
  const writing = newWriting(locale);
  known.set(locale, writing);
  return writing;
}

function newWriting(locale: string): Writing {
  const numbers = new Map<number, Intl.NumberFormat>();
  const number = (value: number, places: number): string => {
    const format = numbers.get(places) ?? numberFormat(locale, places);
    numbers.set(places, format);
    return calm(format.format(value));
  };
  const date = (options: Intl.DateTimeFormatOptions): ((day: Day) => string) => {
    const format = new Intl.DateTimeFormat(locale, { ...options, ...SAME_EVERYWHERE, timeZone: 'UTC' });
    return (day) => calm(format.format(day * MS_PER_DAY));
  };
  const parts = numberFormat(locale, 1).formatToParts(1234567.5);
  const mark = (type: 'decimal' | 'group'): string =>
    calm(parts.find((part) => part.type === type)?.value ?? '');
  return {
    number,
    decimal: mark('decimal'),
    thousands: mark('group'),
    date: date({ day: 'numeric', month: 'short', year: 'numeric' }),
    longDate: date({ day: 'numeric', month: 'long', year: 'numeric' }),
    monthYear: date({ month: 'long', year: 'numeric' }),
    month: date({ month: 'short' }),
  };
}

/** Digits and calendar that charts, sorting and a spreadsheet can read, whatever the language. */
const SAME_EVERYWHERE = { calendar: 'gregory', numberingSystem: 'latn' } as const;

function numberFormat(locale: string, places: number): Intl.NumberFormat {
  const { numberingSystem } = SAME_EVERYWHERE;
  return new Intl.NumberFormat(locale, {
    minimumFractionDigits: places,
    maximumFractionDigits: places,
    numberingSystem,
  });
}

/** Narrow blanks as no-break ones, which every font has; no marks that steer the direction; a minus, not a hyphen. */
function calm(text: string): string {
  return text
    .replace(/[\u202f\u2009]/g, '\u00a0')
    .replace(/[\u061c\u200e\u200f]/g, '')
    .replace(/^-/, '−');
}
