/** Workbooks: days by serial number, merged cells, header rows, totals, sheets by name, limits. */
import { readFileSync } from 'node:fs';
import { zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../../lib/errors.js';
import { fleetOf } from '../../../lib/fleet/read.js';
import type { Fleet } from '../../../lib/fleet/types.js';
import { openWorkbook } from '../../../lib/fleet/workbook/workbook.js';
import { livesOf, readFiles, withCode } from '../files.js';
import { makeWorkbook, type TestCell, type TestSheet } from './makeWorkbook.js';

const MB = 2 ** 20;
const POSITIONS: TestSheet = {
  name: 'Positions',
  rows: [
    ['position', 'size', 'line'],
    ['V1', 25, 'A'],
    ['V2', 25, 'A'],
  ],
};
const day = (serial: number): TestCell => ({ day: serial });

function gridOf(rows: TestCell[][], merged: string[] = [], since1904 = false): string[][] {
  return (
    openWorkbook('x.xlsx', makeWorkbook([{ name: 'x', rows, merged }], since1904), MB)[0]?.grid().rows ?? []
  );
}

function read(sheets: TestSheet[], more: Record<string, string> = {}): Fleet {
  return fleetOf(
    {
      files: new Map<string, Uint8Array>([
        ['plant.xlsx', makeWorkbook(sheets)],
        ['site.json', new TextEncoder().encode('{"data_until":"2024-06-30"}')],
        ...Object.entries(more).map(([name, text]) => [name, new TextEncoder().encode(text)] as const),
      ]),
      hash: '',
      unread: [],
    },
    {},
  );
}

describe('cells of a sheet', () => {
  it('are texts, plain numbers, and days where the format of the cell is one', () => {
    expect(
      gridOf([
        ['a &amp; b', 1.5, 45_000, day(45_000), { padded: 17 }, 0.1 + 0.2, 1.234_567_890_123_456_7e19],
      ]),
    ).toEqual([['a & b', '1.5', '45000', '2023-03-15', '00017', '0.3', '12345678901234600000']]);
  });

  it('that are days keep their time of day, and the leap day of 1900 is no day', () => {
    expect(gridOf([[day(45_400.75), day(60), day(61), day(0.5), day(45_400.999_999)]])).toEqual([
      ['2024-04-18 18:00', '1900-02-29', '1900-03-01', '0.5', '2024-04-18'],
    ]);
  });

  it('count from 1904 where the workbook does', () => {
    expect(gridOf([[day(44_148 - 1462), day(0)]], [], true)).toEqual([['2020-11-13', '1904-01-01']]);
  });

  it('far out are found by their letters, and stray ones make no millions of cells', () => {
    const row: TestCell[] = Array.from({ length: 731 }, () => null);
    row[730] = 'here';
    expect(gridOf([row])[0]?.indexOf('here')).toBe(730);
  });

  it('merged downwards share their text, blank ones beside them do not (github.com/SheetJS/sheetjs/issues/2674)', () => {
    const bytes = readFileSync(new URL('../../museum/mergedTags.xlsx', import.meta.url));
    const { rows, filled } = openWorkbook('merged.xlsx', bytes, MB)[0]?.grid() ?? { rows: [], filled: 0 };
    expect(rows.map((cells) => cells[0])).toEqual(['tag', 'DV-261', 'DV-261', 'DV-261', '', 'DV-262']);
    expect(rows[1]).toEqual(['DV-261', '2023-03-15', '2023-06-23', 'failed']);
    expect(filled).toBe(2);
  });
});

describe('a folder with a workbook', () => {
  const lives: TestCell[][] = [
    ['History of diaphragms', null, null, null],
    [null, null, null, null],
    ['position', 'material', 'fitted', 'removed', 'reason'],
    ['V1', 'EPDM', day(45_000), day(45_100), 'leak'],
    [null, 'EPDM', day(45_100), null, null],
    [null, 'EPDM', day(45_100), null, null],
    ['V2', 'EPDM', '31.01.2023', null, null],
    ['Total', 3, null, null, null],
  ];
  const fleet = read([
    POSITIONS,
    { name: 'Lives', rows: lives, merged: ['A4:A5', 'A1:E1'] },
    { name: 'Notes', rows: [['x']] },
  ]);

  it('reads its sheets by name, below their titles, without the row of totals', () => {
    expect(livesOf(fleet)).toEqual([
      'V1 EPDM 25 2023-03-15..2023-06-23 row 1',
      'V1 EPDM 25 2023-06-23..? row 2',
      'V2 EPDM 25 2023-01-31..? row 4',
    ]);
    expect(fleet.filesRead).toEqual(['lives.csv', 'positions.csv', 'site.json']);
    expect(withCode(fleet, 'position-missing')).toMatchObject([{ row: 3, done: 'set aside' }]);
    expect(withCode(fleet, 'row-of-totals')).toMatchObject([{ row: 5, done: 'set aside' }]);
    expect(fleet.findings).toMatchObject({ rowsIn: 7, rowsUsed: 5, rowsSetAside: 2 });
  });

  it('says which sheet and row the table begins at, and that merged cells were filled', () => {
    expect(withCode(fleet, 'read-from-workbook').map(({ file, text }) => [file, text.slice(0, 98)])).toEqual([
      [
        'positions.csv',
        'The table is read from the sheet "Positions" of plant.xlsx; its header is row 1, and row 1 of the ',
      ],
      [
        'lives.csv',
        'The table is read from the sheet "Lives" of plant.xlsx; its header is row 3, and row 1 of the data',
      ],
    ]);
    expect(withCode(fleet, 'merged-cells')).toMatchObject([{ file: 'lives.csv' }]);
  });

  it('prefers a CSV file to a sheet of that name, and says what it does not read', () => {
    const both = read([POSITIONS], {
      'positions.csv': 'position,size\nV9,40\n',
      'lives.csv': 'position,material,fitted\nV9,EPDM,2023-01-01\n',
    });
    expect(both.positions.map(({ position }) => position)).toEqual(['V9']);
    expect(withCode(both, 'file-not-read')).toMatchObject([{ file: 'plant.xlsx' }]);
  });

  it('takes the first sheet that fits from a workbook with the name of the table', () => {
    const whole = fleetOf({
      files: new Map([
        [
          'positions.xlsx',
          makeWorkbook([
            { name: 'Cover', rows: [['position of the plant']] },
            { ...POSITIONS, name: 'Tab 2' },
          ]),
        ],
        ['lives.xlsx', makeWorkbook([{ name: 'Tab 1', rows: lives }])],
      ]),
      hash: '',
      unread: [],
    });
    expect(whole.positions.length).toBe(2);
    expect(whole.lives.length).toBeGreaterThan(2);
  });

  it('asks for the table that no sheet has, naming those there are', () => {
    expect(() => read([POSITIONS])).toThrow(
      /lives\.csv: .*no sheet.*Positions \(plant\.xlsx\).*name its sheet "lives"/s,
    );
  });

  it('names the column that a sheet of the right name lacks', () => {
    expect(() =>
      read([
        POSITIONS,
        {
          name: 'lives',
          rows: [
            ['tag', 'fitted'],
            ['V1', day(45_000)],
          ],
        },
      ]),
    ).toThrow(/lives\.csv, column position: .*the header has tag, fitted/);
  });
});

describe('a file that is no workbook or too large', () => {
  const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);

  it('is refused under the name of a table, and noted under any other', () => {
    const files = {
      'positions.csv': 'position,size\nV1,25\n',
      'lives.csv': 'position,material,fitted\nV1,E,2020-01-01\n',
    };
    expect(() => readFiles({ ...files, 'items.xlsx': bytes('no zip') })).toThrow(
      /items\.xlsx: .*not a workbook/,
    );
    expect(() => readFiles({ ...files, 'items.xlsx': zipSync({ a: bytes('b') }) })).toThrow(InputError);
    expect(readFiles({ ...files, 'photos.xlsx': bytes('no zip') }).positions.length).toBe(1);
  });

  it('is refused at the limit of what it unpacks to, which can be raised', () => {
    const rows = Array.from({ length: 20_000 }, () => ['aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa', 1, 2, 3]);
    const bomb = makeWorkbook([{ name: 'lives', rows }]);
    expect(bomb.length).toBeLessThan(MB / 2);
    expect(() => openWorkbook('lives.xlsx', bomb, MB)).toThrow(/unpacks to more than 1 MB/);
    expect(openWorkbook('lives.xlsx', bomb, 8 * MB)[0]?.grid().rows.length).toBe(20_000);
  });

  it('with entities that grow is refused, not expanded', () => {
    const lol =
      '<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;">]><workbook><sheets><sheet name="&b;"/></sheets></workbook>';
    expect(() => openWorkbook('lives.xlsx', zipSync({ 'xl/workbook.xml': bytes(lol) }), MB)).toThrow(
      /cannot be read/,
    );
  });
});
