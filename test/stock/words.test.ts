/** Situations of an item, each with the exact sentence that a planner reads. */
import { describe, expect, it } from 'vitest';
import { dayFromText } from '../../lib/numeric/day.js';
import type { Chase, Hurry, LotUse, StockOrder } from '../../lib/stock/types.js';
import {
  actionOf,
  chaseWords,
  listedPurposes,
  orderWords,
  secondItemWords,
  unlistedWords,
} from '../../lib/stock/words.js';

const TODAY = dayFromText('2026-09-30') as number;
type Situation = Parameters<typeof actionOf>[0];

/** An order as it stands in the list, with its sentence. */
function order(quantity: number, orderBy: string, purpose: string, hurried = false): StockOrder {
  const hurry: Hurry | null = hurried ? { days: 5, assumed: false, extraCost: null, shortOnDay: 0 } : null;
  const dates = { quantity, orderBy, dueBy: '2026-10-07', for: purpose };
  const action = orderWords(dates, TODAY, dayFromText('2026-10-07') as number, hurry);
  return {
    ...dates,
    action,
    hurry,
    expedite: hurried,
    because: '',
    value: null,
    firm: true,
    scrap: 0,
    warnings: [],
  };
}

function chase(quantity: number, orders = 1): Chase {
  const found = { quantity, due: '2026-09-26', needed: null, decideBy: null };
  return { ...found, action: chaseWords(found, orders, TODAY, true) };
}

const lot = (quantity: number, useBy: string, expires: number): LotUse => ({
  lot: 'L',
  quantity,
  useBy,
  expires,
  for: [],
});

const QUIET: Situation = {
  orders: [],
  chase: null,
  lots: [],
  monthsOfCover: 14.9,
  today: TODAY,
  reviewDays: 7,
  onHand: 30,
  usable: 30,
  onOrder: 0,
  neededPerYear: 20,
};

