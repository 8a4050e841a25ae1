/** Service by level agrees with the money in stock of the same plant, item by item, and rises with each piece. */
import { describe, expect, it } from 'vitest';
import { forecastDemand } from '../../../lib/demand/forecast.js';
import { UsageError } from '../../../lib/errors.js';
import type { ReplacementPolicy } from '../../../lib/interval/dueRule.js';
import { serviceByLevel } from '../../../lib/stock/money/serviceByLevel.js';
import { stockMoney } from '../../../lib/stock/money/stockMoney.js';
import { sizeStock } from '../../../lib/stock/size.js';
import { plant } from '../../demand/plant.js';

const base = {
  shape: 3,
  scale: 900,
  share: 0.02,
  openingsPerYear: 0.05,
  ages: Array.from({ length: 40 }, (_, i) => 9 * i),
};
const { fleet, grouped } = plant(
  [
    { ...base, size: 25, line: 'A' },
    { ...base, size: 40, line: 'B', criticality: 'high' },
    { ...base, size: 50, line: 'B' },
  ],
  {
    items: [
      { item: 'A-25', size: 25, price: 30, pack: 5, minOrder: 5, onHand: 4 },
      { item: 'A-40', size: 40, price: 90, onHand: 30 },
      { item: 'A-50', size: 50, price: null, onHand: 3 },
      { item: 'A-80', size: 80, price: 200, onHand: 2 },
    ],
  },
);
const policy: ReplacementPolicy = { name: 'proposed', intervalDays: [500, 500, 500] };
const forecast = forecastDemand(fleet, grouped, policy, { seed: 1 });
const stock = sizeStock(fleet, forecast);
const money = stockMoney(fleet, grouped, forecast, stock);

describe('service by level', () => {
  const all = stock.map((advice) => serviceByLevel(fleet, forecast, advice));

  it('leaves as many leaks unserved today and as advised as the money in stock says', () => {
    const rows = new Map(money?.items.map((row) => [row.item, row]));
    expect(rows.size).toBe(3);
    for (const { item, today, advised } of all) {
      const row = rows.get(item);
      if (row === undefined) continue;
      expect(today.level).toBe(row.today);
      expect(advised.level).toBe(row.advised);
      expect(today.leaksFindingShelfEmptyPerYear).toBeCloseTo(row.leaksFindingShelfEmpty.today, 12);
      expect(advised.leaksFindingShelfEmptyPerYear).toBeCloseTo(row.leaksFindingShelfEmpty.advised, 12);
    }
  });

  it('rises from nothing served with nothing kept, and its least level is the first that meets the target', () => {
    for (const { levels, target, least, leaksPerYear, lot } of all) {
      if (leaksPerYear === 0) continue;
      expect(levels[0]).toEqual({ level: 0, served: 0, leaksFindingShelfEmptyPerYear: leaksPerYear });
      expect(levels[1]?.level).toBe(lot);
      levels.slice(1).forEach(({ served }, i) => {
        expect(served).toBeGreaterThanOrEqual((levels[i]?.served ?? 0) - 1e-12);
      });
      expect(least.served).toBeGreaterThanOrEqual(target - 1e-12);
      const before = levels.find(({ level }) => level === least.level - 1);
      if (before !== undefined) expect(before.served).toBeLessThan(target);
      expect(levels.at(-1)?.served).toBeGreaterThan(0.999);
    }
  });

  it('needs no price, and an item of items.csv', () => {
    const [, , unpriced] = all;
    expect(unpriced).toMatchObject({ item: 'A-50', price: null });
    expect(unpriced?.leaksPerYear).toBeGreaterThan(0);
    const advice = stock[0];
    if (advice === undefined) throw new Error('there is an item');
    expect(() => serviceByLevel(fleet, forecast, { ...advice, item: 'B-7' })).toThrow(UsageError);
  });

  it('has nothing to serve where no leak is expected', () => {
    const idle = all.find(({ item }) => item === 'A-80');
    expect(idle).toMatchObject({ leaksPerYear: 0 });
    expect(idle?.levels.every(({ leaksFindingShelfEmptyPerYear: leaks }) => leaks === 0)).toBe(true);
  });
});
