/** A Parquet file with pages of version 1, as most programs write them, from one with pages of version 2 that are not packed. */
import { parquetMetadata } from 'hyparquet';
import { ByteWriter } from 'hyparquet-writer/src/bytewriter.js';
import { writePageHeader } from 'hyparquet-writer/src/datapage.js';
import { writeMetadata } from 'hyparquet-writer/src/metadata.js';
import { flatPages, type Page } from '../../../lib/fleet/columnar/parquetPages.js';
import { type Codec, PACKERS } from './packers.js';

const MAGIC = 'PAR1';

export function firstVersion(bytes: Uint8Array, codec: Codec | 'UNCOMPRESSED'): Uint8Array {
  const metadata = parquetMetadata(bytes, { geoparquet: false });
  const pages = flatPages('x.parquet', bytes, metadata, 1e9);
  const writer = new ByteWriter();
  writer.appendBytes(Buffer.from(MAGIC));
  for (const [group, { columns }] of metadata.row_groups.entries()) {
    for (const column of columns) {
      const { meta_data: chunk } = column;
      if (chunk === undefined) continue;
      const own = pages.get(chunk.path_in_schema[0] ?? '')?.[group]?.pages ?? [];
      const start = writer.offset;
      const hasDictionary = own[0]?.header.type === 'DICTIONARY_PAGE';
      own.forEach((page, i) => {
        if (i === (hasDictionary ? 1 : 0)) chunk.data_page_offset = BigInt(writer.offset);
        writePage(writer, page, codec);
      });
      if (hasDictionary) chunk.dictionary_page_offset = BigInt(start);
      chunk.codec = codec;
      chunk.total_compressed_size = BigInt(writer.offset - start);
      delete column.offset_index_offset;
      delete column.offset_index_length;
    }
  }
  writeMetadata(writer, metadata);
  writer.appendBytes(Buffer.from(MAGIC));
  return new Uint8Array(writer.getBuffer());
}

function writePage(writer: ByteWriter, { header, body }: Page, codec: Codec | 'UNCOMPRESSED'): void {
  const second = header.data_page_header_v2;
  const levels = second?.definition_levels_byte_length ?? 0;
  const length = new Uint8Array(levels === 0 ? 0 : 4);
  if (levels > 0) new DataView(length.buffer).setUint32(0, levels, true);
  const page = new Uint8Array(Buffer.concat([length, body]));
  const packed = codec === 'UNCOMPRESSED' ? page : PACKERS[codec](page);
  const { data_page_header_v2: _, ...rest } = header;
  writePageHeader(writer, {
    ...rest,
    type: second === undefined ? header.type : 'DATA_PAGE',
    uncompressed_page_size: page.length,
    compressed_page_size: packed.length,
    ...(second !== undefined && {
      data_page_header: {
        num_values: second.num_values,
        encoding: second.encoding,
        definition_level_encoding: 'RLE' as const,
        repetition_level_encoding: 'RLE' as const,
      },
    }),
  });
  writer.appendBytes(packed);
}
