/**
 * Records of a CSV text (RFC 4180) as coded columns, from its bytes in UTF-8 and in one pass over them; the bytes may come in pieces. A
 * mark inside a cell that does not begin with one stays as it is, and so does a quoted cell with something behind its closing mark.
 */
import { byteAt } from '../../numeric/columns.js';
import { HASH_START, hashWith } from './byteCoder.js';
import { LINE_FEED, QUOTE, type QuotedCell, RETURN, readQuoted } from './quotedCell.js';
import { codedStore } from './store.js';
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

export function recordCoder(shape: RecordShape): RecordCoder {
  const mark = shape.separator.charCodeAt(0);
  const store = codedStore(shape.columns, shape.written, mark);
  const quoted: QuotedCell = { bytes: new Uint8Array(0), from: 0, to: 0, hash: 0, next: 0, lines: 0 };
  let doubtful = false;

  /** The place behind the cell that begins with a mark; -1 where it does not end within the bytes. */
  function takeQuoted(bytes: Uint8Array, at: number, cell: number, isLast: boolean): number {
    const isWhole = readQuoted(quoted, bytes, at, { mark, isLast });
    doubtful ||= isWhole === null || (isWhole && quoted.lines > 0 && isSwallowed(quoted, shape, cell));
    if (isWhole !== true) return -1;
    store.set(cell, quoted.bytes, quoted.from, quoted.to, quoted.hash);
    return quoted.next;
  }

  function takePlain(bytes: Uint8Array, start: number, cell: number, isLast: boolean): number {
    const end = bytes.length;
    let hash = HASH_START;
    let at = start;
    for (; at < end; at++) {
      const byte = byteAt(bytes, at);
      if (byte === mark || byte === LINE_FEED || byte === RETURN) break;
      hash = hashWith(hash, byte);
    }
    if (at === end && !isLast) return -1;
    store.set(cell, bytes, start, at, hash);
    return at;
  }

  function add(bytes: Uint8Array, isLast: boolean): number {
    const end = bytes.length;
    for (let begin = 0; ; ) {
      if (begin >= end) return end;
      let cell = 0;
      let at = begin;
      for (; ; at++) {
        const isQuoted = at < end && byteAt(bytes, at) === QUOTE;
        at = isQuoted ? takeQuoted(bytes, at, cell, isLast) : takePlain(bytes, at, cell, isLast);
        if (at < 0 || (at === end && !isLast)) return begin;
        cell += 1;
        if (at === end || byteAt(bytes, at) !== mark) break;
      }
      const isReturn = at < end && byteAt(bytes, at) === RETURN;
      if (isReturn && at + 1 === end && !isLast) return begin;
      store.endRow(bytes, begin, at, cell);
      begin = at + (isReturn && at + 1 < end && byteAt(bytes, at + 1) === LINE_FEED ? 2 : 1);
    }
  }

  return {
    add: (bytes, isLast) => (doubtful ? bytes.length : add(bytes, isLast)),
    inDoubt: () => doubtful,
    table: store.table,
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
