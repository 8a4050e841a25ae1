import { describe, expect, it } from 'vitest';
import { dayFromText } from '../../lib/numeric/day.js';
import { inLocale } from '../../lib/numeric/locale.js';
import { dataTable, html } from '../../lib/report/markup.js';
import { sortValues } from '../../lib/report/sortValue.js';

describe('sortValues', () => {
  it('finds numbers as they are written, and leaves whole digits to themselves', () => {
    const texts = ['12', '1\u00a0230', '−4.5', 'under 0.1', '10 overdue', 'not known', ''];
    expect(sortValues(texts, true)).toEqual([null, 1230, -4.5, 0.1, 10, null, null]);
    expect(inLocale('de-DE', () => sortValues(['1.230', '0,5'], true))).toEqual([1230, 0.5]);
  });

  it('finds days and ages where at least half of the cells hold one, and else leaves a column of words alone', () => {
    const march = dayFromText('2027-03-12');
    expect(sortValues(['12 Mar 2027', 'now  (12 Mar 2027)', 'past', ''], false)).toEqual([
      march,
      march,
      null,
      null,
    ]);
    expect(sortValues(['2 months', 'keep 12 days', 'no schedule'], false)).toEqual([60.875, 12, null]);
    expect(sortValues(['Spring stop', 'due 12 Mar 2027', 'Line 4'], false)).toEqual([null, null, null]);
  });

  it('marks cells of long tables, and in short ones only plain numbers that a machine could not read', () => {
    const table = (rows: number): string =>
      dataTable({
        caption: 'c',
        columns: [{ title: 'Tag' }, { title: 'Cost', number: true }, { title: 'Due' }],
        rows: Array.from({ length: rows }, (_, i) => [
          `V-${i}`,
          i === 0 ? '1\u00a0230' : '3 of 4',
          html`<b>12 Mar 2027</b>`,
        ]),
      }).markup;
    expect(table(3).match(/ data-value="[^"]*"/g)).toEqual([' data-value="1230"']);
    expect(table(30).match(/ data-value="3"/g)).toHaveLength(29);
    expect(table(30).match(new RegExp(` data-value="${dayFromText('2027-03-12')}"`, 'g'))).toHaveLength(30);
  });
});
