/** Whatever the files hold: rows in = used + set aside, the same facts in any order, and errors that say what to do. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../lib/errors.js';
import type { Fleet } from '../../lib/fleet/types.js';
import { livesOf, readFiles, SITE } from '../fleet/files.js';

const cell = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.constantFrom(
      'V1',
      'V2',
      'EPDM',
      '25',
      'leak',
      'torn',
      '2020-01-01',
      '2021-06-30',
      '2023-02-28',
      '',
    ),
  },
  {
    weight: 2,
    arbitrary: fc.constantFrom(
      '2023-02-30',
      '01/02/2023',
      '-5',
      '1,5',
      '25 mm',
      '__proto__',
      'NaN',
      ' v1 ',
      '1e5',
      '0',
    ),
  },
  { weight: 1, arbitrary: fc.string({ maxLength: 12, unit: 'binary' }) },
);

function csv(header: string, rows: string[][]): string {
  const quoted = (text: string): string => (/[",\n\r]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
  return `${header}\n${rows.map((row) => row.map(quoted).join(',')).join('\n')}\n`;
}

const rowsOf = (width: number): fc.Arbitrary<string[][]> =>
  fc.array(fc.array(cell, { minLength: width, maxLength: width }), { maxLength: 6 });

/** A fleet, or null where the folder was refused; any other error fails the law. */
function tryRead(files: Record<string, string | object>): Fleet | null {
  try {
    return readFiles(files);
  } catch (cause) {
    if (!(cause instanceof InputError)) throw cause;
    expect(cause.todo.length).toBeGreaterThan(10);
    expect(cause.message).not.toMatch(/undefined|NaN \(|\[object/);
    return null;
  }
}

describe('reading', () => {
  it('keeps its books whatever the cells hold', () => {
    let read = 0;
    fc.assert(
      fc.property(
        rowsOf(5),
        rowsOf(8),
        rowsOf(5),
        rowsOf(6),
        rowsOf(4),
        (positions, lives, items, stops, readings) => {
          const fleet = tryRead({
            'positions.csv': csv('position,size,line,criticality,idle', [
              ['V1', '25', 'A', '', ''],
              ...positions,
            ]),
            'lives.csv': csv('position,material,size,fitted,removed,reason,finding,last_tight', [
              ['V1', 'EPDM', '', '2022-01-01', '', '', '', ''],
              ...lives,
            ]),
            'items.csv': csv('item,material,size,price,on_hand', items),
            'shutdowns.csv': csv('name,start,end,crew_hours,lines,stop_for', stops),
            'readings.csv': csv('position,date,strokes,steam_cycles', readings),
          });
          if (fleet === null) return;
          read += 1;
          const { rowsIn, rowsUsed, rowsSetAside, files, problems } = fleet.findings;
          expect(rowsUsed + rowsSetAside).toBe(rowsIn);
          for (const file of files) expect(file.rowsUsed + file.rowsSetAside).toBe(file.rowsIn);
          const aside = problems.filter(({ done, row }) => done === 'set aside' && row !== null);
          expect(aside).toHaveLength(rowsSetAside);
          expect(new Set(aside.map(({ file, row }) => `${file} ${row}`)).size).toBe(rowsSetAside);
          for (const { text, todo } of problems)
            expect(`${text}${todo}`).not.toMatch(/undefined|NaN|Infinity/);
        },
      ),
      { seed: 17, numRuns: 500 },
    );
    expect(read).toBeGreaterThan(250);
  });

  it('finds the same lives in any order of the rows', () => {
    const life = fc.tuple(
      fc.constantFrom('V1', 'V2'),
      fc.integer({ min: 0, max: 40 }),
      fc.option(fc.integer({ min: -1, max: 12 }), { nil: null }),
      fc.constantFrom('leak', 'scheduled'),
    );
    const month = (k: number): string =>
      `${2018 + Math.floor(k / 12)}-${String((k % 12) + 1).padStart(2, '0')}-01`;
    const read = (rows: string[][]): string[] =>
      livesOf(
        readFiles({
          'positions.csv': 'position,size\nV1,25\nV2,25\nV3,25\n',
          'lives.csv': csv('position,material,fitted,removed,reason', [
            ['V3', 'EPDM', '2020-01-01', '', ''],
            ...rows,
          ]),
          'site.json': SITE,
        }),
      )
        .map((text) => text.replace(/ row [1-9]\d*$/, ''))
        .sort();
    fc.assert(
      fc.property(fc.array(life, { maxLength: 8 }), fc.infiniteStream(fc.nat()), (lives, keys) => {
        const rows = lives.map(([tag, start, length, reason]) =>
          length === null
            ? [tag, 'EPDM', month(start), '', '']
            : [tag, 'EPDM', month(start), month(Math.max(start + length, 0)), reason],
        );
        const shuffled = rows
          .map((row) => ({ row, key: keys.next().value as number }))
          .sort((a, b) => a.key - b.key)
          .map(({ row }) => row);
        expect(read(shuffled)).toEqual(read(rows));
      }),
      { seed: 23, numRuns: 300 },
    );
  });
});
