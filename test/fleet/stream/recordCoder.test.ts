/** Records coded from pieces are the parser's, wherever the pieces end. */
import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cellsAt } from '../../../lib/fleet/coded/codedRows.js';
import { recordCoder } from '../../../lib/fleet/coded/recordCoder.js';

const SHAPE = { separator: ',', columns: 3, written: 3, mostPieces: new Array<number>(30).fill(Infinity) };

function byParser(text: string): string[][] | null {
  try {
    return parse(text, {
      relax_column_count: true,
      relax_quotes: true,
      record_delimiter: ['\r\n', '\n', '\r'],
    }) as string[][];
  } catch {
    return null;
  }
}

/** Null where the coder leaves it to the parser. */
function byCoder(text: string, pieces: readonly number[], shape = SHAPE): string[][] | null {
  const coder = recordCoder(shape);
  const bytes = new TextEncoder().encode(text);
  let rest: Uint8Array = new Uint8Array(0);
  let from = 0;
  for (const end of [...pieces, bytes.length]) {
    const held = new Uint8Array([...rest, ...bytes.subarray(from, end)]);
    rest = held.subarray(coder.add(held, false));
    from = end;
  }
  coder.add(rest, true);
  if (coder.inDoubt()) return null;
  const table = coder.table(['a', 'b', 'c']);
  return Array.from({ length: table.length }, (_, row) => [...cellsAt(table, row)]);
}

const part = fc.constantFrom(
  '"',
  '"',
  '""',
  ',',
  ',',
  '\n',
  '\r\n',
  '\r',
  'V1',
  ' ',
  'ü',
  '😀',
  'x"y',
  '"a,b"',
);
const texts = fc.array(part, { maxLength: 25 }).map((parts) => parts.join(''));

describe('records from pieces', () => {
  it('are the parser’s, or left to it where a mark never closes', () => {
    fc.assert(
      fc.property(texts, (text) => {
        expect(byCoder(text, [])).toEqual(byParser(text));
      }),
      { numRuns: 2000 },
    );
  });

  it('are the same wherever a piece ends', () => {
    fc.assert(
      fc.property(texts, (text) => {
        const whole = byCoder(text, []);
        const { length } = new TextEncoder().encode(text);
        for (let place = 1; place < length; place++) expect(byCoder(text, [place])).toEqual(whole);
        expect(
          byCoder(
            text,
            Array.from({ length }, (_, place) => place),
          ),
        ).toEqual(whole);
      }),
      { numRuns: 300 },
    );
  });

  it('count the distinct texts once, however many rows there are', () => {
    const rows = Array.from({ length: 5000 }, (_, i) => `V${i % 700},"E""${i % 3}",${i}`);
    const coder = recordCoder(SHAPE);
    coder.add(new TextEncoder().encode(rows.join('\n')), true);
    const { columns, length } = coder.table(['a', 'b', 'c']);
    expect(length).toBe(5000);
    expect(columns.map((column) => column.texts.length)).toEqual([700, 3, 5000]);
    expect(columns[1]?.texts).toEqual(['E"0', 'E"1', 'E"2']);
  });

  it('with cells behind the header’s last name are whole where those are empty', () => {
    const shape = { ...SHAPE, written: 5 };
    expect(byCoder('V1,b,c,,\nV1,b,c\nV1,b,c,,x\nTotal,b,c,,\n,b,c,,\n', [], shape)).toEqual([
      ['V1', 'b', 'c'],
      ['V1', 'b', 'c'],
      ['V1', 'b', 'c', '', 'x'],
      ['Total', 'b', 'c', '', ''],
      ['', 'b', 'c', '', ''],
    ]);
  });

  it('are left to the parser where a mark has swallowed rows', () => {
    const text = 'V1,"EPDM,1\nV2,EPDM,2\nV3",x,3\n';
    expect(byCoder(text, [], { ...SHAPE, mostPieces: [1, 1, 1] })).toBeNull();
    expect(byCoder('V1,"EPDM\nblack",3\n', [], { ...SHAPE, mostPieces: [1, 1, 1] })).toEqual([
      ['V1', 'EPDM\nblack', '3'],
    ]);
  });
});
