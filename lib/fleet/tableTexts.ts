/** Where each table of a folder comes from: where site.json says, its own CSV file, or a sheet of a workbook. */
import { InputError } from '../errors.js';
import { fault } from './cell.js';
import type { CodedTable } from './coded/types.js';
import { columnarName } from './columnar/columnarTables.js';
import { CSV_FILES, type CsvFile, missingNeeded, orOrders, tableName } from './columnNames.js';
import { type ColumnWords, columnWordsOver, NO_COLUMN_WORDS } from './columnWords.js';
import { MOST_BYTES } from './csvText.js';
import type { FolderBytes } from './folder.js';
import { columnWordsOf, type Mappings } from './mappings.js';
import { type ByteSource, heldBytes } from './stream/byteSource.js';
import { type Found, opensPositions, opensTable, type Source, type TableOpener } from './tableOpeners.js';
import type { FilePlace } from './tablePlaces.js';
import {
  openWorkbooks,
  placedSheet,
  type SheetTable,
  sheetTable,
  WORKBOOK,
  type Workbook,
} from './workbook/sheetTables.js';
import { openWorkbook } from './workbook/workbook.js';

export interface TableTexts {
  tables: ReadonlyMap<CsvFile, TableOpener>;
  /** Workbooks from which nothing was read. */
  unread: string[];
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
    for (const { workbook } of found) if (workbook !== null) used.add(workbook);
    tables.set(file, from === null ? opensTable(file, found) : opensPositions(from, found));
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
    const words = columnWordsOf(mappings, file);
    const at = (one: FilePlace, own: ColumnWords) =>
      foundAt(one, file, folder, workbooks, headerWords(columnWordsOver(own, words)), limit);
    if (place?.kind === 'file') return [{ ...ONLY, ...at(place, NO_COLUMN_WORDS) }];
    if (place?.kind === 'files')
      return place.parts.map((part) => ({ ...at(part, part.columns), ...part, name: partName(part) }));
    const bytes = files.get(file) ?? large?.get(file);
    if (bytes !== undefined) return [{ ...ONLY, source: fromFile(bytes, limit, null) }];
    const columns = tables?.get(columnarName(file, (name) => tables.has(name)) ?? '');
    if (columns !== undefined) return [{ ...ONLY, source: fromColumns(columns) }];
    const sheet = sheetTable(file, workbooks, (name) => headerWords(columnWordsOf(mappings, name)));
    return sheet === null ? null : [{ ...ONLY, source: fromSheet(sheet), workbook: sheet.workbook }];
  };
}

const ONLY = { name: null, columns: NO_COLUMN_WORDS, format: {}, workbook: null } as const;

function partName({ file, sheet }: FilePlace): string {
  return sheet === null ? file : `${file}, ${sheet}`;
}

/** Names by which a header is known; a column that stands for several by the first of them. */
function headerWords({ renamed, joint }: ColumnWords): ReadonlyMap<string, string> {
  return new Map([...[...joint].map(([theirs, ours]) => [theirs, ours[0] ?? ''] as const), ...renamed]);
}

function foundAt(
  place: FilePlace,
  file: CsvFile,
  { files, tables, large }: FolderBytes,
  workbooks: readonly Workbook[],
  names: ReadonlyMap<string, string>,
  limit: number,
): { source: Source; workbook: string | null } {
  const held = files.get(place.file);
  const bytes = held ?? large?.get(place.file);
  if (bytes === undefined) throw notThere(place.file, file);
  const columns = tables?.get(place.file);
  if (columns !== undefined)
    return { source: telling(place, ['sheet', 'header_row'], fromColumns(columns)), workbook: null };
  if (held === undefined || !WORKBOOK.test(place.file))
    return {
      source: telling(place, ['sheet'], fromFile(bytes, limit, place.headerRow)),
      workbook: null,
    };
  const workbook = workbooks.find((book) => book.file === place.file) ?? {
    file: place.file,
    sheets: openWorkbook(place.file, held, Math.min(limit, MOST_BYTES)),
  };
  const sheet = placedSheet(workbook, place, file, names);
  return { source: fromSheet(sheet), workbook: place.file };
}

/** Tells what site.json says of the place of a table and a file of its kind does not have. */
function telling(place: FilePlace, without: readonly ('sheet' | 'header_row')[], source: Source): Source {
  const given = { sheet: place.sheet, header_row: place.headerRow };
  const left = without.filter((name) => given[name] !== null);
  return (format, book) => {
    for (const name of left) book.leaveOut(null, `${name} ${given[name]}`, notInSuchFiles(name, place.file));
    return source(format, book);
  };
}

function notInSuchFiles(name: 'sheet' | 'header_row', file: string) {
  const has = name === 'sheet' ? 'has no sheets' : 'has the names of its columns in a place of their own';
  return fault(
    'place-ignored',
    `site.json names a "${name}" for ${file}, and a file of this kind ${has}; it is not looked at.`,
    `Take "${name}" out of "files", or look whether another file is meant.`,
  );
}

function fromFile(bytes: Uint8Array | ByteSource, mostBytes: number, headerRow: number | null): Source {
  return (format) => {
    const source = bytes instanceof Uint8Array ? heldBytes(bytes) : bytes;
    return { text: { kind: 'stored', source, encoding: format.encoding, headerRow, mostBytes }, format };
  };
}

/** Columns have no separator or encoding of their own, and their numbers a decimal point; what is text in them is written as the plant has it. */
function fromColumns(table: CodedTable): Source {
  const hasPoint = table.columns.some((column) => column.hasPoint);
  return (format) => ({
    text: table,
    format: { ...format, separator: ',', ...(hasPoint && { decimal: '.' }) },
  });
}

/** A sheet has no separator, encoding or decimal mark of its own; dates written as texts and units are the plant's. */
function fromSheet(sheet: SheetTable): Source {
  return ({ dates, units }, book) => {
    sheet.tell(book);
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
