/** Where each table of a folder comes from: its own CSV file, or a sheet of a workbook. */
import { InputError } from '../errors.js';
import { CSV_FILES, type CsvFile, missingNeeded, orOrders, tableName } from './columnNames.js';
import { type CsvTable, openTable } from './csvTable.js';
import { MOST_BYTES, textOf } from './csvText.js';
import type { FolderBytes } from './folder.js';
import type { Mappings } from './mappings.js';
import type { RowBook } from './rowBook.js';
import { openWorkbooks, type SheetTable, sheetTable, type Workbook } from './workbook/sheetTables.js';

/** Opens a table with the plant's own words, telling its book where it comes from. */
export type TableOpener = (mappings: Mappings, book: RowBook) => CsvTable;

export interface TableTexts {
  tables: ReadonlyMap<CsvFile, TableOpener>;
  /** Workbooks from which nothing was read. */
  unread: string[];
}

/**
 * @throws InputError where a needed table is in no file and on no sheet, naming the sheets there are
 */
export function tableTexts({ files }: FolderBytes, mappings: Mappings, mostBytes = MOST_BYTES): TableTexts {
  const limit = Math.min(mostBytes, MOST_BYTES);
  const workbooks = openWorkbooks(files, limit);
  const tables = new Map<CsvFile, TableOpener>();
  const used = new Set<string>();
  for (const file of CSV_FILES) {
    const bytes = files.get(file);
    if (bytes !== undefined) tables.set(file, fromFile(file, bytes, limit));
    else {
      const sheet = sheetTable(file, workbooks, (name) => mappings.columns.get(name) ?? new Map());
      if (sheet === null) continue;
      used.add(sheet.workbook);
      tables.set(file, fromSheet(file, sheet));
    }
  }
  const missing = missingNeeded((file) => tables.has(file));
  if (missing !== null) throw missingTable(missing, workbooks);
  return { tables, unread: workbooks.map(({ file }) => file).filter((file) => !used.has(file)) };
}

function fromFile(file: CsvFile, bytes: Uint8Array, mostBytes: number): TableOpener {
  return (mappings, book) => {
    const format = { ...mappings.formats.get(file), cleaning: mappings.cleaning };
    const text = textOf(file, bytes, format.encoding, book, mostBytes);
    return openTable(file, text, { renamed: mappings.columns.get(file) ?? new Map(), format }, book);
  };
}

/** A sheet has no separator, encoding or decimal mark of its own; dates written as texts and units are the plant's. */
function fromSheet(file: CsvFile, sheet: SheetTable): TableOpener {
  return (mappings, book) => {
    sheet.tell(book);
    const { dates, units } = mappings.formats.get(file) ?? {};
    const format = {
      separator: ',',
      decimal: '.',
      ...(dates && { dates }),
      ...(units && { units }),
      cleaning: mappings.cleaning,
    } as const;
    return openTable(file, sheet.text, { renamed: mappings.columns.get(file) ?? new Map(), format }, book);
  };
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
    `Save it as ${file} or ${name}.xlsx, or name its sheet "${name}".${orOrders(file)}`,
  );
}
