/** What becomes of the values of typed columns, and what is refused. */
import * as arrow from '@uwdata/flechette';
import { parquetWriteBuffer } from 'hyparquet-writer';
import { describe, expect, it } from 'vitest';
import type { CodedTable } from '../../../lib/fleet/coded/types.js';
import { arrowTable } from '../../../lib/fleet/columnar/arrowFile.js';
import { unpackLz4 } from '../../../lib/fleet/columnar/lz4Frame.js';
import { parquetTable } from '../../../lib/fleet/columnar/parquetFile.js';
import { openTable } from '../../../lib/fleet/csvTable.js';
import { rowBook } from '../../../lib/fleet/rowBook.js';

const ROOM = 1e6;

function texts({ columns, header }: CodedTable): Record<string, string[]> {
  return Object.fromEntries(
    columns.map(({ codes, texts: known }, i) => [header[i], Array.from(codes, (code) => known[code] ?? '?')]),
  );
}

function parquet(columnData: Parameters<typeof parquetWriteBuffer>[0]['columnData'], more = {}): Uint8Array {
  return new Uint8Array(parquetWriteBuffer({ columnData, ...more }));
}

function arrowBytes(columns: Record<string, arrow.Column<unknown>>): Uint8Array {
  return arrow.tableToIPC(arrow.tableFromColumns(columns), { format: 'file' }) as Uint8Array;
}

const NOON = new Date('2024-03-31T12:30:00Z');

describe('cells of Parquet columns', () => {
  it('are dates, numbers with a point, words and nothing', () => {
    const schema = [
      { name: 'root', num_children: 4 },
      { name: 'day', type: 'INT32', converted_type: 'DATE', repetition_type: 'OPTIONAL' },
      { name: 'price', type: 'INT64', converted_type: 'DECIMAL', scale: 2, precision: 12 },
      { name: 'single', type: 'FLOAT' },
      { name: 'yes', type: 'BOOLEAN', repetition_type: 'OPTIONAL' },
    ];
    const bytes = parquet(
      [
        { name: 'day', data: [new Date('1969-12-31'), null, new Date('2024-02-29')] },
        { name: 'price', data: [1.1, 123456789.05, -0.5] },
        { name: 'single', data: [Math.fround(0.1), Number.NaN, 25] },
        { name: 'yes', data: [true, null, false] },
      ],
      { schema },
    );
    expect(texts(parquetTable('x.parquet', bytes, ROOM))).toEqual({
      day: ['1969-12-31', '', '2024-02-29'],
      price: ['1.1', '123456789.05', '-0.5'],
      single: ['0.1', '', '25'],
      yes: ['true', '', 'false'],
    });
  });

  it('keep the time of day, which is told later as in a CSV file', () => {
    const data = [NOON, new Date('2024-03-31T00:00:00Z'), new Date('1960-01-01T23:59:59Z')];
    const bytes = parquet([{ name: 'at', data, type: 'TIMESTAMP' }]);
    expect(texts(parquetTable('x.parquet', bytes, ROOM)).at).toEqual([
      '2024-03-31 12:30:00',
      '2024-03-31',
      '1960-01-01 23:59:59',
    ]);
  });

  it('that are lists are refused where the column is read, and left out where it is not', () => {
    const schema = [
      { name: 'root', num_children: 3 },
      { name: 'position', type: 'BYTE_ARRAY', converted_type: 'UTF8' },
      { name: 'size', type: 'INT32' },
      { name: 'line', num_children: 1, converted_type: 'LIST', repetition_type: 'OPTIONAL' },
      { name: 'list', num_children: 1, repetition_type: 'REPEATED' },
      { name: 'element', type: 'INT32', repetition_type: 'OPTIONAL' },
    ];
    const bytes = parquet(
      [
        { name: 'position', data: ['V1'] },
        { name: 'size', data: [25] },
        { name: 'line', data: [[1, 2]] },
      ],
      { schema },
    );
    const table = parquetTable('positions.parquet', bytes, ROOM);
    const open = (renamed: [string, string][]) => () =>
      openTable('positions.csv', table, { renamed: new Map(renamed), format: {} }, rowBook('positions.csv'));
    expect(open([])).toThrow(/holds lists or records/);
    expect(open([['line', '']])().has('size')).toBe(true);
  });
});

