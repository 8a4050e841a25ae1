/** A Parquet file (Apache Parquet format 2) as a coded table. */
import { brotliDecompressSync, gunzipSync } from 'node:zlib';
import {
  type Compressors,
  type FileMetaData,
  parquetMetadata,
  parquetRead,
  parquetSchema,
  type SchemaTree,
} from 'hyparquet';
import { decompressLz4, decompressLz4Raw, decompressZstd } from 'hyparquet-compressors';
import type { CodedColumn, CodedTable } from '../coded/types.js';
import { checkPages } from './parquetPages.js';
import type { ValueKind } from './plainText.js';
import { notReadable, tooManyCells } from './refusals.js';
import { refusedColumn, valueCoder } from './valueCoder.js';

/** What unpacks to more than the page says is cut off or refused, and the reader refuses what is shorter. */
const UNPACKERS: Compressors = {
  GZIP: (input, length) => gunzipSync(input, { maxOutputLength: Math.max(length, 1) }),
  BROTLI: (input, length) => brotliDecompressSync(input, { maxOutputLength: Math.max(length, 1) }),
  ZSTD: (input, length) => decompressZstd(input, new Uint8Array(length)),
  LZ4: decompressLz4,
  LZ4_RAW: decompressLz4Raw,
};

/** Instants as milliseconds; days stay days. */
const PARSERS = {
  timestampFromMilliseconds: (value: bigint) => Number(value),
  timestampFromMicroseconds: (value: bigint) => Number(value) / 1000,
  timestampFromNanoseconds: (value: bigint) => Number(value) / 1e6,
  dateFromDays: (days: number) => days,
  jsonFromBytes: (bytes: Uint8Array) => (bytes === undefined ? undefined : DECODER.decode(bytes)),
};
const DECODER = new TextDecoder();

/**
 * @throws InputError where the file is no Parquet file that can be read, or holds or unpacks to more than `mostBytes`
 */
export async function parquetTable(file: string, bytes: Uint8Array, mostBytes: number): Promise<CodedTable> {
  try {
    const metadata = parquetMetadata(bytes, { geoparquet: false });
    const columns = parquetSchema(metadata).children;
    const length = Number(metadata.num_rows);
    if (length * columns.length > mostBytes) throw tooManyCells(file, length, columns.length, mostBytes);
    checkPages(file, bytes, metadata, mostBytes);
    const coded: CodedColumn[] = [];
    for (const column of columns) coded.push(await codedColumn(bytes, metadata, column, length));
    return { header: columns.map(({ element }) => element.name), length, columns: coded, odd: new Map() };
  } catch (cause) {
    throw notReadable(file, 'Parquet', cause);
  }
}

async function codedColumn(
  bytes: Uint8Array,
  metadata: FileMetaData,
  { element, children }: SchemaTree,
  rows: number,
): Promise<CodedColumn> {
  const { type, converted_type: converted, logical_type: logical } = element;
  if (children.length > 0 || element.repetition_type === 'REPEATED')
    return refusedColumn(rows, 'lists or records');
  if (logical?.type === 'DECIMAL') element.converted_type = 'DECIMAL';
  const isBinary = type === 'FIXED_LEN_BYTE_ARRAY' && element.converted_type !== 'DECIMAL';
  if ((isBinary && !['UUID', 'FLOAT16'].includes(logical?.type ?? '')) || UNREAD.includes(converted ?? ''))
    return refusedColumn(rows, 'bytes or spans of time');
  const coder = valueCoder(rows, kindOf(element));
  await parquetRead({
    file: {
      byteLength: bytes.length,
      slice: (from, to = bytes.length) =>
        bytes.buffer.slice(bytes.byteOffset + from, bytes.byteOffset + to) as ArrayBuffer,
    },
    metadata,
    columns: [element.name],
    compressors: UNPACKERS,
    parsers: PARSERS,
    onChunk: ({ columnData, rowStart }) => {
      for (let i = 0; i < columnData.length; i++) coder.set(rowStart + i, columnData[i]);
    },
  });
  return coder.column();
}

const UNREAD = ['BSON', 'INTERVAL'];

function kindOf(element: SchemaTree['element']): ValueKind {
  const { type, converted_type: converted, logical_type: logical, scale = 0 } = element;
  if (converted === 'DECIMAL') return { kind: 'decimal', scale };
  if (converted === 'DATE' || logical?.type === 'DATE') return { kind: 'days' };
  if (logical?.type === 'TIMESTAMP' || converted?.startsWith('TIMESTAMP') || type === 'INT96')
    return { kind: 'instant' };
  return { kind: type === 'FLOAT' ? 'single' : 'plain' };
}
