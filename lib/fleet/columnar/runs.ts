/**
 * Runs of repeated and of packed values in a Parquet page (RLE and bit-packing hybrid; Apache Parquet "Encodings", from memory), read so
 * that no damaged run is followed beyond the values that the page says it has.
 */
import { readVarInt } from 'hyparquet/src/thrift.js';
import { byteAt } from '../../numeric/columns.js';

export interface PageReader {
  view: DataView;
  offset: number;
}

export function pageReader(page: Uint8Array): PageReader {
  return { view: new DataView(page.buffer, page.byteOffset, page.byteLength), offset: 0 };
}

/** Runs may be filled up at the end of the page. */
const FILLED_UP = 1024;
const MOST_BITS = 32;

/** @throws Error where it does not hold */
export function fits(holds: boolean): void {
  if (!holds) throw new Error('the runs of a page do not fit its values');
}

/**
 * Fills a column with values so many bits wide, and leaves the reader behind the last run.
 * @throws Error where a run is longer than what is left or than the page
 */
export function readRuns(reader: PageReader, bits: number, values: Uint8Array | Int32Array): void {
  fits(bits >= 0 && bits <= MOST_BITS);
  const size = reader.view.byteLength;
  for (let seen = 0; seen < values.length; ) {
    const head = readVarInt(reader);
    const isPacked = (head & 1) === 1;
    const count = isPacked ? (head >> 1) * 8 : head >>> 1;
    const left = Math.min(count, values.length - seen);
    fits(count > 0 && count <= values.length - seen + FILLED_UP);
    if (isPacked) {
      // Some writers leave the unused end of the last run out.
      fits(reader.offset + Math.ceil((left * bits) / 8) <= size);
      readPacked(reader, bits, values, seen, left);
      reader.offset += (count / 8) * bits;
    } else {
      const bytes = (bits + 7) >> 3;
      fits(reader.offset + bytes <= size);
      values.fill(littleEndian(reader, bytes), seen, seen + left);
      reader.offset += bytes;
    }
    seen += count;
  }
}

function littleEndian({ view, offset }: PageReader, bytes: number): number {
  let value = 0;
  for (let i = 0; i < bytes; i++) value |= view.getUint8(offset + i) << (8 * i);
  return value;
}

/** Widths of which a value and the rest of a byte fit into 32 bits. */
const NARROW = 24;

function readPacked(
  { view, offset }: PageReader,
  bits: number,
  values: Uint8Array | Int32Array,
  start: number,
  count: number,
): void {
  const bytes = new Uint8Array(view.buffer, view.byteOffset + offset, Math.ceil((count * bits) / 8));
  if (bits > NARROW) {
    for (let i = 0; i < count; i++) values[start + i] = wideValue(bytes, i * bits, bits);
    return;
  }
  const mask = (1 << bits) - 1;
  let held = 0;
  let have = 0;
  for (let i = 0, at = 0; i < count; i++) {
    for (; have < bits; have += 8) held |= byteAt(bytes, at++) << have;
    values[start + i] = held & mask;
    held >>>= bits;
    have -= bits;
  }
}

/** A value bit by bit. */
function wideValue(bytes: Uint8Array, from: number, bits: number): number {
  let value = 0;
  for (let k = 0; k < bits; k++) {
    const bit = (byteAt(bytes, (from + k) >> 3) >> ((from + k) & 7)) & 1;
    value |= bit << k;
  }
  return value;
}
