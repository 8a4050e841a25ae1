/** The columns of a coded table while its rows come in. */
import { itemAt, wholeAt } from '../../numeric/columns.js';
import { isSpecialStart } from '../takeRow.js';
import { byteCoder } from './byteCoder.js';
import { cellsOf } from './quotedCell.js';
import type { CodedTable } from './types.js';

export interface CodedStore {
  /** Sets a cell of the row at hand: the bytes from a place to before another, and their hash. A row that is begun again is written over. */
  set(cell: number, bytes: Uint8Array, from: number, to: number, hash: number): void;
  /** Ends the row, which stands in the bytes from a place to before another, and has so many cells. */
  endRow(bytes: Uint8Array, from: number, to: number, cells: number): void;
  table(header: readonly string[]): CodedTable;
}

/** Rows for which there is room at the begin. */
const FIRST_ROOM = 1024;

/**
 * @param width columns that are read
 * @param written columns that the header has: those behind the others have no name, and a row may leave them empty
 * @param mark the separator
 */
export function codedStore(width: number, written: number, mark: number): CodedStore {
  const coders = Array.from({ length: width }, byteCoder);
  const odd = new Map<number, string[]>();
  let codes = coders.map(() => new Int32Array(FIRST_ROOM));
  let room = FIRST_ROOM;
  let row = 0;
  /** Whether a cell of the row behind the columns holds something. */
  let isFilledBehind = false;

  function fitsColumns(cells: number): boolean {
    if (cells === width) return true;
    const first = coders[0];
    if (cells !== written || isFilledBehind || first === undefined) return false;
    const text = itemAt(first.texts, wholeAt(itemAt(codes, 0), row));
    return text.trim() !== '' && !isSpecialStart(text);
  }

  function grow(): void {
    room *= 2;
    codes = codes.map((column) => {
      const longer = new Int32Array(room);
      longer.set(column);
      return longer;
    });
  }

  return {
    set: (cell, bytes, from, to, hash) => {
      if (cell === 0) isFilledBehind = false;
      if (cell < width) itemAt(codes, cell)[row] = itemAt(coders, cell).codeOf(bytes, from, to, hash);
      else isFilledBehind ||= to > from;
    },
    endRow: (bytes, from, to, cells) => {
      if (!fitsColumns(cells)) odd.set(row, cellsOf(bytes.subarray(from, to), mark));
      row += 1;
      if (row === room) grow();
    },
    table: (header) => ({
      header,
      length: row,
      columns: coders.map(({ texts }, i) => ({ codes: itemAt(codes, i).slice(0, row), texts })),
      odd,
    }),
  };
}
