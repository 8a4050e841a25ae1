/** A text as records of cells, by RFC 4180. */
import { type Options, parse } from 'csv-parse/sync';
import { InputError } from '../errors.js';
import { itemAt } from '../numeric/columns.js';
import { cellsAt } from './coded/codedRows.js';
import type { CodedTable } from './coded/types.js';
import { type CsvFile, columnsOf } from './columnNames.js';
import type { Separator } from './written/types.js';

const LINE_ENDS = ['\r\n', '\n', '\r'];
const LINE_END = /\r\n|\n|\r/;
const RETURN = 13;
/** Rows may be short or long: what comes of that is told row by row. */
const RULES: Options = { relax_column_count: true, relax_quotes: true, record_delimiter: LINE_ENDS };

/** Lines above the header that say nothing. */
export const LEADING_BLANKS = /^(\s*(\r\n|\n|\r))+/;
/** Some spreadsheets write the separator in a line of its own above the header. */
export const SEPARATOR_LINE = /^sep=.(\r\n|\n|\r)/i;

/** Cells of the header. */
export function firstRecord(file: string, text: string, separator: Separator): string[] {
  const firstLine = text.split(LINE_END, 1)[0] ?? '';
  if (!firstLine.includes('"')) return firstLine.split(separator);
  const records = parsed(file, text, { to: 1, delimiter: separator }) as string[][];
  return records[0] ?? [];
}

/** A text with what tells its records apart. */
export interface CsvText {
  file: CsvFile;
  text: string;
  separator: Separator;
  header: readonly string[];
  /** The rows under the header by column, where they are held so; the text is then not looked at. */
  coded: CodedTable | null;
}

/**
 * Every record of a text. Without any quotation mark a record is a line and its cells are what stands between separators,
 * which needs no parser and is five times as fast; where few lines hold one, only those go to the parser. A test holds
 * the roads against each other.
 */
export function eachRecord(csv: CsvText, onRecord: OnRecord): void {
  const { text, separator, coded } = csv;
  if (coded !== null) {
    onRecord(coded.header);
    for (let i = 0; i < coded.length; i++) onRecord(cellsAt(coded, i));
    return;
  }
  const lone = /\r(?!\n)/.test(text);
  if (!text.includes('"')) {
    eachLine(lone ? text.replace(/\r(?!\n)/g, '\n') : text, (line) => onRecord(line.split(separator)));
    return;
  }
  const lines = lone ? [] : linesOf(text);
  const marked = lines.filter((line) => line.includes('"')).length;
  if (!lone && marked * RARE <= lines.length) someQuoted(csv, lines, onRecord);
  else allQuoted(csv, onRecord);
}

type OnRecord = (cells: readonly string[]) => void;

/** One line in so many may hold a quotation mark for the parser to be asked line by line. */
const RARE = 20;

/** Lines with a carriage return at their end where the file has one. */
function linesOf(text: string): string[] {
  const lines = text.split('\n');
  if (lines.at(-1) === '') lines.pop();
  return lines;
}

/** Splits lines without a quotation mark; the parser reads each record that starts on a line with one. */
function someQuoted(csv: CsvText, lines: readonly string[], onRecord: OnRecord): void {
  const { file, separator } = csv;
  const mostPieces = mostPiecesOf(csv);
  let swallowed: InputError | null = null;
  for (let i = 0; i < lines.length; ) {
    const line = itemAt(lines, i);
    if (!line.includes('"')) {
      onRecord(withoutReturn(line).split(separator));
      i += 1;
      continue;
    }
    const record = recordAt(lines, i, separator);
    if (record === null) {
      // The parser says which mark never closes, with the line of the file.
      allQuoted(csv, () => undefined);
      throw new InputError('A quotation mark never closes.', { file, row: i }, 'Close every quoted cell.');
    }
    swallowed ??= swallowedRows(csv, record.cells, mostPieces, [i + 1, i + record.lines]);
    onRecord(record.cells);
    i += record.lines;
  }
  if (swallowed !== null) throw swallowed;
}

