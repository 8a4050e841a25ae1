import { describe, expect, it } from 'vitest';
import { textFromDay } from '../../lib/numeric/day.js';
import { brief, readFiles, SITE, withCode } from './files.js';

const FILES = {
  'positions.csv': 'position,size,line\nV1,25,A\nV2,40,B\n',
  'lives.csv': 'position,material,fitted\nV1,EPDM,2020-01-01\nV2,EPDM,2020-01-01\n',
};
const ITEM_HEADER = 'item,material,size,price,lead_time_days,pack,min_order,on_hand,approved_substitute';
const read = (files: Record<string, string>) => readFiles({ ...FILES, ...files });
const items = (...rows: string[]) => ({ 'items.csv': `${ITEM_HEADER}\n${rows.join('\n')}\n` });
/** Code and column of what was found in items.csv. */
const itemFaults = (fleet: ReturnType<typeof read>) =>
  fleet.findings.problems
    .filter(({ file }) => file === 'items.csv')
    .map(({ code, column }) => `${code} ${column}`)
    .sort();
const problems = (fleet: ReturnType<typeof read>) =>
  brief(fleet).filter((problem) => !problem.startsWith('column-missing'));

describe('items.csv', () => {
  it('reads an item, with one piece as pack and least order where none is given', () => {
    const fleet = read(items('P1, epdm,25,30,21,,,7,', 'P2,EPDM,40,55.5,21,10,20,0,'));
    expect(fleet.items).toMatchObject([
      {
        item: 'P1',
        material: 'EPDM',
        size: 25,
        price: 30,
        priceBreaks: [],
        leadTimeDays: 21,
        pack: 1,
        minOrder: 1,
        onHand: 7,
      },
      { item: 'P2', pack: 10, minOrder: 20, leadTimeSdDays: null, shelfLifeMonths: null },
    ]);
    expect(problems(fleet)).toEqual(['tidied 1 mended']);
  });

  it('uses an item without the numbers that cannot be, and says so', () => {
    const fleet = read(items('P1,EPDM,25,-30,0,0,,-4,P9', 'P2,EPDM,40,"30,50",3 weeks,2.5,,1.5,'));
    expect(fleet.items).toMatchObject([
      { item: 'P1', price: null, leadTimeDays: null, pack: 1, onHand: 0, approvedSubstitute: null },
      { item: 'P2', price: null, leadTimeDays: null, pack: 1, onHand: 0 },
    ]);
    expect(itemFaults(fleet)).toEqual([
      'number-format price',
      'number-negative on_hand',
      'number-negative price',
      'number-not-whole on_hand',
      'number-not-whole pack',
      'number-with-unit lead_time_days',
      'number-zero lead_time_days',
      'number-zero pack',
      'substitute-unknown approved_substitute',
    ]);
    expect(fleet.findings.rowsSetAside).toBe(0);
  });

  it('takes absurd amounts and an item that stands in for itself as mistyped', () => {
    const fleet = read(items('P1,EPDM,25,1e24,1e7,1,1,1,P1'));
    expect(fleet.items).toMatchObject([{ price: null, leadTimeDays: null, approvedSubstitute: null }]);
    expect(itemFaults(fleet)).toEqual([
      'material-without-item material',
      'number-too-large lead_time_days',
      'number-too-large price',
      'substitute-itself approved_substitute',
    ]);
    expect(() => readFiles({ ...FILES, 'site.json': { ...SITE, money: { order_cost: 1e200 } } })).toThrow(
      /money\.order_cost.*too large to be meant/,
    );
  });

  it('keeps one item per part number and per material and size, but for approved substitutes', () => {
    const fleet = read(
      items(
        'S1,EPDM,25,1,1,1,1,1,',
        'P1,EPDM,25,1,1,1,1,1,S1',
        'P1,EPDM,40,1,1,1,1,1,',
        'P3,EPDM,25,1,1,1,1,1,',
        'P4,EPDM,40,1,1,1,1,1,',
        ',EPDM,40,,,,,,',
      ),
    );
    expect(fleet.items.map(({ item }) => item)).toEqual(['P1', 'P4', 'S1']);
    expect(problems(fleet).sort()).toEqual([
      'item-material-size-twice 4 set aside',
      'item-missing 6 set aside',
      'item-twice 3 set aside',
    ]);
  });

  it('asks about items nothing uses and about diaphragms no item holds', () => {
    const fleet = read(items('P1,EPDM,25,1,1,1,1,1,', 'P2,NBR,25,1,1,1,1,1,'));
    expect(withCode(fleet, 'item-not-in-use')).toMatchObject([{ row: 2, value: 'NBR', done: 'used' }]);
    expect(withCode(fleet, 'material-without-item')).toMatchObject([{ row: null, value: 'EPDM DN 40' }]);
  });
});