describe('the action of an item', () => {
  it.each<[string, Partial<Situation>, string, string]>([
    ['enough', {}, 'do not order', 'enough for 14 months: do not order'],
    ['one month', { monthsOfCover: 1.2 }, 'do not order', 'enough for 1 month: do not order'],
    ['ten years', { monthsOfCover: 120.1 }, 'do not order', 'enough for over 10 years: do not order'],
    [
      'on order',
      { monthsOfCover: 3.2, onOrder: 60, orders: [order(20, '2027-05-19', 'leaks and openings')] },
      'do not order',
      'enough for 3 months, and 60 on order: do not order before 19 May 2027',
    ],
    [
      'a day in ten years',
      { orders: [order(20, '2036-02-29', 'leaks and openings')] },
      'do not order',
      'enough for 14 months: do not order before 29 February 2036',
    ],
    [
      'nothing there, some coming',
      { onHand: 0, usable: 0, monthsOfCover: 0, onOrder: 1 },
      'do not order',
      'none on the shelf, and 1 on order: do not order',
    ],
    [
      'hardly ever needed, none kept',
      { onHand: 0, usable: 0, monthsOfCover: 0, neededPerYear: 0.02 },
      'do not order',
      'none on the shelf, and needed too seldom to keep any: do not order',
    ],
    [
      'soon past use-by, hardly ever needed',
      { onHand: 2, usable: 2, monthsOfCover: 0.4, neededPerYear: 0.02 },
      'do not order',
      'enough for less than a month, and needed too seldom to keep more: do not order',
    ],
    [
      'never needed',
      { neededPerYear: 0, monthsOfCover: null },
      'do not order',
      'nothing needed: do not order',
    ],
    [
      'never needed and none there',
      { neededPerYear: 0, monthsOfCover: null, onHand: 0, usable: 0 },
      'do not order',
      'not needed: do not order',
    ],
    [
      'never needed and on order',
      { neededPerYear: 0, monthsOfCover: null, onOrder: 20 },
      'do not order',
      'nothing needed: do not order, and cancel the 20 on order if you can',
    ],
    [
      'ordered ahead',
      { orders: [order(24, '2027-03-03', 'the spring shutdown')] },
      'order later',
      'order 24 by 3 March 2027 for the spring shutdown',
    ],
    [
      'ordered today',
      { orders: [order(1200, '2026-09-30', 'leaks and openings')] },
      'order now',
      'order 1\u00a0200 at once for leaks and openings',
    ],
    [
      'should have been ordered',
      { orders: [order(1, '2026-09-20', 'leaks and openings')] },
      'order now',
      'order 1 at once for leaks and openings',
    ],
    [
      'hurried, and a second order within the review',
      {
        orders: [
          order(10, '2026-09-30', 'Autumn 2026', true),
          order(20, '2026-10-07', 'leaks and openings'),
          order(20, '2026-10-14', 'leaks and openings'),
        ],
      },
      'order now',
      'order 10 at once and hurry the delivery: needed by 7 October 2026 for Autumn 2026; order 20 by 7 October 2026 for leaks and openings',
    ],
    [
      'use first',
      { lots: [lot(20, '2027-06-30', 6)] },
      'use first',
      'use the 20 that expire by 30 June 2027 first; 6 of them will expire even so; enough for 14 months: do not order',
    ],
    [
      'use first, more behind it',
      { lots: [lot(9, '2026-12-31', 0), lot(20, '2027-06-30', 1), lot(30, '2027-08-31', 1)] },
      'use first',
      'use the 9 that expire by 31 December 2026 first, then the 20 that expire by 30 June 2027; 1 of them will expire even so, and 1 of later lots; enough for 14 months: do not order',
    ],
    [
      'use first, and all of it is used',
      { lots: [lot(12, '2026-10-30', 0)], orders: [order(30, '2027-01-27', 'Spring 2027')] },
      'order later',
      'use the 12 that expire by 30 October 2026 first; order 30 by 27 January 2027 for Spring 2027',
    ],
    [
      'a lot that expires in more than half a year, and all of it is used',
      { lots: [lot(12, '2027-04-02', 0)] },
      'do not order',
      'enough for 14 months: do not order',
    ],
    [
      'one that is used, and one that is not',
      { lots: [lot(1, '2026-10-30', 0), lot(4, '2026-11-30', 4)] },
      'use first',
      'use the 1 that expires by 30 October 2026 first; the 4 that expire by 30 November 2026 will not be used in time: return, swap or write them off; enough for 14 months: do not order',
    ],
    [
      'none of a lot used',
      { lots: [lot(15, '2026-11-30', 15)], orders: [order(25, '2026-11-03', 'Spring 2027')] },
      'use first',
      'the 15 that expire by 30 November 2026 will not be used in time: return, swap or write them off; order 25 by 3 November 2026 for Spring 2027',
    ],
    [
      'the last one not used',
      { lots: [lot(1, '2026-11-30', 1)] },
      'use first',
      'the 1 that expires by 30 November 2026 will not be used in time: return, swap or write it off; enough for 14 months: do not order',
    ],
    [
      'expired',
      { onHand: 31 },
      'do not order',
      'enough for 14 months: do not order; take the 1 past use-by off the shelf',
    ],
    [
      'all expired',
      { onHand: 30, usable: 0, monthsOfCover: 0, orders: [order(25, '2026-09-30', 'leaks and openings')] },
      'order now',
      'order 25 at once for leaks and openings; take the 30 past use-by off the shelf',
    ],
    [
      'overdue',
      { chase: chase(40), onOrder: 100, monthsOfCover: 0.2 },
      'chase',
      'chase the 40 due 26 September 2026, which have not come: nothing is short without them yet, but the orders listed count on them; enough for less than a month, and 60 on order and 40 overdue: do not order',
    ],
    [
      'overdue, and an order for now',
      { chase: chase(1), onOrder: 1, orders: [order(5, '2026-10-02', 'leaks and openings')] },
      'order now',
      'chase the 1 due 26 September 2026, which has not come: nothing is short without it yet, but the orders listed count on it; order 5 by 2 October 2026 for leaks and openings',
    ],
  ])('%s', (_, change, kind, action) => {
    expect(actionOf({ ...QUIET, ...change })).toEqual({ kind, action });
  });
});

