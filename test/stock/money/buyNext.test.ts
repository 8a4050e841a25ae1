import { describe, expect, it } from 'vitest';
import { buyNext } from '../../../lib/stock/money/buyNext.js';
import { boughtPoints } from '../../../lib/stock/money/moneyItems.js';
import { moneyItem } from './items.js';

const ITEMS = [
  moneyItem({ item: 'empty', price: 30, leaks: 9, pack: 5, today: 0 }),
  moneyItem({ item: 'half full', price: 80, leaks: 5, today: 1 }),
  moneyItem({ item: 'full', price: 10, leaks: 3, today: 60 }),
  moneyItem({ item: 'idle', price: 1, leaks: 0, today: 0 }),
];
const LEAKS = 17;

describe('what to buy next', () => {
  it('is in orders that the supplier takes, from where each item stands', () => {
    expect(
      boughtPoints(ITEMS[0] as (typeof ITEMS)[0])
        .map(({ level }) => level)
        .slice(0, 3),
    ).toEqual([0, 5, 10]);
    const least = moneyItem({ pack: 4, minOrder: 10, today: 3 });
    // The smallest order is 12: three packs of four; then pack by pack.
    expect(
      boughtPoints(least)
        .map(({ level }) => level)
        .slice(0, 3),
    ).toEqual([3, 15, 19]);
    for (const row of buyNext(ITEMS, LEAKS, { left: 1e6 })) {
      if (row.item === 'empty') expect(row.pieces % 5).toBe(0);
    }
  });
  it('names the most leaks for the money first, with running sums, and neither full nor idle items', () => {
    const rows = buyNext(ITEMS, LEAKS, { worth: 0 });
    let total = 0;
    rows.forEach((row, i) => {
      total += row.money;
      expect(row.cumulativeMoney).toBeCloseTo(total, 9);
      expect(row.moneyPerLeak).toBeCloseTo(row.money / row.leaksServedPerYear, 9);
      expect(row.within).toBe(true);
      if (i > 0) expect(row.moneyPerLeak).toBeGreaterThanOrEqual((rows[i - 1]?.moneyPerLeak ?? 0) - 1e-9);
    });
    expect(rows.length).toBeGreaterThan(3);
    expect(rows.map(({ item }) => item)).not.toContain('full');
    expect(rows.map(({ item }) => item)).not.toContain('idle');
  });
  it('what is within the money left is paid for by it, and the list goes on behind it', () => {
    for (const left of [0, 149, 150, 400, 1000]) {
      const rows = buyNext(ITEMS, LEAKS, { left });
      const within = rows.filter((row) => row.within);
      expect(within.reduce((sum, { money }) => sum + money, 0)).toBeLessThanOrEqual(left);
      expect(rows.slice(within.length).some((row) => row.within)).toBe(false);
      // Each item goes on from where the purchase before left it.
      const stands = new Map(ITEMS.map(({ item, today }) => [item, today]));
      for (const { item, pieces, level } of rows) {
        expect((stands.get(item) ?? 0) + pieces).toBe(level);
        stands.set(item, level);
      }
    }
    expect(buyNext(ITEMS, LEAKS, { left: -50 }).every(({ within }) => !within)).toBe(true);
  });
  it('without a budget it ends where the best mix would no longer buy', () => {
    const all = buyNext(ITEMS, LEAKS, { worth: 0 });
    const worth = 1 / (all[2]?.moneyPerLeak ?? 1);
    expect(buyNext(ITEMS, LEAKS, { worth }).filter(({ within }) => within)).toHaveLength(3);
  });
});
