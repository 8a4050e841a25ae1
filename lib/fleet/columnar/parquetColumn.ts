/** One column of a Parquet file: levels, dictionaries and values of its pages become the numbers of its texts. */
import type { PageHeader } from 'hyparquet';
import { decompressPage } from 'hyparquet/src/datapage.js';
import { byteAt, wholeAt } from '../../numeric/columns.js';
import { type ColumnValues, plainCodes } from './pageValues.js';
import { type ColumnChunk, misfit, type Page } from './parquetPages.js';
import { fits, type PageReader, pageReader, readRuns } from './runs.js';
import { UNPACKERS } from './unpackers.js';

/**
 * Sets the codes of the rows of a chunk.
 * @throws Error where a page does not hold what it says
 */
export function readChunk({ chunk, pages, firstRow }: ColumnChunk, column: ColumnValues): void {
  if (chunk.type !== column.decoder.type) throw misfit();
  let row = firstRow;
  let dictionary: Int32Array | null = null;
  for (const page of pages) {
    if (page.header.type === 'DICTIONARY_PAGE') dictionary = dictionaryOf(page, chunk.codec, column);
    else row += readDataPage(page, chunk.codec, row, { ...column, dictionary });
  }
}

type Codec = ColumnChunk['chunk']['codec'];

interface Readable extends ColumnValues {
  /** The number of the text of each of its values. */
  dictionary: Int32Array | null;
}

function dictionaryOf({ header, body }: Page, codec: Codec, column: ColumnValues): Int32Array {
  const entries = header.dictionary_page_header?.num_values ?? 0;
  const page = decompressPage(body, header.uncompressed_page_size, codec, UNPACKERS);
  return plainCodes(pageReader(page), 'PLAIN', entries, column);
}

/** Returns the rows of the page. */
function readDataPage(page: Page, codec: Codec, row: number, column: Readable): number {
  const { rows, encoding, levels, reader } = openPage(page, codec, column);
  const filled = levels === null ? rows : ones(levels);
  const isCoded = encoding === 'RLE_DICTIONARY' || encoding === 'PLAIN_DICTIONARY';
  const codes = isCoded
    ? dictionaryCodes(reader, filled, column.dictionary)
    : plainCodes(reader, encoding, filled, column);
  place(column.coder.codes, row, codes, filled === rows ? null : levels);
  return rows;
}

interface OpenPage {
  rows: number;
  encoding: Parameters<typeof plainCodes>[1];
  /** For each row 1 where there is a value, 0 where it is empty; null where there is one in each. */
  levels: Uint8Array | null;
  /** Stands at the first value. */
  reader: PageReader;
}

function openPage({ header, body }: Page, codec: Codec, { decoder }: Readable): OpenPage {
  const isOptional = decoder.element.repetition_type !== 'REQUIRED';
  const { type, data_page_header: first, data_page_header_v2: second } = header;
  if (type === 'DATA_PAGE' && first !== undefined) {
    const reader = pageReader(decompressPage(body, header.uncompressed_page_size, codec, UNPACKERS));
    const rows = first.num_values;
    const levels = isOptional ? levelsInFront(reader, rows, first.definition_level_encoding) : null;
    return { rows, encoding: first.encoding, levels, reader };
  }
  if (type !== 'DATA_PAGE_V2' || second === undefined) throw new Error(`pages of kind ${type} are not read`);
  return openSecond(second, body, header.uncompressed_page_size, { codec, isOptional });
}

function levelsInFront(reader: PageReader, rows: number, encoding: string): Uint8Array {
  if (encoding !== 'RLE') throw new Error(`levels written as ${encoding} are not read`);
  const length = reader.view.getUint32(0, true);
  const levels = new Uint8Array(rows);
  reader.offset = 4;
  readRuns(reader, 1, levels);
  reader.offset = 4 + length;
  return levels;
}

/** A page of version 2, whose levels are never packed. */
function openSecond(
  second: NonNullable<PageHeader['data_page_header_v2']>,
  body: Uint8Array,
  size: number,
  { codec, isOptional }: { codec: Codec; isOptional: boolean },
): OpenPage {
  const { num_values: rows, num_nulls: empty, encoding, is_compressed: isPacked } = second;
  const { repetition_levels_byte_length: repeated, definition_levels_byte_length: defined } = second;
  fits(repeated >= 0 && defined >= 0 && repeated + defined <= Math.min(body.length, size));
  const levels = isOptional ? new Uint8Array(rows) : null;
  if (levels !== null) readRuns(pageReader(body.subarray(repeated, repeated + defined)), 1, levels);
  fits(empty === (levels === null ? 0 : rows - ones(levels)));
  const packed = body.subarray(repeated + defined);
  const unpacked = size - repeated - defined;
  const values = isPacked === false ? packed : decompressPage(packed, unpacked, codec, UNPACKERS);
  return { rows, encoding, levels, reader: pageReader(values) };
}

function ones(levels: Uint8Array): number {
  let sum = 0;
  for (let i = 0; i < levels.length; i++) sum += byteAt(levels, i);
  return sum;
}

function dictionaryCodes(reader: PageReader, values: number, dictionary: Int32Array | null): Int32Array {
  const codes = new Int32Array(values);
  if (values === 0) return codes;
  if (dictionary === null) throw new Error('a page has no dictionary');
  const bits = reader.view.getUint8(reader.offset++);
  readRuns(reader, bits, codes);
  const entries = dictionary.length;
  for (let i = 0; i < values; i++) {
    const entry = wholeAt(codes, i);
    fits(entry >= 0 && entry < entries);
    codes[i] = wholeAt(dictionary, entry);
  }
  return codes;
}

/** Puts the codes of the values there are at their rows; the others stay empty. */
function place(into: Int32Array, row: number, codes: Int32Array, levels: Uint8Array | null): void {
  if (levels === null) {
    into.set(codes, row);
    return;
  }
  for (let i = 0, k = 0; i < levels.length; i++)
    if (byteAt(levels, i) === 1) into[row + i] = wholeAt(codes, k++);
}
