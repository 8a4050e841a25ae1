/** Which sheet of which workbook holds which table of the folder, as texts that read like the CSV file of that name. */
import { InputError } from '../../errors.js';
import { fault } from '../cell.js';
import { CSV_COLUMNS, CSV_FILES, type CsvFile, SITE_FILE, tableName } from '../columnNames.js';
import { csvQuoted } from '../csvQuoted.js';
import { headerNames } from '../headerNames.js';
import type { RowBook } from '../rowBook.js';
import { openWorkbook, type Sheet } from './workbook.js';

export interface SheetTable {
  workbook: string;
  sheet: string;
  /** The cells as CSV (RFC 4180), the header first. */
  text: string;
  tell(book: RowBook): void;
}

export interface Workbook {
  file: string;
  sheets: Sheet[];
}

/** Names of columns that the plant gives, in small letters, by file. */
export type Renamed = (file: CsvFile) => ReadonlyMap<string, string>;

export const WORKBOOK = /\.xls[xm]$/i;

/**
 * The workbooks among the files; one that cannot be opened is left out unless it has the name of a table.
 * @throws InputError for a workbook with the name of a table that cannot be opened
 */
export function openWorkbooks(files: ReadonlyMap<string, Uint8Array>, mostBytes: number): Workbook[] {
  return [...files]
    .filter(([name]) => WORKBOOK.test(name))
    .flatMap(([file, bytes]) => {
      try {
        return [{ file, sheets: openWorkbook(file, bytes, mostBytes) }];
      } catch (cause) {
        if (CSV_FILES.some((table) => plainName(tableName(table)) === baseOf(file))) throw cause;
        return [];
      }
    });
}

function baseOf(workbook: string): string {
  return plainName(workbook.replace(WORKBOOK, ''));
}

/**
 * The table of a file from the workbooks: from the workbook of its name (lives.xlsx), the sheet of its name or the first whose
 * header fits; from any other, the sheet of its name. Null where there is none.
 */
export function sheetTable(
  file: CsvFile,
  workbooks: readonly Workbook[],
  renamed: Renamed,
): SheetTable | null {
  const base = plainName(tableName(file));
  const own = workbooks.find((book) => baseOf(book.file) === base);
  const theirs = renamed(file);
  if (own !== undefined) {
    const named = own.sheets.filter(({ name }) => plainName(name) === base);
    for (const sheet of [...named, ...own.sheets]) {
      const found = tableOf(own.file, sheet, file, theirs);
      if (found !== null) return found;
    }
    const first = named[0] ?? own.sheets[0];
    return first === undefined ? null : asItStands(own.file, first);
  }
  for (const { file: workbook, sheets } of workbooks) {
    const sheet = sheets.find(({ name }) => plainName(name) === base);
    if (sheet !== undefined) return tableOf(workbook, sheet, file, theirs) ?? asItStands(workbook, sheet);
  }
  return null;
}

/**
 * The table on the sheet that site.json names, or on the first that fits where it names none; its header in the row from 1 that it
 * names, or in the first that fits.
 * @throws InputError where there is no such sheet or row, naming the sheets there are
 */
export function placedSheet(
  { file: workbook, sheets }: Workbook,
  place: { sheet: string | null; headerRow: number | null },
  file: CsvFile,
  renamed: ReadonlyMap<string, string>,
): SheetTable {
  const wanted = place.sheet;
  const fitting =
    wanted === null
      ? sheets
      : [
          ...sheets.filter(({ name }) => name === wanted),
          ...sheets.filter(({ name }) => plainName(name) === plainName(wanted)),
        ].slice(0, 1);
  const first = fitting[0];
  if (first === undefined) throw noSheet(workbook, sheets, file, wanted);
  const { headerRow } = place;
  if (headerRow === null) {
    for (const sheet of fitting) {
      const found = tableOf(workbook, sheet, file, renamed);
      if (found !== null) return found;
    }
    return asItStands(workbook, first);
  }
  const { rows, filled } = first.grid();
  if (headerRow > rows.length) throw noRow(workbook, file, headerRow, rows.length);
  return textTable(workbook, first.name, rows, headerRow - 1, filled);
}

function noSheet(
  workbook: string,
  sheets: readonly Sheet[],
  file: CsvFile,
  wanted: string | null,
): InputError {
  const there = sheets
    .slice(0, 10)
    .map(({ name }) => `"${name}"`)
    .join(', ');
  return new InputError(
    `${workbook} has no sheet "${wanted ?? ''}"; it has ${there === '' ? 'none' : there}.`,
    { file: SITE_FILE, column: `files.${file}` },
    'Name the sheet as it stands on its tab.',
  );
}

function noRow(workbook: string, file: CsvFile, headerRow: number, rows: number): InputError {
  return new InputError(
    `${workbook} has ${rows} rows, and its header should be in row ${headerRow}.`,
    { file: SITE_FILE, column: `files.${file}` },
    'Give the row of the header, the first row of the sheet being 1.',
  );
}

function plainName(name: string): string {
  return name
    .trim()
    .toLowerCase()
    .replace(/[\s-]+/g, '_');
}

/** Rows of a sheet that are looked through for the header: titles, dates and logos stand above it. */
const HEADER_WITHIN = 40;

function tableOf(
  workbook: string,
  sheet: Sheet,
  file: CsvFile,
  renamed: ReadonlyMap<string, string>,
): SheetTable | null {
  const { rows, filled } = sheet.grid();
  const needed: readonly string[] = CSV_COLUMNS[file].needed;
  const header = rows.slice(0, HEADER_WITHIN).findIndex((cells) => {
    const names = new Set(headerNames(file, cells, renamed));
    return needed.every((name) => names.has(name));
  });
  return header < 0 ? null : textTable(workbook, sheet.name, rows, header, filled);
}

/** A sheet without a header that fits: read from its first row, so that what is missing is said in the usual way. */
function asItStands(workbook: string, sheet: Sheet): SheetTable {
  const { rows, filled } = sheet.grid();
  return textTable(
    workbook,
    sheet.name,
    rows,
    Math.max(
      0,
      rows.findIndex((cells) => cells.length > 0),
    ),
    filled,
  );
}

function textTable(
  workbook: string,
  sheet: string,
  rows: readonly string[][],
  header: number,
  filled: number,
): SheetTable {
  const width = rows[header]?.length ?? 0;
  const lines = rows.slice(header).map((cells) => lineOf(cells, Math.max(width, cells.length)));
  return {
    workbook,
    sheet,
    text: `${lines.join('\n')}\n`,
    tell: (book) => {
      book.mend(null, null, `${workbook}, ${sheet}`, readFrom(workbook, sheet, header));
      if (filled > 0) book.mend(null, null, `${workbook}, ${sheet}`, merged(filled));
    },
  };
}

function lineOf(cells: readonly string[], width: number): string {
  return Array.from({ length: width }, (_, i) => csvQuoted(cells[i] ?? '')).join(',');
}

function readFrom(workbook: string, sheet: string, header: number) {
  return fault(
    'read-from-workbook',
    `The table is read from the sheet "${sheet}" of ${workbook}; its header is row ${header + 1}, and row 1 of the data is row ${header + 2} of the sheet.`,
    'Nothing, if that is the right sheet; otherwise name the right sheet as the table.',
  );
}

function merged(filled: number) {
  return fault(
    'merged-cells',
    `${filled === 1 ? '1 cell takes its' : `${filled} cells take their`} text from the cell above, with which they are merged.`,
    'Nothing, if the merged cell holds for all its rows.',
  );
}
