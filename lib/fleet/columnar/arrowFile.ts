/** An Arrow file or stream (Apache Arrow IPC; Feather of version 2 is the same) as a coded table. */
import {
  type Column,
  CompressionType,
  type DataType,
  setCompressionCodec,
  Type,
  tableFromIPC,
} from '@uwdata/flechette';
import { decompressZstd } from 'hyparquet-compressors';
import type { CodedColumn, CodedTable } from '../coded/types.js';
import type { ShareTold } from '../stream/byteSource.js';
import { setCodes } from './arrowColumn.js';
import { checkArrowShape } from './arrowShape.js';
import { unpackLz4 } from './lz4Frame.js';
import type { ValueKind } from './plainText.js';
import { notReadable, tooManyCells, unpacksTooLarge } from './refusals.js';
import { refusedColumn, valueCoder } from './valueCoder.js';

/**
 * @throws InputError where the file is no Arrow file that can be read, or holds or unpacks to more than `mostBytes`
 */
export function arrowTable(file: string, bytes: Uint8Array, mostBytes: number, told?: ShareTold): CodedTable {
  try {
    checkArrowShape(bytes);
    setUnpackers(file, mostBytes);
    const table = tableFromIPC(bytes, { useDecimalInt: true, useBigInt: true });
    const { numRows: length, numCols } = table;
    if (length * numCols > mostBytes) throw tooManyCells(file, length, numCols, mostBytes);
    const columns = table.names.map((_, place) => {
      told?.(place / numCols);
      return codedColumn(table.getChildAt(place), length);
    });
    return { header: [...table.names], length, columns, odd: new Map() };
  } catch (cause) {
    throw notReadable(file, 'Arrow', cause);
  }
}

/** Unpackers that together give at most so many bytes. */
function setUnpackers(file: string, mostBytes: number): void {
  let left = mostBytes;
  const within = (unpack: (bytes: Uint8Array, length: number) => Uint8Array) => ({
    decode: (bytes: Uint8Array, length: number): Uint8Array => {
      if (!(length >= 0 && length <= left)) throw unpacksTooLarge(file, mostBytes);
      left -= length;
      return unpack(bytes, length);
    },
    encode: (bytes: Uint8Array): Uint8Array => bytes,
  });
  setCompressionCodec(
    CompressionType.ZSTD,
    within((bytes, length) => decompressZstd(bytes, new Uint8Array(length))),
  );
  setCompressionCodec(CompressionType.LZ4_FRAME, within(unpackLz4));
}

function codedColumn(column: Column<unknown>, rows: number): CodedColumn {
  const kind = kindOf(column.type);
  if (typeof kind === 'string') return refusedColumn(rows, kind);
  if (column.length !== rows) throw new Error(MISFIT);
  const coder = valueCoder(rows, kind);
  setCodes(column, coder);
  return coder.column();
}

const MISFIT = 'its columns are not equally long';

/** What the values of a type are; words for what no cell can hold. */
function kindOf(type: DataType): ValueKind | string {
  switch (type.typeId) {
    case Type.Null:
    case Type.Bool:
    case Type.Int:
    case Type.Utf8:
    case Type.LargeUtf8:
    case Type.Utf8View:
      return { kind: 'plain' };
    case Type.Float:
      return { kind: type.precision === 2 ? 'plain' : 'single' };
    case Type.Decimal:
      return { kind: 'scaled', scale: type.scale };
    case Type.Date:
    case Type.Timestamp:
      return { kind: 'instant' };
    case Type.Dictionary:
      return kindOf(type.dictionary);
    case Type.Binary:
    case Type.LargeBinary:
    case Type.BinaryView:
    case Type.FixedSizeBinary:
      return 'bytes';
    case Type.Time:
    case Type.Duration:
    case Type.Interval:
      return 'times of day or spans of time';
    default:
      return 'lists or records';
  }
}
