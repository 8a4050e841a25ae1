/** A CSV file as rows of cells, its columns found by name. */

import { InputError } from '../errors.js';
import { count } from '../numeric/words.js';
import { type CellReader, type Fault, fault } from './cell.js';
import { CSV_COLUMNS, type CsvFile, columnsOf, EXAMPLE_MARK, POSITIONS_FILE } from './columnNames.js';
import { type CsvText, eachRecord, firstRecord } from './csvRecords.js';
import { headerName, headerNames, headerWidth } from './headerNames.js';
import { restoredCell } from './neutralCell.js';
import { noRows } from './refusals.js';
import type { RowBook } from './rowBook.js';
import { plainCells } from './written/plainCells.js';
import { separatorOf } from './written/separator.js';
import { type FileFormat, SEPARATOR_WORDS, type Separator } from './written/types.js';

/** One row under the header. */
export interface CsvRow {
  readonly cells: readonly string[];
  /** Data row from 1; blank lines are counted here, so that the number leads to the row in the file. */
  readonly row: number;
}

export interface CsvTable {
  readonly file: CsvFile;
  readonly book: RowBook;
  /** Rows there are at most. */
  readonly mostRows: number;
  has(column: string): boolean;
  /** The text of a cell in plain form (dates YYYY-MM-DD, decimal point); empty where the file has no such column. */
  text(row: CsvRow, column: number): string;
  /** Place of a column for `text`, -1 where the file has none. */
  place(column: string): number;
  /** Calls back for every row with the right number of cells; the others are set aside here. */
  forEach(onRow: (row: CsvRow) => void): void;
}

const LEADING_BLANKS = /^(\s*(\r\n|\n|\r))+/;
/** Some spreadsheets write the separator in a line of its own above the header. */
const SEPARATOR_LINE = /^sep=.(\r\n|\n|\r)/i;

/** The plant's own ways with a file: its column names (in small letters) for ours, and what it says of the format. */
export interface FileWays {
  renamed: ReadonlyMap<string, string>;
  format: FileFormat;
}

/**
 * Opens a table. What stands between cells, before decimals and first in a date is found from the file unless the plant says it.
 * @throws InputError where the header is missing, lacks a needed column or has one twice; where dates or numbers can be read in two ways
 */
export function openTable(
  file: CsvFile,
  text: string,
  { renamed, format }: FileWays,
  book: RowBook,
): CsvTable {
  const body = text.replace(LEADING_BLANKS, '').replace(SEPARATOR_LINE, '');
  const separator = format.separator ?? separatorOf(body, (cell) => isKnown(file, cell, renamed));
  const header = headerOf(file, body, renamed, separator);
  const csv: CsvText = { file, text: body, separator, header };
  checkHeader(file, header);
  if (separator !== ',' && format.separator === undefined)
    book.mend(null, null, separator, foundSeparator(separator));
  askAboutColumns(file, header, book);
  askAboutRenames(renamed, header, book);
  const plain = plainCells(csv, format, book);
  return {
    file,
    book,
    mostRows: lineEnds(body) + 1,
    has: (column) => header.includes(column),
    text: ({ cells, row }, column) =>
      column < 0 ? '' : plain(restoredCell(cells[column] ?? ''), column, row),
    place: (column) => header.indexOf(column),
    forEach: (onRow) => {
      let row = -1;
      eachRecord(csv, (cells) => {
        row += 1;
        if (row > 0 && !isBlankLine(cells)) takeRow({ cells, row }, csv, book, onRow);
      });
      if (file === POSITIONS_FILE && book.count().rowsIn === 0) throw noRows(file);
    },
  };
}

function takeRow(
  row: CsvRow,
  { header, separator }: CsvText,
  book: RowBook,
  onRow: (row: CsvRow) => void,
): void {
  book.rowIn();
  const { cells } = row;
  const width = header.length;
  if (cells.every((cell) => cell.trim() === '')) {
    book.setAside(row.row, null, null, BLANK_ROW);
  } else if (cells[0]?.startsWith(EXAMPLE_MARK) === true) {
    book.setAside(row.row, null, cells[0], EXAMPLE_ROW);
  } else if (isTotals(cells)) {
    book.setAside(row.row, null, cells.join(separator), TOTALS_ROW);
  } else if (
    cells.length < width ||
    (cells.length > width && cells.slice(width).some((cell) => cell.trim() !== ''))
  ) {
    const text = `The row has ${count(cells.length, 'cell')} and the header ${width}.`;
    const todo = `Put cells that hold ${SEPARATOR_WORDS[separator]} into quotation marks, and give every row all its cells.`;
    book.setAside(row.row, null, cells.join(separator), fault('row-width', text, todo));
  } else onRow(row);
}

const BLANK_ROW = fault('row-blank', 'All cells of the row are empty.', 'Take the row out.');

const EXAMPLE_ROW = fault('row-of-examples', 'The row is the example of an empty folder.', 'Take it out.');

/** What stands first in the row under a table that sums it up, in some languages. */
const TOTALS =
  /^((grand|sub) ?)?(totals?|totale?n?|totaal|sum|summe|gesamt(summe)?|zwischensumme|somme|suma|razem|celkem|spolu|yhteensä|összesen|toplam|ukupno)( g[ée]n[ée]ral(e)?)?\s*:?$/i;

/** Whether a row sums up the rows above it. */
export function isTotals(cells: readonly string[]): boolean {
  const first = cells.find((cell) => cell.trim() !== '') ?? '';
  return TOTALS.test(first.trim());
}

const TOTALS_ROW = fault(
  'row-of-totals',
  'The row sums up the table and is no row of it.',
  'Nothing; or take the row out.',
);

function isBlankLine(cells: readonly string[]): boolean {
  return cells.length === 1 && (cells[0] ?? '').trim() === '';
}

/** Names of the columns as the documentation writes them. */
function headerOf(
  file: CsvFile,
  text: string,
  renamed: ReadonlyMap<string, string>,
  separator: Separator,
): string[] {
  const cells = firstRecord(file, text, separator);
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

/** Reads one column of a table, tallying what was tidied. */
export function columnOf<T>(
  table: CsvTable,
  column: string,
  read: CellReader<T>,
): (row: CsvRow) => ReturnType<CellReader<T>> {
  const place = table.place(column);
  return (row) => {
    const raw = table.text(row, place);
    const cell = read(raw);
    const { tidied = false } = cell;
    if (tidied !== false) table.book.tidy(row.row, column, raw, tidied === true ? undefined : tidied);
    return cell;
  };
}
