/** Three roads through a CSV text (no mark, few marks, many marks) give the records of the parser. */
import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../lib/errors.js';
import { eachRecord } from '../../lib/fleet/csvRecords.js';

const HEADER = ['position', 'material', 'fitted', 'notes'];

function recordsOf(text: string): string[][] {
  const records: string[][] = [];
  eachRecord({ file: 'lives.csv', text, separator: ',', header: HEADER, coded: null }, (cells) =>
    records.push([...cells]),
  );
  return records;
}

function byParser(text: string): string[][] {
  return parse(text, {
    relax_column_count: true,
    relax_quotes: true,
    record_delimiter: ['\r\n', '\n', '\r'],
  }) as string[][];
}

const plain = fc.constantFrom('V1,EPDM,2020-01-01,sound', 'V2,PTFE,,', '', 'x,y', ' a , b ,,');
const marked = fc.constantFrom(
  '"V1",EPDM,2020-01-01,"worn, torn"',
  'V3,EPDM,2020-01-01,"two\nlines"',
  'V3,EPDM,2020-01-01,"one\n\nthree ""of"" them\n"',
  'V4,EPDM,,2" valve',
  'V5,"EPDM" ,,',
  '"","",""',
  '"a ""b"" c",,',
  '"closes late" and goes on,1',
);

describe('records of a CSV text', () => {
  it('are those of the parser, however few or many cells are quoted', () => {
    const lines = fc.array(fc.oneof({ weight: 30, arbitrary: plain }, { weight: 1, arbitrary: marked }), {
      minLength: 1,
      maxLength: 90,
    });
    fc.assert(
      fc.property(lines, fc.constantFrom('\n', '\r\n'), fc.boolean(), (list, end, ended) => {
        const text = list.join(end) + (ended ? end : '');
        let expected: string[][];
        try {
          expected = byParser(text);
        } catch {
          expect(() => recordsOf(text)).toThrow(InputError);
          return;
        }
        expect(recordsOf(text)).toEqual(expected);
      }),
      { numRuns: 400 },
    );
  });

  it('name the line of a mark that never closes, by the file', () => {
    const text = `${'V1,EPDM,,\n'.repeat(60)}V2,"EPDM,,\n${'V1,EPDM,,\n'.repeat(60)}`;
    expect(() => recordsOf(text)).toThrow(/do not pair up.*line 121/);
  });

  it('refuse rows that a mark has swallowed', () => {
    const text = `${'V1,EPDM,,\n'.repeat(60)}"V2,EPDM,,\nV3,EPDM,,\nV4",EPDM,,\n${'V1,EPDM,,\n'.repeat(60)}`;
    expect(() => recordsOf(text)).toThrow(/Lines 61 to 63 were read as one row/);
  });
});
