/** A text as records of cells, by RFC 4180. */
import { type Options, parse } from 'csv-parse/sync';
import { InputError } from '../errors.js';
import { type CsvFile, columnsOf } from './columnNames.js';

const LINE_ENDS = ['\r\n', '\n', '\r'];
const LINE_END = /\r\n|\n|\r/;
const RETURN = 13;

/** Cells of the header. */
export function firstRecord(file: string, text: string): string[] {
  const firstLine = text.split(LINE_END, 1)[0] ?? '';
  if (!firstLine.includes('"')) return firstLine.split(',');
  const records = parsed(file, text, { to: 1 }) as string[][];
  return records[0] ?? [];
}

/**
 * Every record of a text. Without any quotation mark a record is a line and its cells are what stands between commas,
 * which needs no parser and is five times as fast; a test holds both roads against each other.
 */
export function eachRecord(
  file: CsvFile,
  text: string,
  header: readonly string[],
  onRecord: (cells: string[]) => void,
): void {
  if (text.includes('"')) {
    parseQuoted(file, text, header, onRecord);
    return;
  }
  eachLine(/\r(?!\n)/.test(text) ? text.replace(/\r(?!\n)/g, '\n') : text, (line) =>
    onRecord(line.split(',')),
  );
}

/** Lines one at a time, so that a long file is never held twice. */
function eachLine(text: string, onLine: (line: string) => void): void {
  for (let from = 0; from < text.length; ) {
    const end = text.indexOf('\n', from);
    const to = end < 0 ? text.length : end;
    onLine(text.slice(from, to > from && text.charCodeAt(to - 1) === RETURN ? to - 1 : to));
    from = to + 1;
  }
}

function parseQuoted(
  file: CsvFile,
  text: string,
  header: readonly string[],
  onRecord: (cells: string[]) => void,
): void {
  const known = columnsOf(file);
  // A swallowed row holds about as many commas as a row; a cell that names something holds none beside a line break.
  const mostPieces = header.map((name) => (known.includes(name) ? 1 : Math.max(header.length - 2, 1)));
  let lastLine = 0;
  let swallowed: InputError | null = null;
  parsed(file, text, {
    on_record: (cells: string[], { lines }: { lines: number }) => {
      swallowed ??= swallowedRows(file, cells, mostPieces, [lastLine + 1, lines]);
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
    return parse(text, {
      relax_column_count: true,
      relax_quotes: true,
      record_delimiter: LINE_ENDS,
      ...more,
    });
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

/** A quoted cell that runs over lines and holds more commas than its column can: its closing mark is missing. */
function swallowedRows(
  file: string,
  cells: readonly string[],
  mostPieces: readonly number[],
  [firstLine, lastLine]: [number, number],
): InputError | null {
  const swallowing = cells.findIndex(
    (cell, i) => /[\r\n]/.test(cell) && cell.split(',').length > (mostPieces[i] ?? 1),
  );
  if (swallowing < 0) return null;
  return new InputError(
    `Lines ${firstLine} to ${lastLine} were read as one row, because a quotation mark is opened and closed only lines later.`,
    { file, value: (cells[swallowing] ?? '').slice(0, 80) },
    'Close the quoted cell on its own line, and write an inch mark without quotation marks round the cell.',
  );
}
