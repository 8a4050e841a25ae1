/** A damaged Parquet or Arrow file gives a table or is refused by its name; none is read for ever. */
import { describe, expect, it } from 'vitest';
import { columnarTables } from '../../../lib/fleet/columnar/columnarTables.js';
import { checkDelta, checkRuns } from '../../../lib/fleet/columnar/runChecks.js';
import { unpackersWith } from '../../../lib/fleet/columnar/unpackers.js';
import { KINDS, wholeFile } from './damaged.js';
import { outcomeOf } from './damagedOutcome.js';

const FILES = 150 * KINDS.length;

describe('damaged files kept by columns', () => {
  it.each(KINDS.map((name, kind) => ({ name, kind })))(
    'begin as $name, which is a table',
    async ({ kind }) => {
      const { file, bytes } = wholeFile(kind);
      const table = (await columnarTables(new Map([[file, bytes]]), 1e8)).get(file);
      expect(table?.length).toBe(40);
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
  const { SNAPPY: unpack } = unpackersWith(() => {});

  it.each([
    ['a run of 2^30 values', () => checkRuns(reader(0x80, 0x80, 0x80, 0x80, 0x08, 1), 1, 40)],
    ['packed values that are fewer than none', () => checkRuns(reader(0xff, 0xff, 0xff, 0xff, 0x0f), 0, 40)],
    ['blocks of no parts', () => checkDelta(reader(0x80, 0x01, 0, 40, 0))],
    ['blocks of fewer than no parts', () => checkDelta(reader(0x80, 0x01, 0xff, 0xff, 0xff, 0xff, 0x0f))],
    ['a text that leads back', () => unpack?.(new Uint8Array([5, 0xfc, 0xfa, 0xff, 0xff, 0xff, 0]), 5)],
  ])('%s', (_name, read) => {
    expect(read).toThrow(/do not fit|is broken/);
  });

  it('are told from those that fit', () => {
    expect(checkRuns(reader(80, 1), 1, 40)).toBe(40);
    expect(checkRuns(reader(11, 1, 2, 4, 8, 0xff), 1, 36)).toBe(8);
    expect(() => checkDelta(reader(0x80, 0x01, 4, 40, 0))).not.toThrow();
  });
});