describe('cells of Arrow columns', () => {
  it('are dates, numbers with a point, words and nothing', () => {
    const bytes = arrowBytes({
      day: arrow.columnFromArray([new Date('1969-12-31'), null, new Date('2024-02-29')], arrow.dateDay()),
      at: arrow.columnFromArray(
        [NOON, null, new Date('2024-03-31')],
        arrow.timestamp(arrow.TimeUnit.MICROSECOND),
      ),
      price: arrow.columnFromArray([1.1, 123456789.05, -0.5], arrow.decimal(18, 2)),
      single: arrow.columnFromArray([Math.fround(0.1), Number.NaN, 25], arrow.float32()),
      big: arrow.columnFromArray([2n ** 60n, null, -1n], arrow.int64()),
      word: arrow.columnFromArray(['EPDM', null, 'EPDM'], arrow.dictionary(arrow.utf8(), arrow.int32())),
      yes: arrow.columnFromArray([true, null, false], arrow.bool()),
    });
    expect(texts(arrowTable('x.arrow', bytes, ROOM))).toEqual({
      day: ['1969-12-31', '', '2024-02-29'],
      at: ['2024-03-31 12:30:00', '', '2024-03-31'],
      price: ['1.1', '123456789.05', '-0.5'],
      single: ['0.1', '', '25'],
      big: ['1152921504606846976', '', '-1'],
      word: ['EPDM', '', 'EPDM'],
      yes: ['true', '', 'false'],
    });
  });

  it('that are lists are marked as refused', () => {
    const bytes = arrowBytes({ line: arrow.columnFromArray([[1, 2]], arrow.list(arrow.int32())) });
    expect(arrowTable('x.arrow', bytes, ROOM).columns[0]?.refused).toMatch(/lists or records/);
  });
});

describe('files that are refused', () => {
  const many = Array.from({ length: 50_000 }, () => 'EPDM');

  it('more cells or bytes than the limit, before they are unpacked', () => {
    const bytes = parquet([{ name: 'material', data: many, type: 'STRING', encoding: 'PLAIN' }]);
    expect(bytes.length).toBeLessThan(100_000);
    expect(() => parquetTable('lives.parquet', bytes, 40_000)).toThrow(/50000 rows of 1 column/);
    expect(() => parquetTable('lives.parquet', bytes, 60_000)).toThrow(/unpacks to more than/);
    expect(parquetTable('lives.parquet', bytes, ROOM).length).toBe(50_000);
    const ipc = arrowBytes({
      material: arrow.columnFromArray(many, arrow.dictionary(arrow.utf8(), arrow.int32())),
    });
    expect(() => arrowTable('lives.arrow', ipc, 40_000)).toThrow(/50000 rows of 1 column/);
  });
});

describe('LZ4 frames', () => {
  const hex = (text: string): Uint8Array => Uint8Array.from(Buffer.from(text.replaceAll(' ', ''), 'hex'));
  // printf 'EPDMEPDMEPDMEPDMEPDMEPDM, V-0001' | lz4 -c, lz4 1.9
  const FRAME = '04224d186440a7110000004f4550444d040001802c20562d3030303100000000ad2ee356';

  it('unpack what the reference program packed', () => {
    const text = 'EPDMEPDMEPDMEPDMEPDMEPDM, V-0001';
    expect(new TextDecoder().decode(unpackLz4(hex(FRAME), text.length))).toBe(text);
  });

  it('of another length are refused', () => {
    expect(() => unpackLz4(hex(FRAME), 31)).toThrow();
    expect(() => unpackLz4(hex(FRAME), 33)).toThrow();
    expect(() => unpackLz4(hex(FRAME).slice(0, 20), 32)).toThrow();
  });
});