describe('orders.csv and lots.csv', () => {
  const stock = items('P1,EPDM,25,30,21,1,1,7,', 'P2,EPDM,40,30,,1,1,5,');

  it('reads orders; one without a due date comes a lead time after it was placed', () => {
    const fleet = read({
      ...stock,
      'orders.csv':
        'item,quantity,placed,due\nP1,5,2024-06-20,2024-07-15\nP1,5,2024-06-20,\nP2,5,,\nP1,5,2024-05-01,2024-06-01\nP1,5,2024-06-20,2024-06-10\nP9,5,,\nP1,0,,\nP1,,,\n',
    });
    expect(fleet.orders.map(({ due }) => textFromDay(due))).toEqual([
      '2024-07-15',
      '2024-07-11',
      '2024-06-30',
      '2024-06-01',
      '2024-06-10',
    ]);
    expect(problems(fleet)).toEqual(
      expect.arrayContaining([
        'due-missing 2 mended',
        'due-missing 3 mended',
        'order-overdue 4 used',
        'due-before-placed 5 used',
        'item-unknown 6 set aside',
        'number-zero 7 set aside',
        'quantity-missing 8 set aside',
      ]),
    );
    expect(fleet.findings.files[3]).toEqual({ file: 'orders.csv', rowsIn: 8, rowsUsed: 5, rowsSetAside: 3 });
  });

  it('reads lots, and asks where they do not add up to the stock', () => {
    const fleet = read({
      ...stock,
      'lots.csv':
        'item,lot,quantity,cured,use_by\nP1,L1,4,2023-01-01,2030-01-01\nP1,L2,2,2023-01-01,2022-01-01\nP2,L3,5,,\n',
    });
    expect(fleet.lots.map(({ lot }) => lot)).toEqual(['L1', 'L3']);
    expect(problems(fleet).sort()).toEqual([
      'lots-differ-from-stock - used',
      'use-by-before-cured 2 set aside',
    ]);
  });

  it('takes a header without rows as nothing on order', () => {
    expect(read({ ...stock, 'orders.csv': 'item,quantity\n' }).orders).toEqual([]);
  });

  it('sets orders aside where there is no items.csv', () => {
    const fleet = read({ 'orders.csv': 'item,quantity\nP1,5\n' });
    expect(problems(fleet)).toEqual(['item-unknown 1 set aside']);
  });
});

describe('shutdowns.csv', () => {
  it('reads hours by craft, a number of replacements, and tags and lines, and asks about what does not go together', () => {
    const tag = (read({}).positions[0] as { position: string }).position;
    const line = (read({}).positions[0] as { line: string }).line;
    const fleet = read({
      'shutdowns.csv': [
        'name,start,end,crew_hours,fitter_hours,instrument_hours,most_replacements,must,not_on,lines',
        `Summer,2024-08-01,2024-08-07,80,60,20,40,${tag}|no such tag,${line},`,
        `Autumn,2024-10-01,2024-10-07,,,,,${tag},,another line`,
        '',
      ].join('\n'),
    });
    expect(fleet.shutdowns[0]).toMatchObject({
      fitterHours: 60,
      instrumentHours: 20,
      mostReplacements: 40,
      must: [tag, 'no such tag'],
      notOn: [line],
    });
    expect(fleet.shutdowns[1]).toMatchObject({ fitterHours: null, mostReplacements: null, notOn: [] });
    expect(problems(fleet).sort()).toEqual([
      'line-unknown 2 used',
      'must-and-not-on 1 used',
      'must-on-other-line 2 used',
      'shutdown-tag-unknown 1 used',
    ]);
  });

  it('sets aside past and impossible ones, and asks about overlaps, lines and names', () => {
    const fleet = read({
      'shutdowns.csv': [
        'name,start,end,crew_hours,lines,stop_for',
        'Spring,2023-04-01,2023-04-07,80,,',
        'Summer,2024-08-01,2024-08-07,80,A| B,replacements',
        'Autumn,2024-08-05,2024-08-09,,B,',
        'Other,2024-08-20,2024-08-19,,,',
        'Now,2024-06-25,2024-07-03,,C,',
        'Summer,2025-08-01,2025-08-07,-5,,whenever',
        'Broken,2025-13-01,2025-08-07,,,',
        'Empty,,2025-08-07,,,',
        '',
      ].join('\n'),
    });
    expect(fleet.shutdowns).toMatchObject([
      { name: 'Summer', crewHours: 80, lines: ['A', 'B'], stopFor: 'replacements' },
      { name: 'Autumn', crewHours: null, lines: ['B'], stopFor: 'anyway' },
      { name: 'Now', lines: ['C'] },
      { name: 'Summer', crewHours: null, lines: [], stopFor: 'anyway' },
    ]);
    expect(problems(fleet).sort()).toEqual([
      'date-does-not-exist 7 set aside',
      'line-unknown 5 used',
      'number-negative 6 mended',
      'shutdown-date-missing 8 set aside',
      'shutdown-end-before-start 4 set aside',
      'shutdown-name-twice 6 used',
      'shutdown-past 1 set aside',
      'shutdown-under-way 5 used',
      'shutdowns-overlap 3 used',
      'word-unknown 6 mended',
    ]);
  });
});
