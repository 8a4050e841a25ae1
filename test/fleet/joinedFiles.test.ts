/** Several files of one kind: joined, with what two of them have once, and each thing told with its file and row. */
import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { FINDINGS_AT_REMOVAL, type Fleet, REASONS } from '../../lib/fleet/types.js';
import { textFromDay } from '../../lib/numeric/day.js';
import { demoPart, type PlainRows, type Plant } from '../fixtures/exports/plant.js';
import { livesOf, readFiles, withCode } from './files.js';
import { makeWorkbook } from './workbook/makeWorkbook.js';

const POSITIONS = 'position,line,size\nV1,A,25\nV2,B,40\n';
const site = (more: object): object => ({ data_until: '2024-06-30', ...more });
const OLD =
  'position,material,fitted,removed,reason\nV1,EPDM,2021-01-01,2022-01-01,scheduled\nV1,EPDM,2022-01-01,,\nV2,FKM,2021-01-01,,\n';
const NEW =
  'Tag;Werkstoff;Ein;Aus;Grund\nV1;EPDM;01.01.2022;13.02.2023;undicht\nV1;EPDM;13.02.2023;;\nV2;FKM;01.01.2021;;\n';
const GERMAN = {
  file: 'new.csv',
  columns: { Tag: 'position', Werkstoff: 'material', Ein: 'fitted', Aus: 'removed', Grund: 'reason' },
  formats: { separator: 'semicolon', dates: 'day first' },
};
const SETTINGS = { files: { 'lives.csv': ['old.csv', GERMAN] }, values: { reason: { undicht: 'leak' } } };
const both = (more: object = {}, files: Record<string, string> = {}): Fleet =>
  readFiles({
    'positions.csv': POSITIONS,
    'old.csv': OLD,
    'new.csv': NEW,
    ...files,
    'site.json': site({ ...SETTINGS, ...more }),
  });

function adds({ findings }: Fleet): void {
  expect(findings.rowsIn).toBe(findings.rowsUsed + findings.rowsSetAside);
  for (const { rowsIn, rowsUsed, rowsSetAside } of findings.files)
    expect(rowsIn).toBe(rowsUsed + rowsSetAside);
}

describe('several files of one kind', () => {
  it('are one table, each with its own names and formats; overlapping rows count once', () => {
    const fleet = both();
    expect(livesOf(fleet)).toEqual([
      'V1 EPDM 25 2021-01-01..2022-01-01 row 1',
      'V1 EPDM 25 2022-01-01..2023-02-13 row 4',
      'V1 EPDM 25 2023-02-13..? row 5',
      'V2 FKM 40 2021-01-01..? row 3',
    ]);
    expect(withCode(fleet, 'row-in-two-files').map(({ text, row }) => `${row} ${text}`)).toEqual([
      '2 old.csv, row 2: It is in place here and removed in new.csv, row 1, which is the later record and is used.',
      '6 new.csv, row 3: The same row is in old.csv, row 3, which is used.',
    ]);
    expect(withCode(fleet, 'files-joined')[0]?.text).toBe(
      'The table is joined from 2 files: old.csv (rows 1 to 3), new.csv (rows 4 to 6).',
    );
    adds(fleet);
    expect(fleet.findings.rules.find(({ rule }) => rule === 'repeated_rows')?.setAside).toBe(2);
  });

  it('are each taken for themselves where repeated rows are not looked for', () => {
    const fleet = both({ cleaning: { repeated_rows: false } });
    expect(withCode(fleet, 'row-in-two-files')).toEqual([]);
    adds(fleet);
  });

  it('have what is wrong told with file and row, and rows that contradict each other by the usual rules', () => {
    const fleet = both(
      {},
      { 'new.csv': `${NEW}V9;FKM;01.01.2021;;\nV2;EPDM;01.03.2021;14.04.2021;undicht\n` },
    );
    expect(withCode(fleet, 'position-unknown')).toMatchObject([
      { row: 7, value: 'V9', text: 'new.csv, row 4: positions.csv has no such tag.' },
    ]);
    expect(
      withCode(fleet, 'lives-overlap').length + withCode(fleet, 'life-left-open').length,
    ).toBeGreaterThan(0);
    adds(fleet);
  });

  it('are refused by the name of the file that cannot be used', () => {
    expect(() => both({ files: { 'lives.csv': ['old.csv', { ...GERMAN, columns: {} }] } })).toThrow(
      /^lives\.csv \(new\.csv\), column position: The needed column is missing/,
    );
    expect(() => both({}, { 'new.csv': NEW.replace('13.02.2023;;', '02.13.2023;;') })).not.toThrow();
    const unclear = NEW.replaceAll('13.02.', '03.02.');
    const plain = { file: 'new.csv', columns: GERMAN.columns };
    expect(() => both({ files: { 'lives.csv': ['old.csv', plain] } }, { 'new.csv': unclear })).toThrow(
      /^lives\.csv \(new\.csv\), row 1, column (fitted|removed).*day or the month/,
    );
    expect(() => both({ files: { 'lives.csv': ['old.csv', 'gone.csv'] } })).toThrow(/gone\.csv/);
  });

  it('are checked where site.json names them', () => {
    const named = (list: unknown) => () => both({ files: { 'lives.csv': list } });
    expect(named([])).toThrow(/files\.lives\.csv/);
    expect(named(['../old.csv'])).toThrow(/must name a file in the fleet folder/);
    expect(named([{ file: 'old.csv', columns: { a: 'nonsense' } }])).toThrow(
      /files\.lives\.csv\.0\.columns\.a" must name one of position, material/,
    );
    expect(named([{ file: 'old.csv', formats: { units: { fitted: 'weeks' } } }])).toThrow(
      /files\.lives\.csv\.0\.formats\.units\.fitted/,
    );
    expect(named([{ file: 'old.csv', formats: { separator: 'colon' } }])).toThrow(/must be comma, semicolon/);
    expect(named([{ from: 'lives.csv' }])).toThrow(/list of files/);
  });

  it('may be sheets of one workbook, and positions may be taken from all of them', () => {
    const sheet = (text: string) =>
      text
        .trim()
        .split('\n')
        .map((line) => line.split(','));
    const book = makeWorkbook([
      {
        name: '2021',
        rows: [['Log'], ...sheet('position,material,size,fitted,removed\nV1,EPDM,25,2021-01-01,2022-01-01')],
      },
      {
        name: '2022',
        rows: sheet('position,material,DN,fitted,removed\nV1,EPDM,25,2022-01-01,\nV2,FKM,40,2022-05-05,'),
      },
    ]);
    const fleet = readFiles({
      'log.xlsx': book,
      'site.json': site({
        files: {
          'lives.csv': [
            { file: 'log.xlsx', sheet: '2021' },
            { file: 'log.xlsx', sheet: '2022', columns: { DN: 'size' } },
          ],
          'positions.csv': { from: 'lives.csv' },
        },
      }),
    });
    expect(fleet.positions.map(({ position, size }) => `${position} ${size}`)).toEqual(['V1 25', 'V2 40']);
    expect(livesOf(fleet)).toHaveLength(3);
    expect(withCode(fleet, 'files-joined')[0]?.text).toContain('log.xlsx, 2021 (rows 1 to 1)');
  });

  it('keep a row that one file has twice, and take from a copy the columns that a file lacks', () => {
    const orders = 'item,quantity,placed\nP1,5,2024-01-01\nP1,5,2024-01-01\n';
    const later = 'item,quantity,placed,due\nP1,5,2024-01-01,2024-08-01\n';
    const fleet = readFiles({
      'positions.csv': POSITIONS,
      'lives.csv': OLD,
      'items.csv': 'item,material,size\nP1,EPDM,25\n',
      'a.csv': orders,
      'b.csv': later,
      'site.json': site({ files: { 'orders.csv': ['a.csv', 'b.csv'] } }),
    });
    expect(withCode(fleet, 'row-in-two-files')).toHaveLength(1);
    expect(fleet.orders.map(({ quantity }) => quantity)).toEqual([5, 5]);
    expect(fleet.orders.map(({ due }) => textFromDay(due))).toContain('2024-08-01');
  });
});

