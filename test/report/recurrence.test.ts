/** Leaks that come again, as readers see them: the part for the engineer, the sentence for the supervisor, the table and the chart. */
import { describe, expect, it } from 'vitest';
import { leaksByLine } from '../../lib/chart/index.js';
import type { Recurrence } from '../../lib/group/recurrence/types.js';
import { csvFiles } from '../../lib/report/csv.js';
import { figures } from '../../lib/report/figure.js';
import { lineSentence, recurrencePart } from '../../lib/report/recurrence.js';
import { ordinaryPlan } from '../fixtures/plan.js';
import { manyLines, NO_RECURRENCE, quietRecurrence, recurrenceOf } from '../fixtures/recurrence.js';

const textOf = (markup = ''): string =>
  markup
    .replace(/<[^>]*>/g, ' ')
    .replace(/\s+/g, ' ')
    .trim();
const partOf = (recurrence: Recurrence): string => textOf(recurrencePart({ recurrence }, figures())?.markup);

describe('the part of the report', () => {
  const text = partOf(recurrenceOf());

  it('begins with the plant: do new diaphragms last as long', () =>
    expect(text).toMatch(
      /^Leaks that come again Do new diaphragms last as long as old ones did\? Lives get shorter .* Find out what changed\./,
    ));
  it('lists lines that differ first, with ranges and what to do', () => {
    const names = [
      ...text
        .slice(text.indexOf('Leaks by line, those that differ first'))
        .matchAll(/(A1|B1|A2|B2|no line given|C9) \d+ \d+/g),
    ].map((match) => match[1]);
    expect(names.slice(0, 6)).toEqual(['A1', 'B1', 'A2', 'B2', 'no line given', 'C9']);
    expect(text).toContain('of these about one in 10 may do so by chance');
    expect(text).toContain('more often . Look for what it does unlike the others.');
    expect(text).toContain('not watched');
  });
  it('has each group with its verdict, changes first', () => {
    expect(text).toContain('group by group : lives change in 1 group');
    expect(text.indexOf('EPDM DN 25, bioreactor :')).toBeLessThan(text.indexOf('EPDM DN 50, bioreactor :'));
    expect(text).toContain('FKM DN 25 : It cannot be told. 7 more leaks would settle it.');
  });
  it('shows tests of a constant rate under their label alone', () => {
    expect(text).toContain('Laplace’s and the chi-square test (tests a constant rate, not renewal)');
    expect(text).toContain('Laplace p = 0.21, chi-square p = 0.4');
    expect(text).toContain('a small p here is no sign that lives change');
  });
  it('ends a long list of lines and says where the rest is', () =>
    expect(partOf(manyLines(300))).toContain('(first 100 of 300; all in recurrence.csv)'));
  it('is nothing where nothing was watched', () => {
    expect(recurrencePart({ recurrence: NO_RECURRENCE }, figures())).toBeNull();
  });
});

describe('for the supervisor', () => {
  const sentence = (recurrence: Recurrence): string => textOf(lineSentence({ recurrence })?.markup);

  it('names the lines that leak more often', () => {
    expect(sentence(recurrenceOf())).toMatch(
      /^Line A1 leaks clearly more often than the other lines \(A1 2\.1 times\)\. When you are there/,
    );
    expect(sentence(manyLines(60))).toMatch(/^Lines L\d+, L\d+ and L\d+ leak clearly more often/);
  });
  it('says nothing where none does', () => {
    expect(lineSentence({ recurrence: quietRecurrence() })).toBeNull();
    expect(lineSentence({ recurrence: NO_RECURRENCE })).toBeNull();
  });
});

describe('recurrence.csv', () => {
  const rowsOf = (recurrence: Recurrence): Record<string, string>[] => {
    const [head = '', ...rows] = csvFiles({ ...ordinaryPlan(), recurrence })
      ['recurrence.csv'].trimEnd()
      .split('\r\n');
    const names = head.split(',');
    // The only commas in cells of the plant made by hand are those of the label, which is quoted.
    return rows.map((row) => {
      const cells = row.replace(/"[^"]*"/g, (cell) => cell.replaceAll(',', ';')).split(',');
      return Object.fromEntries(names.map((name, i) => [name, cells[i] ?? '']));
    });
  };

  it('has a row a line, in the order of positions.csv, and what is not known empty', () => {
    const rows = rowsOf(recurrenceOf());
    expect(rows.map((row) => row.line)).toEqual(['A1', 'A2', 'B1', 'B2', '', 'C9']);
    expect(rows[0]).toMatchObject({
      leaks: '40',
      differs: 'more',
      leaks_come: 'less often',
      laplace_p: '0.21',
      watched_from: '2021-05-20',
      laplace_and_chi_square: '"tests a constant rate; not renewal"',
    });
    expect(rows[4]).toMatchObject({
      leaks: '0',
      mean_leaks_so_far: '0',
      laplace_p: '',
      laplace_and_chi_square: '',
    });
    expect(rows[5]).toMatchObject({
      leaks_per_position_and_year: '',
      mean_leaks_so_far: '',
      chance: '',
      differs: 'cannot tell',
    });
  });
  it('has its head alone without a line', () => expect(rowsOf(NO_RECURRENCE)).toEqual([]));
});

describe('the chart', () => {
  it('names lines that differ, with the rate of the plant, and gives numbers in its description', () => {
    const { finding, description, table } = leaksByLine(recurrenceOf());
    expect(finding).toBe(
      'A1 leaks more often than the other lines, less often B1; the plant has 0.18 leaks per position and year (0.11 to 0.28)',
    );
    expect(description).toContain(
      'From 20 May 2021 to 28 Feb 2026 a position of the plant had 0.86 leaks on average (90 % range 0.6 to 1.2).',
    );
    expect(description).toContain('A1 1.7 leaks per position, 2.1 times as often as the others');
    expect(table.rows.map((row) => row[0])).toEqual(['plant', 'A1', 'A2', 'B1', 'B2', 'no line given', 'C9']);
  });
  it('says that no line differs, that there is one line, and that nothing was watched', () => {
    const alike = recurrenceOf();
    const lines = alike.lines.filter(({ differs }) => differs === 'no');
    expect(leaksByLine({ ...alike, lines }).finding).toMatch(
      /^None of 3 lines leaks more or less often than chance brings; the plant has 0\.18/,
    );
    expect(leaksByLine(quietRecurrence()).finding).toBe(
      'One line: the plant has 0 leaks per position and year (0 to 0.026)',
    );
    expect(leaksByLine(NO_RECURRENCE).finding).toBe('No position was watched, so no leak can be counted');
  });
  it('draws lines that differ in colour, others grey, and says what it leaves out of many', () => {
    const chart = leaksByLine(manyLines(500));
    expect(chart.leftOut).toBe(
      '60 grey lines drawn of 450, evenly by their last value. 7 of 50 lines that differ have their name; all are in the numbers.',
    );
    const layers = chart.spec.layer as {
      mark: Record<string, unknown>;
      data: { values: { line?: string }[] };
    }[];
    const linesIn = (color: string): number =>
      layers
        .filter(({ mark }) => mark.type === 'line' && mark.color === color)
        .reduce((total, { data }) => total + new Set(data.values.map(({ line }) => line)).size, 0);
    expect([linesIn('#c9ced2'), linesIn('#96371b'), linesIn('#17324d')]).toEqual([60, 25, 25]);
  });
});
