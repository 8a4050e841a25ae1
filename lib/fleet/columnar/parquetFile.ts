/** A Parquet file (Apache Parquet format 2) as a coded table. */
import { type FileMetaData, parquetMetadata, parquetRead, parquetSchema, type SchemaTree } from 'hyparquet';
import type { CodedColumn, CodedTable } from '../coded/types.js';
import { checkPages, type PageChecks } from './parquetPages.js';
import type { ValueKind } from './plainText.js';
import { notReadable, tooManyCells } from './refusals.js';
import { unpackersWith } from './unpackers.js';
import { refusedColumn, valueCoder } from './valueCoder.js';

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
    const checks = checkPages(file, bytes, metadata, mostBytes);
    const coded: CodedColumn[] = [];
    for (const column of columns) coded.push(await codedColumn({ bytes, metadata, checks }, column, length));
    return { header: columns.map(({ element }) => element.name), length, columns: coded, odd: new Map() };
  } catch (cause) {
    throw notReadable(file, 'Parquet', cause);
  }
}

interface CheckedFile {
  bytes: Uint8Array;
  metadata: FileMetaData;
  checks: PageChecks;
}

async function codedColumn(
  { bytes, metadata, checks }: CheckedFile,
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
  await readColumn({ bytes, metadata, checks }, element.name, coder.set);
  return coder.column();
}

async function readColumn(
  { bytes, metadata, checks }: CheckedFile,
  name: string,
  set: (row: number, value: unknown) => void,
): Promise<void> {
  const starts = new WeakMap<ArrayBufferLike, number>();
  let fault: unknown = null;
  await parquetRead({
    file: {
      byteLength: bytes.length,
      slice: (from, to = bytes.length) => {
        const part = bytes.buffer.slice(bytes.byteOffset + from, bytes.byteOffset + to) as ArrayBuffer;
        starts.set(part, from);
        return part;
      },
    },
    metadata,
    columns: [name],
    compressors: unpackersWith((packed, page) => {
      checks.get((starts.get(packed.buffer) ?? Number.NaN) + packed.byteOffset)?.check(page);
    }),
    parsers: PARSERS,
    onChunk: ({ columnData, rowStart }) => {
      // What is thrown in here would reach nobody.
      try {
        for (let i = 0; i < columnData.length; i++) set(rowStart + i, columnData[i]);
      } catch (cause) {
        fault ??= cause;
      }
    },
  });
  if (fault !== null) throw fault;
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
