/** Dates as plants write them, and what they mean. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { datePartsOf, isoInOrder, isoOfSerial } from '../../../lib/fleet/written/dates.js';
import { monthOfWord } from '../../../lib/fleet/written/months.js';
import type { DateOrder } from '../../../lib/fleet/written/types.js';
import { dayFromText, textFromDay } from '../../../lib/numeric/day.js';

function read(text: string, order: DateOrder = 'day first'): string | null {
  const parts = datePartsOf(text);
  const iso = parts === null ? '' : isoInOrder(parts, order);
  return dayFromText(iso) === null ? null : iso;
}

describe('a date', () => {
  it.each([
    ['2024-03-31', '2024-03-31'],
    ['2024/3/31', '2024-03-31'],
    ['2024.03.31.', null],
    ['20240331', '2024-03-31'],
    ['31/03/2024', '2024-03-31'],
    ['31.3.24', '2024-03-31'],
    ['31. 3. 2024', '2024-03-31'],
    ['1-2-1999', '1999-02-01'],
    ['1-2-99', '1999-02-01'],
    ['1/2/49', '2049-02-01'],
    ['1/2/50', '1950-02-01'],
    ['31-Mar-2024', '2024-03-31'],
    ['31 March 2024', '2024-03-31'],
    ['Mar 31, 2024', '2024-03-31'],
    ['31. März 2024', '2024-03-31'],
    ['1 août 2023', '2023-08-01'],
    ['3 de marzo de 2024', null],
    ['2024-03-31T23:30:00Z', '2024-03-31'],
    ['2024-03-31 00:00:00.000', '2024-03-31'],
    ['31/03/2024 11:15 PM', '2024-03-31'],
    ['45382', '2024-03-31'],
    ['29/02/2023', null],
    ['31/04/2024', null],
    ['13/13/2024', null],
    ['2024-02-30', null],
    ['31/03-2024', null],
    ['yesterday', null],
    ['4', null],
  ])('%s is %s', (text, iso) => expect(read(text)).toBe(iso));

  it('with the month first is the other one', () => {
    expect(read('03/04/2024', 'month first')).toBe('2024-03-04');
    expect(read('03/04/2024')).toBe('2024-04-03');
    expect(read('31/03/2024', 'month first')).toBe(null);
  });

  it('comes back from every way of writing it', () => {
    const day = fc.integer({ min: -7_305, max: 29_219 }).map(textFromDay);
    fc.assert(
      fc.property(day, (iso) => {
        const [year = '', month = '', date = ''] = iso.split('-');
        expect(read(iso)).toBe(iso);
        expect(read(`${date}/${month}/${year}`)).toBe(iso);
        expect(read(`${Number(date)}.${Number(month)}.${year.slice(2)}`)).toBe(iso);
        expect(read(`${month}/${date}/${year} 8:05`, 'month first')).toBe(iso);
        expect(read(`${year}${month}${date}`)).toBe(iso);
      }),
    );
  });
});

describe('days of a spreadsheet (ISO/IEC 29500-1, 18.17.4.1)', () => {
  // The two dates that the standard prints, and the leap day of 1900 that only spreadsheets have.
  it.each([
    [1, '1900-01-01'],
    [59, '1900-02-28'],
    [60, null],
    [61, '1900-03-01'],
    [2_958_465, '9999-12-31'],
    [44_148, '2020-11-13'],
    [45_400.75, '2024-04-18'],
  ])('%d is %s', (serial, iso) => expect(isoOfSerial(serial)).toBe(iso));

  it('of the system that counts from 1904 are 1462 days later', () => {
    expect(isoOfSerial(0, true)).toBe('1904-01-01');
    expect(isoOfSerial(44_148 - 1462, true)).toBe('2020-11-13');
  });
});

describe('a month by name', () => {
  it.each([
    ['March', 3],
    ['mar', 3],
    ['Dez.', 12],
    ['mai', 5],
    ['février', 2],
    ['oktober', 10],
    ['lokakuu', 10],
    ['blursday', null],
  ])('%s is %s', (word, month) => expect(monthOfWord(word)).toBe(month));

  it('that means another month elsewhere tells nothing: listopad', () =>
    expect(monthOfWord('listopad')).toBe(null));
});