/** The record that starts on line i, and how many lines it takes; null where its quotation mark never closes. */
function recordAt(
  lines: readonly string[],
  i: number,
  separator: Separator,
): { cells: string[]; lines: number } | null {
  for (let count = 1; ; count *= 2) {
    const record = firstOf(lines.slice(i, i + count).join('\n'), separator);
    if (record !== null) return record;
    if (i + count >= lines.length) return null;
  }
}

function firstOf(text: string, separator: Separator): { cells: string[]; lines: number } | null {
  try {
    const found = parse(text, { ...RULES, delimiter: separator, to: 1, info: true }) as unknown as Informed[];
    const first = found[0];
    return first === undefined ? null : { cells: first.record, lines: newLines(first.record) + 1 };
  } catch {
    return null;
  }
}

interface Informed {
  record: string[];
}

/** Line ends inside the cells of a record. */
function newLines(cells: readonly string[]): number {
  return cells.reduce((sum, cell) => sum + cell.split('\n').length - 1, 0);
}

function withoutReturn(line: string): string {
  return line.charCodeAt(line.length - 1) === RETURN ? line.slice(0, -1) : line;
}

/** Lines one at a time, so that a long file without a mark is never held twice. */
function eachLine(text: string, onLine: (line: string) => void): void {
  for (let from = 0; from < text.length; ) {
    const end = text.indexOf('\n', from);
    const to = end < 0 ? text.length : end;
    onLine(withoutReturn(text.slice(from, to)));
    from = to + 1;
  }
}

/** Separators that a cell over several lines may hold: a swallowed row holds about as many as a row, a name holds none. */
export function mostPiecesOf({ file, header }: Pick<CsvText, 'file' | 'header'>): number[] {
  const known = columnsOf(file);
  return header.map((name) => (known.includes(name) ? 1 : Math.max(header.length - 2, 1)));
}

function allQuoted(csv: CsvText, onRecord: OnRecord): void {
  const { file, text, separator } = csv;
  const mostPieces = mostPiecesOf(csv);
  let lastLine = 0;
  let swallowed: InputError | null = null;
  parsed(file, text, {
    delimiter: separator,
    on_record: (cells: string[], { lines }: { lines: number }) => {
      swallowed ??= swallowedRows(csv, cells, mostPieces, [lastLine + 1, lines]);
      lastLine = lines;
      onRecord(cells);
      return null;
    },
  });
  if (swallowed !== null) throw swallowed;
}

/** Runs the parser; a quotation mark inside an unquoted cell, such as an inch mark, stays as it is. */
function parsed(file: string, text: string, more: Options): unknown {
  try {
    return parse(text, { ...RULES, ...more });
  } catch (cause) {
    if (cause instanceof InputError) throw cause;
    const reason = cause instanceof Error ? cause.message : String(cause);
    throw new InputError(
      `The quotation marks do not pair up: ${reason}.`,
      { file },
      'Close every quoted cell, and write a quotation mark inside one twice.',
    );
  }
}

/** A quoted cell that runs over lines and holds more separators than its column can: its closing mark is missing. */
function swallowedRows(
  { file, separator }: CsvText,
  cells: readonly string[],
  mostPieces: readonly number[],
  [firstLine, lastLine]: [number, number],
): InputError | null {
  const swallowing = cells.findIndex(
    (cell, i) => /[\r\n]/.test(cell) && cell.split(separator).length > (mostPieces[i] ?? 1),
  );
  if (swallowing < 0) return null;
  return new InputError(
    `Lines ${firstLine} to ${lastLine} were read as one row, because a quotation mark is opened and closed only lines later.`,
    { file, value: (cells[swallowing] ?? '').slice(0, 80) },
    'Close the quoted cell on its own line, and write an inch mark without quotation marks round the cell.',
  );
}
