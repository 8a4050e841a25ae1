/** A CSV file as rows of cells, its columns found by name. */

import { InputError } from '../errors.js';
import { type Fault, fault } from './cell.js';
import { cellAt, eachCodedRow } from './coded/codedRows.js';
import type { CodedTable } from './coded/types.js';
import { CSV_COLUMNS, type CsvFile, columnsOf, HISTORY_FILES, POSITIONS_FILE } from './columnNames.js';
import { type CsvText, eachRecord, firstRecord, LEADING_BLANKS, SEPARATOR_LINE } from './csvRecords.js';
import { headerName, headerNames, headerWidth } from './headerNames.js';
import { restoredCell } from './neutralCell.js';
import { noRows } from './refusals.js';
import type { RowBook } from './rowBook.js';
import { HELD_BYTES } from './stream/byteSource.js';
import { codeCsv } from './stream/codeCsv.js';
import { type StoredText, storedText, wholeText } from './stream/storedText.js';
import { isBlankLine, isSpecialStart, takeRow } from './takeRow.js';
import { plainCells } from './written/plainCells.js';
import { separatorOf } from './written/separator.js';
import { type FileFormat, SEPARATOR_WORDS, type Separator } from './written/types.js';

/** One row under the header. */
export interface CsvRow {
  readonly cells: readonly string[];
  /** Data row from 1; blank lines are counted here, so that the number leads to the row in the file. */
  readonly row: number;
  /** Row from 0 in the coded columns of its table, where it is one of theirs. */
  readonly at?: number;
}

export interface CsvTable {
  readonly file: CsvFile;
  readonly book: RowBook;
  /** Rows there are at most. */
  readonly mostRows: number;
  has(column: string): boolean;
  /** The text of a cell in plain form (dates YYYY-MM-DD, decimal point); empty where the file has no such column. */
  text(row: CsvRow, column: number): string;
  /** The cells by column, where the table holds them so. */
  readonly coded: CodedTable | null;
  /** Whether nothing is told of a cell when its text is asked for. */
  isSilent(row: CsvRow, column: number): boolean;
  /** Place of a column for `text`, -1 where the file has none. */
  place(column: string): number;
  /**
   * Calls back for every row with the right number of cells; the others are set aside here. Who keeps no row beyond the call says so by
   * `passing`, and may be given the same object for all of them, which is faster.
   */
  forEach(onRow: (row: CsvRow) => void, passing?: boolean): void;
}

/** The plant's own ways with a file: its column names (in small letters) for ours, and what it says of the format. */
export interface FileWays {
  renamed: ReadonlyMap<string, string>;
  format: FileFormat;
}

/** What a table is opened from: its text, its text as it is stored, or its columns. */
export type TableSource = string | StoredText | CodedTable;

/**
 * Opens a table from a text, or from columns. What stands between cells, before decimals and first in a date is found from the file unless
 * the plant says it.
 * @throws InputError where the header is missing, lacks a needed column or has one twice; where dates or numbers can be read in two ways
 */
export function openTable(
  file: CsvFile,
  source: TableSource,
  { renamed, format }: FileWays,
  book: RowBook,
): CsvTable {
  const csv = csvOf(file, source, { renamed, format }, book);
  const { header, separator, coded } = csv;
  checkHeader(file, header);
  if (coded !== null) refuseColumns(file, header, coded);
  if (separator !== ',' && format.separator === undefined)
    book.mend(null, null, separator, foundSeparator(separator));
  askAboutColumns(file, header, book);
  askAboutRenames(renamed, header, book);
  const plain = plainCells(csv, format, book);
  const raw = (row: CsvRow, column: number): string => {
    const isCoded = coded !== null && row.at !== undefined;
    return restoredCell((isCoded ? cellAt(coded, row.at, column) : row.cells[column]) ?? '');
  };
  return {
    file,
    book,
    coded,
    mostRows: (coded === null ? lineEnds(csv.text) : coded.length) + 1,
    has: (column) => header.includes(column),
    text: (row, column) => (column < 0 ? '' : plain.text(raw(row, column), column, row.row)),
    isSilent: (row, column) => column < 0 || plain.isSilent(raw(row, column), column),
    place: (column) => header.indexOf(column),
    forEach: (onRow, passing = false) => {
      if (coded === null) eachTextRow(csv, book, onRow);
      else eachColumnRow(csv, coded, book, { onRow, passing });
      if (file === POSITIONS_FILE && book.count().rowsIn === 0) throw noRows(file);
    },
  };
}

function eachTextRow(csv: CsvText, book: RowBook, onRow: (row: CsvRow) => void): void {
  let row = -1;
  eachRecord(csv, (cells) => {
    row += 1;
    if (row > 0 && !isBlankLine(cells)) takeRow({ cells, row }, csv, book, onRow);
  });
}

function eachColumnRow(
  csv: CsvText,
  coded: CodedTable,
  book: RowBook,
  { onRow, passing }: { onRow: (row: CsvRow) => void; passing: boolean },
): void {
  const take = (row: CsvRow, isPlain: boolean): void => {
    if (isPlain) {
      book.rowIn();
      onRow(row);
    } else if (!isBlankLine(row.cells)) takeRow(row, csv, book, onRow);
  };
  eachCodedRow(coded, isSpecialStart, take, passing);
}

