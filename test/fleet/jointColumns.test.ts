/** Columns of ours that are read from one text, and what site.json says of a place that its file does not have. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readFleet } from '../../lib/fleet/read.js';
import { lineIn, materialIn, sizeIn } from '../../lib/fleet/written/itemText.js';
import { arrowOf, columnsOfCsv } from './columnar/makeColumns.js';
import { livesOf, readFiles, withCode } from './files.js';
import { makeWorkbook } from './workbook/makeWorkbook.js';

describe('parts of a text', () => {
  it.each([
    ['Diaphragm EPDM DN25', 'EPDM', '25'],
    ['membrana PTFE-faced EPDM, DN 40 (set)', 'PTFE-faced EPDM', '40'],
    ['FKM 1 1/2" weir', 'FKM', '40'],
    ['1-1/4" VMQ', 'VMQ', '32'],
    ['Membran PTFE/EPDM NW 50', 'PTFE/EPDM', '50'],
    ['EPDM for a body that was made for FKM', '', ''],
    ['DN25 to DN40 EPDM', 'EPDM', ''],
    ['gasket 25', '', ''],
    ['Depdmn', '', ''],
    ['', '', ''],
  ])('of "%s" are material "%s" and size "%s"', (text, material, size) => {
    expect([materialIn(text), sizeIn(text)]).toEqual([material, size]);
  });

  it.each([
    ['A1-V001', 'A1'],
    ['B2.R3.V001', 'B2.R3'],
    ['12/FV 7', '12/FV'],
    ['V001', ''],
    ['-V1', ''],
  ])('of the tag "%s" is line "%s"', (tag, line) => {
    expect(lineIn(tag)).toBe(line);
  });
});

const SITE = {
  data_until: '2024-06-30',
  columns: {
    'positions.csv': { Tag: ['position', 'line'], Text: ['size'] },
    'lives.csv': {
      Tag: 'position',
      Part: ['material', 'size'],
      In: 'fitted',
      Out: 'removed',
      Note: ['reason'],
    },
  },
  values: { reason: { 'weeping, swapped': 'leak' } },
};
const POSITIONS = 'Tag;Text\nA1-V1;"Weir valve; DN 25"\nA2-V1;Weir valve DN40\n';
const LIVES =
  'Tag,Part,In,Out,Note\nA1-V1,"Diaphragm EPDM, DN25",2021-01-01,2022-02-02,"weeping, swapped"\nA1-V1,Diaphragm EPDM DN25,2022-02-02,,\nA2-V1,Diaphragm FKM DN40,2021-01-01,,\nA2-V1,short\n';

describe('columns that are read from one text', () => {
  const expected = [
    'A1-V1 EPDM 25 2021-01-01..2022-02-02 row 1',
    'A1-V1 EPDM 25 2022-02-02..? row 2',
    'A2-V1 FKM 40 2021-01-01..? row 3',
  ];

  it('are read from CSV, quotation marks and short rows among them', () => {
    const fleet = readFiles({ 'positions.csv': POSITIONS, 'lives.csv': LIVES, 'site.json': SITE });
    expect(fleet.positions.map(({ position, line, size }) => [position, line, size])).toEqual([
      ['A1-V1', 'A1', 25],
      ['A2-V1', 'A2', 40],
    ]);
    expect(livesOf(fleet)).toEqual(expected);
    expect(fleet.lives.reason[0]).toBe(0);
    expect(withCode(fleet, 'row-width')).toMatchObject([{ row: 4 }]);
  });

  it('are read from a sheet', () => {
    const rows = LIVES.replaceAll('"Diaphragm EPDM, DN25"', 'Diaphragm EPDM DN25')
      .replace('"weeping, swapped"', 'weeping / swapped')
      .trim()
      .split('\n')
      .slice(0, 4)
      .map((line) => line.split(',').map((cell) => (cell === '' ? null : cell)));
    const fleet = readFiles({
      'positions.csv': POSITIONS,
      'lives.xlsx': makeWorkbook([{ name: 'lives', rows }]),
      'site.json': SITE,
    });
    expect(livesOf(fleet)).toEqual(expected);
  });

  it('are read from columns, where a sheet or row that site.json names is told not to be there', async () => {
    const table =
      'Tag,Part,In,Out,Note\nA1-V1,Diaphragm EPDM DN25,2022-02-02,,\nA2-V1,Diaphragm FKM DN40,2021-01-01,2023-01-01,x\n';
    const folder = mkdtempSync(join(tmpdir(), 'weirwise-joint-'));
    writeFileSync(join(folder, 'positions.csv'), POSITIONS);
    writeFileSync(join(folder, 'export.arrow'), arrowOf(columnsOfCsv(table), true));
    const files = { 'lives.csv': { file: 'export.arrow', sheet: 'x', header_row: 3 } };
    writeFileSync(join(folder, 'site.json'), JSON.stringify({ ...SITE, files }));
    const fleet = await readFleet(folder);
    rmSync(folder, { recursive: true });
    expect(livesOf(fleet)[0]).toBe('A1-V1 EPDM 25 2022-02-02..? row 1');
    expect(withCode(fleet, 'place-ignored').map(({ value, text }) => `${value}: ${text}`)).toEqual([
      'sheet x: site.json names a "sheet" for export.arrow, and a file of this kind has no sheets; it is not looked at.',
      'header_row 3: site.json names a "header_row" for export.arrow, and a file of this kind has the names of its columns in a place of their own; it is not looked at.',
    ]);
  });

  it('must be columns of the file', () => {
    const columns = (list: unknown) => () =>
      readFiles({
        'positions.csv': POSITIONS,
        'lives.csv': LIVES,
        'site.json': { columns: { 'lives.csv': { Part: list } } },
      });
    expect(columns([])).toThrow(/must name a column of ours/);
    expect(columns(['material', 'line'])).toThrow(/must name one of position, material/);
    expect(columns([''])).toThrow(/must name one of/);
    expect(columns(7)).toThrow(/must be a text, or a list of texts/);
  });
});
