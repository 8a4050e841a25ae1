import { createHash } from 'node:crypto';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { InputError, UsageError } from '../../lib/errors.js';
import { readFleet } from '../../lib/fleet/read.js';
import { textFromDay } from '../../lib/numeric/day.js';
import { brief, readFiles, SITE, withCode } from './files.js';

const folders: string[] = [];
afterEach(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

function folderOf(files: Record<string, string | Uint8Array>): string {
  const folder = mkdtempSync(join(tmpdir(), 'weirwise-read-'));
  folders.push(folder);
  for (const [name, content] of Object.entries(files)) writeFileSync(join(folder, name), content);
  return folder;
}

const POSITIONS = 'position,size\nV1,25\n';
const LIVES =
  'position,material,fitted,removed,reason\nV1,EPDM,2020-01-01,2021-05-01,leak\nV1,EPDM,2021-05-01,,\n';
const FILES = { 'positions.csv': POSITIONS, 'lives.csv': LIVES };

describe('readFleet on folders', () => {
  it('reads the two needed files and says what it assumed for the rest', async () => {
    const fleet = await readFleet(folderOf(FILES));
    expect(fleet.filesRead).toEqual(['lives.csv', 'positions.csv']);
    expect(textFromDay(fleet.site.dataUntil)).toBe('2021-05-01');
    expect(fleet.site).toMatchObject({
      name: 'The plant',
      currency: 'EUR',
      event: 'leak',
      recordsFrom: null,
    });
    expect(fleet.site.assumed.join(' ')).toMatch(/data_until.*2021-05-01.*latest day/);
    expect(fleet.site.assumed.join(' ')).toMatch(/currency.*EUR/);
    expect(fleet).toMatchObject({ items: [], orders: [], lots: [], shutdowns: [], readings: { length: 0 } });
    expect(fleet.findings).toMatchObject({ rowsIn: 3, rowsUsed: 3, rowsSetAside: 0, livesBuilt: 0 });
  });

  it('takes the day of the extract from the caller where site.json does not say, and refuses one that is no date', async () => {
    const folder = folderOf(FILES);
    const fleet = await readFleet(folder, { dataUntil: '2022-01-01' });
    expect(textFromDay(fleet.site.dataUntil)).toBe('2022-01-01');
    expect(fleet.site.assumed.join(' ')).not.toMatch(/data_until/);
    await expect(readFleet(folder, { dataUntil: '01.01.2022' })).rejects.toThrow(UsageError);
  });

  it('hashes the bytes of the files it read, in name order', async () => {
    const fleet = await readFleet(folderOf({ ...FILES, 'notes.txt': 'not read' }));
    expect(fleet.inputsHash).toBe(createHash('sha256').update(LIVES).update(POSITIONS).digest('hex'));
  });

  it('mentions tables it does not know', async () => {
    const fleet = await readFleet(folderOf({ ...FILES, 'shutdown.csv': 'name\n', 'notes.txt': '' }));
    expect(withCode(fleet, 'file-not-read')).toMatchObject([{ file: 'shutdown.csv', done: 'set aside' }]);
    expect(fleet.findings.files.map(({ file }) => file)).toEqual(['positions.csv', 'lives.csv']);
  });

  it('refuses what is no folder, or lacks a needed file, saying what is there', async () => {
    await expect(readFleet('/no/such/folder')).rejects.toThrow(/no\/such\/folder.*no such folder/s);
    const folder = folderOf({ 'Positions.CSV': POSITIONS, 'lives.csv': LIVES });
    await expect(readFleet(join(folder, 'lives.csv'))).rejects.toThrow(/not a folder/);
    await expect(readFleet(folder)).rejects.toThrow(/positions\.csv.*Rename Positions\.CSV/s);
    await expect(readFleet(folderOf({}))).rejects.toThrow(/no table in it/);
    const nested = folderOf({ 'positions.csv': POSITIONS });
    mkdirSync(join(nested, 'lives.csv'));
    await expect(readFleet(nested)).rejects.toThrow(InputError);
  });
});

describe('readFleet on files that cannot be used', () => {
  const cases: [string, Record<string, string | Uint8Array>, RegExp][] = [
    ['an empty file', { 'positions.csv': '' }, /positions\.csv: The file is empty/],
    ['only blank lines', { 'lives.csv': '\n\n' }, /lives\.csv: The file is empty/],
    ['a header only', { 'lives.csv': 'position,material,fitted\n' }, /lives\.csv: .*header and no rows/],
    [
      'a missing needed column',
      { 'lives.csv': 'position,fitted\nV1,2020-01-01\n' },
      /lives\.csv, column material: .*missing/,
    ],
    [
      'a column twice',
      { 'lives.csv': 'position,material,fitted,Fitted\nV1,E,,\n' },
      /column fitted: .*twice/,
    ],
    [
      'a workbook under another name',
      { 'lives.csv': new Uint8Array([0x50, 0x4b, 3, 4]) },
      /workbook or an archive/,
    ],
    ['binary', { 'lives.csv': new Uint8Array([65, 44, 0, 66]) }, /not a text/],
    [
      'half a letter of UTF-16',
      { 'lives.csv': new Uint8Array([0xff, 0xfe, 65, 0, 66]) },
      /not written in utf-16le/,
    ],
    [
      'a letter of no western code page',
      { 'lives.csv': new Uint8Array([...new TextEncoder().encode(LIVES), 0x81, 10]) },
      /not written in UTF-8: line 4/,
    ],
    [
      'a quotation mark never closed',
      { 'lives.csv': `${LIVES}V1,"EPDM,2021-05-01,,\n` },
      /quotation marks do not pair up/,
    ],
    [
      'no size that is a number',
      { 'positions.csv': 'position,size\nV1,about 25\nV2,25 mm\n' },
      /None of the 2 rows.*not a number alone/s,
    ],
    ['site.json that is no JSON', { 'site.json': '{ name: }' }, /site\.json: This is not JSON/],
    ['site.json with nothing in it', { 'site.json': ' ' }, /site\.json: The file is empty.*\{\} for none/s],
    ['site.json that is no object', { 'site.json': 'null' }, /must hold settings in curly brackets/],
    [
      'site.json nested without end',
      { 'site.json': `{"columns":${'['.repeat(50_000)}${']'.repeat(50_000)}}` },
      /nested too deep/,
    ],
    [
      'sizes that no pipe has',
      { 'positions.csv': 'position,size\nV1,1e300\nV2,1000000000\nV3,0.0001\n' },
      /None of the 3 rows.*too large to be meant/s,
    ],
  ];

  it.each(cases)('refuses %s', (_, files, message) => {
    const read = (): unknown => readFiles({ ...FILES, ...files });
    expect(read).toThrow(InputError);
    expect(read).toThrow(message);
  });
});

describe('rows and headers', () => {
  it('tolerates a byte-order mark, line ends of any kind, blank lines, capitals and spaces in the header', () => {
    const plain = readFiles(FILES);
    for (const end of ['\r\n', '\r', '\n\n']) {
      const lives = `\ufeff Position ,MATERIAL,Fitted,removed,reason,,\n${LIVES.slice(LIVES.indexOf('\n') + 1)}`;
      const fleet = readFiles({ ...FILES, 'lives.csv': lives.replaceAll('\n', end) });
      expect(fleet.lives.fitted).toEqual(plain.lives.fitted);
      expect(fleet.findings).toMatchObject({ rowsIn: 3, rowsUsed: 3 });
    }
  });

  it('passes over a line above the header that names the separator', () => {
    const fleet = readFiles({ ...FILES, 'lives.csv': `sep=,\r\n${LIVES}` });
    expect(fleet.lives.fitted).toEqual(readFiles(FILES).lives.fitted);
    const other = readFiles({ ...FILES, 'lives.csv': `sep=;\n${LIVES.replaceAll(',', ';')}` });
    expect(other.lives).toEqual(fleet.lives);
  });

  it('reads the same with and without quotation marks', () => {
    const quoted = LIVES.replace(/[^,\n]+/g, (cell) => `"${cell}"`);
    const fleet = readFiles({ ...FILES, 'lives.csv': quoted });
    expect(fleet.lives).toEqual(readFiles(FILES).lives);
    expect(fleet.findings.problems).toEqual(readFiles(FILES).findings.problems);
  });

  it('sets aside rows of the wrong width and rows of empty cells, and counts rows as the file has them', () => {
    const lives = `${LIVES}\nV1,EPDM\nV1,EPDM,2021-05-01,,,more\n,,,,\nV1,EPDM,2021-05-01,,,,\nV9,EPDM,2021-05-01,,\n`;
    const fleet = readFiles({ ...FILES, 'lives.csv': lives });
    expect(brief(fleet)).toEqual(
      [
        'row-width 4 set aside',
        'row-width 5 set aside',
        'row-blank 6 set aside',
        'life-duplicate 7 set aside',
        'position-unknown 8 set aside',
      ].sort((a, b) => Number(a.split(' ')[1]) - Number(b.split(' ')[1])),
    );
    expect(fleet.findings.files[1]).toEqual({ file: 'lives.csv', rowsIn: 7, rowsUsed: 2, rowsSetAside: 5 });
  });

  it('mentions columns it does not read', () => {
    const fleet = readFiles({ ...FILES, 'positions.csv': 'position,size,colour\nV1,25,blue\n' });
    expect(withCode(fleet, 'column-unknown')).toMatchObject([{ column: 'colour', row: null }]);
  });

  it('lists the first problems of a kind and counts the others, with rows in = used + set aside', () => {
    const rows = Array.from({ length: 6000 }, () => 'V9,EPDM,2021-05-01,,').join('\n');
    const fleet = readFiles({ ...FILES, 'lives.csv': `${LIVES}${rows}\n` });
    expect(withCode(fleet, 'position-unknown')).toHaveLength(5001);
    expect(withCode(fleet, 'position-unknown')[5000]?.text).toMatch(/^1000 more rows/);
    expect(fleet.findings).toMatchObject({ rowsIn: 6003, rowsUsed: 3, rowsSetAside: 6000 });
  });
});

describe('positions.csv', () => {
  it('keeps where a valve is in the words of the plant, tidied; nothing where it is not given', () => {
    const rows = 'V1,25,"Hall 2,  level 1 "\nV2,25,\n';
    const { positions } = readFiles({ ...FILES, 'positions.csv': `position,size,location\n${rows}` });
    expect(positions.map(({ location }) => location)).toEqual(['Hall 2, level 1', '']);
    expect(readFiles(FILES).positions[0]?.location).toBe('');
  });
  const read = (rows: string) =>
    readFiles({
      'positions.csv': `position,size,line,criticality,strokes_per_day,accessories,in_service_since,out_of_service_since,idle\n${rows}\n`,
      'lives.csv': 'position,material,fitted\nV1,EPDM,2020-01-01\n',
    });

  it('keeps one row per tag, and asks about words and numbers it cannot read', () => {
    const fleet = read(
      [
        'V1,25,A,urgent,12;5,2,,,2020-01-01',
        'V1,25,A,urgent,12;5,2,,,2020-01-01',
        'V1,40,A,normal,,,,,',
        'V2,0,A,,,,,,',
        'V3,"12,5,1",A,,,,,,',
        'V4,25,A,,,,2021-01-01,2020-01-01,',
        ',25,A,,,,,,',
      ].join('\n'),
    );
    expect(fleet.positions).toMatchObject([
      { position: 'V1', size: 25, criticality: 'high', strokesPerDay: null, idle: [] },
    ]);
    expect(brief(fleet).filter((problem) => problem.endsWith('set aside'))).toEqual([
      'position-duplicate 2 set aside',
      'position-twice 3 set aside',
      'number-zero 4 set aside',
      'number-format 5 set aside',
      'service-dates-contradict 6 set aside',
      'position-missing 7 set aside',
    ]);
    expect(withCode(fleet, 'criticality-unknown')[0]).toMatchObject({
      row: 1,
      value: 'urgent',
      done: 'mended',
    });
    expect(withCode(fleet, 'idle-format')[0]).toMatchObject({ row: 1, value: '2020-01-01' });
  });
});

describe('names that could do harm', () => {
  it('are plain text everywhere', () => {
    const tags = [
      '__proto__',
      'constructor',
      '<img src=x onerror=alert(1)>',
      '=1+1',
      '\u202egnirts',
      '💧',
      'x'.repeat(5000),
      'toString',
    ];
    const quoted = (tag: string): string => `"${tag}"`;
    const fleet = readFiles({
      'positions.csv': `position,size,line\n${tags.map((tag) => `${quoted(tag)},25,${quoted(tag)}`).join('\n')}\n`,
      'lives.csv': `position,material,fitted,lot\n${tags.map((tag) => `${quoted(tag)},${quoted(tag)},2020-01-01,${quoted(tag)}`).join('\n')}\n`,
      'site.json': `{"data_until":"2024-01-01","money":{"downtime_per_hour":{"__proto__":5,"constructor":6}},"aliases":{"valueOf":"constructor"},"limits":{"__proto__":{"max_days":100}}}`,
    });
    expect(fleet.positions.map(({ position }) => position)).toEqual(tags);
    expect(fleet.materials).toEqual(tags);
    expect(fleet.lotNames).toEqual(tags);
    expect([...(fleet.site.money.downtimePerHour ?? [])].map(([line]) => line)).toEqual([
      '__proto__',
      'constructor',
    ]);
    expect(fleet.site.limits).toMatchObject([{ material: '__proto__', maxDays: 100 }]);
    expect(({} as Record<string, unknown>).max_days).toBeUndefined();
  });

  it('keeps codes as they are written: leading zeros, and letters that look like exponents', () => {
    const fleet = readFiles({
      'positions.csv': 'position,size\n0017,25\n17,25\n1E5,25\nTRUE,25\nNaN,25\n',
      'lives.csv':
        'position,material,fitted\n0017,EPDM,2020-01-01\n17,EPDM,2020-01-01\n1E5,EPDM,2020-01-01\nTRUE,EPDM,2020-01-01\nNaN,EPDM,2020-01-01\n',
    });
    expect(fleet.positions.map(({ position }) => position)).toEqual(['0017', '17', '1E5', 'TRUE', 'NaN']);
    expect(fleet.findings.problems).toEqual([withCode(fleet, 'column-missing')[0]]);
  });

  it('tells tags apart that differ in capitals only, and guesses neither for a third spelling', () => {
    const fleet = readFiles({
      'positions.csv': 'position,size\nva1,25\nVA1,25\n',
      'lives.csv': 'position,material,fitted\nva1,EPDM,2020-01-01\nVA1,FKM,2020-01-01\nVa1,FKM,2020-01-01\n',
    });
    expect(withCode(fleet, 'position-unknown')).toMatchObject([{ row: 3, value: 'Va1' }]);
  });
});

describe("the plant's own words", () => {
  it('are replaced by columns, values and aliases of site.json', () => {
    const fleet = readFiles({
      'positions.csv': 'Tag,DN\nV-17,25\n',
      'lives.csv':
        'Tag,Werkstoff,Date in,Date out,Grund\nV-0017,E-Gummi,2020-01-01,2021-01-01,Undicht\nV-17,EPDM,2021-01-01,,\n',
      'site.json': {
        ...SITE,
        columns: {
          'positions.csv': { Tag: 'position', DN: 'size' },
          'lives.csv': {
            Tag: 'position',
            Werkstoff: 'material',
            'Date in': 'fitted',
            'Date out': 'removed',
            Grund: 'reason',
          },
        },
        values: { reason: { undicht: 'leak' }, material: { 'E-Gummi': 'EPDM' } },
        aliases: { 'V-0017': 'V-17' },
      },
    });
    expect(fleet.materials).toEqual(['EPDM']);
    expect(fleet.findings).toMatchObject({ rowsUsed: 3, rowsSetAside: 0 });
    expect(fleet.lives.reason[0]).toBe(0);
  });

  it('are refused where they lead nowhere', () => {
    const read = (more: object) => () => readFiles({ ...FILES, 'site.json': { ...SITE, ...more } });
    expect(read({ columns: { 'live.csv': {} } })).toThrow(/columns\.live\.csv" must be one of/);
    expect(read({ columns: { 'lives.csv': { Tag: 'tag' } } })).toThrow(
      /columns\.lives\.csv\.Tag" must name one of/,
    );
    expect(read({ values: { size: {} } })).toThrow(/values\.size" must be one of/);
    expect(read({ aliases: { a: 1 } })).toThrow(/aliases\.a" must be a text/);
  });
});
