import { describe, expect, it } from 'vitest';
import { InputError } from '../../lib/errors.js';
import { readFiles, SITE, withCode } from './files.js';

const FILES = {
  'positions.csv': 'position,size,line\nV1,25,A\n',
  'lives.csv': 'position,material,fitted\nV1,EPDM,2020-01-01\n',
};
const read = (more: object) => readFiles({ ...FILES, 'site.json': { ...SITE, ...more } });

describe('site.json', () => {
  it('reads amounts as numbers or ranges, and downtime for all lines or by line', () => {
    const { money } = read({
      money: {
        labour_per_hour: 60,
        batch_value: { low: 1, likely: 2, high: 4 },
        downtime_per_hour: { A: 500, B: { low: 1, likely: 1, high: 3 } },
        lost_batch_probability: 0.05,
      },
    }).site;
    expect(money.labourPerHour).toEqual({ low: 60, likely: 60, high: 60 });
    expect(money.batchValue).toEqual({ low: 1, likely: 2, high: 4 });
    expect([...(money.downtimePerHour ?? [])]).toEqual([
      ['A', { low: 500, likely: 500, high: 500 }],
      ['B', { low: 1, likely: 1, high: 3 }],
    ]);
    expect(money.cleanupCost).toBeNull();
    const range = { low: 1, likely: 2, high: 3 };
    expect([...(read({ money: { downtime_per_hour: range } }).site.money.downtimePerHour ?? [])]).toEqual([
      ['', range],
    ]);
  });

  it('says which settings of money stand for others that are not given', () => {
    const some = read({ money: { labour_per_hour: 60, cleanup_cost: 100, leak_parts_cost: 20 } }).site;
    expect(some.money.leakPartsCost).toEqual({ low: 20, likely: 20, high: 20 });
    expect(some.assumed).toContain(
      'No instrument_labour_per_hour: recalibration is priced at labour_per_hour.',
    );
    expect(some.assumed).toContain('No investigation_cost: taken to be part of cleanup_cost, or nothing.');
    const all = read({
      money: {
        labour_per_hour: 60,
        instrument_labour_per_hour: 75,
        cleanup_cost: 100,
        investigation_cost: 400,
        leak_parts_cost: 20,
      },
    }).site;
    expect(all.assumed.filter((line) => line.includes('labour') || line.includes('cleanup'))).toEqual([]);
  });

  it('reads a discount rate, and says that 0 is assumed where money is given without one', () => {
    const assumed = (money?: object) => read(money === undefined ? {} : { money }).site.assumed.join(' ');
    expect(read({ money: { discount_rate_per_year: 0.08 } }).site.money.discountRatePerYear).toEqual({
      low: 0.08,
      likely: 0.08,
      high: 0.08,
    });
    expect(assumed({ discount_rate_per_year: 0 })).not.toContain('discount_rate_per_year');
    expect(assumed({ labour_per_hour: 60 })).toContain('No discount_rate_per_year');
  });

  it('reads limits as a list or by material and size, spelled as the lives spell it', () => {
    const list = read({
      limits: [
        { material: 'epdm', size: 25, max_days: 730 },
        { material: 'FKM', max_strokes: 5 },
      ],
    });
    expect(list.site.limits).toEqual([
      { material: 'EPDM', size: 25, maxDays: 730, maxStrokes: null, maxSteamCycles: null },
      { material: 'FKM', size: null, maxDays: null, maxStrokes: 5, maxSteamCycles: null },
    ]);
    expect(withCode(list, 'limit-material-unknown')).toMatchObject([{ value: 'FKM', done: 'used' }]);
    const byName = read({ limits: { EPDM: { max_days: 730, 25: { max_steam_cycles: 300 } } } }).site.limits;
    expect(byName).toMatchObject([
      { material: 'EPDM', size: 25, maxSteamCycles: 300 },
      { material: 'EPDM', size: null, maxDays: 730 },
    ]);
  });

  it('takes one target for all or one per criticality, and says what it assumed', () => {
    expect(read({ targets: { served: 0.9, survival: 0.99 } }).site.targets).toEqual({
      served: { low: 0.9, normal: 0.9, high: 0.9, safety: 0.9 },
      kitComplete: 0.98,
      survival: { low: 0.99, normal: 0.99, high: 0.99, safety: 0.99 },
    });
    const { targets, assumed } = read({ targets: { served: { safety: 0.995 }, kit_complete: 0.9 } }).site;
    expect(targets).toMatchObject({
      served: { normal: 0.95, safety: 0.995 },
      kitComplete: 0.9,
      survival: { low: null },
    });
    expect(assumed.join(' ')).toMatch(/normal 0\.95, high 0\.97/);
    expect(assumed.join(' ')).not.toMatch(/kit_complete|safety/);
  });

  it('reads a budget for stock and local stores, and is silent where there are none', () => {
    const { site } = read({
      targets: { stock_budget: 20000 },
      stores: [
        { name: ' Hall A ', lines: ['A1', 'A2'], transport_days: 2 },
        { name: 'Hall B', lines: ['B1'] },
      ],
    });
    expect(site.targets.stockBudget).toBe(20000);
    expect(site.stores).toEqual([
      { name: 'Hall A', lines: ['A1', 'A2'], transportDays: 2 },
      { name: 'Hall B', lines: ['B1'], transportDays: 1 },
    ]);
    expect(site.assumed.join(' ')).toContain('No transport_days of Hall B: 1 day from the central store.');
    const plain = read({}).site;
    expect('stores' in plain).toBe(false);
    expect('stockBudget' in plain.targets).toBe(false);
  });

  it.each([
    [{ targets: { stock_budget: -1 } }, /stock_budget/],
    [{ stores: [{ name: 'A', lines: [] }] }, /line/],
    [{ stores: [{ name: '', lines: ['A'] }] }, /empty/],
    [
      {
        stores: [
          { name: 'A', lines: ['L'] },
          { name: 'A', lines: ['M'] },
        ],
      },
      /"A" is named twice/,
    ],
    [
      {
        stores: [
          { name: 'A', lines: ['L'] },
          { name: 'B', lines: ['L'] },
        ],
      },
      /"L" is named twice/,
    ],
    [{ stores: [{ name: 'A', lines: ['L'], transport_days: -3 }] }, /transport_days|negative/],
  ])('refuses stores and budgets that make no sense: %j', (more, message) => {
    expect(() => read(more)).toThrow(message);
  });

  it('mentions settings it does not know, so that a misspelt one is not lost in silence', () => {
    const fleet = read({ recordsfrom: '2020-01-01', money: { labor_per_hour: 3 }, targets: { serve: 1 } });
    expect(withCode(fleet, 'setting-unknown').map(({ column }) => column)).toEqual([
      'recordsfrom',
      'money.labor_per_hour',
      'targets.serve',
    ]);
  });

  it.each<[object, RegExp]>([
    [{ data_until: '2024-02-30' }, /value "2024-02-30".*"data_until" must be a date that exists/],
    [{ records_from: '31.12.2019' }, /"records_from" must be a date/],
    [{ records_from: '2025-01-01' }, /records_from is later than data_until/],
    [{ currency: 'euro' }, /"currency" must be the three letters/],
    [{ event: 'burst' }, /"event" must be leak or damage/],
    [{ damage_findings: ['sound'] }, /damage_findings/],
    [{ money: { batch_value: -5 } }, /value "-5".*"money\.batch_value"/],
    [{ money: { batch_value: { low: 3, likely: 2, high: 4 } } }, /money\.batch_value/],
    [{ money: { batch_value: '5000' } }, /money\.batch_value/],
    [{ money: { holding_rate_per_year: 25 } }, /holding_rate_per_year/],
    [{ money: { discount_rate_per_year: -0.01 } }, /value "-0.01".*"money\.discount_rate_per_year"/],
    [
      { money: { discount_rate_per_year: 8 } },
      /money\.discount_rate_per_year.*at most 1 \(write 0\.25 for 25 %\)/s,
    ],
    [{ money: { discount_rate_per_year: 'NaN' } }, /money\.discount_rate_per_year/],
    [{ money: { discount_rate_per_year: Number.NaN } }, /money\.discount_rate_per_year/],
    [{ money: { discount_rate_per_year: { low: 0.2, likely: 0.1, high: 0.3 } } }, /discount_rate_per_year/],
    [{ money: { downtime_per_hour: { A: -1 } } }, /money\.downtime_per_hour\.A/],
    [{ targets: { served: 95 } }, /targets\.served/],
    [{ horizon_months: 0 }, /"horizon_months" must be 1 or more/],
    [{ review_days: 2.5 }, /"review_days" must be a whole number/],
    [{ limits: [{ material: 'EPDM', max_days: 0 }] }, /limits.*max_days|limits/],
    [{ limits: { EPDM: 730 } }, /limits\.EPDM/],
  ])('refuses %j', (more, message) => {
    expect(() => read(more)).toThrow(InputError);
    expect(() => read(more)).toThrow(message);
  });
});
