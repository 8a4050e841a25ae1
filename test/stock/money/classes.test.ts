import { describe, expect, it } from 'vitest';
import { moneyClasses, stockClasses } from '../../../lib/stock/money/classes.js';
import type { MoneyRow } from '../../../lib/stock/money/types.js';

const TARGETS = {
  served: { low: 0.9, normal: 0.95, high: 0.97, safety: 0.99 },
  kitComplete: 0.98,
  survival: { low: null, normal: null, high: null, safety: null },
};

function row(part: Partial<MoneyRow>): MoneyRow {
  return {
    item: 'P',
    price: 10,
    lot: 1,
    leaksPerYear: 1,
    moneyClass: 'A',
    criticality: 'normal',
    useMoneyPerYear: 100,
    today: 2,
    advised: 3,
    best: 1,
    leaksFindingShelfEmpty: { today: 0, advised: 0, best: 0 },
    shortageCost: null,
    ...part,
  };
}

describe('classes by money of use', () => {
  it('by hand: of 1000 a year, 800 are A, 950 A or B, whatever the order of the list', () => {
    // 500 + 300 reach 800; 100 and 50 reach 950; 30 and 20 are left.
    expect(moneyClasses([500, 300, 100, 50, 30, 20])).toEqual(['A', 'A', 'B', 'B', 'C', 'C']);
    expect(moneyClasses([20, 500, 50, 300, 30, 100])).toEqual(['C', 'A', 'B', 'A', 'C', 'B']);
  });
  it('the item that crosses a border is before it, and one that takes all is A', () => {
    expect(moneyClasses([900, 90, 10])).toEqual(['A', 'B', 'C']);
    expect(moneyClasses([1000])).toEqual(['A']);
  });
  it('what nobody uses is C; nothing used at all is all C', () => {
    expect(moneyClasses([100, 0])).toEqual(['A', 'C']);
    expect(moneyClasses([0, 0])).toEqual(['C', 'C']);
    expect(moneyClasses([])).toEqual([]);
  });
  it('other borders', () => {
    expect(moneyClasses([500, 300, 200], [0.5, 0.8])).toEqual(['A', 'B', 'C']);
  });
});

describe('classes by money and criticality', () => {
  const rows = [
    row({ item: 'a', criticality: 'low', useMoneyPerYear: 700 }),
    row({ item: 'b', criticality: 'safety', useMoneyPerYear: 600, price: 50 }),
    row({ item: 'c', criticality: 'safety', moneyClass: 'C', useMoneyPerYear: 5 }),
    row({ item: 'd', criticality: 'safety', moneyClass: 'A', useMoneyPerYear: 400 }),
    row({ item: 'e', criticality: 'low', moneyClass: 'C', useMoneyPerYear: 1 }),
  ];
  const classes = stockClasses(rows, TARGETS);
  it('each item is in one, A and safety first, with its money', () => {
    expect(classes.map(({ moneyClass, criticality, items }) => [moneyClass, criticality, items])).toEqual([
      ['A', 'safety', ['b', 'd']],
      ['A', 'low', ['a']],
      ['C', 'safety', ['c']],
      ['C', 'low', ['e']],
    ]);
    expect(classes[0]?.useMoneyPerYear).toBe(1000);
    expect(classes[0]?.stockMoney).toEqual({ today: 120, best: 60 });
    expect(classes.map(({ target }) => target)).toEqual([0.99, 0.9, 0.99, 0.9]);
  });
  it('a cheap item is counted once a year, unless people or a line hang on it', () => {
    expect(classes.map(({ count }) => count)).toEqual([
      'every month',
      'every month',
      'every 3 months',
      'once a year',
    ]);
    expect(classes[2]?.policy).toMatch(/^never below the level for its target; order rarely/);
    expect(classes[3]?.policy).toMatch(/^order rarely/);
  });
});
