/** Where each table of a folder comes from: where site.json says, its own CSV file, or a sheet of a workbook. */
import { InputError } from '../errors.js';
import type { CodedTable } from './coded/types.js';
import { columnarName } from './columnar/columnarTables.js';
import {
  CSV_FILES,
  type CsvFile,
  type HistoryFile,
  missingNeeded,
  orOrders,
  tableName,
} from './columnNames.js';
import { type CsvTable, openTable, type TableSource } from './csvTable.js';
import { MOST_BYTES } from './csvText.js';
import { distinctPositions } from './distinctPositions.js';
import type { FolderBytes } from './folder.js';
import type { Mappings } from './mappings.js';
import { type RowBook, rowBook } from './rowBook.js';
import { type ByteSource, heldBytes } from './stream/byteSource.js';
import type { TablePlace } from './tablePlaces.js';
import {
  openWorkbooks,
  placedSheet,
  type SheetTable,
  sheetTable,
  WORKBOOK,
  type Workbook,
} from './workbook/sheetTables.js';
import { openWorkbook } from './workbook/workbook.js';
import type { FileFormat } from './written/types.js';

/** Opens a table with the plant's own words, telling its book where it comes from. */
export type TableOpener = (mappings: Mappings, book: RowBook) => CsvTable;

export interface TableTexts {
  tables: ReadonlyMap<CsvFile, TableOpener>;
  /** Workbooks from which nothing was read. */
  unread: string[];
}

/** The text of a table with how it is written. */
type Source = (mappings: Mappings, book: RowBook) => { text: TableSource; format: FileFormat };

interface Found {
  source: Source;
  workbook: string | null;
}

/**
 * @throws InputError where a needed table is in no file and on no sheet, naming the sheets there are; where site.json names a file that is
 * not there
 */
export function tableTexts(bytes: FolderBytes, mappings: Mappings, mostBytes = MOST_BYTES): TableTexts {
  const workbooks = openWorkbooks(bytes.files, Math.min(mostBytes, MOST_BYTES));
  const find = finder(bytes, workbooks, mappings, mostBytes);
  const tables = new Map<CsvFile, TableOpener>();
  const used = new Set<string>();
  for (const file of CSV_FILES) {
    const place = mappings.places.get(file);
    const from = place?.kind === 'from history' ? place.from : null;
    const found = find(from ?? file);
    if (found === null) continue;
    if (found.workbook !== null) used.add(found.workbook);
    tables.set(file, from === null ? opener(file, found.source) : positionsOf(from, found.source));
  }
  const missing = missingNeeded((file) => tables.has(file));
  if (missing !== null) throw missingTable(missing, workbooks);
  return { tables, unread: workbooks.map(({ file }) => file).filter((file) => !used.has(file)) };
}

function finder(
  folder: FolderBytes,
  workbooks: readonly Workbook[],
  mappings: Mappings,
  limit: number,
): (file: CsvFile) => Found | null {
  const { files, tables, large } = folder;
  return (file) => {
    const place = mappings.places.get(file);
    if (place?.kind === 'file') return foundAt(place, file, folder, workbooks, mappings, limit);
    const bytes = files.get(file) ?? large?.get(file);
    if (bytes !== undefined) return { source: fromFile(file, bytes, limit, null), workbook: null };
    const columns = tables?.get(columnarName(file, (name) => tables.has(name)) ?? '');
    if (columns !== undefined) return { source: fromColumns(file, columns), workbook: null };
    const sheet = sheetTable(file, workbooks, (name) => mappings.columns.get(name) ?? new Map());
    return sheet === null ? null : { source: fromSheet(file, sheet), workbook: sheet.workbook };
  };
}

