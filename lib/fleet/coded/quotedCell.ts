/** A cell of a CSV record that begins with a quotation mark, in bytes of UTF-8. */
import { byteAt } from '../../numeric/columns.js';
import { HASH_START, hashWith } from './byteCoder.js';

export const QUOTE = 34;
export const LINE_FEED = 10;
export const RETURN = 13;

/** What was read last; the same object is used for every cell. */
export interface QuotedCell {
  /** The content is what stands in these bytes, from a place to before another. */
  bytes: Uint8Array;
  from: number;
  to: number;
  hash: number;
  /** Place behind the cell in the bytes of the record. */
  next: number;
  /** Line ends in the content. */
  lines: number;
}

interface Around {
  /** The separator. */
  mark: number;
  /** Whether nothing comes behind the bytes. */
  isLast: boolean;
}

/**
 * Reads the cell that begins with the quotation mark at a place.
 * @returns true where it was read, false where its end is not within the bytes, null where its mark is never closed
 */
export function readQuoted(
  cell: QuotedCell,
  bytes: Uint8Array,
  start: number,
  { mark, isLast }: Around,
): boolean | null {
  const end = bytes.length;
  let hash = HASH_START;
  let lines = 0;
  let doubled = 0;
  let at = start + 1;
  for (; at < end; at++) {
    const byte = byteAt(bytes, at);
    if (byte === QUOTE) {
      if (at + 1 >= end || byteAt(bytes, at + 1) !== QUOTE) break;
      doubled += 1;
      at += 1;
    } else if (byte === LINE_FEED || byte === RETURN) lines += 1;
    hash = hashWith(hash, byte);
  }
  if (at >= end) return isLast ? null : false;
  const closing = at;
  at += 1;
  if (at === end && !isLast) return false;
  while (at < end && !isEnd(byteAt(bytes, at), mark)) at++;
  if (at === end && !isLast) return false;
  const isClosed = at === closing + 1;
  cell.next = at;
  cell.lines = lines;
  if (isClosed && doubled === 0) {
    cell.bytes = bytes;
    cell.from = start + 1;
    cell.to = closing;
    cell.hash = hash;
    return true;
  }
  cell.bytes = written(bytes, start, closing, { doubled, behind: isClosed ? null : at });
  cell.from = 0;
  cell.to = cell.bytes.length;
  cell.hash = isClosed ? hash : hashOf(cell.bytes);
  return true;
}

function isEnd(byte: number, mark: number): boolean {
  return byte === mark || byte === LINE_FEED || byte === RETURN;
}

/** The content with each doubled mark once; with the marks around it where something stands behind them. */
function written(
  bytes: Uint8Array,
  start: number,
  closing: number,
  { doubled, behind }: { doubled: number; behind: number | null },
): Uint8Array {
  const content = new Uint8Array(closing - start - 1 - doubled);
  for (let from = start + 1, to = 0; from < closing; from++, to++) {
    content[to] = byteAt(bytes, from);
    if (byteAt(bytes, from) === QUOTE) from += 1;
  }
  if (behind === null) return content;
  const whole = new Uint8Array(content.length + 1 + behind - closing);
  whole[0] = QUOTE;
  whole.set(content, 1);
  whole.set(bytes.subarray(closing, behind), content.length + 1);
  return whole;
}

function hashOf(bytes: Uint8Array): number {
  let hash = HASH_START;
  for (let at = 0; at < bytes.length; at++) hash = hashWith(hash, byteAt(bytes, at));
  return hash;
}

/** The cells of a record as texts; the record is whole. */
export function cellsOf(record: Uint8Array, mark: number): string[] {
  const cells: string[] = [];
  const cell: QuotedCell = { bytes: record, from: 0, to: 0, hash: 0, next: 0, lines: 0 };
  for (let at = 0; ; at++) {
    const isQuoted = at < record.length && byteAt(record, at) === QUOTE;
    if (isQuoted) readQuoted(cell, record, at, { mark, isLast: true });
    else {
      cell.bytes = record;
      cell.from = at;
      while (at < record.length && byteAt(record, at) !== mark) at++;
      cell.to = at;
      cell.next = at;
    }
    cells.push(Buffer.from(cell.bytes.subarray(cell.from, cell.to)).toString('utf8'));
    at = cell.next;
    if (at >= record.length) return cells;
  }
}
