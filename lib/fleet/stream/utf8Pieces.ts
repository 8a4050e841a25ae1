/** The text of a table in pieces of UTF-8, whatever it is packed and written in. */
import { isUtf8 } from 'node:buffer';
import { NO_LETTER, wideEncoding } from '../csvText.js';
import type { ByteSource } from './byteSource.js';
import { gunzipped } from './gunzip.js';

/** Bytes from which the encoding is told. */
const LOOKED_AT = 4096;

/** Why reading in pieces stops: the text is to be judged as a whole, or is no UTF-8, which nothing at its beginning told. */
type Stop = 'as a whole' | 'not UTF-8';

/** An error that only says that the text is to be read in another way. */
export function stopped(stop: Stop): Error {
  return new Error('The text is not read in pieces.', { cause: stop });
}

export function isStopped(cause: unknown, stop: Stop): boolean {
  return cause instanceof Error && cause.cause === stop;
}

export interface Written {
  /** As the plant gives it; found where it is left out. */
  encoding?: string;
  /** Told the encoding that was found. */
  found?: (encoding: string) => void;
}

/** The stored bytes, unpacked. `tooLong` is called where they are more than `mostBytes`. */
export function* unpackedPieces(
  source: ByteSource,
  mostBytes: number,
  tooLong: () => Error,
): Generator<Uint8Array> {
  let isPacked: boolean | null = null;
  let length = 0;
  const counted = function* (pieces: Iterable<Uint8Array>): Generator<Uint8Array> {
    for (const piece of pieces) {
      length += piece.length;
      if (length > mostBytes) throw tooLong();
      yield piece;
    }
  };
  const [first] = atLeast(source.pieces(), 2);
  isPacked = first !== undefined && first[0] === 0x1f && first[1] === 0x8b;
  if (!isPacked) {
    yield* source.pieces();
    return;
  }
  try {
    yield* counted(gunzipped(source.pieces()));
  } catch (cause) {
    if (length > mostBytes) throw cause;
    throw stopped('as a whole');
  }
}

/**
 * Pieces of UTF-8 without a byte-order mark. Text that is UTF-8 already is not looked at here: `checkUtf8` does that for whole records.
 * @throws Error `as a whole` where the bytes are no text in the encoding
 */
export function* utf8Pieces(
  pieces: Iterable<Uint8Array>,
  { encoding, found }: Written,
): Generator<Uint8Array> {
  let decoder: Decoder | null = null;
  let isFirst = true;
  for (const piece of atLeast(pieces, LOOKED_AT)) {
    if (isFirst) {
      if (piece[0] === 0x50 && piece[1] === 0x4b) throw stopped('as a whole');
      const wide = encoding === undefined ? wideEncoding(piece.subarray(0, evenly(piece.length))) : null;
      if (wide !== null) found?.(wide);
      const name = encoding ?? wide;
      if (name !== null) decoder = decoderOf(name);
    }
    if (decoder !== null) yield transcoded(decoder, piece);
    else {
      if (piece.includes(0)) throw stopped('as a whole');
      yield isFirst ? withoutMark(piece) : piece;
    }
    isFirst = false;
  }
  if (decoder !== null) yield transcoded(decoder, null);
}

/** @throws Error `not UTF-8` where the bytes, which end with a record, are no UTF-8 */
export function checkUtf8(bytes: Uint8Array): void {
  if (!isUtf8(bytes)) throw stopped('not UTF-8');
}

/**
 * The pieces as they are, which are to be read in the western code page of Windows.
 * @throws Error `as a whole` where a byte is no letter of it
 */
export function* westernPieces(pieces: Iterable<Uint8Array>): Generator<Uint8Array> {
  for (const piece of pieces) {
    if (piece.includes(0) || NO_LETTER.some((byte) => piece.includes(byte))) throw stopped('as a whole');
    yield piece;
  }
}

const ENCODER = new TextEncoder();

type Decoder = InstanceType<typeof TextDecoder>;

function decoderOf(encoding: string): Decoder {
  try {
    return new TextDecoder(encoding, { fatal: true });
  } catch {
    throw stopped('as a whole');
  }
}

/** A long beginning has an even number of bytes: only of a whole file does it tell anything that it has not. */
function evenly(length: number): number {
  return Math.min(length, LOOKED_AT);
}

function transcoded(decoder: Decoder, piece: Uint8Array | null): Uint8Array {
  try {
    return ENCODER.encode(piece === null ? decoder.decode() : decoder.decode(piece, { stream: true }));
  } catch {
    throw stopped('as a whole');
  }
}

function withoutMark(piece: Uint8Array): Uint8Array {
  return piece[0] === 0xef && piece[1] === 0xbb && piece[2] === 0xbf ? piece.subarray(3) : piece;
}

/** The same bytes, of which the first piece has so many where there are so many. */
function* atLeast(pieces: Iterable<Uint8Array>, least: number): Generator<Uint8Array> {
  let held: Uint8Array[] | null = [];
  let length = 0;
  for (const piece of pieces) {
    if (held === null) {
      yield piece;
      continue;
    }
    held.push(piece);
    length += piece.length;
    if (length < least) continue;
    yield held.length === 1 ? piece : Buffer.concat(held);
    held = null;
  }
  if (held !== null && length > 0) yield Buffer.concat(held);
}
