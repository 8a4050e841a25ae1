/** Kits that are laid out at one time: no piece is promised twice, the first shutdown first, first expired first out. */
import { describe, expect, it } from 'vitest';
import { forecastDemand } from '../../lib/demand/forecast.js';
import type { ItemDemand } from '../../lib/demand/types.js';
import type { Item } from '../../lib/fleet/types.js';
import { randomStream } from '../../lib/numeric/random.js';
import type { PlannedPieces } from '../../lib/stock/course.js';
import { type Followed, follow } from '../../lib/stock/follow.js';
import { kitRows } from '../../lib/stock/kits.js';
import { type NettingInput, type NettingResult, netOrders } from '../../lib/stock/netting.js';
import type { Pieces } from '../../lib/stock/shelf.js';
import { sizeStock } from '../../lib/stock/size.js';
import type { StockAdvice } from '../../lib/stock/types.js';
import { plant, TODAY } from '../demand/plant.js';

const LOTS: Pieces[] = [
  { lot: 'old', quantity: 6, useBy: 60 },
  { lot: 'new', quantity: 10, useBy: 400 },
];

const PLAN: NettingInput = {
  shelf: LOTS,
  receipts: [],
  planned: [],
  randomTarget: () => 0,
  randomMean: () => 0,
  lead: 5,
  review: 1,
  horizon: 100,
  pack: 1,
  minOrder: 1,
  keeps: Infinity,
};

/** Lays out 8, uses 6. */
const kit = (name: string, moment: number, until = moment): PlannedPieces => {
  return { name, moment, until, quantity: 8, expected: 6 };
};

function run(input: Partial<NettingInput>): { followed: Followed; result: NettingResult } {
  const followed = follow();
  const result = netOrders({ ...PLAN, ...input }, followed.watch);
  return { followed, result };
}

const takenBy = ({ kits }: Followed) =>
  kits.map(({ need, taken }) => [
    need.name,
    taken.map(({ lot, quantity }) => `${quantity} ${lot ?? 'ordered'}`),
  ]);

describe('two shutdowns on one day', () => {
  it('share 16 pieces: the first takes the old lot and two of the new one, the second the other eight', () => {
    const { followed, result } = run({ planned: [kit('sterile line', 20), kit('dairy', 20)] });
    expect(takenBy(followed)).toEqual([
      ['sterile line', ['6 old', '2 new']],
      ['dairy', ['8 new']],
    ]);
    // 16 lie there and 16 are laid out: root of the sum of squares would call 14.8 enough, and one kit would lack a piece.
    expect(result.orders).toEqual([]);
  });
  it('with one piece fewer have it ordered, for both', () => {
    const shelf = [{ lot: 'new', quantity: 15, useBy: 400 }];
    const { followed, result } = run({ shelf, planned: [kit('sterile line', 20), kit('dairy', 20)] });
    expect(result.orders.map(({ quantity, serves }) => [quantity, serves])).toEqual([
      [1, ['sterile line', 'dairy']],
    ]);
    expect(takenBy(followed)).toEqual([
      ['sterile line', ['8 new']],
      ['dairy', ['7 new', '1 ordered']],
    ]);
  });
  it('before a delivery can come, the second alone is hurried for', () => {
    const shelf = [{ lot: 'new', quantity: 9, useBy: 400 }];
    const { result } = run({ shelf, lead: 30, planned: [kit('sterile line', 20), kit('dairy', 20)] });
    const [first, ...others] = result.orders;
    expect(first).toMatchObject({ expedite: true, quantity: 7, serves: ['dairy'] });
    expect(others.filter(({ expedite }) => expedite)).toEqual([]);
  });
});

describe('two shutdowns close together', () => {
  it('share in the same way while the first is on, and from the day after it what it left is back', () => {
    const shelf = [{ lot: 'new', quantity: 14, useBy: 400 }];
    const during = run({ shelf, planned: [kit('long', 20, 24), kit('short', 24)] });
    expect(takenBy(during.followed)).toEqual([
      ['long', ['8 new']],
      ['short', ['6 new', '2 ordered']],
    ]);
    const after = run({ shelf, planned: [kit('long', 20, 24), kit('short', 25)] });
    // 8 are left of 14 when 6 are used. Both kits are safe with 12 + root 8 = 14.8, so that one piece is ordered.
    expect(takenBy(after.followed)).toEqual([
      ['long', ['8 new']],
      ['short', ['8 new']],
    ]);
    expect(after.result.orders.map(({ quantity }) => quantity)).toEqual([1]);
  });
  it('is served in the order of the days on which pieces are fitted, however the kits are listed', () => {
    const early = { ...kit('early', 20), fitted: 30, until: 36 };
    const late = { ...kit('late', 20), fitted: 33, until: 33 };
    for (const planned of [
      [early, late],
      [late, early],
    ]) {
      expect(takenBy(run({ planned }).followed)).toEqual([
        ['early', ['6 old', '2 new']],
        ['late', ['8 new']],
      ]);
    }
  });
});

