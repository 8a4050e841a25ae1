/** Unpackers of Parquet pages that end on damaged pages too. */
import { brotliDecompressSync, gunzipSync } from 'node:zlib';
import type { Compressors } from 'hyparquet';
import { snappyUncompress } from 'hyparquet/src/snappy.js';
import { decompressLz4, decompressLz4Raw, decompressZstd } from 'hyparquet-compressors';

/** What unpacks to more than the page says is cut off or refused, and the reader refuses what is shorter. */
export const UNPACKERS: Compressors = {
  SNAPPY: unpackSnappy,
  GZIP: (input, length) => gunzipSync(input, { maxOutputLength: Math.max(length, 1) }),
  BROTLI: (input, length) => brotliDecompressSync(input, { maxOutputLength: Math.max(length, 1) }),
  ZSTD: (input, length) => decompressZstd(input, new Uint8Array(length)),
  LZ4: (input, length) => (isFramed(input) ? decompressLz4(input, length) : decompressLz4Raw(input, length)),
  LZ4_RAW: decompressLz4Raw,
};

/** The reader goes back where a length of four bytes has its highest bit set: such a length is refused. */
function unpackSnappy(input: Uint8Array, length: number): Uint8Array {
  let at = 0;
  while ((input[at++] ?? 0) >= 128);
  while (at < input.length) {
    const tag = input[at++] ?? 0;
    const kind = tag & 3;
    if (kind > 0) {
      at += kind === 3 ? 4 : kind;
      continue;
    }
    const more = Math.max((tag >> 2) - 59, 0);
    let size = tag >> 2;
    if (more > 0) {
      size = 0;
      for (let i = more - 1; i >= 0; i--) size = size * 256 + (input[at + i] ?? 0);
    }
    at += more + size + 1;
    if (at > input.length) throw new Error('a packed page is broken');
  }
  const page = new Uint8Array(length);
  snappyUncompress(input, page);
  return page;
}

/** Whether it is written as pairs of lengths with a block each (as Hadoop does) that fill it exactly. */
function isFramed(input: Uint8Array): boolean {
  const view = new DataView(input.buffer, input.byteOffset, input.byteLength);
  let at = 0;
  while (at < input.length - 8) {
    const [unpacked, packed] = [view.getInt32(at), view.getInt32(at + 4)];
    at += 8;
    if (unpacked < 0 || packed < 0 || packed > input.length - at) return false;
    at += packed;
  }
  return at === input.length;
}
