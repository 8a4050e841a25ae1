/** Tables where site.json says they are: other names, sheets, header rows, positions from lives; and nothing outside of the folder. */
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { readFleet } from '../../lib/fleet/read.js';
import { livesOf, readFiles, withCode } from './files.js';
import { makeWorkbook } from './workbook/makeWorkbook.js';

const POSITIONS = 'position,line,size\nV1,A,25\nV2,B,40\n';
const LIVES =
  'position,material,fitted,removed,reason\nV1,EPDM,2023-01-01,2023-06-01,leak\nV1,EPDM,2023-06-01,,\nV2,FKM,2023-01-01,,\n';
const site = (more: object): object => ({ data_until: '2024-06-30', ...more });

describe('files in site.json', () => {
  it('names a file, and the line of its header', () => {
    const fleet = readFiles({
      'Valves.csv': POSITIONS,
      'old/Export 2024.txt': `Plant 7\n"a title"\n\n${LIVES}`,
      'site.json': site({
        files: {
          'positions.csv': 'Valves.csv',
          'lives.csv': { file: './old//Export 2024.txt', header_row: 4 },
        },
      }),
    });
    expect(livesOf(fleet)).toHaveLength(3);
    expect(fleet.filesRead).toEqual(['lives.csv', 'positions.csv', 'site.json']);
  });

  it('names a sheet, and the row of its header', () => {
    const rows = LIVES.trim()
      .split('\n')
      .map((line) => line.split(',').map((cell) => (cell === '' ? null : cell)));
    const book = makeWorkbook([
      { name: 'Cover', rows: [['nothing']] },
      { name: 'Tab', rows: [['position', 'material'], [], ...rows] },
    ]);
    const read = (place: object) =>
      readFiles({
        'positions.csv': POSITIONS,
        'x.xlsx': book,
        'site.json': site({ files: { 'lives.csv': place } }),
      });
    expect(livesOf(read({ file: 'x.xlsx', sheet: 'tab', header_row: 3 }))).toHaveLength(3);
    expect(() => read({ file: 'x.xlsx', sheet: 'Table' })).toThrow(/no sheet "Table"; it has "Cover", "Tab"/);
    expect(() => read({ file: 'x.xlsx', sheet: 'Tab', header_row: 99 })).toThrow(
      /6 rows, and its header should be in row 99/,
    );
  });

  it('names columns by their place where a name is empty or stands twice, and leaves out those with an empty text', () => {
    const fleet = readFiles({
      'positions.csv': POSITIONS,
      'lives.csv': 'Tag,position,day,day,,\nV1,1,2023-01-01,2023-06-01,EPDM,x\nV2,2,2023-02-01,,FKM,y\n',
      'site.json': site({
        columns: {
          'lives.csv': {
            Tag: 'position',
            position: '',
            '#3': 'fitted',
            '#4': 'removed',
            '#5': 'material',
            '#6': '',
          },
        },
      }),
    });
    expect(livesOf(fleet)).toEqual([
      'V1 EPDM 25 2023-01-01..2023-06-01 row 1',
      'V2 FKM 40 2023-02-01..? row 2',
      'V1 EPDM 25 2023-06-01..? row 0',
    ]);
  });

  it('still refuses a column that is there twice', () => {
    const lives = 'position,material,in,in\nV1,EPDM,2023-01-01,2023-06-01\n';
    const columns = { 'lives.csv': { in: 'fitted' } };
    expect(() =>
      readFiles({ 'positions.csv': POSITIONS, 'lives.csv': lives, 'site.json': site({ columns }) }),
    ).toThrow(/this column twice/);
  });

  it.each([
    ['../lives.csv', /in the fleet folder/],
    ['a/../../lives.csv', /in the fleet folder/],
    ['/etc/passwd', /in the fleet folder/],
    ['C:\\lives.csv', /in the fleet folder/],
    ['..\\lives.csv', /in the fleet folder/],
    ['a\\lives.csv', /forward slashes/],
    ['a\0.csv', /forward slashes/],
    ['.', /in the fleet folder/],
    ['', /must be the name of a file/],
    [{ file: 'x.csv', header_row: 0 }, /header_row/],
    [{ file: 'x.csv', other: 1 }, /files\.lives\.csv/],
    [{ from: 'lives.csv' }, /only positions can be taken/],
    [7, /must be the name of a file/],
    ['missing.csv', /missing\.csv, and the folder holds no such file/],
  ])('refuses %j', (place, message) => {
    const files = {
      'positions.csv': POSITIONS,
      'lives.csv': LIVES,
      'site.json': site({ files: { 'lives.csv': place } }),
    };
    expect(() => readFiles(files)).toThrow(message);
  });

  it('refuses a table that is not known', () => {
    const files = {
      'site.json': '{ "files": { "__proto__": "x.csv" } }',
      'positions.csv': POSITIONS,
      'lives.csv': LIVES,
    };
    expect(() => readFiles(files)).toThrow(/files\.__proto__.*must be one of positions\.csv/);
  });
});