function foundAt(
  place: TablePlace & { kind: 'file' },
  file: CsvFile,
  { files, tables, large }: FolderBytes,
  workbooks: readonly Workbook[],
  mappings: Mappings,
  limit: number,
): Found {
  const held = files.get(place.file);
  const bytes = held ?? large?.get(place.file);
  if (bytes === undefined) throw notThere(place.file, file);
  const columns = tables?.get(place.file);
  if (columns !== undefined) return { source: fromColumns(file, columns), workbook: null };
  if (held === undefined || !WORKBOOK.test(place.file))
    return { source: fromFile(file, bytes, limit, place.headerRow), workbook: null };
  const workbook = workbooks.find((book) => book.file === place.file) ?? {
    file: place.file,
    sheets: openWorkbook(place.file, held, Math.min(limit, MOST_BYTES)),
  };
  const sheet = placedSheet(workbook, place, file, mappings.columns.get(file) ?? new Map());
  return { source: fromSheet(file, sheet), workbook: place.file };
}

function opener(file: CsvFile, source: Source): TableOpener {
  return (mappings, book) => {
    const { text, format: found } = source(mappings, book);
    const format = { ...found, cleaning: mappings.cleaning };
    return openTable(file, text, { renamed: mappings.columns.get(file) ?? new Map(), format }, book);
  };
}

/** The positions of a table of the history; what is told of the file itself is told with the history. */
function positionsOf(from: HistoryFile, source: Source): TableOpener {
  return (mappings, book) => {
    const { text, format } = source(mappings, rowBook('positions.csv'));
    const units = { ...format.units, ...mappings.formats.get('positions.csv')?.units };
    const renamed = mappings.columns.get('positions.csv') ?? new Map();
    const aside = rowBook('positions.csv');
    const ways = { renamed, format: { ...format, units, cleaning: mappings.cleaning } };
    const rows = openTable('positions.csv', text, ways, aside);
    for (const problem of aside.problems()) {
      if (problem.code === 'column-mapping-unused') book.leaveOut(problem.column, problem.value, problem);
    }
    return distinctPositions(rows, book, mappings.aliases, from);
  };
}

function fromFile(
  file: CsvFile,
  bytes: Uint8Array | ByteSource,
  mostBytes: number,
  headerRow: number | null,
): Source {
  return (mappings) => {
    const format = mappings.formats.get(file) ?? {};
    const source = bytes instanceof Uint8Array ? heldBytes(bytes) : bytes;
    return { text: { kind: 'stored', source, encoding: format.encoding, headerRow, mostBytes }, format };
  };
}

/** Columns have no separator or encoding of their own, and their numbers a decimal point; what is text in them is written as the plant has it. */
function fromColumns(file: CsvFile, table: CodedTable): Source {
  const hasPoint = table.columns.some((column) => column.hasPoint);
  return (mappings) => ({
    text: table,
    format: { ...mappings.formats.get(file), separator: ',', ...(hasPoint && { decimal: '.' }) },
  });
}

/** A sheet has no separator, encoding or decimal mark of its own; dates written as texts and units are the plant's. */
function fromSheet(file: CsvFile, sheet: SheetTable): Source {
  return (mappings, book) => {
    sheet.tell(book);
    const { dates, units } = mappings.formats.get(file) ?? {};
    return {
      text: sheet.text,
      format: { separator: ',', decimal: '.', ...(dates && { dates }), ...(units && { units }) },
    };
  };
}

function notThere(name: string, file: CsvFile): InputError {
  return new InputError(
    `site.json says that the table is in ${name}, and the folder holds no such file.`,
    { file },
    'Put the file into the folder, or correct "files" in site.json.',
  );
}

function missingTable(file: CsvFile, workbooks: readonly Workbook[]): InputError {
  const name = tableName(file);
  const sheets = workbooks.flatMap(({ file: book, sheets: list }) =>
    list.map((sheet) => `${sheet.name} (${book})`),
  );
  const there = sheets.length === 0 ? '' : ` The sheets there are: ${sheets.slice(0, 10).join(', ')}.`;
  return new InputError(
    `The table is in no file and on no sheet of a workbook.${there}`,
    { file },
    `Save it as ${file} or ${name}.xlsx, or name its sheet "${name}", or let "weirwise map folder" find it.${orOrders(file)}`,
  );
}
