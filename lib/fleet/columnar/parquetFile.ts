/** A Parquet file (Apache Parquet format 2) as a coded table. */
import { parquetMetadata, parquetSchema, type SchemaTree } from 'hyparquet';
import { DEFAULT_PARSERS } from 'hyparquet/src/convert.js';
import type { CodedColumn, CodedTable } from '../coded/types.js';
import type { ShareTold } from '../stream/byteSource.js';
import type { ColumnDecoder } from './pageValues.js';
import { readChunk } from './parquetColumn.js';
import { type ColumnChunk, flatPages, misfit } from './parquetPages.js';
import type { ValueKind } from './plainText.js';
import { notReadable, tooManyCells } from './refusals.js';
import { refusedColumn, valueCoder } from './valueCoder.js';

/** Instants as milliseconds; days stay days. */
const PARSERS = {
  ...DEFAULT_PARSERS,
  timestampFromMilliseconds: (value: bigint) => Number(value),
  timestampFromMicroseconds: (value: bigint) => Number(value) / 1000,
  timestampFromNanoseconds: (value: bigint) => Number(value) / 1e6,
  dateFromDays: (days: number) => days,
} as unknown as ColumnDecoder['parsers'];

/**
 * @throws InputError where the file is no Parquet file that can be read, or holds or unpacks to more than `mostBytes`
 */
export function parquetTable(
  file: string,
  bytes: Uint8Array,
  mostBytes: number,
  told?: ShareTold,
): CodedTable {
  try {
    const metadata = parquetMetadata(bytes, { geoparquet: false });
    const columns = parquetSchema(metadata).children;
    const length = Number(metadata.num_rows);
    if (length * columns.length > mostBytes) throw tooManyCells(file, length, columns.length, mostBytes);
    const pages = flatPages(file, bytes, metadata, mostBytes);
    const coded = columns.map((column, i) => {
      told?.(i / columns.length);
      return codedColumn(column, length, pages.get(column.element.name) ?? []);
    });
    return { header: columns.map(({ element }) => element.name), length, columns: coded, odd: new Map() };
  } catch (cause) {
    throw notReadable(file, 'Parquet', cause);
  }
}

function codedColumn(column: SchemaTree, length: number, chunks: readonly ColumnChunk[]): CodedColumn {
  const { element, children } = column;
  const { type, converted_type: converted, logical_type: logical } = element;
  if (children.length > 0 || element.repetition_type === 'REPEATED')
    return refusedColumn(length, 'lists or records');
  if (logical?.type === 'DECIMAL') element.converted_type = 'DECIMAL';
  const isDecimal = element.converted_type === 'DECIMAL';
  const isBinary = type === 'FIXED_LEN_BYTE_ARRAY' && !isDecimal;
  if (
    (isBinary && !['UUID', 'FLOAT16'].includes(logical?.type ?? '')) ||
    UNREAD.includes(converted ?? logical?.type ?? '')
  )
    return refusedColumn(length, 'bytes, places or spans of time');
  if (type === undefined || chunks.reduce((sum, { rows }) => sum + rows, 0) !== length) throw misfit();
  const coder = valueCoder(length, kindOf(element));
  const decoder = {
    pathInSchema: [element.name],
    type,
    element,
    schemaPath: [column],
    parsers: PARSERS,
    codec: 'UNCOMPRESSED',
  } satisfies ColumnDecoder;
  const isText = type === 'BYTE_ARRAY' && !isDecimal;
  for (const chunk of chunks) readChunk(chunk, { decoder, coder, isText });
  return coder.column();
}

const UNREAD = ['BSON', 'INTERVAL', 'GEOMETRY', 'GEOGRAPHY'];

function kindOf(element: SchemaTree['element']): ValueKind {
  const { type, converted_type: converted, logical_type: logical, scale = 0 } = element;
  if (converted === 'DECIMAL') return { kind: 'decimal', scale };
  if (converted === 'DATE' || logical?.type === 'DATE') return { kind: 'days' };
  if (logical?.type === 'TIMESTAMP' || converted?.startsWith('TIMESTAMP') || type === 'INT96')
    return { kind: 'instant' };
  return { kind: type === 'FLOAT' ? 'single' : 'plain' };
}
