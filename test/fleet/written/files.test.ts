/** Whole files in the ways plants write them read as the plain file does. */
import { gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../../lib/errors.js';
import { textOf } from '../../../lib/fleet/csvText.js';
import { brief, readFiles, SITE, withCode } from '../files.js';

const POSITIONS = 'position,size,line,steam_cycles_per_week\nV1,25,Süd,1.5\nV2,40,Süd,12\n';
const LIVES =
  'position,material,fitted,removed,reason\nV1,EPDM,2020-01-31,2021-02-03,leak\nV1,EPDM,2021-02-03,,\nV2,PTFE,2022-05-04,2023-06-05,scheduled\nV2,PTFE,2023-06-05,,\n';
const ITEMS = 'item,material,size,price,lead_time_days\nP1,EPDM,25,1234.5,21\n';
const PLAIN = readFiles({ 'positions.csv': POSITIONS, 'lives.csv': LIVES, 'items.csv': ITEMS });

function dayFirst(text: string): string {
  return text.replace(/(\d{4})-(\d\d)-(\d\d)/g, '$3.$2.$1');
}

function semicolons(text: string): string {
  return dayFirst(text).replaceAll('.5', ',5').replaceAll(',', ';').replaceAll(';5', ',5');
}

/** The text in UTF-16, with or without its mark, in either order of bytes. */
function wide(text: string, mark: boolean, bigEndian: boolean): Uint8Array {
  const words = mark ? `\ufeff${text}` : text;
  const bytes = new Uint8Array(2 * words.length);
  const view = new DataView(bytes.buffer);
  for (let i = 0; i < words.length; i++) view.setUint16(2 * i, words.charCodeAt(i), !bigEndian);
  return bytes;
}

describe('a fleet folder', () => {
  it('in semicolons, day first and decimal comma is the same fleet', () => {
    const fleet = readFiles({
      'positions.csv': semicolons(POSITIONS),
      'lives.csv': semicolons(LIVES),
      'items.csv': semicolons(ITEMS).replace('1234,5', '1.234,5'),
    });
    expect(fleet.lives).toEqual(PLAIN.lives);
    expect(fleet.positions).toEqual(PLAIN.positions);
    expect(fleet.items).toEqual(PLAIN.items);
    expect(new Set(withCode(fleet, 'written-as').map(({ file }) => file)).size).toBe(3);
  });

  it.each([
    [true, false],
    [true, true],
    [false, false],
    [false, true],
  ])('in UTF-16 (mark %s, big end first %s) is the same fleet', (mark, bigEndian) => {
    const fleet = readFiles({
      'positions.csv': wide(POSITIONS, mark, bigEndian),
      'lives.csv': wide(LIVES, mark, bigEndian),
      'items.csv': ITEMS,
    });
    expect(fleet.lives).toEqual(PLAIN.lives);
    expect(fleet.positions).toEqual(PLAIN.positions);
  });

  it('in the western code page of Windows keeps its letters, and it is said', () => {
    const bytes = Uint8Array.from(POSITIONS, (letter) => letter.charCodeAt(0));
    const fleet = readFiles({ 'positions.csv': bytes, 'lives.csv': LIVES, 'items.csv': ITEMS });
    expect(fleet.positions).toEqual(PLAIN.positions);
    expect(withCode(fleet, 'written-as')).toMatchObject([
      {
        file: 'positions.csv',
        value: 'V1,25,Süd,1.5',
        done: 'mended',
        text: expect.stringContaining('windows-1252'),
      },
    ]);
  });

  it('in an encoding that the plant names is read by it', () => {
    const bytes = Uint8Array.from('position,size,line\nV1,25,\xe8\n', (letter) => letter.charCodeAt(0));
    const fleet = readFiles({
      'positions.csv': bytes,
      'lives.csv': 'position,material,fitted\nV1,EPDM,2020-01-31\n',
      'site.json': { ...SITE, formats: { 'positions.csv': { encoding: 'iso-8859-2' } } },
    });
    expect(fleet.positions[0]?.line).toBe(new TextDecoder('iso-8859-2').decode(Uint8Array.of(0xe8)));
    expect(fleet.positions[0]?.line).toBe('č');
  });

  it('packed is the same fleet', () => {
    const fleet = readFiles({
      'positions.csv': gzipSync(POSITIONS),
      'lives.csv': gzipSync(LIVES),
      'items.csv': ITEMS,
    });
    expect(fleet.lives).toEqual(PLAIN.lives);
    expect(fleet.findings.problems).toEqual(PLAIN.findings.problems);
  });

  it('in units of the plant is turned into ours', () => {
    const fleet = readFiles({
      'positions.csv': 'position,size,line,steam_cycles_per_week\nV1,1,Süd,0.5\nV2,1 1/2,Süd,1\n',
      'lives.csv': LIVES,
      'items.csv': 'item,material,size,price,lead_time_days\nP1,EPDM,25,1234.5,3\n',
      'site.json': {
        ...SITE,
        formats: {
          'positions.csv': { units: { size: 'inch', steam_cycles_per_week: 'per day' } },
          'items.csv': { units: { lead_time_days: 'weeks' } },
        },
      },
    });
    expect(fleet.items).toEqual(PLAIN.items);
    expect(fleet.positions.map(({ size }) => size)).toEqual([25, 40]);
    expect(fleet.positions.map(({ steamCyclesPerWeek }) => steamCyclesPerWeek)).toEqual([3.5, 7]);
    expect(brief(fleet)).toContain('unit-turned 1 mended');
  });

  it('with dashes, n/a and dates of no day reads them as empty, and counts them', () => {
    const fleet = readFiles({
      'positions.csv': POSITIONS,
      'lives.csv': LIVES.replace('2021-02-03,,', '2021-02-03,9999-12-31,-').replace(
        '2023-06-05,,',
        '2023-06-05,n/a,',
      ),
      'items.csv': ITEMS,
    });
    expect(fleet.lives).toEqual(PLAIN.lives);
    expect(withCode(fleet, 'date-placeholder')).toMatchObject([{ row: 2, value: '9999-12-31' }]);
    expect(withCode(fleet, 'blank-word').map(({ row, column }) => [row, column])).toEqual([
      [2, 'reason'],
      [4, 'removed'],
    ]);
  });

  it('with times of day keeps the days as written, and says so', () => {
    const fleet = readFiles({
      'positions.csv': POSITIONS,
      'lives.csv': LIVES.replace('2021-02-03,leak', '2021-02-03T23:59:00Z,leak'),
      'items.csv': ITEMS,
    });
    expect(fleet.lives).toEqual(PLAIN.lives);
    expect(withCode(fleet, 'time-left-out')).toMatchObject([{ row: 1, column: 'removed' }]);
  });
});

describe('a file that unpacks without end', () => {
  it('is refused at the limit, which can be raised', () => {
    const bomb = gzipSync(new Uint8Array(3e6).fill(65));
    expect(bomb.length).toBeLessThan(5000);
    expect(() => textOf('lives.csv', bomb, undefined, undefined, 2 ** 20)).toThrow(/holds more than 1 MB/);
    expect(() => textOf('lives.csv', bomb, undefined, undefined, 2 ** 20)).toThrow(InputError);
    expect(textOf('lives.csv', bomb, undefined, undefined, 2 ** 22).length).toBe(3e6);
  });

  it('is not mistaken for one that is broken', () => {
    const broken = gzipSync('position,material\n').slice(0, 12);
    expect(() => textOf('lives.csv', broken)).toThrow(/cannot be unpacked/);
  });
});
