/**
 * Cells of a table in the plain form that the readers take: dates as YYYY-MM-DD, numbers with a decimal point. A file written so from the
 * start is not looked at twice; any other is, once, so that its style is found from all rows and never from one cell.
 */

import { localDate } from '../../numeric/localWords.js';
import { type Fault, fault } from '../cell.js';
import { ALL_ON, type CleaningName, isOn } from '../cleaning/rules.js';
import { someText } from '../coded/codedRows.js';
import { type CsvText, eachRecord } from '../csvRecords.js';
import type { RowBook, Tidied } from '../rowBook.js';
import { columnKind } from './columnKinds.js';
import { datePartsOf, hasShortYear, hasTime, isoInOrder } from './dates.js';
import { noEvidence, seeDate, seeNumber } from './evidence.js';
import { type FileStyle, fileStyle } from './fileStyle.js';
import { plainNumber } from './numbers.js';
import {
  BLANK_WORD,
  isBlankAmount,
  isBlankWord,
  isPlaceholder,
  PLACEHOLDER,
  SHORT_YEAR,
  SIZE_WORDS,
  TIME_LEFT_OUT,
  UNIT_TURNED,
} from './tidied.js';
import type { FileFormat } from './types.js';
import { dnOfInches, inColumnUnit, sizeFromWords } from './units.js';

export interface PlainCells {
  /** The plain text of a cell by the place of its column; notes in the book what was put right. */
  text(raw: string, place: number, row: number): string;
  /** Whether nothing is noted for a cell. */
  isSilent(raw: string, place: number): boolean;
}

/** What becomes of a text of a column; null where it stays as it is. A note is told once for the column, a fault cell by cell. */
type Converter = (raw: string) => { text: string; note: Tidied | Fault | null } | null;

interface StyleFinder {
  /** The style, found from all rows at the first call. */
  find(): FileStyle;
  /** Whether numbers have a decimal comma, as far as the file was looked through. */
  hasCommas(): boolean;
}

/**
 * @throws InputError, here or when a cell is asked for, where the style of the file cannot be told (`fileStyle`)
 */
export function plainCells(csv: CsvText, format: FileFormat, book: RowBook): PlainCells {
  const style = styleFinder(csv, format, book);
  const noted = new Int32Array(csv.header.length);
  const columns = csv.header.map((column) => converterOf(column, format, style));
  // Only here may a text that looks plain ('1.375') mean something else.
  if (csv.separator !== ',' || format.decimal === ',' || hasCommaInside(csv)) style.find();
  const plainOf = (raw: string, place: number): ReturnType<Converter> =>
    raw === '' ? null : (columns[place]?.(raw) ?? null);
  return {
    isSilent: (raw, place) => (plainOf(raw, place)?.note ?? null) === null,
    text: (raw, place, row) => {
      const plain = plainOf(raw, place);
      if (plain === null) return raw;
      if (plain.note !== null && noted[place] !== row) {
        // A cell may be asked for again, to be shown beside a fault.
        noted[place] = row;
        const column = csv.header[place] ?? '';
        if ('says' in plain.note) book.tidy(row, column, raw, plain.note);
        else book.mend(row, column, raw, plain.note);
      }
      return plain.text;
    },
  };
}

/** Whether a cell of a table with commas between its cells holds a comma between digits. */
function hasCommaInside({ text, coded }: CsvText): boolean {
  return coded === null ? /"[^"\n]*\d,\d/.test(text) : someText(coded, /\d,\d/);
}

function styleFinder(csv: CsvText, format: FileFormat, book: RowBook): StyleFinder {
  let found: FileStyle | null = null;
  return {
    find: () => {
      if (found !== null) return found;
      found = fileStyle(csv.file, evidenceOf(csv), format, csv.separator);
      for (const { column, text, value } of found.told) {
        book.mend(null, column, value, {
          code: 'written-as',
          text,
          todo: 'Nothing, if that is right; otherwise say in site.json under "formats" how the file is written.',
        });
      }
      return found;
    },
    hasCommas: () => found?.decimal === ',',
  };
}

/** What the dates and numbers of all rows say. */
function evidenceOf(csv: CsvText) {
  const evidence = noEvidence();
  const places = csv.header.map((column, place) => ({ column, place, kind: columnKind(column) }));
  const looked = places.filter(({ kind }) => kind !== 'words');
  let row = -1;
  eachRecord(csv, (cells) => {
    row += 1;
    if (row === 0) return;
    for (const { column, place, kind } of looked) {
      const text = cells[place] ?? '';
      if (text === '') continue;
      if (kind === 'number') seeNumber(evidence, text, column, row);
      else for (const date of kind === 'date' ? [text] : datesOf(text)) seeDate(evidence, date, column, row);
    }
  });
  return evidence;
}

