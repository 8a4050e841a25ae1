/** Unpacks a gzip file (RFC 1952) in pieces, so that what it holds need not be held. */
import { crc32 } from 'node:zlib';
import { Gunzip } from 'fflate';

/** Bytes behind the data of each part: its check sum, and its length. */
const TRAILER = 8;
/** Bytes that are kept for it: the head of the next part, with a name in it, may have been given in since. */
const KEPT = 2 ** 12;

/**
 * What the pieces unpack to, in pieces.
 * @throws Error where they are no gzip file, end early, or have another check sum
 */
export function* gunzipped(pieces: Iterable<Uint8Array>): Generator<Uint8Array> {
  let ready: Uint8Array[] = [];
  let sum = 0;
  let length = 0;
  /** The last bytes that were given in, and the place in the file behind them. */
  let tail = new Uint8Array(0);
  let end = 0;

  function closePart(at: number): void {
    const from = tail.length - (end - at) - TRAILER;
    if (from < 0) throw new Error('a part ends early');
    const trailer = new DataView(tail.buffer, tail.byteOffset + from, TRAILER);
    const fits = trailer.getUint32(0, true) === sum && trailer.getUint32(4, true) === length % 2 ** 32;
    if (!fits) throw new Error('the check sum is another');
    sum = 0;
    length = 0;
  }

  const unpacker = new Gunzip((data) => {
    sum = crc32(data, sum);
    length += data.length;
    if (data.length > 0) ready.push(data);
  });
  unpacker.onmember = closePart;
  for (const piece of pieces) {
    const kept = tail.subarray(Math.max(tail.length - KEPT, 0));
    tail = new Uint8Array(kept.length + piece.length);
    tail.set(kept);
    tail.set(piece, kept.length);
    end += piece.length;
    unpacker.push(piece, false);
    yield* ready;
    ready = [];
  }
  unpacker.push(new Uint8Array(0), true);
  yield* ready;
  closePart(end);
}
