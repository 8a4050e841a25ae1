/** The values that a Parquet page holds (Apache Parquet "Encodings", from memory), as numbers of their texts. */
import type { Encoding } from 'hyparquet';
import { convert } from 'hyparquet/src/convert.js';
import { deltaBinaryUnpack, deltaByteArray, deltaLengthByteArray } from 'hyparquet/src/delta.js';
import { byteStreamSplit } from 'hyparquet/src/encoding.js';
import { readPlain } from 'hyparquet/src/plain.js';
import { checkBeginnings, checkDelta } from './deltaChecks.js';
import { fits, type PageReader, readRuns } from './runs.js';
import type { ValueCoder } from './valueCoder.js';

/** How a column is stored, as the reader's own functions take it. */
export type ColumnDecoder = Parameters<typeof convert>[1];

/** What stands in the file for one value after the other. */
type Raw = ArrayLike<unknown> & Iterable<unknown>;

/** A column whose values are being read. */
export interface ColumnValues {
  decoder: ColumnDecoder;
  coder: ValueCoder;
  /** Whether its bytes are texts. */
  isText: boolean;
}

/**
 * The numbers of the next values of a page that are not coded by a dictionary.
 * @throws Error where the page does not hold so many values, or in a way that is not read
 */
export function plainCodes(
  reader: PageReader,
  encoding: Encoding,
  values: number,
  column: ColumnValues,
): Int32Array {
  const { type, element } = column.decoder;
  if (encoding === 'PLAIN' && type === 'BYTE_ARRAY' && column.isText)
    return textCodes(reader, values, column);
  if (encoding === 'PLAIN' && type === 'INT64') return longCodes(reader, values, column);
  if (values === 0) return new Int32Array(0);
  return rawCodes(rawValues(reader, encoding, values, { type, typeLength: element.type_length }), column);
}

interface Stored {
  type: ColumnDecoder['type'];
  typeLength: number | undefined;
}

function rawValues(reader: PageReader, encoding: Encoding, values: number, stored: Stored): Raw {
  const { type, typeLength } = stored;
  switch (encoding) {
    case 'PLAIN':
      fits(reader.offset + leastBytes(values, stored) <= reader.view.byteLength);
      return checkedEnd(reader, readPlain(reader, type, values, typeLength));
    case 'RLE':
      return booleans(reader, values, type);
    case 'DELTA_BINARY_PACKED': {
      checkDelta(reader);
      const whole = type === 'INT32' ? new Int32Array(values) : new BigInt64Array(values);
      deltaBinaryUnpack(reader, values, whole);
      return whole;
    }
    case 'DELTA_LENGTH_BYTE_ARRAY':
    case 'DELTA_BYTE_ARRAY': {
      const [isWhole, texts] = [encoding === 'DELTA_LENGTH_BYTE_ARRAY', new Array<Uint8Array>(values)];
      if (isWhole) checkDelta(reader);
      else checkBeginnings(reader, values);
      (isWhole ? deltaLengthByteArray : deltaByteArray)(reader, values, texts);
      return texts;
    }
    case 'BYTE_STREAM_SPLIT':
      fits(reader.offset + leastBytes(values, stored) <= reader.view.byteLength);
      return byteStreamSplit(reader, values, type, typeLength);
    default:
      throw new Error(`values written as ${encoding} are not read`);
  }
}

/** Bytes that so many values take at the least. */
function leastBytes(values: number, { type, typeLength = 0 }: Stored): number {
  if (type === 'BOOLEAN') return values / 8;
  if (type === 'FIXED_LEN_BYTE_ARRAY') return values * typeLength;
  if (type === 'INT96') return values * 12;
  return type === 'INT64' || type === 'DOUBLE' ? values * 8 : values * 4;
}

function checkedEnd<T>(reader: PageReader, values: T): T {
  fits(reader.offset <= reader.view.byteLength);
  return values;
}

function booleans(reader: PageReader, values: number, type: ColumnDecoder['type']): boolean[] {
  if (type !== 'BOOLEAN') throw new Error('values written as RLE are not read');
  const bits = new Uint8Array(values);
  // The length of the runs stands in front of them.
  reader.offset += 4;
  readRuns(reader, 1, bits);
  return Array.from(bits, (bit) => bit === 1);
}

function rawCodes(raw: Raw, column: ColumnValues): Int32Array {
  const { decoder, coder, isText } = column;
  const codes = new Int32Array(raw.length);
  if (raw instanceof Int32Array || raw instanceof Float64Array || raw instanceof Float32Array) {
    const known = new Map<number, number>();
    for (let i = 0; i < raw.length; i++) {
      const value = raw[i] as number;
      const code = known.get(value) ?? coder.codeOf(convert(raw.slice(i, i + 1), decoder)[0]);
      known.set(value, code);
      codes[i] = code;
    }
    return codes;
  }
  const values = isText ? raw : convert(raw as Parameters<typeof convert>[0], decoder);
  for (let i = 0; i < raw.length; i++) {
    const value: unknown = values[i];
    const isBytes = isText && value instanceof Uint8Array;
    codes[i] = isBytes ? coder.codeOfBytes(value, 0, value.length) : coder.codeOf(value);
  }
  return codes;
}

/** Texts with their length in front of each. */
function textCodes({ view, offset }: PageReader, values: number, { coder }: ColumnValues): Int32Array {
  const bytes = new Uint8Array(view.buffer, view.byteOffset, view.byteLength);
  const codes = new Int32Array(values);
  let at = offset;
  for (let i = 0; i < values; i++) {
    const from = at + 4;
    const to = from + view.getUint32(at, true);
    fits(to <= bytes.length);
    codes[i] = coder.codeOfBytes(bytes, from, to);
    at = to;
  }
  return codes;
}

/** Numbers of 64 bits: those that fit a number of ours are told apart as such, which is faster. */
function longCodes({ view, offset }: PageReader, values: number, column: ColumnValues): Int32Array {
  fits(offset + 8 * values <= view.byteLength);
  const codes = new Int32Array(values);
  const known = new Map<number, number>();
  const codeAt = (at: number): number =>
    column.coder.codeOf(convert(BigInt64Array.of(view.getBigInt64(at, true)), column.decoder)[0]);
  for (let i = 0; i < values; i++) {
    const at = offset + 8 * i;
    const value = view.getInt32(at + 4, true) * 2 ** 32 + view.getUint32(at, true);
    if (!Number.isSafeInteger(value)) {
      codes[i] = codeAt(at);
      continue;
    }
    const code = known.get(value) ?? codeAt(at);
    known.set(value, code);
    codes[i] = code;
  }
  return codes;
}