/** Tables of which a plant has the most rows, and whose columns hold few distinct texts. */
const CODED: readonly CsvFile[] = HISTORY_FILES;

function csvOf(file: CsvFile, source: TableSource, ways: FileWays, book: RowBook): CsvText {
  if (typeof source !== 'string' && !('kind' in source)) return csvOfColumns(file, source, ways.renamed);
  const isText = typeof source === 'string';
  const isCoded = CODED.includes(file) || (!isText && source.source.size > HELD_BYTES);
  const stored = isText && isCoded ? storedText(new TextEncoder().encode(source)) : source;
  const coded = isCoded && typeof stored !== 'string' ? csvOfStored(file, stored, ways, book) : null;
  return coded ?? csvOfText(file, isText ? source : wholeText(file, source, book), ways);
}

function csvOfStored(file: CsvFile, stored: StoredText, ways: FileWays, book: RowBook): CsvText | null {
  const { renamed, format } = ways;
  const coded = codeCsv(
    file,
    stored,
    {
      separator: format.separator,
      isKnown: (cell) => isKnown(file, cell, renamed),
      namesOf: (written) => namesOf(file, written, renamed),
    },
    book,
  );
  if (coded === null) return null;
  return { file, text: '', separator: coded.separator, header: coded.header, coded: coded.table };
}

function csvOfText(file: CsvFile, text: string, { renamed, format }: FileWays): CsvText {
  const body = text.replace(LEADING_BLANKS, '').replace(SEPARATOR_LINE, '');
  const separator = format.separator ?? separatorOf(body, (cell) => isKnown(file, cell, renamed));
  const header = namesOf(file, firstRecord(file, body, separator), renamed);
  return { file, text: body, separator, header, coded: null };
}

function csvOfColumns(file: CsvFile, table: CodedTable, renamed: ReadonlyMap<string, string>): CsvText {
  const header = namesOf(file, table.header, renamed);
  const coded = { ...table, columns: table.columns.slice(0, header.length) };
  return { file, text: '', separator: ',', header, coded };
}

/** @throws InputError where a column that is read holds what is no cell of a table */
function refuseColumns(file: CsvFile, header: readonly string[], { columns }: CodedTable): void {
  const known = columnsOf(file);
  columns.forEach(({ refused }, place) => {
    const column = header[place] ?? '';
    if (refused === undefined || !known.includes(column)) return;
    throw new InputError(
      refused,
      { file, column },
      'Write one plain value into each cell, or leave the column out.',
    );
  });
}

/** Names of the columns as the documentation writes them. */
function namesOf(file: CsvFile, cells: readonly string[], renamed: ReadonlyMap<string, string>): string[] {
  return headerNames(file, cells.slice(0, headerWidth(cells, renamed)), renamed);
}

function isKnown(file: CsvFile, cell: string, renamed: ReadonlyMap<string, string>): boolean {
  return columnsOf(file).includes(headerName(file, cell, renamed));
}

function lineEnds(text: string): number {
  let count = 0;
  for (let i = text.indexOf('\n'); i >= 0; i = text.indexOf('\n', i + 1)) count += 1;
  for (let i = text.indexOf('\r'); i >= 0; i = text.indexOf('\r', i + 1)) count += 1;
  return count;
}

function foundSeparator(separator: Separator): Fault {
  return fault(
    'written-as',
    `The cells are separated by ${SEPARATOR_WORDS[separator]}.`,
    'Nothing, if that is right; otherwise say in site.json under "formats" how the file is written.',
  );
}

function checkHeader(file: CsvFile, header: readonly string[]): void {
  const known = columnsOf(file);
  const twice = header.find((name, i) => known.includes(name) && header.indexOf(name) !== i);
  if (twice !== undefined) {
    throw new InputError(
      'The header has this column twice.',
      { file, column: twice },
      'Take one out or rename it.',
    );
  }
  const needed: readonly string[] = CSV_COLUMNS[file].needed;
  const missing = needed.find((name) => !header.includes(name));
  if (missing !== undefined) {
    throw new InputError(
      `The needed column is missing; the header has ${header.slice(0, 20).join(', ')}.`,
      { file, column: missing },
      'Add the column, or say in site.json under "columns" which one it is.',
    );
  }
}

function askAboutColumns(file: CsvFile, header: readonly string[], book: RowBook): void {
  const known: readonly string[] = columnsOf(file);
  for (const name of header) {
    if (!known.includes(name) && name !== '') book.leaveOut(name, null, UNKNOWN_COLUMN);
  }
}

const UNKNOWN_COLUMN = fault(
  'column-unknown',
  'The column is not one that is read.',
  'Nothing, if it is not needed; otherwise say in site.json under "columns" which column it is.',
);

function askAboutRenames(
  renamed: ReadonlyMap<string, string>,
  header: readonly string[],
  book: RowBook,
): void {
  for (const [theirs, ours] of renamed) {
    if (ours !== '' && !header.includes(ours)) book.leaveOut(ours, theirs, UNUSED_RENAME);
  }
}

const UNUSED_RENAME = fault(
  'column-mapping-unused',
  'site.json says under "columns" which column this is, but the file has none of that name.',
  'Correct the name in site.json.',
);
