/** Whether delta encodings in a Parquet page (Apache Parquet "Encodings", from memory) hold what they say: the reader believes them. */
import { deltaBinaryUnpack } from 'hyparquet/src/delta.js';
import { readVarInt } from 'hyparquet/src/thrift.js';
import { fits, type PageReader } from './runs.js';

const MOST_MINIBLOCKS = 4096;

/** @throws Error where the blocks have a length that leads nowhere or back */
export function checkDelta({ view, offset }: PageReader): void {
  const reader = { view, offset };
  const block = readVarInt(reader);
  const miniblocks = readVarInt(reader);
  fits(block > 0 && miniblocks > 0 && miniblocks <= MOST_MINIBLOCKS);
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
    fits(same >= 0 && same <= before && more >= 0 && more <= view.byteLength);
    before = same + more;
  }
}
