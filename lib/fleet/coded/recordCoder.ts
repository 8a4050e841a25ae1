/**
 * Records of a CSV text (RFC 4180) as coded columns, from its bytes in UTF-8 and in one pass over them; the bytes may come in pieces. A
 * mark inside a cell that does not begin with one stays as it is, and so does a quoted cell with something behind its closing mark.
 */
import { byteAt, itemAt, wholeAt } from '../../numeric/columns.js';
import { isSpecialStart } from '../takeRow.js';
import { type ByteCoder, byteCoder, HASH_START, hashWith } from './byteCoder.js';
import { cellsOf, LINE_FEED, QUOTE, type QuotedCell, RETURN, readQuoted } from './quotedCell.js';
import type { CodedTable } from './types.js';

export interface RecordShape {
  /** One letter of ASCII. */
  separator: string;
  /** Columns that are read. */
  columns: number;
  /** Columns that the header has, with those at its end that have no name. */
  written: number;
  /** Parts between separators that a quoted cell over several lines may have, by column; more mean that its mark is closed too late. */
  mostPieces: readonly number[];
}

export interface RecordCoder {
  /**
   * Takes all records that end within the bytes, which begin with a record.
   * @returns the place behind the last of them
   */
  add(bytes: Uint8Array, isLast: boolean): number;
  /** Whether something was met that the parser is to judge: a quotation mark that is never closed, or closed rows later. */
  inDoubt(): boolean;
  table(header: readonly string[]): CodedTable;
}

/** Rows for which there is room at the begin. */
const FIRST_ROOM = 1024;

export function recordCoder(shape: RecordShape): RecordCoder {
  const { columns: width, written } = shape;
  const mark = shape.separator.charCodeAt(0);
  const coders: ByteCoder[] = Array.from({ length: width }, byteCoder);
  const odd = new Map<number, string[]>();
  const quoted: QuotedCell = { bytes: new Uint8Array(0), from: 0, to: 0, hash: 0, next: 0, lines: 0 };
  let codes = coders.map(() => new Int32Array(FIRST_ROOM));
  let room = FIRST_ROOM;
  let row = 0;
  let doubtful = false;

  function setCell(cell: number, bytes: Uint8Array, from: number, to: number, hash: number): void {
    itemAt(codes, cell)[row] = itemAt(coders, cell).codeOf(bytes, from, to, hash);
  }

  /** Whether the cells of the row that was read are those of the columns. */
  function fitsColumns(cells: number, isFilledBehind: boolean): boolean {
    if (cells === width) return true;
    const first = coders[0];
    if (cells !== written || isFilledBehind || first === undefined) return false;
    const text = itemAt(first.texts, wholeAt(itemAt(codes, 0), row));
    return text.trim() !== '' && !isSpecialStart(text);
  }

  function endRow(
    bytes: Uint8Array,
    begin: number,
    end: number,
    cells: number,
    isFilledBehind: boolean,
  ): void {
    if (!fitsColumns(cells, isFilledBehind)) odd.set(row, cellsOf(bytes.subarray(begin, end), mark));
    row += 1;
    if (row < room) return;
    room *= 2;
    codes = codes.map((column) => {
      const longer = new Int32Array(room);
      longer.set(column);
      return longer;
    });
  }

  function add(bytes: Uint8Array, isLast: boolean): number {
    const end = bytes.length;
    let begin = 0;
    while (begin < end) {
      let cell = 0;
      let isFilledBehind = false;
      let at = begin;
      for (;;) {
        let hash = HASH_START;
        const start = at;
        if (at < end && byteAt(bytes, at) === QUOTE) {
          const isWhole = readQuoted(quoted, bytes, at, { mark, isLast });
          if (isWhole !== true) {
            doubtful ||= isWhole === null;
            return begin;
          }
          doubtful ||= quoted.lines > 0 && isSwallowed(quoted, shape, cell);
          at = quoted.next;
          if (cell < width) setCell(cell, quoted.bytes, quoted.from, quoted.to, quoted.hash);
          else isFilledBehind ||= quoted.to > quoted.from;
        } else {
          for (; at < end; at++) {
            const byte = byteAt(bytes, at);
            if (byte === mark || byte === LINE_FEED || byte === RETURN) break;
            hash = hashWith(hash, byte);
          }
          if (at < end || isLast) {
            if (cell < width) setCell(cell, bytes, start, at, hash);
            else isFilledBehind ||= at > start;
          }
        }
        if (at === end && !isLast) return begin;
        cell += 1;
        if (at === end || byteAt(bytes, at) !== mark) break;
        at += 1;
      }
      const isReturn = at < end && byteAt(bytes, at) === RETURN;
      if (isReturn && at + 1 === end && !isLast) return begin;
      endRow(bytes, begin, at, cell, isFilledBehind);
      begin = at + (isReturn && at + 1 < end && byteAt(bytes, at + 1) === LINE_FEED ? 2 : 1);
    }
    return Math.min(begin, end);
  }

  return {
    add: (bytes, isLast) => (doubtful ? bytes.length : add(bytes, isLast)),
    inDoubt: () => doubtful,
    table: (header) => ({
      header,
      length: row,
      columns: coders.map(({ texts }, i) => ({ codes: itemAt(codes, i).slice(0, row), texts })),
      odd,
    }),
  };
}

/** A swallowed row holds about as many separators as a row, a name over two lines none. */
function isSwallowed(
  { bytes, from, to }: QuotedCell,
  { separator, mostPieces }: RecordShape,
  cell: number,
): boolean {
  const mark = separator.charCodeAt(0);
  let pieces = 1;
  for (let at = from; at < to; at++) if (byteAt(bytes, at) === mark) pieces++;
  return pieces > (mostPieces[cell] ?? 1);
}
