/**
 * Whether the runs of repeated and of packed values in a Parquet page (RLE and bit-packing hybrid, delta encodings; Apache Parquet
 * "Encodings", from memory) hold as many values as the page says. The reader believes a damaged run of 2^31 values.
 */
import { deltaBinaryUnpack } from 'hyparquet/src/delta.js';
import { readVarInt } from 'hyparquet/src/thrift.js';

export interface PageReader {
  view: DataView;
  offset: number;
}

/** Runs may be filled up at the end of the page. */
const FILLED_UP = 1024;
const MOST_MINIBLOCKS = 4096;
const BROKEN = 'the runs of a page do not fit its values';

function holds(fits: boolean): void {
  if (!fits) throw new Error(BROKEN);
}

/**
 * Goes through so many values and leaves the reader behind them.
 * @returns how many of the values are 1, where they are one bit wide
 * @throws Error where a run is longer than what is left, RangeError behind the end of the page
 */
export function checkRuns(reader: PageReader, bits: number, values: number): number {
  let ones = 0;
  for (let seen = 0; seen < values; ) {
    const head = readVarInt(reader);
    const isPacked = (head & 1) === 1;
    const count = isPacked ? (head >> 1) * 8 : head >>> 1;
    const left = values - seen;
    holds(count >= 0 && count <= left + FILLED_UP);
    if (isPacked) {
      if (bits === 1) ones += onesIn(reader, Math.min(count, left));
      reader.offset += (count / 8) * bits;
    } else {
      if (bits === 1 && reader.view.getUint8(reader.offset) === 1) ones += Math.min(count, left);
      reader.offset += (bits + 7) >> 3;
    }
    seen += count;
  }
  return ones;
}

/** Bits that are set among the next so many. */
function onesIn({ view, offset }: PageReader, bits: number): number {
  let ones = 0;
  for (let done = 0; done < bits; done += 8) {
    const rest = bits - done;
    let byte = view.getUint8(offset + done / 8) & (rest < 8 ? (1 << rest) - 1 : 0xff);
    for (; byte !== 0; byte &= byte - 1) ones++;
  }
  return ones;
}

/** @throws Error where the blocks have a length that leads nowhere or back */
export function checkDelta({ view, offset }: PageReader): void {
  const reader = { view, offset };
  const block = readVarInt(reader);
  const miniblocks = readVarInt(reader);
  holds(block > 0 && miniblocks > 0 && miniblocks <= MOST_MINIBLOCKS);
}

/** Texts that begin as the one before: no beginning is longer than the text that it is taken from. */
export function checkBeginnings({ view, offset }: PageReader, values: number): void {
  const reader = { view, offset };
  const [shared, own] = [new Int32Array(values), new Int32Array(values)];
  for (const lengths of [shared, own]) {
    checkDelta(reader);
    deltaBinaryUnpack(reader, values, lengths);
  }
  let before = 0;
  for (let i = 0; i < values; i++) {
    const [same = 0, more = 0] = [shared[i], own[i]];
    holds(same >= 0 && same <= before && more >= 0 && more <= view.byteLength);
    before = same + more;
  }
}
