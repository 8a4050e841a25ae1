/** The pages of a Parquet file, looked at before any is unpacked: what they say that they unpack to and hold. */
import {
  type ColumnMetaData,
  type FileMetaData,
  type PageHeader,
  parquetSchema,
  type SchemaTree,
} from 'hyparquet';
import { parquetHeader } from 'hyparquet/src/column.js';
import { unpacksTooLarge } from './refusals.js';

export interface Page {
  header: PageHeader;
  /** What follows the header, as it is packed. */
  body: Uint8Array;
}

/** The pages of a column in one group of rows. */
export interface ColumnChunk {
  chunk: ColumnMetaData;
  pages: Page[];
  /** Its rows, and those of the groups before. */
  rows: number;
  firstRow: number;
}

/**
 * The pages of each column that is no list or record, by its name.
 * @throws InputError where the pages unpack to more than `mostBytes`, Error where they do not fit what the file says of itself
 */
export function flatPages(
  file: string,
  bytes: Uint8Array,
  metadata: FileMetaData,
  mostBytes: number,
): Map<string, ColumnChunk[]> {
  const found = new Map<string, ColumnChunk[]>();
  const schema = parquetSchema(metadata).children;
  let total = 0;
  let length = 0;
  for (const { columns, num_rows: groupRows } of metadata.row_groups) {
    const rows = Number(groupRows);
    if (!(rows >= 0)) throw misfit();
    for (const { meta_data: chunk } of columns) {
      if (chunk === undefined) continue;
      const { pages, size, held } = pagesOf(bytes, chunk, mostBytes);
      total += size;
      if (total > mostBytes) throw unpacksTooLarge(file, mostBytes);
      const [name] = chunk.path_in_schema;
      if (name === undefined || !isFlat(chunk, schema)) continue;
      if (held !== rows) throw misfit();
      found.set(name, [...(found.get(name) ?? []), { chunk, pages, rows, firstRow: length }]);
    }
    length += rows;
  }
  if (length !== Number(metadata.num_rows)) throw misfit();
  return found;
}

export function misfit(): Error {
  return new Error('its pages do not fit what it says of itself');
}

/** Whether the column of a chunk lies within no record or list. */
function isFlat({ path_in_schema: path }: ColumnMetaData, columns: readonly SchemaTree[]): boolean {
  const column = columns.find(({ element }) => element.name === path[0]);
  return path.length === 1 && column?.children.length === 0 && column.element.repetition_type !== 'REPEATED';
}

/** The pages of one chunk, the bytes that they unpack to, and the values that they hold. */
function pagesOf(
  bytes: Uint8Array,
  chunk: ColumnMetaData,
  mostBytes: number,
): { pages: Page[]; size: number; held: number } {
  const from = Number(chunk.dictionary_page_offset || chunk.data_page_offset);
  const length = Number(chunk.total_compressed_size);
  if (!(from >= 0 && length >= 0 && from + length <= bytes.length)) throw misfit();
  const reader = { view: new DataView(bytes.buffer, bytes.byteOffset + from, length), offset: 0 };
  const pages: Page[] = [];
  let size = 0;
  let held = 0;
  while (reader.offset < length - 1 && size <= mostBytes) {
    const header = parquetHeader(reader);
    const { compressed_page_size: packed, uncompressed_page_size: unpacked } = header;
    const values = (header.data_page_header ?? header.data_page_header_v2)?.num_values ?? 0;
    const entries = header.dictionary_page_header?.num_values ?? 0;
    const isInside = packed >= 0 && reader.offset + packed <= length;
    if (!(isInside && unpacked >= 0 && values >= 0 && entries >= 0 && entries <= 8 * unpacked))
      throw misfit();
    const at = from + reader.offset;
    pages.push({ header, body: bytes.subarray(at, at + packed) });
    held += values;
    size += unpacked;
    reader.offset += packed;
  }
  return { pages, size, held };
}
