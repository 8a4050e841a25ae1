/** Whether a Parquet page holds the values that it says, looked at after it is unpacked and before it is read. */
import type { PageHeader, SchemaElement } from 'hyparquet';
import { checkBeginnings, checkDelta, checkRuns, type PageReader } from './runChecks.js';

const BROKEN = 'a page does not fit what it says of itself';

/** Looks at the unpacked bytes that follow a place in the file. */
export interface PageCheck {
  /** Bytes between the header and what is packed. */
  unpacked: number;
  isPacked: boolean;
  /** @throws Error where the reader would not get to the end of the page */
  check(page: Uint8Array): void;
}

/** Null for a page without values. `body` is what follows the header; the levels of a page of version 2 at its begin are never packed. */
export function pageCheck(header: PageHeader, element: SchemaElement, body: Uint8Array): PageCheck | null {
  const { data_page_header: first, data_page_header_v2: second, type } = header;
  const isOptional = element.repetition_type !== 'REQUIRED';
  if (type === 'DATA_PAGE' && first !== undefined) {
    const check = (page: Uint8Array): void => {
      const reader = readerOf(page);
      const values = isOptional ? filled(reader, first.num_values) : first.num_values;
      checkValues(reader, first.encoding, element, values, false);
    };
    return { unpacked: 0, isPacked: true, check };
  }
  if (type !== 'DATA_PAGE_V2' || second === undefined) return null;
  const { num_values: all, num_nulls: none, encoding, is_compressed: isPacked } = second;
  const { repetition_levels_byte_length: repeated, definition_levels_byte_length: defined } = second;
  const fits = repeated >= 0 && defined >= 0 && repeated + defined <= body.length && none >= 0 && none <= all;
  if (!fits) throw new Error(BROKEN);
  if (isOptional) checkRuns({ ...readerOf(body), offset: repeated }, 1, all);
  const check = (page: Uint8Array): void => {
    checkValues(readerOf(page), encoding, element, all - none, true);
  };
  return { unpacked: repeated + (isOptional ? defined : 0), isPacked: isPacked !== false, check };
}

function readerOf(page: Uint8Array): PageReader {
  return { view: new DataView(page.buffer, page.byteOffset, page.byteLength), offset: 0 };
}

/** How many values are not empty; leaves the reader behind the levels. */
function filled(reader: PageReader, values: number): number {
  const length = reader.view.getUint32(0, true);
  reader.offset = 4;
  const ones = checkRuns(reader, 1, values);
  reader.offset = 4 + length;
  return ones;
}

function checkValues(
  reader: PageReader,
  encoding: string,
  { type }: SchemaElement,
  values: number,
  isSecond: boolean,
): void {
  switch (encoding) {
    case 'RLE':
    case 'PLAIN_DICTIONARY':
    case 'RLE_DICTIONARY': {
      const isBits = type === 'BOOLEAN' || (isSecond && encoding === 'RLE');
      const bits = isBits ? 1 : reader.view.getUint8(reader.offset);
      reader.offset += isBits ? 4 : 1;
      if (bits > 0 || isSecond) checkRuns(reader, bits, values);
      return;
    }
    case 'DELTA_BINARY_PACKED':
    case 'DELTA_LENGTH_BYTE_ARRAY':
      checkDelta(reader);
      return;
    case 'DELTA_BYTE_ARRAY':
      checkBeginnings(reader, values);
  }
}
