/** What is put right in cells without a fault, said once for each column. */
import type { Tidied } from '../rowBook.js';

const NOTHING = 'Nothing, if that is what they mean.';

export const BLANK_WORD: Tidied = {
  code: 'blank-word',
  says: (cells) => `${cells} read as empty: a dash or a word such as n/a stands for "not known".`,
  todo: NOTHING,
};

export const PLACEHOLDER: Tidied = {
  code: 'date-placeholder',
  says: (cells) => `${cells} read as empty: the date is one that programs write where there is none.`,
  todo: 'Leave the cell empty where there is no date; give the right one where there is.',
};

export const SHORT_YEAR: Tidied = {
  code: 'year-of-two-digits',
  says: (cells) => `${cells} read with a year of two digits as one of 1950 to 2049.`,
  todo: 'Nothing, if that is right; years of four digits leave no doubt.',
};

export const TIME_LEFT_OUT: Tidied = {
  code: 'time-left-out',
  says: (cells) =>
    `${cells} read without the time of day; the day is taken as written, whatever the time zone.`,
  todo: 'Nothing, if the days are those of the plant.',
};

export const SIZE_WORDS: Tidied = {
  code: 'size-in-words',
  says: (cells) => `${cells} read as a nominal size DN; an inch size is that of the pipe (1 inch is DN 25).`,
  todo: NOTHING,
};

export const UNIT_TURNED: Tidied = {
  code: 'unit-turned',
  says: (cells) => `${cells} turned from the unit that site.json names into that of the documentation.`,
  todo: NOTHING,
};

const BLANK = /^(?:[-–—_.?]+|n\.?\/?a\.?|null|nil|#n\/a)$/i;
const BLANK_AMOUNT = /^(?:none|unknown|tbd|nan|nat)$/i;

/** Whether a text stands for "not known". */
export function isBlankWord(text: string): boolean {
  return BLANK.test(text.trim());
}

/** The same of a date or number, where words such as 'unknown' can be nothing else. */
export function isBlankAmount(text: string): boolean {
  return isBlankWord(text) || BLANK_AMOUNT.test(text.trim());
}

/** First and last days of calendars and of file systems, which stand for no day at all. */
const PLACEHOLDERS = new Set([
  ...[
    '0000-00-00',
    '0001-01-01',
    '1601-01-01',
    '1753-01-01',
    '1899-12-30',
    '1899-12-31',
    '1900-01-01',
    '1970-01-01',
  ],
  ...['2999-12-31', '3000-01-01', '3000-12-31', '9999-01-01', '9999-12-30', '9999-12-31'],
]);

export function isPlaceholder(iso: string): boolean {
  return PLACEHOLDERS.has(iso);
}
