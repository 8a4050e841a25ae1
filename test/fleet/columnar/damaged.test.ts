/** A damaged Parquet or Arrow file gives a table or is refused by its name; none is read for ever. */
import { spawnSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { checkDelta, checkRuns } from '../../../lib/fleet/columnar/runChecks.js';
import { unpackersWith } from '../../../lib/fleet/columnar/unpackers.js';

/** Reads the files in a process that is stopped after so many seconds. */
function outcomeOf(from: number, to: number, seconds: number) {
  const run = spawnSync(
    process.execPath,
    ['--import', 'tsx', 'test/fleet/columnar/readDamaged.ts', String(from), String(to)],
    { encoding: 'utf8', timeout: seconds * 1000, killSignal: 'SIGKILL' },
  );
  if (run.status !== 0) throw new Error(`stopped at the file ${run.stderr.trim().split('\n').at(-1)}`);
  return JSON.parse(run.stdout) as { tables: number; refused: number; faults: string[] };
}

describe('damaged files kept by columns', () => {
  it('are tables or refused, none late and none otherwise', () => {
    const { tables, refused, faults } = outcomeOf(0, 750, 40);
    expect(faults).toEqual([]);
    expect(tables + refused).toBe(750);
    expect(refused).toBeGreaterThan(300);
    expect(tables).toBeGreaterThan(50);
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
