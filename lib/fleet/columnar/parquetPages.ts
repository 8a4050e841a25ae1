/** The pages of a Parquet file, looked at before any is unpacked: what they say that they unpack to and hold. */
import {
  type ColumnMetaData,
  type FileMetaData,
  parquetSchema,
  type SchemaElement,
  type SchemaTree,
} from 'hyparquet';
import { parquetHeader } from 'hyparquet/src/column.js';
import { type PageCheck, pageCheck } from './pageValues.js';
import { unpacksTooLarge } from './refusals.js';

/** What is to be looked at once it is unpacked, by the place in the file where it begins. */
export type PageChecks = ReadonlyMap<number, PageCheck>;

/** @throws InputError where the pages unpack to more than `mostBytes`, Error where they do not fit what the file says of itself */
export function checkPages(
  file: string,
  bytes: Uint8Array,
  metadata: FileMetaData,
  mostBytes: number,
): PageChecks {
  const checks = new Map<number, PageCheck>();
  const schema = parquetSchema(metadata).children;
  let total = 0;
  let length = 0;
  for (const { columns, num_rows: rows } of metadata.row_groups) {
    length += Number(rows);
    for (const { meta_data: chunk } of columns) {
      if (chunk === undefined) continue;
      const element = flatElement(chunk, schema);
      total += chunkSize(bytes, chunk, element, { rows: Number(rows), mostBytes, checks });
      if (total > mostBytes) throw unpacksTooLarge(file, mostBytes);
    }
    if (!(Number(rows) >= 0)) throw new Error(MISFIT);
  }
  if (length !== Number(metadata.num_rows)) throw new Error(MISFIT);
  return checks;
}

const MISFIT = 'its pages do not fit what it says of itself';

/** The column of a chunk; undefined where it lies within a record or a list, which is not read. */
function flatElement({ path_in_schema: path }: ColumnMetaData, columns: readonly SchemaTree[]) {
  const column = columns.find(({ element }) => element.name === path[0]);
  const isFlat = path.length === 1 && column?.children.length === 0;
  return isFlat && column.element.repetition_type !== 'REPEATED' ? column.element : undefined;
}

interface Room {
  rows: number;
  mostBytes: number;
  checks: Map<number, PageCheck>;
}

/** Bytes that the pages of one column unpack to. */
function chunkSize(
  bytes: Uint8Array,
  chunk: ColumnMetaData,
  element: SchemaElement | undefined,
  { rows, mostBytes, checks }: Room,
): number {
  // The reader begins here too.
  const from = Number(chunk.dictionary_page_offset || chunk.data_page_offset);
  const length = Number(chunk.total_compressed_size);
  if (!(from >= 0 && length >= 0 && from + length <= bytes.length)) throw new Error(MISFIT);
  const reader = { view: new DataView(bytes.buffer, bytes.byteOffset + from, length), offset: 0 };
  let size = 0;
  let held = 0;
  while (reader.offset < length - 1 && size <= mostBytes) {
    const header = parquetHeader(reader);
    const { compressed_page_size: packed, uncompressed_page_size: unpacked } = header;
    const values = (header.data_page_header ?? header.data_page_header_v2)?.num_values ?? 0;
    const entries = header.dictionary_page_header?.num_values ?? 0;
    held += values;
    if (!(packed >= 0 && unpacked >= 0 && values >= 0 && entries >= 0 && entries <= 8 * unpacked))
      throw new Error(MISFIT);
    const at = from + reader.offset;
    if (element !== undefined && held <= rows) {
      const body = bytes.subarray(at, at + packed);
      const check = pageCheck(header, { ...element, type: chunk.type }, body);
      if (check?.isPacked && chunk.codec !== 'UNCOMPRESSED') checks.set(at + check.unpacked, check);
      else check?.check(body.subarray(check.unpacked));
    }
    size += unpacked;
    reader.offset += packed;
  }
  if (element !== undefined && size <= mostBytes && held !== rows) throw new Error(MISFIT);
  return size;
}
