/** Packs the pages of Parquet files that tests write. */
import { brotliCompressSync, gzipSync } from 'node:zlib';
import type { Compressors } from 'hyparquet';
import { snappyCompress } from 'hyparquet-writer/src/snappy.js';

/** Without the one of Zstandard, whose reader is also tried on a file that the reference program packed. */
export const PACKERS = {
  SNAPPY: (bytes: Uint8Array) => snappyCompress(bytes),
  GZIP: (bytes: Uint8Array) => gzipSync(bytes),
  BROTLI: (bytes: Uint8Array) => brotliCompressSync(bytes),
  ZSTD: zstdFrame,
  LZ4_RAW: lz4Block,
  LZ4: (bytes: Uint8Array) => hadoopFrame(bytes.length, lz4Block(bytes)),
} satisfies Compressors;

export type Codec = keyof typeof PACKERS;

export const CODECS = Object.keys(PACKERS) as Codec[];

/** Largest block of Zstandard. */
const BLOCK = 2 ** 17;

/** A frame of Zstandard (RFC 8878) whose blocks hold the bytes as they are, or one byte and how often it comes. */
function zstdFrame(bytes: Uint8Array): Uint8Array {
  const size = new Uint8Array(4);
  new DataView(size.buffer).setUint32(0, bytes.length, true);
  const parts: Uint8Array[] = [Uint8Array.of(0x28, 0xb5, 0x2f, 0xfd, 0xa0), size];
  for (let from = 0; from === 0 || from < bytes.length; from += BLOCK) {
    const block = bytes.subarray(from, from + BLOCK);
    const isLast = from + BLOCK >= bytes.length ? 1 : 0;
    const isSame = block.length > 0 && block.every((byte) => byte === block[0]);
    const head = block.length * 8 + (isSame ? 2 : 0) + isLast;
    parts.push(
      Uint8Array.of(head & 255, (head >> 8) & 255, head >> 16),
      isSame ? block.subarray(0, 1) : block,
    );
  }
  return Buffer.concat(parts);
}

/** A block of LZ4 (block format, from memory): what repeats four bytes or more of before is named, the rest stands as it is. */
function lz4Block(bytes: Uint8Array): Uint8Array {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const seen = new Map<number, number>();
  const out: number[] = [];
  // The last five bytes stand as they are, and nothing that repeats begins among the last twelve.
  const last = bytes.length - 12;
  let plain = 0;
  for (let at = 0; at < last; ) {
    const key = view.getUint32(at, true);
    const before = seen.get(key);
    seen.set(key, at);
    if (before === undefined || at - before > 65535) {
      at += 1;
      continue;
    }
    let end = at + 4;
    while (end < bytes.length - 5 && bytes[end] === bytes[end - at + before]) end += 1;
    sequence(out, bytes.subarray(plain, at), { back: at - before, length: end - at - 4 });
    at = end;
    plain = end;
  }
  sequence(out, bytes.subarray(plain), null);
  return Uint8Array.from(out);
}

function sequence(out: number[], plain: Uint8Array, repeat: { back: number; length: number } | null): void {
  const more = (length: number): void => {
    let left = length - 15;
    for (; left >= 255; left -= 255) out.push(255);
    if (length >= 15) out.push(left);
  };
  const length = repeat?.length ?? 0;
  out.push(Math.min(plain.length, 15) * 16 + Math.min(length, 15));
  more(plain.length);
  for (const byte of plain) out.push(byte);
  if (repeat === null) return;
  out.push(repeat.back & 255, repeat.back >> 8);
  more(length);
}

/** As Hadoop writes LZ4: both lengths in front, the higher bytes first. */
function hadoopFrame(length: number, block: Uint8Array): Uint8Array {
  const framed = new Uint8Array(8 + block.length);
  const view = new DataView(framed.buffer);
  view.setUint32(0, length);
  view.setUint32(4, block.length);
  framed.set(block, 8);
  return framed;
}