describe('a history cut into files that overlap', () => {
  let plant: Plant;
  beforeAll(async () => {
    plant = await demoPart();
  });

  it('is read as the history in one file is', () => {
    const whole = lives(read(plant, { 'lives.csv': csv(plant['lives.csv']) }, {}));
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 2018, max: 2026 }), { minLength: 1, maxLength: 3 }),
        fc.integer({ min: 0, max: 2 }),
        fc.boolean(),
        (years, overlap, shuffled) => {
          const parts = cutByYears(plant['lives.csv'], [...new Set(years)].sort(), overlap);
          const files = Object.fromEntries(parts.map((rows, i) => [`part ${i}.csv`, csv(rows)]));
          const names = Object.keys(files);
          const fleet = read(plant, files, { files: { 'lives.csv': shuffled ? names.reverse() : names } });
          expect(lives(fleet)).toEqual(whole);
          adds(fleet);
        },
      ),
      { numRuns: 12, seed: 20261128 },
    );
  });
});

/**
 * What an extract of the end of each year has: lives that were in place in the years since the one before it, or some years earlier; those
 * that ended later are still running in it.
 */
function cutByYears(rows: PlainRows, years: readonly number[], overlap: number): PlainRows[] {
  const ends = [...years, 2030];
  return ends.map((end, i) => {
    const from = `${(ends[i - 1] ?? 1990) - overlap + 1}-01-01`;
    const until = `${end}-12-31`;
    return rows
      .filter(({ fitted = '', removed = '' }) => fitted <= until && (removed === '' || removed >= from))
      .map((row) =>
        (row.removed ?? '') > until ? { ...row, removed: '', reason: '', finding: '', last_tight: '' } : row,
      );
  });
}

function csv(rows: PlainRows): string {
  const names = Object.keys(rows[0] ?? { position: '' });
  const quoted = (text = ''): string => (/[",]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
  return `${names.join(',')}\n${rows.map((row) => names.map((name) => quoted(row[name])).join(',')).join('\n')}\n`;
}

function read(plant: Plant, files: Record<string, string>, more: object): Fleet {
  return readFiles({
    'positions.csv': csv(plant['positions.csv']),
    ...files,
    'site.json': { data_until: '2026-09-30', records_from: '2018-10-01', ...more },
  });
}

/** All that a life says, but for the number of its row. */
function lives(fleet: Fleet): string {
  const texts = livesOf(fleet).map((text, i) => {
    const { lives: table } = fleet;
    const words = `${REASONS[table.reason[i] ?? -1]} ${FINDINGS_AT_REMOVAL[table.finding[i] ?? -1]}`;
    return `${text.replace(/ row \d+$/, '')} ${words} ${table.lastTight[i]} ${fleet.lotNames[table.lot[i] ?? -1]}`;
  });
  return createHash('sha256').update(texts.sort().join('\n')).digest('hex') + texts.length;
}
