/** monthly-use.csv, price breaks and received orders as they are read: good, empty and wrong cells. */
import { describe, expect, it } from 'vitest';
import { priceBreaksCell } from '../../lib/fleet/priceBreaksCell.js';
import { fleetOf } from '../../lib/fleet/read.js';
import { dayFromText } from '../../lib/numeric/day.js';

const encode = (text: string): Uint8Array => new TextEncoder().encode(text);

function read(files: Record<string, string>) {
  const base = {
    'positions.csv': 'position,size\nV-1,25\n',
    'lives.csv':
      'position,material,fitted,removed,reason\nV-1,EPDM,2022-01-01,2024-01-01,scheduled\nV-1,EPDM,2024-01-01,,\n',
    'site.json': '{"data_until":"2026-01-15","records_from":"2021-01-01"}',
    'items.csv': 'item,material,size,lead_time_days\nP-1,EPDM,25,30\nS-1,NBR,25,\n',
    ...files,
  };
  const bytes = new Map(Object.entries(base).map(([name, text]) => [name, encode(text)]));
  return fleetOf({ files: bytes, hash: '', unread: [] });
}

const codesOf = (fleet: ReturnType<typeof read>, file: string) =>
  fleet.findings.problems
    .filter((each) => each.file === file)
    .map(({ code, row, done }) => [code, row, done]);
const countOf = (fleet: ReturnType<typeof read>, file: string) =>
  fleet.findings.files.find((each) => each.file === file);

describe('monthly-use.csv', () => {
  it('is use by item; months between count as 0, planned months to come are kept apart', () => {
    const fleet = read({
      'monthly-use.csv': 'item,month,used,planned\nS-1,2025-06,4,1\nS-1,2025-09,2,\nS-1,2026-03,,12\n',
    });
    expect(fleet.monthlyUse).toEqual([
      {
        item: 'S-1',
        first: 2025 * 12 + 5,
        used: [4, 0, 0, 2],
        planned: [1, 0, 0, 0],
        given: 2,
        ahead: [{ month: 2026 * 12 + 2, pieces: 12 }],
      },
    ]);
    expect(codesOf(fleet, 'monthly-use.csv')).toEqual([]);
    expect(codesOf(fleet, 'items.csv')).toEqual([]);
  });
  it('rows in are rows used and rows set aside, each with its reason', () => {
    const rows: [string, string | null][] = [
      ['S-1,2025-06,4,1', null],
      ['S-1,2025-06,4,1', 'month-twice'],
      ['S-1,2025-07,,', 'used-missing'],
      ['S-1,2025-08,-1,', 'number-negative'],
      ['S-1,2025-08,1.5,', 'number-not-whole'],
      ['S-1,2025-08,2,3', 'planned-above-used'],
      ['S-1,2026-01,2,', 'month-not-over'],
      ['S-1,2026-02,2,', 'month-to-come'],
      ['S-1,2026-02,,', 'planned-missing'],
      ['S-1,2025-13,2,', 'month-format'],
      ['S-1,June 2025,2,', 'month-format'],
      ['S-1,,2,', 'month-format'],
      ['X-9,2025-06,2,', 'item-unknown'],
      [',2025-06,2,', 'item-missing'],
      ['S-1,2025-08,two,', 'not-a-number'],
    ];
    const fleet = read({
      'monthly-use.csv': `item,month,used,planned\n${rows.map(([text]) => text).join('\n')}\n`,
    });
    const problems = fleet.findings.problems.filter(({ file }) => file === 'monthly-use.csv');
    for (const [i, [, code]] of rows.entries()) {
      expect(problems.find(({ row }) => row === i + 1)?.code ?? null).toBe(code);
    }
    expect(countOf(fleet, 'monthly-use.csv')).toMatchObject({ rowsIn: 15, rowsUsed: 1, rowsSetAside: 14 });
  });
});

describe('price breaks', () => {
  const BREAKS = 'item,material,size,price,price_breaks\n';
  it('are read in rising order of pieces and falling order of price', () => {
    const fleet = read({ 'items.csv': `${BREAKS}P-1,EPDM,25,40,50:38.50|200:35\n` });
    expect(fleet.items[0]?.priceBreaks).toEqual([
      { from: 50, price: 38.5 },
      { from: 200, price: 35 },
    ]);
    expect(read({}).items[0]?.priceBreaks).toEqual([]);
  });
  it.each([
    ['50', 'price-breaks-format'],
    ['50:', 'price-breaks-format'],
    ['50:38:2', 'price-breaks-format'],
    ['50:abc', 'not-a-number'],
    ['1:38', 'number-too-small'],
    ['50:0', 'number-zero'],
    ['50:-3', 'number-negative'],
    ['50:38|50:35', 'price-breaks-order'],
    ['50:38|100:39', 'price-breaks-order'],
    ['50:38|', 'price-breaks-format'],
  ])('%s is not used, and said', (cell, code) => {
    expect(priceBreaksCell(cell).fault?.code).toBe(code);
    const fleet = read({ 'items.csv': `${BREAKS}P-1,EPDM,25,40,${cell}\n` });
    expect(fleet.items[0]).toMatchObject({ price: 40, priceBreaks: [] });
    expect(codesOf(fleet, 'items.csv')).toContainEqual([code, 1, 'mended']);
  });
  it('need a price of one piece above them', () => {
    const without = read({ 'items.csv': `${BREAKS}P-1,EPDM,25,,50:38\n` });
    expect(without.items[0]?.priceBreaks).toEqual([]);
    expect(codesOf(without, 'items.csv')).toContainEqual(['price-breaks-without-price', 1, 'mended']);
    const dearer = read({ 'items.csv': `${BREAKS}P-1,EPDM,25,30,50:38\n` });
    expect(codesOf(dearer, 'items.csv')).toContainEqual(['price-breaks-do-not-fall', 1, 'mended']);
  });
});

describe('orders that have come', () => {
  it('are deliveries, and not on order any more', () => {
    const fleet = read({
      'orders.csv':
        'item,quantity,placed,due,received\nP-1,20,2025-03-01,2025-04-01,2025-04-11\nP-1,30,2025-12-01,2026-02-01,\n',
    });
    const day = (text: string) => dayFromText(text);
    expect(fleet.deliveries).toEqual([
      { item: 'P-1', quantity: 20, placed: day('2025-03-01'), received: day('2025-04-11') },
    ]);
    expect(fleet.orders).toEqual([
      { item: 'P-1', quantity: 30, placed: day('2025-12-01'), due: day('2026-02-01') },
    ]);
    expect(codesOf(fleet, 'orders.csv')).toEqual([]);
  });
  it('with dates that contradict each other are set aside: counted neither as come nor as on order', () => {
    const rows = [
      ['P-1,20,2025-05-01,,2025-04-11', 'received-before-placed', 'set aside'],
      ['P-1,20,2025-05-01,,2026-04-11', 'received-after-extract', 'set aside'],
      ['P-1,20,2025-05-01,,11.4.2025', 'date-format', 'set aside'],
      ['P-1,20,,,2025-04-11', 'placed-missing', 'used'],
    ];
    const fleet = read({
      'orders.csv': `item,quantity,placed,due,received\n${rows.map(([text]) => text).join('\n')}\n`,
    });
    expect(codesOf(fleet, 'orders.csv').sort()).toEqual(
      rows.map(([, code, done], i) => [code, i + 1, done]).sort(),
    );
    expect(fleet).toMatchObject({ orders: [], deliveries: [] });
    expect(countOf(fleet, 'orders.csv')).toMatchObject({ rowsIn: 4, rowsUsed: 1, rowsSetAside: 3 });
  });
});
