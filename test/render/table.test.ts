import { describe, expect, it } from 'vitest';
import { UsageError } from '../../lib/errors.js';
import { tableData } from '../../lib/render/table.js';

const rows = [
  { item: 'A <b>', 'price, EUR': 1234.56, range: '3 to 5' },
  { item: 'C', 'price, EUR': null, range: 'none' },
];

describe('tableData', () => {
  it('is a table with caption and heads, numbers rounded and to the right, texts escaped', () => {
    const markup = String(tableData(rows, 'Two & one')['text/html']);
    expect(markup).toContain('Two &amp; one</caption>');
    expect(markup).toContain('<th scope="col" style="text-align:right">price, EUR</th>');
    expect(markup).toContain('<th scope="row" style="text-align:left;white-space:nowrap">A &lt;b&gt;</th>');
    expect(markup).toContain('<td style="text-align:right;white-space:nowrap">1\u00a0235</td>');
    expect(markup).toContain('<td style="text-align:right;white-space:nowrap"></td>');
    expect(markup).toContain('<td style="text-align:left;white-space:nowrap">none</td>');
  });

  it('breaks the lines of a column with a long cell only', () => {
    const long = [{ a: 'x', why: 'because it is so long that it may need another line' }];
    const markup = String(tableData(long, 'Why')['text/html']);
    expect(markup).toContain('<td style="text-align:left;min-width:14em">because');
    expect(markup).toContain('<th scope="row" style="text-align:left;white-space:nowrap">x</th>');
  });

  it('leaves sentences at the left, even those that begin with a number', () => {
    const sum = [{ a: 'x', why: '38 usable, 0.4 for leaks and openings, so that one is missing' }];
    expect(String(tableData(sum, 'Why')['text/html'])).toContain(
      '<td style="text-align:left;min-width:14em">38',
    );
  });

  it('keeps all digits of whole numbers', () => {
    expect(String(tableData([{ a: 'x', rows: 13_804 }], 'Counts')['text/html'])).toContain('>13\u00a0804<');
  });

  it('is aligned text where no page is shown', () => {
    expect(tableData(rows, 'Two')['text/plain']).toBe(
      'Two\nitem   price, EUR  range\n-----  ----------  ------\nA <b>       1\u00a0235  3 to 5\nC                  none',
    );
  });

  it('takes the numbers of a chart as they are', () => {
    const table = { columns: ['item', 'price, EUR', 'range'], rows: rows.map((row) => Object.values(row)) };
    expect(tableData(table, 'Two')).toEqual(tableData(rows, 'Two'));
  });

  it('asks for rows, and for the same columns in each', () => {
    expect(() => tableData([], 'none')).toThrow(UsageError);
    expect(() => tableData([{ a: 1 }, { b: 1 }], 'other')).toThrow('every row needs the columns a.');
  });
});
