/** Gives each distinct run of bytes a number: a table of hashes with open places. Only what is new is ever turned into a text. */
import { byteAt, wholeAt } from '../../numeric/columns.js';

/** The hash of Fowler, Noll and Vo (FNV-1a, 32 bits with a sign; from memory), before the first byte. */
export const HASH_START = 0x811c9dc5 | 0;
const HASH_FACTOR = 0x01000193;
/** Bytes up to which copying one by one is faster. */
const SHORT = 64;

/** The hash with one more byte. */
export function hashWith(hash: number, byte: number): number {
  return Math.imul(hash ^ byte, HASH_FACTOR);
}

export interface ByteCoder {
  /** The distinct texts by first appearance; the bytes are UTF-8. */
  readonly texts: string[];
  /** The number of the bytes from a place to before another, whose hash is given. */
  codeOf(bytes: Uint8Array, from: number, to: number, hash: number): number;
  /** The same where the hash is not known yet. */
  code(bytes: Uint8Array, from: number, to: number): number;
}

export function byteCoder(): ByteCoder {
  const texts: string[] = [];
  /** The distinct runs, one behind the other; run c ends where run c + 1 starts. */
  let kept = new Uint8Array(1024);
  let starts = new Int32Array(65);
  let hashes = new Int32Array(64);
  /** Number and 1 at the place of its hash; 0 where the place is free. */
  let places = new Int32Array(128);

  function isAt(code: number, bytes: Uint8Array, from: number, to: number): boolean {
    const start = wholeAt(starts, code);
    if (wholeAt(starts, code + 1) - start !== to - from) return false;
    for (let k = from, own = start; k < to; k++, own++)
      if (byteAt(bytes, k) !== byteAt(kept, own)) return false;
    return true;
  }

  function freePlace(hash: number): number {
    const mask = places.length - 1;
    let place = (hash ^ (hash >>> 15)) & mask;
    while (wholeAt(places, place) !== 0) place = (place + 1) & mask;
    return place;
  }

  function grow(): void {
    starts = longer(starts, 2 * hashes.length + 1);
    hashes = longer(hashes, 2 * hashes.length);
    places = new Int32Array(2 * places.length);
    for (let code = 0; code < texts.length; code++) places[freePlace(wholeAt(hashes, code))] = code + 1;
  }

  function addNew(bytes: Uint8Array, from: number, to: number, hash: number): number {
    const code = texts.length;
    if (code === hashes.length) grow();
    const start = wholeAt(starts, code);
    const end = start + to - from;
    if (end > kept.length) {
      const more = new Uint8Array(Math.max(2 * kept.length, end));
      more.set(kept);
      kept = more;
    }
    if (to - from > SHORT) kept.set(bytes.subarray(from, to), start);
    else for (let k = from, own = start; k < to; k++, own++) kept[own] = byteAt(bytes, k);
    texts.push(textOf(bytes, from, to));
    starts[code + 1] = end;
    hashes[code] = hash;
    places[freePlace(hash)] = code + 1;
    return code;
  }

  function codeOf(bytes: Uint8Array, from: number, to: number, hash: number): number {
    const mask = places.length - 1;
    let place = (hash ^ (hash >>> 15)) & mask;
    for (let code = wholeAt(places, place) - 1; code >= 0; code = wholeAt(places, place) - 1) {
      if (wholeAt(hashes, code) === hash && isAt(code, bytes, from, to)) return code;
      place = (place + 1) & mask;
    }
    return addNew(bytes, from, to, hash);
  }

  return {
    texts,
    codeOf,
    code: (bytes, from, to) => {
      let hash = HASH_START;
      for (let k = from; k < to; k++) hash = hashWith(hash, byteAt(bytes, k));
      return codeOf(bytes, from, to, hash);
    },
  };
}

/** A text of its own: a part cut from a longer text would keep that one. */
function textOf(bytes: Uint8Array, from: number, to: number): string {
  if (from === to) return '';
  return Buffer.from(bytes.buffer, bytes.byteOffset + from, to - from).toString('utf8');
}

function longer(column: Int32Array<ArrayBuffer>, length: number): Int32Array<ArrayBuffer> {
  const more = new Int32Array(length);
  more.set(column);
  return more;
}