describe('a hurried order', () => {
  it('says what is missing where even an emergency delivery comes later', () => {
    const hurry = { days: 15, assumed: false, extraCost: null, shortOnDay: 7 };
    const dates = { quantity: 10, orderBy: '2026-09-30', dueBy: '2026-10-15', for: 'Autumn 2026' };
    expect(orderWords(dates, TODAY, dayFromText('2026-10-07') as number, hurry)).toBe(
      'order 10 at once and hurry the delivery: needed by 7 October 2026 for Autumn 2026, and an emergency delivery comes 15 October 2026 at the earliest: borrow 7 or leave so many out that day',
    );
  });
});

describe('an overdue order', () => {
  const late = { quantity: 40, due: '2026-09-26' };
  const needed = { for: 'autumn shutdown', short: 3, day: '2026-10-07' };
  it.each<[Parameters<typeof chaseWords>, string]>([
    [
      [{ ...late, needed, decideBy: '2026-10-02' }, 1, TODAY, true],
      'chase the 40 due 26 September 2026, which have not come: without them 3 are missing for the autumn shutdown on 7 October 2026; if no date is promised by 2 October 2026, place an emergency order then',
    ],
    [
      [{ ...late, needed: { ...needed, short: 1 }, decideBy: '2026-09-30' }, 2, TODAY, true],
      'chase the 40 of 2 overdue orders, the first due 26 September 2026: without them 1 is missing for the autumn shutdown on 7 October 2026; if no date is promised at once, place an emergency order',
    ],
    [
      [{ ...late, quantity: 1, needed, decideBy: '2026-09-30' }, 1, TODAY, false],
      'chase the 1 due 26 September 2026, which has not come: without it 3 are missing for the autumn shutdown on 7 October 2026, and an emergency delivery would come too late: borrow 3 or leave so many out',
    ],
    [
      [
        { ...late, needed: { ...needed, for: 'replacements due in October 2026' }, decideBy: '2026-10-02' },
        1,
        TODAY,
        true,
      ],
      'chase the 40 due 26 September 2026, which have not come: without them 3 are missing for replacements due in October 2026; if no date is promised by 2 October 2026, place an emergency order then',
    ],
  ])('%#', (given, sentence) => {
    expect(chaseWords(...given)).toBe(sentence);
  });
});

describe('other items', () => {
  const next = { name: 'spring stop', day: TODAY + 173, ifNothingLeaks: 1, expected: 1, with95: 1, kit: 4 };
  it.each([
    [0, 'no part number: hardly any is needed'],
    [0.37, 'no part number: about 0.4 a year are needed'],
    [1.2, 'no part number: about 1 a year is needed'],
    [143, 'no part number: about 140 a year are needed'],
    [12_340, 'no part number: about 12\u00a0000 a year are needed'],
  ])('without a part number: %f a year', (perYear, sentence) => {
    expect(unlistedWords(perYear, null)).toBe(sentence);
    expect(unlistedWords(perYear, next)).toBe(`${sentence}, the next 4 for the spring stop on 22 March 2027`);
  });
  it('of a material and size that another one has', () => {
    expect(secondItemWords(1, 'P-1')).toBe(
      'use the 1 on the shelf before ordering P-1, which has the same material and size',
    );
    expect(secondItemWords(0, 'P-1')).toBe('do not order: P-1 has the same material and size');
  });
  it('names shutdowns as people do', () => {
    expect(listedPurposes(['spring shutdown'])).toBe('the spring shutdown');
    expect(listedPurposes(['Spring 2027', 'winter stop', 'the outage'])).toBe(
      'Spring 2027, the winter stop and the outage',
    );
  });
});
