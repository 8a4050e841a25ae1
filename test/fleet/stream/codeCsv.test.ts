/** A table read in pieces is the table that is read as a whole: its rows, its findings and its refusals, wherever the pieces end. */
import { gzipSync } from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { CsvFile } from '../../../lib/fleet/columnNames.js';
import { openTable, type TableSource } from '../../../lib/fleet/csvTable.js';
import { textOf } from '../../../lib/fleet/csvText.js';
import { rowBook } from '../../../lib/fleet/rowBook.js';
import type { StoredText } from '../../../lib/fleet/stream/storedText.js';
import type { FileFormat } from '../../../lib/fleet/written/types.js';
import { cutAt, storedIn } from './cut.js';

/** Not a table of the history: its text is looked at as a whole unless the file is large. */
const FILE: CsvFile = 'readings.csv';

/** Rows as they are read, with what is found. */
function readWhole(open: (book: ReturnType<typeof rowBook>) => TableSource, format: FileFormat) {
  const book = rowBook(FILE);
  try {
    const table = openTable(FILE, open(book), { renamed: new Map([['tag', 'position']]), format }, book);
    const places = ['position', 'date', 'strokes'].map((name) => table.place(name));
    const rows: string[][] = [];
    table.forEach((row) => {
      rows.push([String(row.row), ...places.map((place) => table.text(row, place))]);
    });
    return { rows, problems: book.problems(), count: book.count(), coded: table.coded !== null };
  } catch (cause) {
    return { refused: cause instanceof Error ? cause.message : String(cause) };
  }
}

function bytesOf(text: string, way: string): Uint8Array {
  if (way === 'utf-8 with mark') return new TextEncoder().encode(`\ufeff${text}`);
  if (way === 'windows-1252') return Buffer.from(text, 'latin1');
  if (way === 'gzip') return gzipSync(text);
  if (way === 'gzip in two') return Buffer.concat([gzipSync(text.slice(0, 30)), gzipSync(text.slice(30))]);
  if (way.startsWith('utf-16')) {
    const wide = Buffer.from(way.endsWith('mark') ? `\ufeff${text}` : text, 'utf16le');
    return way.includes('be') ? wide.swap16() : wide;
  }
  return new TextEncoder().encode(text);
}

const WAYS = [
  'utf-8',
  'utf-8 with mark',
  'windows-1252',
  'utf-16le',
  'utf-16le with mark',
  'utf-16be with mark',
  'gzip',
  'gzip in two',
];

const cell = fc.constantFrom('V1', 'V2', 'Süd', 'V3 "x"', '"V 4"', '"two\nlines"', '"a ""b"""', '', '-');
const date = fc.constantFrom(
  '2020-01-31',
  '31.01.2020',
  '01.02.2020',
  '"13/02/2021"',
  '2020-01-31 10:00',
  '',
);
const number = fc.constantFrom('12', '1.5', '"1,5"', '1234', '', 'n/a', '"12"');
const row = fc.oneof(
  { weight: 8, arbitrary: fc.tuple(cell, date, number).map((cells) => cells.join(',')) },
  {
    weight: 1,
    arbitrary: fc.constantFrom('', 'Total,,', 'V1,2020-01-31', 'V1,2020-01-31,3,4', '"V1', 'Example,,'),
  },
);
const table = fc
  .record({
    above: fc.constantFrom('', '', '\n \n', 'sep=,\n'),
    header: fc.constantFrom(
      'tag,date,strokes',
      '"tag","date","strokes"',
      'position,date,strokes,',
      '"tag","da\nte",strokes',
    ),
    rows: fc.array(row, { maxLength: 12 }),
    end: fc.constantFrom('\n', '\r\n', '\r'),
    isEnded: fc.boolean(),
  })
  .map(({ above, header, rows, end, isEnded }) =>
    `${above}${header}\n${rows.join('\n')}${isEnded ? '\n' : ''}`.replaceAll('\n', end),
  );

function asWhole(bytes: Uint8Array, format: FileFormat) {
  return readWhole((book) => textOf(FILE, bytes, format.encoding, book), format);
}

function inPieces(
  bytes: Uint8Array,
  places: readonly number[],
  format: FileFormat,
  more: Partial<StoredText> = {},
) {
  return readWhole(() => storedIn(cutAt(bytes, places), { encoding: format.encoding, ...more }), format);
}

