/** A damaged Parquet or Arrow file gives a table or is refused by its name; none is read for ever. */
import { describe, expect, it } from 'vitest';
import { columnarTables } from '../../../lib/fleet/columnar/columnarTables.js';
import { checkDelta } from '../../../lib/fleet/columnar/deltaChecks.js';
import { readRuns } from '../../../lib/fleet/columnar/runs.js';
import { UNPACKERS } from '../../../lib/fleet/columnar/unpackers.js';
import { KINDS, rowsOf, wholeFile } from './damaged.js';
import { outcomeOf } from './damagedOutcome.js';

const FILES = 80 * KINDS.length;

describe('damaged files kept by columns', () => {
  it.each(KINDS.map((name, kind) => ({ name, kind })))(
    'begin as $name, which is a table',
    async ({ kind }) => {
      const { file, bytes } = wholeFile(kind);
      const table = (await columnarTables(new Map([[file, bytes]]), 1e8)).get(file);
      expect(table?.length).toBe(rowsOf(file));
    },
  );

  it('are tables or refused, none late and none otherwise', () => {
    const { tables, refused, faults } = outcomeOf(0, FILES, 40);
    expect(faults).toEqual([]);
    expect(tables + refused).toBe(FILES);
    expect(refused).toBeGreaterThan(FILES / 3);
    expect(tables).toBeGreaterThan(FILES / 20);
  });
});

describe('lengths that would keep a reader for ever', () => {
  const reader = (...bytes: number[]) => ({ view: new DataView(new Uint8Array(bytes).buffer), offset: 0 });
  const { SNAPPY: unpack } = UNPACKERS;

  it.each([
    ['a run of 2^30 values', () => readRuns(reader(0x80, 0x80, 0x80, 0x80, 0x08, 1), 1, new Uint8Array(40))],
    [
      'packed values that are fewer than none',
      () => readRuns(reader(0xff, 0xff, 0xff, 0xff, 0x0f), 0, new Uint8Array(40)),
    ],
    ['blocks of no parts', () => checkDelta(reader(0x80, 0x01, 0, 40, 0))],
    ['blocks of fewer than no parts', () => checkDelta(reader(0x80, 0x01, 0xff, 0xff, 0xff, 0xff, 0x0f))],
    ['a text that leads back', () => unpack?.(new Uint8Array([5, 0xfc, 0xfa, 0xff, 0xff, 0xff, 0]), 5)],
  ])('%s', (_name, read) => {
    expect(read).toThrow(/do not fit|is broken/);
  });

  it('are told from those that fit', () => {
    const runs = (values: number, ...bytes: number[]): number[] => {
      const column = new Uint8Array(values);
      readRuns(reader(...bytes), 1, column);
      return Array.from(column);
    };
    expect(runs(40, 80, 1)).toEqual(new Array(40).fill(1));
    const bit = (place: number): number[] => Array.from({ length: 8 }, (_, i) => (i === place ? 1 : 0));
    expect(runs(36, 11, 1, 2, 4, 8, 0xff)).toEqual([...bit(0), ...bit(1), ...bit(2), ...bit(3), 1, 1, 1, 1]);
    expect(() => checkDelta(reader(0x80, 0x01, 4, 40, 0))).not.toThrow();
  });

  it.each([1, 2, 3, 7, 8, 9, 17, 24, 25, 31])('values of %i bits are those that were packed', (bits) => {
    const values = Array.from({ length: 16 }, (_, i) => (i * 0x9e3779b1) % 2 ** bits);
    const packed = new Uint8Array(1 + 2 * bits);
    packed[0] = 5;
    values.forEach((value, i) => {
      for (let k = 0; k < bits; k++) {
        const at = i * bits + k;
        const bit = Math.floor(value / 2 ** k) % 2;
        packed[1 + (at >> 3)] = (packed[1 + (at >> 3)] ?? 0) | (bit << (at & 7));
      }
    });
    const column = new Int32Array(13);
    readRuns(reader(...packed), bits, column);
    expect(Array.from(column)).toEqual(values.slice(0, 13));
  });
});
