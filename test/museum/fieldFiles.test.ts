/**
 * Files of the kind that once broke other people's work: reversed flags, day-first dates, semicolons, codes read as
 * numbers, quotation marks, an extract day ignored, dates moved by a time zone. Columns are those of a fleet folder; the
 * values are those of the public reports named beside each.
 */
import { execFileSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../lib/errors.js';
import { lifeRow } from '../../lib/fleet/lifeRows.js';
import type { Fleet } from '../../lib/fleet/types.js';
import { textFromDay } from '../../lib/numeric/day.js';
import { readFiles, SITE, withCode } from '../fleet/files.js';

const positionsOf = (tags: string[]): string =>
  `position,size\n${tags.map((tag) => `${tag},25`).join('\n')}\n`;

/** Age and whether it failed, by tag, of the lives that can be used. */
function ages(fleet: Fleet): Record<string, [number, number]> {
  return Object.fromEntries(
    Array.from(fleet.lives.row, (_, i) => [i, lifeRow(fleet, i, 'leak')] as const)
      .filter(([i]) => fleet.lives.row[i] !== 0)
      .flatMap(([i, row]) => {
        const tag = fleet.positions[fleet.lives.position[i] ?? -1]?.position ?? '';
        return row.kind === 'set aside' ? [] : [[tag, [row.age, row.kind === 'failed' ? 1 : 0]]];
      }),
  );
}

describe('a flag that may mean failed or censored (github.com/sebp/scikit-survival/issues/261)', () => {
  it.each(['failed', 'censored'])('is not read as either: column %s', (flag) => {
    const read = (): unknown =>
      readFiles({
        'positions.csv': positionsOf(['DV-01', 'DV-02']),
        'lives.csv': `tag,days,${flag}\nDV-01,200,1\nDV-02,350,0\n`,
      });
    expect(read).toThrow(InputError);
    expect(read).toThrow(/column position: .*missing; the header has tag, days, (failed|censored)/);
  });

  it('is mentioned where the needed columns are there', () => {
    const fleet = readFiles({
      'positions.csv': positionsOf(['DV-01']),
      'lives.csv': 'position,material,fitted,failed\nDV-01,EPDM,2023-01-01,1\n',
    });
    expect(withCode(fleet, 'column-unknown')).toMatchObject([{ column: 'failed', file: 'lives.csv' }]);
    expect(withCode(fleet, 'column-missing')).toMatchObject([{ column: 'removed' }]);
  });
});

describe('dates with the day first (github.com/pandas-dev/pandas/issues/12585)', () => {
  const read = (rows: string, site: object = {}): Fleet =>
    readFiles({
      'positions.csv': positionsOf(['DV-101', 'DV-102', 'DV-103']),
      'lives.csv': `position,material,fitted,removed,reason\n${rows}`,
      'site.json': { ...SITE, data_until: '2024-12-31', ...site },
    });
  const dayFirst =
    'DV-101,EPDM,30/04/2023,01/05/2024,leak\nDV-102,EPDM,03/06/2023,14/09/2024,leak\nDV-103,EPDM,05/07/2023,08/02/2024,leak\n';
  const either = 'DV-101,EPDM,03/04/2023,01/05/2024,leak\nDV-102,EPDM,05/06/2023,07/08/2024,leak\n';

  it('are read in the order that the whole column has, and it is said', () => {
    const fleet = read(dayFirst);
    expect(ages(fleet)).toEqual({ 'DV-101': [367, 1], 'DV-102': [469, 1], 'DV-103': [218, 1] });
    expect(withCode(fleet, 'written-as').map(({ column, text }) => [column, text])).toEqual([
      ['fitted', 'Dates are read as day, month, year: 1 of 3 can only be that (row 1: 30/04/2023).'],
      ['removed', 'Dates are read as day, month, year: 1 of 3 can only be that (row 2: 14/09/2024).'],
    ]);
  });

  it('that could be either order are asked about, with the setting that answers', () => {
    expect(() => read(either)).toThrow(
      /lives\.csv, row 1, column fitted, value "03\/04\/2023": .*not guessed.*"dates": "day first"/s,
    );
    const months = read(either, { formats: { 'lives.csv': { dates: 'month first' } } });
    expect(textFromDay(months.lives.fitted[0] ?? 0)).toBe('2023-03-04');
    const days = read(either, { formats: { all: { dates: 'day first' } } });
    expect(textFromDay(days.lives.fitted[0] ?? 0)).toBe('2023-04-03');
  });

  it('that could be either order are asked about though a few others are certain', () => {
    const many = Array.from({ length: 30 }, (_, i) => `DV-101,EPDM,03/04/20${10 + (i % 9)},,`).join('\n');
    expect(() => read(`DV-102,EPDM,2023-06-05,,\n${many}\n`)).toThrow(/not guessed.*"dates": "day first"/s);
  });

  it('that do not exist are said to be no days, in the order found', () => {
    const fleet = read(`${dayFirst}DV-101,EPDM,31/04/2019,01/05/2019,leak\n`);
    expect(withCode(fleet, 'date-does-not-exist')).toMatchObject([
      { row: 4, column: 'fitted', value: '2019-04-31' },
    ]);
  });

  it('that contradict each other are refused with both rows', () => {
    const both = 'DV-101,EPDM,13.12.2022,10.01.2024,leak\nDV-102,EPDM,12.13.2022,09.02.2024,leak\n';
    expect(() => read(both)).toThrow(/No single order fits: row 1 \(13\.12\.2022\).*row 2 \(12\.13\.2022\)/);
  });

  it('among good ones are set aside one by one, with row, column and value', () => {
    const fleet = readFiles({
      'positions.csv': positionsOf(['DV-101', 'DV-102']),
      'lives.csv': 'position,material,fitted\nDV-101,EPDM,2023-04-30\nDV-102,EPDM,03/06/2023\n',
    });
    expect(withCode(fleet, 'date-format')).toMatchObject([
      {
        row: 2,
        column: 'fitted',
        value: '03/06/2023',
        done: 'set aside',
        todo: expect.stringContaining('YYYY-MM-DD'),
      },
    ]);
  });
});

describe('days under time zones (github.com/SheetJS/sheetjs/issues/2153)', () => {
  const script = `
    import { fleetOf } from './lib/fleet/read.ts';
    import { lifeRow } from './lib/fleet/lifeRows.ts';
    import { textFromDay } from './lib/numeric/day.ts';
    const bytes = (text) => new TextEncoder().encode(text);
    const fleet = fleetOf({ hash: '', unread: [], files: new Map([
      ['positions.csv', bytes('position,size,idle\\nV1,25,2024-03-01..2024-03-31\\n')],
      ['lives.csv', bytes('position,material,fitted,removed,reason\\nV1,EPDM,1999-12-31,2024-03-01,leak\\nV1,EPDM,2024-03-01,2024-03-31,leak\\nV1,EPDM,2024-03-31,,\\n')],
      ['site.json', bytes('{"data_until":"2024-11-10","records_from":"2011-12-30"}')],
    ]) });
    const days = [...fleet.lives.fitted, ...fleet.lives.removed.slice(0, 2), fleet.site.dataUntil, fleet.site.recordsFrom];
    const ages = [0, 1, 2].map((i) => lifeRow(fleet, i, 'leak').age);
    process.stdout.write(JSON.stringify({ texts: days.map(textFromDay), ages }));
  `;
  // St John's is half an hour off; Apia left 2011-12-30 out when it crossed the date line.
  it.each(['UTC', 'America/St_Johns', 'Pacific/Apia'])('stay the same: %s', (zone) => {
    const out = execFileSync(process.execPath, ['--import', 'tsx', '--input-type=module', '-e', script], {
      env: { ...process.env, TZ: zone },
      encoding: 'utf8',
    });
    expect(JSON.parse(out)).toEqual({
      texts: [
        '1999-12-31',
        '2024-03-01',
        '2024-03-31',
        '2024-03-01',
        '2024-03-31',
        '2024-11-10',
        '2011-12-30',
      ],
      ages: [8827, 30, 224],
    });
  });
});

describe('semicolons with decimal commas (github.com/mholt/PapaParse/issues/290)', () => {
  it('are read with the decimal mark of the whole file, and it is said', () => {
    const fleet = readFiles({
      'positions.csv': positionsOf(['DV-201', 'DV-202', 'DV-203', 'DV-204']),
      'lives.csv': 'position,material\nDV-201,EPDM\n',
      'readings.csv':
        'position;date;strokes;hot_cleans\nDV-201;19/03/2024;21.419,06;6,0\nDV-202;26/04/2024;1.375;5,5\nDV-203;15/01/2024;116;-0,4\nDV-204;30/05/2024;53,9;6\n',
    });
    expect(Array.from(fleet.readings.strokes)).toEqual([21419.06, 1375, 116, 53.9]);
    expect(Array.from(fleet.readings.hotCleans)).toEqual([6, 5.5, Number.NaN, 6]);
    expect(withCode(fleet, 'written-as').map(({ text }) => text)).toEqual([
      'The cells are separated by a semicolon.',
      'Dates are read as day, month, year: 4 of 4 can only be that (row 1: 19/03/2024).',
      'Numbers are read with a decimal comma: 5 numbers tell (row 1, strokes: 21.419,06).',
    ]);
    expect(withCode(fleet, 'number-negative')).toMatchObject([{ row: 3, column: 'hot_cleans' }]);
  });
});

describe('codes that look like numbers or dates (github.com/uwdata/arquero/issues/42)', () => {
  it('stay text: three tags, part numbers and lots as written', () => {
    const fleet = readFiles({
      'positions.csv': 'position,size,line\n0017,25,3-4\n17,25,03-04\n0170,25,NaN\n',
      'lives.csv':
        'position,material,fitted,lot\n0017,EPDM,2023-01-01,12345678901234567\n17,EPDM,2023-01-01,00000042\n0170,EPDM,2023-01-01,1234567890123456789\n',
      'items.csv': 'item,material,size\n22E1,EPDM,25\n1E5,FKM,25\nTRUE,NBR,25\n',
    });
    expect(fleet.positions.map(({ position }) => position)).toEqual(['0017', '17', '0170']);
    expect(fleet.positions.map(({ line }) => line)).toEqual(['3-4', '03-04', 'NaN']);
    expect(fleet.items.map(({ item }) => item)).toEqual(['22E1', '1E5', 'TRUE']);
    expect(fleet.lotNames).toEqual(['12345678901234567', '00000042', '1234567890123456789']);
  });
});

describe('quotation marks and line breaks (github.com/mholt/PapaParse/issues/457)', () => {
  it('a line break inside a note keeps the row whole', () => {
    const fleet = readFiles({
      'positions.csv': positionsOf(['DV-231', 'DV-232']),
      'lives.csv':
        'position,note,material,fitted,removed\r\nDV-231,"leak found\nre-torqued, ""ok""",EPDM,2024-01-02,2024-03-04\r\nDV-232,"a;b",EPDM,2024-01-02,2024-05-06\r\n',
    });
    expect(fleet.findings.files[1]).toMatchObject({ rowsIn: 2, rowsUsed: 2 });
    const days = Array.from(fleet.lives.removed, (removed, i) => removed - (fleet.lives.fitted[i] ?? 0));
    expect(days.slice(0, 2)).toEqual([62, 125]);
  });

  it('an inch mark in an unquoted cell is a size of its own', () => {
    const fleet = readFiles({
      'positions.csv': positionsOf(['DV-241', 'DV-242', 'DV-243']),
      'lives.csv':
        'position,size,material,fitted\nDV-241,2",EPDM,2024-01-02\nDV-242,1 1/2",EPDM,2024-01-02\nDV-243,25,EPDM,2024-01-02\n',
    });
    expect(Array.from(fleet.lives.size)).toEqual([50, 40, 25]);
    expect(withCode(fleet, 'size-in-words')).toMatchObject([{ row: 1, value: '2"', done: 'mended' }]);
    expect(fleet.findings).toMatchObject({ rowsIn: 6, rowsUsed: 6 });
  });

  it('a quoted cell that swallows the next row is refused with its lines', () => {
    const read = (): unknown =>
      readFiles({
        'positions.csv': positionsOf(['DV-251', 'DV-252', 'DV-253']),
        'lives.csv':
          'position,size,material,fitted\nDV-251,"2"",EPDM,2024-01-02\nDV-252,3",EPDM,2024-01-02\nDV-253,4,EPDM,2024-01-02\n',
      });
    expect(read).toThrow(InputError);
    expect(read).toThrow(/Lines 2 to 3 were read as one row/);
  });
});

describe('the day of the extract (github.com/CamDavidsonPilon/lifelines/pull/1305)', () => {
  const rows = [
    'DV-301,EPDM,2023-01-10,2024-01-20,leak',
    'DV-302,EPDM,2023-05-01,,',
    'DV-303,EPDM,2023-08-15,2024-09-01,leak',
    'DV-304,EPDM,2024-06-01,2024-05-20,leak',
    'DV-305,EPDM,2024-07-15,,',
    'DV-306,EPDM,2024-06-01,,',
    'DV-307,EPDM,2023-05-01,2024-06-30,leak',
  ];
  const tags = rows.map((row) => row.slice(0, 6));
  const read = (site: object): Fleet =>
    readFiles({
      'positions.csv': positionsOf(tags),
      'lives.csv': `position,material,fitted,removed,reason\n${rows.join('\n')}\n`,
      'site.json': site,
    });

  it('cuts every life, and what contradicts it is set aside', () => {
    const fleet = read({ ...SITE, data_until: '2024-06-30' });
    expect(ages(fleet)).toEqual({
      'DV-301': [375, 1],
      'DV-302': [426, 0],
      'DV-303': [320, 0],
      'DV-306': [29, 0],
      'DV-307': [426, 1],
    });
    expect(withCode(fleet, 'removed-before-fitted')).toMatchObject([{ row: 4, done: 'set aside' }]);
    expect(withCode(fleet, 'fitted-after-data')).toMatchObject([{ row: 5, done: 'set aside' }]);
    expect(withCode(fleet, 'removed-after-data')).toMatchObject([{ row: 3, done: 'mended' }]);
  });

  it('is never today: without it the latest day in the file stands, and is said', () => {
    const fleet = read({ name: 'No day given' });
    expect(textFromDay(fleet.site.dataUntil)).toBe('2024-09-01');
    expect(fleet.site.assumed.join(' ')).toMatch(/2024-09-01, the latest day in lives\.csv/);
  });
});
