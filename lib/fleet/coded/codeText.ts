/** A CSV text without quotation marks as coded columns, in one pass over its letters: only texts that are new are ever cut out. */
import { itemAt, wholeAt } from '../../numeric/columns.js';
import type { Separator } from '../written/types.js';
import type { CodedTable } from './types.js';

const LINE_FEED = 10;
const RETURN = 13;
/** The hash of Fowler, Noll and Vo (FNV-1a, 32 bits with a sign; from memory). */
const HASH_START = 0x811c9dc5 | 0;
const HASH_FACTOR = 0x01000193;

/** Whether the text is one that can be coded: its records are its lines, and its cells what stands between separators. */
export function canBeCoded(text: string): boolean {
  return !text.includes('"') && !(text.includes('\r') && /\r(?!\n)/.test(text));
}

/**
 * The rows under the header.
 * @param header cells of the first line
 * @param lines lines of the text at most
 */
export function codeText(
  text: string,
  separator: Separator,
  header: readonly string[],
  lines: number,
): CodedTable {
  const coders = header.map(() => columnCoder(text, lines));
  const odd = new Map<number, string[]>();
  const mark = separator.charCodeAt(0);
  const width = header.length;
  const last = text.length;
  let row = 0;
  for (let from = afterLine(text, 0); from < last; row++) {
    const begin = from;
    let cell = 0;
    let start = from;
    let hash = HASH_START;
    for (; from < last; from++) {
      const letter = text.charCodeAt(from);
      if (letter === mark) {
        if (cell < width) itemAt(coders, cell).add(row, start, from, hash);
        cell += 1;
        start = from + 1;
        hash = HASH_START;
      } else if (letter === LINE_FEED || (letter === RETURN && text.charCodeAt(from + 1) === LINE_FEED))
        break;
      else hash = Math.imul(hash ^ letter, HASH_FACTOR);
    }
    if (cell < width) itemAt(coders, cell).add(row, start, from, hash);
    if (cell + 1 !== width) odd.set(row, text.slice(begin, from).split(separator));
    from += text.charCodeAt(from) === RETURN ? 2 : 1;
  }
  return { header, length: row, columns: coders.map((coder) => coder.column(row)), odd };
}

function afterLine(text: string, from: number): number {
  const end = text.indexOf('\n', from);
  return end < 0 ? text.length : end + 1;
}

/** Gives each cell of a column the number of its text, by a table of hashes with open places. */
function columnCoder(text: string, rows: number) {
  const codes = new Int32Array(rows);
  const texts: string[] = [];
  let starts = new Int32Array(64);
  let hashes = new Int32Array(64);
  /** Code and 1 at the place of its hash; 0 where the place is free. */
  let places = new Int32Array(128);

  function grow(): void {
    starts = twice(starts);
    hashes = twice(hashes);
    places = new Int32Array(2 * places.length);
    for (let code = 0; code < texts.length; code++) places[freePlace(wholeAt(hashes, code))] = code + 1;
  }

  function freePlace(hash: number): number {
    const mask = places.length - 1;
    let place = (hash ^ (hash >>> 15)) & mask;
    while (wholeAt(places, place) !== 0) place = (place + 1) & mask;
    return place;
  }

  function isAt(code: number, from: number, length: number): boolean {
    if (itemAt(texts, code).length !== length) return false;
    const start = wholeAt(starts, code);
    for (let k = 0; k < length; k++)
      if (text.charCodeAt(start + k) !== text.charCodeAt(from + k)) return false;
    return true;
  }

  function addNew(from: number, to: number, hash: number): number {
    const code = texts.length;
    if (code === starts.length) grow();
    texts.push(text.slice(from, to));
    starts[code] = from;
    hashes[code] = hash;
    places[freePlace(hash)] = code + 1;
    return code;
  }

  function codeOf(from: number, to: number, hash: number): number {
    const mask = places.length - 1;
    let place = (hash ^ (hash >>> 15)) & mask;
    for (let code = wholeAt(places, place) - 1; code >= 0; code = wholeAt(places, place) - 1) {
      if (wholeAt(hashes, code) === hash && isAt(code, from, to - from)) return code;
      place = (place + 1) & mask;
    }
    return addNew(from, to, hash);
  }

  return {
    /** The cell of a row, from and to as places in the text, with the hash of its letters. */
    add: (row: number, from: number, to: number, hash: number): void => {
      codes[row] = codeOf(from, to, hash);
    },
    column: (length: number) => ({ codes: codes.subarray(0, length), texts }),
  };
}

function twice(column: Int32Array<ArrayBuffer>): Int32Array<ArrayBuffer> {
  const longer = new Int32Array(2 * column.length);
  longer.set(column);
  return longer;
}
