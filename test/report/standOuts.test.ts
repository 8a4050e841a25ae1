/** What stands out, for engineer, maintenance and spreadsheets. */
import { describe, expect, it } from 'vitest';
import { csvFiles } from '../../lib/report/csv.js';
import { standOutSentence, standOutsPart } from '../../lib/report/standOuts.js';
import { ordinaryPlan } from '../fixtures/plan.js';
import { NO_STAND_OUTS, standOutsOf } from '../fixtures/standOuts.js';

const plan = { ...ordinaryPlan(), standOuts: standOutsOf() };
const textOf = (markup: string): string =>
  markup
    .replace(/<[^>]+>/g, ' ')
    .replaceAll('&nbsp;', ' ')
    .replaceAll('\u00a0', ' ')
    .replace(/\s+/g, ' ');

describe('for the engineer', () => {
  const text = textOf(standOutsPart(plan).markup);

  it('says how many were looked through, how many stand out, and how many may be chance', () => {
    expect(text).toContain(
      'Of 120 positions, 90 lots, 60 fitters and 30 weeks of fitting, 4 leak more often',
    );
    expect(text).toContain('about one in 10 may be chance');
  });

  it('has a row for each with its range, what it saves and what it cannot be told from', () => {
    expect(text).toContain('A1-V003');
    expect(text).toContain('8 / 0.54');
    expect(text).toContain('1.8 to 3.8');
    expect(text).toContain('800 to 4 600; 0.12 leaks');
    expect(text).toContain('Cannot be told from line A1.');
    expect(text).toContain('week of 2 Jun 2025');
  });

  it('has the recall of the lot, and the smallest effect of each kind', () => {
    expect(text).toContain('Recall of lot EP25-0027 : 2 pieces still fitted, 22 on the shelf');
    expect(text).toContain('0.6 within 3 months (80 % range 0 to 1; others like them 0.1)');
    expect(text).toContain(
      'positions: a typical one (0.87 leaks expected) would have to leak 10 times as often',
    );
    expect(text).toContain('lot EP25-0030 would stand out too, but only by lives of position A1-V003.');
  });

  it('says so where nothing was found, and where nothing could be looked through', () => {
    const none = { ...plan, standOuts: { ...plan.standOuts, rows: [] } };
    expect(textOf(standOutsPart(none).markup)).toContain('none leaks more often than chance explains');
    const empty = textOf(standOutsPart({ ...plan, standOuts: NO_STAND_OUTS }).markup);
    expect(empty).toContain('Nothing was looked through');
  });
});

describe('for maintenance', () => {
  it('names them by kind with what to do and what it is worth', () => {
    const text = textOf(standOutSentence(plan)?.markup ?? '');
    expect(text).toContain('Positions A1-V003 leak far more often than others like them');
    expect(text).toContain('Lots EP25-0027');
    expect(text).toContain('EUR in the year to come');
  });

  it('says nothing where nothing stands out', () => {
    expect(standOutSentence({ ...plan, standOuts: NO_STAND_OUTS })).toBeNull();
  });
});

describe('stand-outs.csv', () => {
  it('has a header and a row for each; only the header where there is none', () => {
    const lines = csvFiles(plan)['stand-outs.csv'].trimEnd().split('\r\n');
    expect(lines).toHaveLength(5);
    expect(lines[0]?.split(',').slice(0, 3)).toEqual(['kind', 'name', 'lines']);
    expect(lines[1]).toContain('position,A1-V003,A1 | A2,"EPDM DN 25, bioreactor",12,all leaks,8,0.54');
    expect(
      csvFiles({ ...plan, standOuts: NO_STAND_OUTS })
        ['stand-outs.csv'].trimEnd()
        .split('\r\n'),
    ).toHaveLength(1);
  });
});
