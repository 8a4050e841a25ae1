/** Parquet files in each way of packing: read as they are, refused where they unpack to more than they say or than may be read. */
import { readFileSync } from 'node:fs';
import { parquetWriteBuffer } from 'hyparquet-writer';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../../lib/errors.js';
import type { CodedTable } from '../../../lib/fleet/coded/types.js';
import { parquetTable } from '../../../lib/fleet/columnar/parquetFile.js';
import { firstVersion } from './firstVersion.js';
import { packedColumns, ROWS, ZSTD_FILE } from './packedColumns.js';
import { CODECS, type Codec, PACKERS } from './packers.js';

function packed(codec: Codec, pack: (bytes: Uint8Array) => Uint8Array = PACKERS[codec]): Uint8Array {
  return new Uint8Array(parquetWriteBuffer({ ...packedColumns(), codec, compressors: { [codec]: pack } }));
}

function texts({ columns, header }: CodedTable): Record<string, (string | undefined)[]> {
  return Object.fromEntries(
    columns.map(({ codes, texts: known }, i) => [header[i], Array.from(codes, (code) => known[code])]),
  );
}

const UNPACKED = new Uint8Array(parquetWriteBuffer({ ...packedColumns(), codec: 'UNCOMPRESSED' }));
const PLAIN = texts(parquetTable('x.parquet', UNPACKED, 1e8));

describe('a packed Parquet file', () => {
  it('is written with what is in it', () => {
    expect(PLAIN.position?.slice(0, 3)).toEqual(['V0', 'V1', 'V2']);
    expect(PLAIN.removed?.slice(0, 3)).toEqual(['', '2020-01-02', '2020-01-03']);
    expect(PLAIN.position).toHaveLength(ROWS);
  });

  it.each(CODECS)('%s is the table that is not packed', (codec) => {
    const bytes = packed(codec);
    expect(texts(parquetTable('x.parquet', bytes, 1e8))).toEqual(PLAIN);
  });

  it.each([...CODECS, 'UNCOMPRESSED' as const])('%s in pages of version 1 is the same table', (codec) => {
    expect(texts(parquetTable('x.parquet', firstVersion(UNPACKED, codec), 1e8))).toEqual(PLAIN);
  });

  it('Zstandard by its own program is the table that is not packed', () => {
    expect(texts(parquetTable('zstd.parquet', readFileSync(ZSTD_FILE), 1e8))).toEqual(PLAIN);
  });

  it.each(CODECS)(
    '%s that says what it unpacks to is refused at the limit, before it is unpacked',
    (codec) => {
      let unpackable = 0;
      const bytes = packed(codec, (page) => {
        unpackable += page.length;
        // What is no packed page at all: it must never be looked at.
        return Uint8Array.of(1, 2, 3);
      });
      const most = ROWS * 5;
      expect(unpackable).toBeGreaterThan(most);
      expect(() => parquetTable('lives.parquet', bytes, most)).toThrow(
        /lives\.parquet: The file unpacks to more than/,
      );
    },
  );

  it.each(CODECS)('%s that unpacks to more than it says is refused', (codec) => {
    const bomb = PACKERS[codec](new Uint8Array(2 ** 24));
    expect(bomb.length).toBeLessThan(2 ** 20);
    const bytes = packed(codec, () => bomb);
    expect(() => parquetTable('lives.parquet', bytes, 1e8)).toThrow(InputError);
    expect(() => parquetTable('lives.parquet', bytes, 1e8)).toThrow(
      /lives\.parquet: The file cannot be read as Parquet/,
    );
  });
});