/** What both roads must have alike. */
function facts({ coded: _, ...rest }: ReturnType<typeof readWhole> & { coded?: boolean }) {
  return rest;
}

describe('a table in pieces', () => {
  it('has the rows, the findings and the refusals of the whole', () => {
    let coded = 0;
    fc.assert(
      fc.property(
        table,
        fc.constantFrom(...WAYS),
        fc.array(fc.nat(400), { maxLength: 6 }),
        (text, way, places) => {
          const bytes = bytesOf(text, way);
          const pieces = inPieces(bytes, places, {});
          if ('coded' in pieces && pieces.coded) coded++;
          expect(facts(pieces)).toEqual(facts(asWhole(bytes, {})));
        },
      ),
      { numRuns: 400 },
    );
    expect(coded).toBeGreaterThan(70);
  });

  it.each(WAYS)('is the same wherever a piece ends: %s', (way) => {
    const text =
      'sep=;\r\n"tag";date;strokes;notes\r\nV1;13.02.2020;1,5;"Süd; ""x"""\r\n"V\r\n2";14.02.2020;2,5;ü\r\nV3;15.02.2020;1.234,5;\r\n';
    const bytes = bytesOf(text, way);
    const whole = asWhole(bytes, {});
    expect(whole).toMatchObject({ coded: false, rows: [{ 2: '2020-02-13', 3: '1.5' }, {}, { 3: '1234.5' }] });
    for (let place = 0; place < bytes.length; place++) {
      const pieces = inPieces(bytes, [place], {});
      expect(pieces).toMatchObject({ coded: true });
      expect(facts(pieces)).toEqual(facts(whole));
    }
    const each = Array.from({ length: bytes.length }, (_, place) => place);
    expect(facts(inPieces(bytes, each, {}))).toEqual(facts(whole));
  });

  it('decides the order of dates from all its rows, the last one too', () => {
    const rows = Array.from({ length: 3000 }, (_, i) => `V${i % 9},0${1 + (i % 9)}/0${1 + (i % 8)}/2020,1`);
    const bytes = new TextEncoder().encode(['tag,date,strokes', ...rows, 'V1,04/25/2020,1'].join('\n'));
    const pieces = inPieces(bytes, [1000, 20_000, 40_000], {});
    expect(pieces).toMatchObject({ coded: true });
    expect(facts(pieces)).toEqual(facts(asWhole(bytes, {})));
    expect('rows' in pieces && pieces.rows?.[1]).toEqual(['2', 'V1', '2020-02-02', '1']);
  });

  it('begins at the line that is named', () => {
    const text = 'Export\r\n\r\n"of, 2024"\r\ntag,date,strokes\r\nV1,2020-01-31,7\r\n';
    for (let place = 1; place < text.length; place++) {
      const read = inPieces(new TextEncoder().encode(text), [place], {}, { headerRow: 4 });
      expect(read).toMatchObject({ coded: true, rows: [['1', 'V1', '2020-01-31', '7']] });
    }
    expect(inPieces(new TextEncoder().encode(text), [], {}, { headerRow: 40 })).toMatchObject({
      refused: expect.stringMatching(/fewer lines than the 40/),
    });
  });

  it('is told by the encoding that the plant names', () => {
    const bytes = Buffer.from('tag,date,strokes\nS\xe8d,2020-01-31,7\n', 'latin1');
    const format = { encoding: 'iso-8859-2' };
    expect(inPieces(bytes, [18, 19], format)).toMatchObject({
      coded: true,
      rows: [['1', 'Sčd', '2020-01-31', '7']],
    });
    expect(facts(inPieces(bytes, [18], { encoding: 'utf-8' }))).toEqual(
      facts(asWhole(bytes, { encoding: 'utf-8' })),
    );
  });

  it('that unpacks to more than may be read is refused', () => {
    const bomb = gzipSync(`tag,date,strokes\n${'V1,2020-01-31,1\n'.repeat(80_000)}`);
    expect(bomb.length).toBeLessThan(20_000);
    expect(inPieces(bomb, [1000], {}, { mostBytes: 2 ** 20 })).toMatchObject({
      refused: expect.stringMatching(/holds more than 1 MB/),
    });
    expect(inPieces(bomb, [1000], {}, { mostBytes: 2 ** 22 })).toMatchObject({ count: { rowsIn: 80_000 } });
  });
});
