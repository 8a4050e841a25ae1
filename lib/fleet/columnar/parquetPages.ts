/** What the pages of a Parquet file say that they unpack to, added up before any is unpacked. */
import type { FileMetaData } from 'hyparquet';
import { parquetHeader } from 'hyparquet/src/column.js';
import { unpacksTooLarge } from './refusals.js';

/** @throws InputError where the pages unpack to more than `mostBytes`, Error where they do not fit what the file says of itself */
export function checkPages(file: string, bytes: Uint8Array, metadata: FileMetaData, mostBytes: number): void {
  let total = 0;
  for (const { columns, num_rows: rows } of metadata.row_groups) {
    for (const { meta_data: chunk } of columns) {
      if (chunk === undefined) continue;
      const from = Number(firstOffset(chunk.dictionary_page_offset, chunk.data_page_offset));
      const length = Number(chunk.total_compressed_size);
      if (!(from >= 0 && length >= 0 && from + length <= bytes.length)) throw new Error(MISFIT);
      const view = new DataView(bytes.buffer, bytes.byteOffset + from, length);
      const isFlat = chunk.path_in_schema.length === 1;
      total += unpackedSize(view, isFlat ? Number(rows) : Number.MAX_SAFE_INTEGER, mostBytes);
      if (total > mostBytes) throw unpacksTooLarge(file, mostBytes);
    }
  }
}

const MISFIT = 'its pages do not fit what it says of itself';

function firstOffset(dictionary: bigint | undefined, data: bigint): bigint {
  return dictionary !== undefined && dictionary > 0n && dictionary < data ? dictionary : data;
}

/** Bytes that the pages of one column unpack to. */
function unpackedSize(view: DataView, mostValues: number, mostBytes: number): number {
  const reader = { view, offset: 0 };
  let size = 0;
  while (reader.offset < view.byteLength - 1 && size <= mostBytes) {
    const header = parquetHeader(reader);
    const packed = header.compressed_page_size;
    const unpacked = header.uncompressed_page_size;
    const values = (header.data_page_header ?? header.data_page_header_v2)?.num_values ?? 0;
    const entries = header.dictionary_page_header?.num_values ?? 0;
    if (!(packed >= 0 && unpacked >= 0 && values <= mostValues && entries <= 8 * unpacked))
      throw new Error(MISFIT);
    size += unpacked;
    reader.offset += packed;
  }
  return size;
}
