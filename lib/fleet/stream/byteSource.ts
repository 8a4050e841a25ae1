/** Where the bytes of a table are: held, or in a file from which they are read in pieces. */
import { createHash, type Hash } from 'node:crypto';
import { closeSync, fstatSync, openSync, readFileSync, readSync } from 'node:fs';
import { InputError } from '../../errors.js';

/** Told how much of the bytes has been read, from 0 to 1. */
export type ShareTold = (share: number) => void;

export interface ByteSource {
  /** Bytes as they are stored. */
  readonly size: number;
  /** All bytes, one piece after the other; may be asked for again. */
  pieces(): Iterable<Uint8Array>;
  /** All bytes at once. */
  whole(): Uint8Array;
}

/** Files above this are read in pieces. */
export const HELD_BYTES = 2 ** 25;
const PIECE = 2 ** 20;

export function heldBytes(bytes: Uint8Array, pieceSize = PIECE, told?: ShareTold): ByteSource {
  return {
    size: bytes.length,
    *pieces() {
      for (let from = 0; from < bytes.length; from += pieceSize) {
        yield bytes.subarray(from, from + pieceSize);
        told?.(Math.min(from + pieceSize, bytes.length) / bytes.length);
      }
    },
    whole: () => bytes,
  };
}

/**
 * A file that is not held. What was hashed must be what is read: a file that changes in between is refused.
 * @param name as the reader knows the file
 * @throws InputError where the file changes or can no longer be read
 */
export function fileBytes(path: string, name: string, told?: ShareTold): ByteSource {
  const known = stampOf(path);
  const check = (stamp: Stamp): void => {
    if (stamp.size !== known.size || stamp.changed !== known.changed) throw changed(name);
  };
  return {
    size: known.size,
    *pieces() {
      let done = 0;
      for (const piece of filePieces(path)) {
        done += piece.length;
        yield piece;
        told?.(Math.min(done / known.size, 1));
      }
      check(stampOf(path));
    },
    whole: () => {
      const bytes = readFileSync(path);
      check(stampOf(path));
      return bytes;
    },
  };
}

/** Adds all bytes of a source to a hash. */
export function addToHash(hash: Hash, source: ByteSource): void {
  for (const piece of source.pieces()) hash.update(piece);
}

/** SHA-256 of nothing yet. */
export function newHash(): Hash {
  return createHash('sha256');
}

function* filePieces(path: string): Generator<Uint8Array> {
  const file = openSync(path, 'r');
  try {
    for (;;) {
      const piece = new Uint8Array(PIECE);
      const length = readSync(file, piece, 0, PIECE, null);
      if (length === 0) return;
      yield piece.subarray(0, length);
    }
  } finally {
    closeSync(file);
  }
}

interface Stamp {
  size: number;
  changed: number;
}

function stampOf(path: string): Stamp {
  const file = openSync(path, 'r');
  try {
    const { size, mtimeMs } = fstatSync(file);
    return { size, changed: mtimeMs };
  } finally {
    closeSync(file);
  }
}

function changed(name: string): InputError {
  return new InputError(
    'The file changed while it was read.',
    { file: name },
    'Wait until it is written, and start again.',
  );
}
