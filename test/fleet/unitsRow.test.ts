/** A row of units under the header is no row of the table; a first row that only looks a little like one is. */
import { describe, expect, it } from 'vitest';
import { isUnits } from '../../lib/fleet/takeRow.js';
import { livesOf, readFiles, withCode } from './files.js';

describe('a row of units', () => {
  it.each([
    [['', 'mm', 'per week'], true],
    [['-', '[mm]', 'YYYY-MM-DD'], true],
    [['Text', '°C', 'degF', 'h', 'weeks'], true],
    [['', 'DN', 'TT.MM.JJJJ', 'pcs'], true],
    [['-', '-', ''], false],
    [['', ''], false],
    [['V1', 'mm'], false],
    [['A-1', '25', ''], false],
    [['mm', '2021-01-01'], false],
  ] as const)('%j: %s', (cells, is) => {
    expect(isUnits(cells)).toBe(is);
  });

  it('under the header is told and set aside, and nowhere else', () => {
    for (const first of ['', '-', 'text']) {
      const fleet = readFiles({
        'positions.csv': `position,size,steam_cycles_per_week\n${first},mm,per week\nV1,25,2\n`,
        'lives.csv': `position,material,fitted,removed\n${first},,date,date\nV1,EPDM,2021-01-01,2022-01-01\nV1,EPDM,2022-01-01,\n`,
      });
      expect(withCode(fleet, 'row-of-units').map(({ file, row }) => `${file} ${row}`)).toEqual([
        'positions.csv 1',
        'lives.csv 1',
      ]);
      expect(livesOf(fleet)).toHaveLength(2);
      expect(fleet.positions).toHaveLength(1);
    }
    const later = readFiles({
      'positions.csv': 'position,size\nV1,25\n,mm\n',
      'lives.csv': 'position,material,fitted,removed\nV1,EPDM,2022-01-01,\n',
    });
    expect(withCode(later, 'row-of-units')).toEqual([]);
  });
});