function converterOf(column: string, format: FileFormat, style: StyleFinder): Converter | undefined {
  const kind = columnKind(column);
  const on = (rule: CleaningName): boolean => isOn(format.cleaning ?? ALL_ON, rule);
  if (kind === 'date') {
    const later = cached((raw) => plainDate(raw, column, style, on));
    return (raw) => (isPlainDate(raw) ? null : later(raw));
  }
  if (kind === 'periods') return cached((raw) => plainPeriods(raw, column, style, on));
  if (kind === 'number') {
    const unit = format.units?.[column];
    const later = cached((raw) => plainAmount(raw, column, unit, style, on));
    return (raw) => (unit === undefined && !style.hasCommas() && PLAIN_NUMBER.test(raw) ? null : later(raw));
  }
  return MAY_BE_BLANK.includes(column) && on('blank_words')
    ? (raw) => (isBlankWord(raw) ? { text: '', note: BLANK_WORD } : null)
    : undefined;
}

const PLAIN_NUMBER = /^\d+(\.\d+)?$/;
/** Words that a dash can stand for; a tag, a line or a part number may be any text. */
const MAY_BE_BLANK = [
  'reason',
  'finding',
  'lot',
  'fitted_by',
  'done_by',
  'order',
  'criticality',
  'material_next',
];

/** Columns hold few distinct texts. */
function cached(convert: Converter): Converter {
  const known = new Map<string, ReturnType<Converter>>();
  return (raw) => {
    const before = known.get(raw);
    if (before !== undefined) return before;
    const plain = convert(raw);
    known.set(raw, plain);
    return plain;
  };
}

/** A date of 2000 to 2099 in plain form, told without a parser; whether there is such a day is asked later. */
function isPlainDate(raw: string): boolean {
  return raw.length === 10 && raw.startsWith('20') && raw[4] === '-' && raw[7] === '-';
}

type On = (rule: CleaningName) => boolean;

function plainDate(raw: string, column: string, style: StyleFinder, on: On): ReturnType<Converter> {
  const text = raw.trim();
  if (isBlankAmount(text)) return on('blank_words') ? { text: '', note: BLANK_WORD } : null;
  if (isPlaceholder(text)) return on('placeholder_dates') ? { text: '', note: PLACEHOLDER } : null;
  const parts = datePartsOf(text);
  const short = hasShortYear(text);
  if (parts === null || (short && !on('two_digit_years'))) return null;
  if (parts.kind === 'certain' && parts.iso === text) return null;
  const found = parts.kind === 'certain' ? CERTAIN : style.find().order.get(column);
  if (found === undefined) return null;
  const iso = isoInOrder(parts, found.order);
  if (isPlaceholder(iso) && on('placeholder_dates')) return { text: '', note: PLACEHOLDER };
  if (found.mixed) return { text: iso, note: unlikeOthers(iso) };
  if (short) return { text: iso, note: SHORT_YEAR };
  return { text: iso, note: hasTime(text) ? TIME_LEFT_OUT : null };
}

const CERTAIN = { order: 'year first', mixed: false } as const;

function unlikeOthers(iso: string): Fault {
  return fault(
    'date-format',
    `The date is not written as most of the column; it is read as ${localDate(iso)}, in the order that the others of its kind have.`,
    'Write dates as YYYY-MM-DD, for example 2024-03-31.',
  );
}

/** Dates of `start..end|start..end`. */
function datesOf(text: string): string[] {
  return text.split(/\||\.\./);
}

function plainPeriods(raw: string, column: string, style: StyleFinder, on: On): ReturnType<Converter> {
  if (isBlankAmount(raw) && on('blank_words')) return { text: '', note: BLANK_WORD };
  const text = raw.replace(/[^|]+/g, (period) =>
    period
      .split('..')
      .map((date) => plainDate(date, column, style, on)?.text ?? date)
      .join('..'),
  );
  return text === raw ? null : { text, note: null };
}

function plainAmount(
  raw: string,
  column: string,
  unit: string | undefined,
  style: StyleFinder,
  on: On,
): ReturnType<Converter> {
  const text = raw.trim();
  if (isBlankAmount(text) && on('blank_words')) return { text: '', note: BLANK_WORD };
  const { decimal } = style.find();
  if (column === 'size') {
    const size = unit === 'inch' ? dnOfInches(text, decimal ?? '.') : sizeFromWords(text, decimal ?? '.');
    if (size !== null) return { text: size, note: SIZE_WORDS };
  }
  const plain = plainNumber(text, decimal);
  if (plain === null) return null;
  const turned = unit === undefined ? null : inColumnUnit(column, unit, Number(plain));
  if (turned !== null) return { text: String(turned), note: UNIT_TURNED };
  return plain === text ? null : { text: plain, note: null };
}
