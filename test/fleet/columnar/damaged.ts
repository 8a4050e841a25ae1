/** Small Parquet and Arrow files that are cut short or have a few bytes changed, each from its number. */
import { readFileSync } from 'node:fs';
import * as arrow from '@uwdata/flechette';
import { type ColumnSource, parquetWriteBuffer } from 'hyparquet-writer';
import { randomStream } from '../../../lib/numeric/random.js';
import { firstVersion } from './firstVersion.js';
import { arrowOf, columnsOfCsv, parquetOf } from './makeColumns.js';
import { ROWS, ZSTD_FILE } from './packedColumns.js';

/** The file that the reference program of Zstandard packed. */
const PROGRAM = 'program.parquet';

const LINES = Array.from(
  { length: 40 },
  (_, i) =>
    `V${i % 7},2020-0${1 + (i % 9)}-1${i % 10},${i}.5,${i % 5 === 0 ? '' : 25},${i % 3 === 0 ? '' : 'EPDM'}`,
);
const COLUMNS = columnsOfCsv(`position,day,price,size,kind\n${LINES.join('\n')}\n`);

function whole(): Record<string, Uint8Array> {
  const typed = arrowOf(COLUMNS, true);
  const stream = arrow.tableToIPC(arrow.tableFromIPC(typed), { format: 'stream' }) as Uint8Array;
  return {
    'types.parquet': parquetOf(COLUMNS, true),
    'texts.parquet': parquetOf(COLUMNS, false),
    'types.arrow': typed,
    'texts.arrow': arrowOf(COLUMNS, false),
    'stream.arrow': stream,
    'encoded.parquet': encoded(),
    'plain.feather': plainArrow(),
    'first.parquet': firstVersion(encoded(), 'UNCOMPRESSED'),
    'firstPacked.parquet': firstVersion(encoded(), 'SNAPPY'),
    'gzip.parquet': parquetOf(COLUMNS, true, 'GZIP'),
    'brotli.parquet': parquetOf(COLUMNS, true, 'BROTLI'),
    'zstd.parquet': parquetOf(COLUMNS, true, 'ZSTD'),
    'lz4.parquet': parquetOf(COLUMNS, true, 'LZ4_RAW'),
    'hadoop.parquet': parquetOf(COLUMNS, true, 'LZ4'),
    [PROGRAM]: new Uint8Array(readFileSync(ZSTD_FILE)),
  };
}

/** Each way of writing values that the reader knows and the writer can write, not packed: damage reaches the values themselves. */
function encoded(): Uint8Array {
  const numbers = LINES.map((_, i) => 7 * i - 50);
  const words = LINES.map((_, i) => (i % 4 === 0 ? null : `valve-${i}`));
  const columnData: ColumnSource[] = [
    { name: 'delta', type: 'INT32', data: numbers, encoding: 'DELTA_BINARY_PACKED' },
    { name: 'long', type: 'INT64', data: numbers.map(BigInt), encoding: 'DELTA_BINARY_PACKED' },
    { name: 'lengths', type: 'STRING', data: words, encoding: 'DELTA_LENGTH_BYTE_ARRAY' },
    { name: 'beginnings', type: 'STRING', data: words, encoding: 'DELTA_BYTE_ARRAY' },
    { name: 'split', type: 'DOUBLE', data: numbers, encoding: 'BYTE_STREAM_SPLIT' },
    { name: 'runs', type: 'BOOLEAN', data: numbers.map((x) => x % 3 === 0), encoding: 'RLE' },
    { name: 'coded', type: 'STRING', data: words, encoding: 'RLE_DICTIONARY' },
  ];
  return new Uint8Array(parquetWriteBuffer({ columnData, codec: 'UNCOMPRESSED', statistics: false }));
}

function plainArrow(): Uint8Array {
  const words = LINES.map((_, i) => (i % 4 === 0 ? null : `valve-${i}`));
  const table = {
    word: arrow.columnFromArray(words, arrow.utf8()),
    price: arrow.columnFromArray(
      LINES.map((_, i) => i / 4),
      arrow.decimal(18, 2),
    ),
    list: arrow.columnFromArray(
      LINES.map((_, i) => [i, i + 1]),
      arrow.list(arrow.int32()),
    ),
    yes: arrow.columnFromArray(
      LINES.map((_, i) => i % 3 === 0),
      arrow.bool(),
    ),
    none: arrow.columnFromArray(
      LINES.map(() => null),
      arrow.nullType(),
    ),
  };
  return arrow.tableToIPC(arrow.tableFromColumns(table), { format: 'file' }) as Uint8Array;
}

const WHOLE = Object.entries(whole());
/** Bytes that make a length zero, negative or very large. */
const EXTREMES = [0, 255, 127, 128];

export const KINDS: readonly string[] = WHOLE.map(([file]) => file);

export function rowsOf(file: string): number {
  return file === PROGRAM ? ROWS : LINES.length;
}

export function wholeFile(kind: number): { file: string; bytes: Uint8Array } {
  const [file, bytes] = WHOLE[kind % WHOLE.length] as [string, Uint8Array];
  return { file, bytes };
}

/** The names of the files repeat in turn. */
export function damagedFile(number: number): { file: string; bytes: Uint8Array } {
  const { file, bytes: good } = wholeFile(number);
  const random = randomStream(1, `damaged/${number}`);
  if (random.below(4) === 0) return { file, bytes: good.slice(0, random.below(good.length)) };
  const bytes = good.slice();
  // A third of the files is damaged at the end, where what the file says of itself stands.
  const from = random.below(3) === 0 ? Math.max(bytes.length - 600, 0) : 0;
  for (let left = 1 + random.below(8); left > 0; left--) {
    const byte = EXTREMES[random.below(6)] ?? random.below(256);
    bytes[from + random.below(bytes.length - from)] = byte;
  }
  return { file, bytes };
}
