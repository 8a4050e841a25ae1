/** Cells that a spreadsheet would run: harmless on the way out, as they were on the way back in. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { csvQuoted } from '../../lib/fleet/csvQuoted.js';
import { neutralCell, restoredCell } from '../../lib/fleet/neutralCell.js';
import { readFiles } from './files.js';

/** Texts that begin in every way that matters, and others. */
const text = fc
  .tuple(fc.stringMatching(/^['=+\-@\t\r\n＝＋－＠0-9.a]{0,4}$/), fc.string())
  .map(([start, rest]) => start + rest);

describe('a cell that a spreadsheet would run', () => {
  it('comes back as it was, whatever it is', () => {
    fc.assert(
      fc.property(text, (each) => {
        expect(restoredCell(neutralCell(each))).toBe(each);
      }),
      { numRuns: 2000 },
    );
  });

  it('never begins like a formula once it is written, but for plain numbers', () => {
    fc.assert(
      fc.property(text, (each) => {
        const written = neutralCell(each);
        if (/^[=+\-@\t\r\n＝＋－＠]/.test(written)) expect(written).toMatch(/^[+-]?\d+(\.\d+)?$/);
      }),
      { numRuns: 2000 },
    );
  });

  it('leaves numbers and names with an apostrophe alone', () => {
    for (const each of ['-5', '+5.25', "'s-Hertogenbosch", "O'Neil", "'12", ''])
      expect([neutralCell(each), restoredCell(each)]).toEqual([each, each]);
  });

  it('is read as the tag that it is, from a table that was written here and from one that was not', () => {
    const tags = ['=1+1', '-V-101', '@sum', '+49 123'];
    const table = (head: string, cells: string[], rest: string): string =>
      `${head}\n${cells.map((cell) => csvQuoted(cell) + rest).join('\n')}\n`;
    const fleet = readFiles({
      'positions.csv': table('position,size', tags.map(neutralCell), ',25'),
      'lives.csv': table('position,material,fitted', tags, ',EPDM,2020-01-01'),
      'site.json': '{"data_until":"2024-01-01"}',
    });
    expect(fleet.positions.map(({ position }) => position)).toEqual(tags);
    expect(fleet.findings.rowsSetAside).toBe(0);
  });
});
