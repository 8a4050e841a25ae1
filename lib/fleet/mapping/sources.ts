/** The tables that lie in a folder, whatever they are called: each file or sheet with its header found and its rows as texts. */
import { parse } from 'csv-parse/sync';
import { itemAt } from '../../numeric/columns.js';
import { cellsAt } from '../coded/codedRows.js';
import type { CodedTable } from '../coded/types.js';
import { textOf } from '../csvText.js';
import { isTotals } from '../takeRow.js';
import { WORKBOOK } from '../workbook/sheetTables.js';
import { openWorkbook } from '../workbook/workbook.js';
import { SEPARATORS, type Separator } from '../written/types.js';
import { isColumnWord } from './dictionary.js';
import { headerRows } from './headerRows.js';

export interface SourceTable {
  file: string;
  /** Name of the sheet; null for a text file. */
  sheet: string | null;
  /** Row of the sheet, or line of the file, in which the header stands, from 1. */
  headerRow: number;
  header: string[];
  /** Headings above those of the header, by column; null where there are none. */
  above: string[] | null;
  /** Units under the header, by column; null where there are none. */
  units: string[] | null;
  rows: string[][];
  separator: Separator;
  /** Where it has to be named. */
  encoding: string | null;
  /** Only the beginning was looked at. */
  cut: boolean;
}

export interface Sources {
  tables: SourceTable[];
  /** Files that hold no table that can be read, each with the reason. */
  unread: { file: string; why: string }[];
}

/** Letters of a text that are looked at: enough for some hundred thousand rows. */
const MOST_LETTERS = 40_000_000;

/**
 * Finds the tables in files given by name. A file that cannot be read is told and left.
 * @param columnar those of the files that are kept by columns, already taken apart
 */
export function sourcesOf(
  files: ReadonlyMap<string, Uint8Array>,
  mostBytes: number,
  columnar: ReadonlyMap<string, CodedTable> = new Map(),
): Sources {
  const found: Sources = { tables: [], unread: [] };
  for (const [file, bytes] of files) {
    try {
      const columns = columnar.get(file);
      const tables =
        columns !== undefined
          ? [columnTable(file, columns)]
          : WORKBOOK.test(file)
            ? sheetsOf(file, bytes, mostBytes)
            : [textTable(file, bytes, mostBytes)];
      const whole = tables.filter((table) => table !== null);
      found.tables.push(...whole);
      if (whole.length === 0) found.unread.push({ file, why: 'It holds no table with a header and rows.' });
    } catch (cause) {
      found.unread.push({ file, why: cause instanceof Error ? cause.message : String(cause) });
    }
  }
  return found;
}

/** Rows of a table kept by columns that are looked at. */
const MOST_ROWS = 300_000;

function columnTable(file: string, table: CodedTable): SourceTable | null {
  const length = Math.min(table.length, MOST_ROWS);
  const rows = Array.from({ length }, (_, i) => [...cellsAt(table, i)]);
  const where = { file, sheet: null, separator: ',', encoding: null, cut: length < table.length } as const;
  const header = [...table.header];
  return length === 0 ? null : { ...where, headerRow: 1, header, above: null, units: null, rows };
}

function sheetsOf(file: string, bytes: Uint8Array, mostBytes: number): (SourceTable | null)[] {
  return openWorkbook(file, bytes, mostBytes).map(({ name, grid }) => {
    const records = grid().rows.map((cells, i) => ({ cells, line: i + 1 }));
    return tableFrom(records, { file, sheet: name, separator: ',', encoding: null, cut: false });
  });
}

function textTable(file: string, bytes: Uint8Array, mostBytes: number): SourceTable | null {
  const { text: whole, encoding } = readable(file, bytes, mostBytes);
  const cut = whole.length > MOST_LETTERS;
  const text = cut ? whole.slice(0, whole.lastIndexOf('\n', MOST_LETTERS) + 1) : whole;
  const separator = likeliestSeparator(text);
  return tableFrom(recordsOf(text, separator), { file, sheet: null, separator, encoding, cut });
}