describe('positions from lives', () => {
  const read = (lives: string, more: object = {}) =>
    readFiles({
      'lives.csv': lives,
      'site.json': site({ files: { 'positions.csv': { from: 'lives.csv' } }, ...more }),
    });

  it('are the distinct ones, with what their rows say', () => {
    const fleet = read(
      'position,size,line,material,fitted\nV1,25,A,EPDM,2023-01-01\nv1,,A,EPDM,2023-06-01\nV2,40,,FKM,2023-01-01\n',
    );
    expect(fleet.positions.map(({ position, size, line }) => `${position} ${size} ${line}`)).toEqual([
      'V1 25 A',
      'V2 40 ',
    ]);
    expect(fleet.findings.files.map(({ file, rowsIn, rowsUsed }) => `${file} ${rowsIn} ${rowsUsed}`)).toEqual(
      ['positions.csv 2 2', 'lives.csv 3 2'],
    );
  });

  it('or of work orders, where these name them with their sizes', () => {
    const rows = ['V1,25,fitted', 'V1,,inspected', 'V2,40,fitted', 'v1,25,replaced'].map(
      (row, i) => `${row},EPDM,2023-0${i + 1}-01`,
    );
    const fleet = readFiles({
      'orders of work.csv': `position,size,work,material,date\n${rows.join('\n')}\n`,
      'site.json': site({
        files: { 'positions.csv': { from: 'work-orders.csv' }, 'work-orders.csv': 'orders of work.csv' },
      }),
    });
    expect(fleet.positions.map(({ position, size }) => `${position} ${size}`)).toEqual(['V1 25', 'V2 40']);
    expect(fleet.lives.length).toBe(3);
    expect(fleet.findings.files.map(({ file, rowsIn }) => `${file} ${rowsIn}`)).toEqual([
      'positions.csv 2',
      'work-orders.csv 4',
    ]);
  });

  it('are refused from any other table', () => {
    const files = { 'site.json': site({ files: { 'positions.csv': { from: 'items.csv' } } }) };
    expect(() => readFiles({ ...files, 'lives.csv': LIVES })).toThrow(
      /"lives\.csv" } or { "from": "work-orders\.csv" }/,
    );
  });

  it('take the most frequent of contradicting cells, or the later of two, and say so', () => {
    const rows = ['V1,25', 'V1,40', 'V1,25', 'V2,25', 'V2,40'].map(
      (row, i) => `${row},EPDM,2023-0${i + 1}-01`,
    );
    const fleet = read(`position,size,material,fitted\n${rows.join('\n')}\n`);
    expect(fleet.positions.map(({ position, size }) => `${position} ${size}`)).toEqual(['V1 25', 'V2 40']);
    expect(withCode(fleet, 'position-contradicts').map(({ text }) => text)).toEqual([
      'The rows of V1 have 2 values of size: 25 (2 rows), 40 (1 row). 25 is used for the position.',
      'The rows of V2 have 2 values of size: 40 (1 row), 25 (1 row). 40 is used for the position.',
    ]);
  });

  it('know tags that changed, and ask about tags that stand once where others stand often', () => {
    const rows = Array.from(
      { length: 12 },
      (_, i) => `V${1 + (i % 3)},25,EPDM,2023-${String(i + 1).padStart(2, '0')}-01`,
    );
    const lives = `position,size,material,fitted\n${[...rows, 'old-1,25,EPDM,2022-01-01', 'V33,25,EPDM,2022-01-01'].join('\n')}\n`;
    const fleet = read(lives, { aliases: { 'old-1': 'V1' } });
    expect(fleet.positions.map(({ position }) => position)).toEqual(['V1', 'V2', 'V3', 'V33']);
    expect(withCode(fleet, 'position-once')).toMatchObject([{ value: 'V33', done: 'used' }]);
  });
});

describe('links', () => {
  const made: string[] = [];
  afterEach(() => {
    for (const folder of made.splice(0)) rmSync(folder, { recursive: true, force: true });
  });
  const folderWith = (files: Record<string, string>): string => {
    const folder = mkdtempSync(join(tmpdir(), 'weirwise-places-'));
    made.push(folder);
    for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
    return folder;
  };

  it('that lead out of the folder are not followed, those within it are', async () => {
    const outside = folderWith({ 'lives.csv': LIVES });
    const site = JSON.stringify({ files: { 'lives.csv': 'linked.csv' } });
    const folder = folderWith({ 'positions.csv': POSITIONS, 'site.json': site, 'inside.csv': LIVES });
    symlinkSync(join(outside, 'lives.csv'), join(folder, 'linked.csv'));
    await expect(readFleet(folder)).rejects.toThrow(/linked\.csv.*leads out of the fleet folder/);
    rmSync(join(folder, 'linked.csv'));
    symlinkSync(join(folder, 'inside.csv'), join(folder, 'linked.csv'));
    expect((await readFleet(folder)).lives.length).toBe(3);
  });

  it('to a folder outside, and folders in place of files, are refused', async () => {
    const outside = folderWith({ 'lives.csv': LIVES });
    const folder = folderWith({
      'positions.csv': POSITIONS,
      'site.json': JSON.stringify({ files: { 'lives.csv': 'sub/lives.csv' } }),
    });
    symlinkSync(outside, join(folder, 'sub'));
    await expect(readFleet(folder)).rejects.toThrow(/leads out/);
    rmSync(join(folder, 'sub'));
    mkdirSync(join(folder, 'sub'));
    await expect(readFleet(folder)).rejects.toThrow(/holds no such file/);
    mkdirSync(join(folder, 'sub', 'lives.csv'));
    await expect(readFleet(folder)).rejects.toThrow(/cannot be read/);
  });
});
