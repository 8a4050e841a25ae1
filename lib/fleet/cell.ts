/** One cell of a file as a value, or what is wrong with it. Nothing is guessed: a fault never comes with a value. */
import { type Day, dayFromText } from '../numeric/day.js';

import type { Tidied } from './rowBook.js';

/** What is wrong with a cell, in a sentence, and what to do. */
export interface Fault {
  code: string;
  text: string;
  todo: string;
}

/** An empty cell has neither value nor fault. */
export interface Cell<T> {
  value: T | null;
  fault: Fault | null;
  /** The text was used after spaces, capitals or spelling were evened out. */
  tidied?: boolean | Tidied;
}

export type CellReader<T> = (raw: string) => Cell<T>;

const EMPTY: Cell<never> = { value: null, fault: null };
/** Numbers beyond this are taken to be mistyped, whatever they count. */
const MOST = 1e12;
/** Dates before this year are taken to be mistyped. */
const FIRST_YEAR = 1950;
const NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;

/** A date as YYYY-MM-DD. */
export function dateCell(raw: string): Cell<Day> {
  const text = raw.trim();
  if (text === '') return EMPTY;
  const day = dayFromText(text);
  if (day === null) return { value: null, fault: dateFault(text) };
  if (Number(text.slice(0, 4)) < FIRST_YEAR) {
    return failed(
      'date-implausible',
      `The year is before ${FIRST_YEAR}, which looks mistyped.`,
      'Correct the year.',
    );
  }
  return { value: day, fault: null, tidied: text !== raw };
}

function dateFault(text: string): Fault {
  if (/^\d{4}-\d{2}-\d{2}$/.test(text)) {
    return fault('date-does-not-exist', 'There is no such day.', 'Correct the date.');
  }
  if (/^\d{1,2}[./-]\d{1,2}[./-]\d{2,4}$/.test(text)) {
    return fault(
      'date-format',
      'The date is not written as YYYY-MM-DD; whether day or month comes first is not guessed.',
      'Write dates as YYYY-MM-DD, for example 2024-03-31.',
    );
  }
  const what = /^\d{4}-\d{2}-\d{2}[T ]/.test(text)
    ? 'The date carries a time of day; a date alone is needed.'
    : 'The date is not written as YYYY-MM-DD.';
  return fault('date-format', what, 'Write dates as YYYY-MM-DD, for example 2024-03-31.');
}

/** Which numbers a column takes. */
export interface NumberRule {
  /** Smallest allowed; with `above`, the number must be larger than it. */
  least?: number;
  above?: boolean;
  /** Largest that can be meant; 1e12 by default. */
  most?: number;
  whole?: boolean;
}

/** A plain number with a decimal point. */
export function numberCell(rule: NumberRule = {}): CellReader<number> {
  return (raw) => {
    const text = raw.trim();
    if (text === '') return EMPTY;
    if (!NUMBER.test(text)) return { value: null, fault: numberFault(text) };
    const value = Number(text);
    const broken = ruleFault(value, rule);
    return broken === null ? { value, fault: null, tidied: text !== raw } : { value: null, fault: broken };
  };
}

function numberFault(text: string): Fault {
  if (/^[+-]?\d{1,3}[.,]\d{3}$/.test(text)) {
    return fault(
      'number-format',
      'A number with a comma or with marks between thousands can be read in two ways and is not guessed.',
      'Write numbers with a decimal point and without marks between thousands, for example 1234.5.',
    );
  }
  if (/^[+-]?\d[\d.,'’\s]*$/.test(text)) {
    return fault(
      'number-format',
      'The marks in this number do not fit the way in which the numbers of the file are written, and are not guessed.',
      'Write numbers with a decimal point and without marks between thousands, for example 1234.5.',
    );
  }
  if (/\d/.test(text)) {
    return fault(
      'number-with-unit',
      'This is not a number alone.',
      'Write the number alone, without unit or other text, for example 25.',
    );
  }
  return fault('not-a-number', 'This is not a number.', 'Write a number, or leave the cell empty.');
}

function ruleFault(value: number, { least, above, most = MOST, whole }: NumberRule): Fault | null {
  if (Math.abs(value) > most) {
    return fault(
      'number-too-large',
      `The number is too large to be meant; at most ${most} is read.`,
      'Correct it.',
    );
  }
  if (least !== undefined && (value < least || (above === true && value === least))) {
    const code = value < 0 ? 'number-negative' : value === 0 ? 'number-zero' : 'number-too-small';
    const need = above === true ? `above ${least}` : `${least} or more`;
    return fault(
      code,
      `The number must be ${need}.`,
      'Correct it, or leave the cell empty if it is not known.',
    );
  }
  if (whole === true && !Number.isInteger(value)) {
    return fault('number-not-whole', 'The number must be whole.', 'Write a whole number.');
  }
  return null;
}

/** Text as it stands: spaces at the ends and repeated spaces inside are evened out, nothing else. */
export function textCell(raw: string): Cell<string> {
  const text = tidyText(raw);
  return text === '' ? EMPTY : { value: text, fault: null, tidied: text !== raw };
}

/** One spelling of a text: no spaces at the ends, single ones inside, composed letters. */
export function tidyText(raw: string): string {
  return raw.normalize('NFC').replace(/\s+/g, ' ').trim();
}

/** A word from a list; `mapped` turns the plant's own words (in small letters) into those of the list. */
export function wordCell<T extends string>(
  words: readonly T[],
  mapped: ReadonlyMap<string, string> = new Map(),
): CellReader<T> {
  return (raw) => {
    const text = tidyText(raw);
    if (text === '') return EMPTY;
    const plain = (mapped.get(text.toLowerCase()) ?? text).toLowerCase();
    const word = words.find((known) => known === plain || known === plain.replace(/[ -]/g, '_'));
    if (word !== undefined) return { value: word, fault: null, tidied: word !== raw };
    return failed(
      'word-unknown',
      `The word is not one of ${words.join(', ')}.`,
      'Use one of these words, or say in site.json under "values" which one is meant.',
    );
  };
}

/** The same reader, remembering what it read: columns hold few distinct texts. */
export function remembered<T>(read: CellReader<T>): CellReader<T> {
  const known = new Map<string, Cell<T>>();
  return (raw) => {
    if (raw === '') return EMPTY;
    const before = known.get(raw);
    if (before !== undefined) return before;
    const cell = read(raw);
    known.set(raw, cell);
    return cell;
  };
}

export function fault(code: string, text: string, todo: string): Fault {
  return { code, text, todo };
}

function failed(code: string, text: string, todo: string): Cell<never> {
  return { value: null, fault: fault(code, text, todo) };
}