/** Code pages in which plants write what is not Unicode: western, then central European. */
const CODE_PAGES = ['windows-1252', 'windows-1250'];

/** The text; where it is not Unicode, in the code page in which its first lines have the most words that are known. */
function readable(
  file: string,
  bytes: Uint8Array,
  mostBytes: number,
): { text: string; encoding: string | null } {
  try {
    return { text: textOf(file, bytes, undefined, undefined, mostBytes), encoding: null };
  } catch (cause) {
    if (!(cause instanceof Error && cause.message.includes('not written in UTF-8'))) throw cause;
  }
  const read = CODE_PAGES.map((encoding) => {
    const text = textOf(file, bytes, encoding, undefined, mostBytes);
    const cells = recordsOf(text.slice(0, 20_000), likeliestSeparator(text))
      .slice(0, HEADER_WITHIN)
      .flatMap((one) => one.cells);
    return { text, encoding, known: cells.filter(isColumnWord).length };
  });
  const { text, encoding } = read.reduce((one, other) => (other.known > one.known ? other : one));
  return { text, encoding };
}

interface Rec {
  cells: string[];
  /** Line on which it begins, from 1. */
  line: number;
}

const LINE_END = /\r\n|\n|\r/;

function recordsOf(text: string, separator: Separator): Rec[] {
  if (text.includes('"')) {
    try {
      return parsedRecords(text, separator);
    } catch {
      // A mark that never closes: the lines as they are tell enough to name the columns.
    }
  }
  return text.split(LINE_END).map((line, i) => ({ cells: line.split(separator), line: i + 1 }));
}

interface Informed {
  record: string[];
  info: { lines: number };
}

function parsedRecords(text: string, separator: Separator): Rec[] {
  const options = { relax_column_count: true, relax_quotes: true, delimiter: separator, info: true } as const;
  const found = parse(text, { ...options, record_delimiter: ['\r\n', '\n', '\r'] }) as unknown as Informed[];
  let before = 0;
  return found.map(({ record, info }) => {
    const line = before + 1;
    before = info.lines;
    return { cells: record, line };
  });
}

/** The mark by which the first lines have the same number of cells most often, and many of them. */
function likeliestSeparator(text: string): Separator {
  const named = /^sep=(.)(\r|\n)/i.exec(text)?.[1];
  const known = SEPARATORS.find((separator) => separator === named);
  if (known !== undefined) return known;
  const lines = text.slice(0, 100_000).split(LINE_END).slice(0, 60).join('\n');
  const scores = SEPARATORS.map((separator) => {
    const widths = recordsOf(lines, separator)
      .map(({ cells }) => cells.length)
      .filter((width) => width > 1);
    const usual = mostFrequent(widths);
    return { separator, score: usual.times * Math.log(Math.max(usual.value, 1)) };
  });
  return scores.reduce((one, other) => (other.score > one.score ? other : one)).separator;
}

function mostFrequent(values: readonly number[]): { value: number; times: number } {
  const counts = new Map<number, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  return [...counts].reduce((best, [value, times]) => (times > best.times ? { value, times } : best), {
    value: 0,
    times: 0,
  });
}

/** Rows in which the code page is looked for. */
const HEADER_WITHIN = 40;

function tableFrom(
  records: readonly Rec[],
  where: Pick<SourceTable, 'file' | 'sheet' | 'separator' | 'encoding' | 'cut'>,
): SourceTable | null {
  const found = headerRows(records.map(({ cells }) => cells));
  if (found === null) return null;
  const { at, above, units } = found;
  const { cells, line } = itemAt(records, at);
  const rows = records
    .slice(at + (units === null ? 1 : 2))
    .map((one) => one.cells)
    .filter((row) => row.some((cell) => cell.trim() !== '') && !isTotals(row));
  return rows.length === 0 ? null : { ...where, headerRow: line, header: [...cells], above, units, rows };
}