describe('any kits and lots', () => {
  it('never name more pieces of a lot at one time than it has, and take first what expires first', () => {
    const random = randomStream(5, 'kits together');
    let overlaps = 0;
    for (let i = 0; i < 300; i++) {
      const shelf = Array.from({ length: 1 + random.below(4) }, (_, k): Pieces => {
        return { lot: `lot ${k}`, quantity: 1 + random.below(12), useBy: 20 + random.below(200) };
      });
      const planned = Array.from({ length: 1 + random.below(5) }, (_, k): PlannedPieces => {
        const quantity = 1 + random.below(10);
        const moment = 1 + random.below(30);
        const expected = quantity * random.uniform();
        return { name: `kit ${k}`, moment, until: moment + random.below(12), quantity, expected };
      });
      const perDay = 0.1 * random.uniform();
      const { followed } = run({ shelf, planned, randomMean: (from, to) => perDay * (to - from) });
      expect(followed.kits).toHaveLength(planned.length);
      for (const { need } of followed.kits) {
        const together = followed.kits.filter(
          (each) => each.need.moment <= need.moment && (each.need.until ?? 0) >= need.moment,
        );
        if (together.length > 1) overlaps += 1;
        for (const { lot, quantity } of shelf) {
          const named = together.flatMap(({ taken }) => taken.filter((each) => each.lot === lot));
          expect(named.reduce((sum, each) => sum + each.quantity, 0)).toBeLessThanOrEqual(quantity);
        }
      }
      for (const { taken } of followed.kits) {
        const dates = taken.map(({ useBy }) => useBy);
        expect(dates).toEqual([...dates].sort((a, b) => a - b));
      }
    }
    expect(overlaps).toBeGreaterThan(300);
  });
});

describe('a plant with two lines that stop on one day', () => {
  const days = (line: string) => ({
    shape: 3,
    scale: 900,
    line,
    ages: Array.from({ length: 30 }, (_, i) => 12 * i),
  });
  function kitsOf(): StockAdvice['kits'] {
    const { fleet, grouped } = plant([days('A'), days('B')], {
      shutdowns: [
        { name: 'line A', inDays: 80, lines: ['A'] },
        { name: 'line B', inDays: 80, lines: ['B'] },
      ],
      items: [{ onHand: 40, leadTimeDays: 20, leadTimeSdDays: 2 }],
      lots: [
        { item: 'P-1', lot: 'old', quantity: 15, cured: null, useBy: TODAY + 200 },
        { item: 'P-1', lot: 'new', quantity: 25, cured: null, useBy: TODAY + 900 },
      ],
    });
    const policy = { name: 'proposed' as const, intervalDays: grouped.groups.map(() => 400) };
    const [row] = sizeStock(fleet, forecastDemand(fleet, grouped, policy, { seed: 1 }));
    return (row?.kits ?? []).slice(0, 2);
  }
  it('has each piece of a lot in one kit, the old lot in the first', () => {
    const kits = kitsOf();
    expect(kits.map(({ name }) => name)).toEqual(['line A', 'line B']);
    const pieces = kits.flatMap(({ from }) => from.filter(({ lot }) => lot !== null));
    for (const [lot, quantity] of [
      ['old', 15],
      ['new', 25],
    ] as const) {
      const named = pieces.filter((each) => each.lot === lot);
      expect(named.reduce((sum, each) => sum + each.quantity, 0)).toBeLessThanOrEqual(quantity);
    }
    expect(kits[0]?.from[0]).toMatchObject({ lot: 'old' });
    expect(kits.map(({ short }) => short)).toEqual([0, 0]);
  });
});

describe('an approved substitute', () => {
  const row = (name: string, item: string, onShelf: number, short: number) => {
    const day = '2026-03-22';
    const supply = { name, day, onShelf, onTheWay: 0, late: 0, toOrder: 0, from: [], short, orderBy: day };
    const need = { name, day: TODAY + 80, ifNothingLeaks: 4, expected: 4, with95: 4, kit: 4 };
    return { item, supply, need };
  };
  const both = [row('line A', 'P-1', 0, 4), row('line B', 'P-1', 0, 4), row('line B', 'P-2', 10, 0)];
  const ofItem = (item: string) => both.filter((each) => each.item === item);
  const demand = ['P-1', 'P-2'].map((item) => {
    return { item, material: 'EPDM', size: 25, planned: ofItem(item).map(({ need }) => need) };
  }) as unknown as ItemDemand[];
  const stock = ['P-1', 'P-2'].map((item) => {
    return { item, usable: 10, kits: ofItem(item).map(({ supply }) => supply) };
  }) as unknown as StockAdvice[];
  it('is promised once, less its own kits of that day', () => {
    const catalogue = [
      { item: 'P-1', approvedSubstitute: 'P-2' },
      { item: 'P-2', approvedSubstitute: null },
    ] as unknown as Item[];
    const rows = kitRows(demand, stock, catalogue).filter(({ item }) => item === 'P-1');
    // Of 10 there are 4 laid out for line B of their own; 6 are left, of which line A lacks 4.
    expect(rows.map(({ shutdown, substitute }) => [shutdown, substitute?.spare])).toEqual([
      ['line A', 6],
      ['line B', 2],
    ]);
  });
});
