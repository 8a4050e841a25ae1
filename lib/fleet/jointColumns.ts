/**
 * Columns of ours that are read from one text of the plant's, such as material and size from "Diaphragm EPDM DN25": the table with a column
 * of its own for each of them, so that all that follows reads it like any other.
 */
import { cellsAt } from './coded/codedRows.js';
import type { CodedTable } from './coded/types.js';
import { type CsvFile, columnsOf } from './columnNames.js';
import type { ColumnWords } from './columnWords.js';
import { csvQuoted } from './csvQuoted.js';
import { eachRecord, firstRecord } from './csvRecords.js';
import type { TableSource } from './csvTable.js';
import { headerName, placeKey } from './headerNames.js';
import type { RowBook } from './rowBook.js';
import { wholeText } from './stream/storedText.js';
import { partOfText } from './written/itemText.js';
import { separatorOf } from './written/separator.js';
import type { FileFormat } from './written/types.js';

export interface OpenedText {
  text: TableSource;
  format: FileFormat;
}

/** A column to be added: its name, the place of the column that it is read from, and how. */
interface Added {
  ours: string;
  place: number;
  read: (text: string) => string;
}

const ABOVE = /^(\s*(\r\n|\n|\r))+|^sep=.(\r\n|\n|\r)/i;

/** The table with the columns that `words` names, and the names with which it is to be opened. */
export function withJointColumns(
  file: CsvFile,
  { text, format }: OpenedText,
  words: ColumnWords,
  book: RowBook,
): OpenedText & { renamed: ReadonlyMap<string, string> } {
  if (words.joint.size === 0) return { text, format, renamed: words.renamed };
  const whole = typeof text !== 'string' && 'kind' in text ? wholeText(file, text, book) : text;
  return typeof whole === 'string'
    ? textWithColumns(file, whole, format, words)
    : { ...columnsWithColumns(whole, format, words), renamed: renamedFor(words, whole.header) };
}

/** The column that is taken apart is not read itself; one of those that have its name may still be, by its place. */
function renamedFor(words: ColumnWords, header: readonly string[]): ReadonlyMap<string, string> {
  const hidden = [...words.joint.keys()].map((theirs) => [theirs, ''] as const);
  const added = addedTo(header, words).map(({ ours }) => ours);
  // An own column of the name that is added would be there twice.
  const own = header
    .map((name) => name.trim().toLowerCase())
    .filter((name) => added.includes(headerless(name)));
  const twice = own.flatMap((name) =>
    header.flatMap((one, place) =>
      one.trim().toLowerCase() === name ? [[placeKey(place), ''] as const] : [],
    ),
  );
  return new Map([...hidden, ...twice, ...words.renamed]);
}

function headerless(name: string): string {
  return name.replace(/[\s-]+/g, '_');
}

function addedTo(header: readonly string[], { joint }: ColumnWords): Added[] {
  return [...joint].flatMap(([theirs, ours]) => {
    const place = header.findIndex(
      (name, i) => name.trim().toLowerCase() === theirs || placeKey(i) === theirs,
    );
    if (place < 0) return [];
    return ours.map((column) => ({ ours: column, place, read: partOfText(column) }));
  });
}

function textWithColumns(file: CsvFile, text: string, format: FileFormat, words: ColumnWords) {
  const body = text.replace(ABOVE, '').replace(ABOVE, '');
  const isKnown = (cell: string): boolean =>
    words.joint.has(cell.trim().toLowerCase()) ||
    columnsOf(file).includes(headerName(file, cell, words.renamed));
  const separator = format.separator ?? separatorOf(body, isKnown);
  const header = firstRecord(file, body, separator);
  const added = addedTo(header, words);
  const lines: string[] = [];
  eachRecord({ file, text: body, separator, header, coded: null }, (cells) => {
    const isHeader = lines.length === 0;
    const more = added.map(({ ours, place, read }) => (isHeader ? ours : read(cells[place] ?? '')));
    const whole = isHeader || cells.length >= header.length;
    const all = whole ? [...cells.slice(0, header.length), ...more, ...cells.slice(header.length)] : cells;
    lines.push(all.map((cell) => quoted(cell, separator)).join(separator));
  });
  return {
    text: `${lines.join('\n')}\n`,
    format: { ...format, separator },
    renamed: renamedFor(words, header),
  };
}

function quoted(cell: string, separator: string): string {
  return separator !== ',' && cell.includes(separator) ? `"${cell.replaceAll('"', '""')}"` : csvQuoted(cell);
}

function columnsWithColumns(table: CodedTable, format: FileFormat, words: ColumnWords): OpenedText {
  const added = addedTo(table.header, words);
  const columns = added.flatMap(({ place, read }) => {
    const column = table.columns[place];
    return column === undefined ? [] : [{ ...column, texts: column.texts.map(read) }];
  });
  const odd = new Map(
    [...table.odd.keys()].map((row) => {
      const cells = cellsAt(table, row);
      return [row, [...cells, ...added.map(({ place, read }) => read(cells[place] ?? ''))]] as const;
    }),
  );
  const header = [...table.header, ...added.map(({ ours }) => ours)];
  return { text: { ...table, header, columns: [...table.columns, ...columns], odd }, format };
}
