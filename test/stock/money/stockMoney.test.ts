import { describe, expect, it } from 'vitest';
import { forecastDemand } from '../../../lib/demand/forecast.js';
import type { ReplacementPolicy } from '../../../lib/interval/dueRule.js';
import { itemAt } from '../../../lib/numeric/columns.js';
import { randomStream } from '../../../lib/numeric/random.js';
import { stockMoney } from '../../../lib/stock/money/stockMoney.js';
import type { StockMoney } from '../../../lib/stock/money/types.js';
import { servedShare } from '../../../lib/stock/reorderPoint.js';
import { sizeStock } from '../../../lib/stock/size.js';
import { type PlantOptions, plant } from '../../demand/plant.js';

const random = randomStream(4, 'draws');
const DRAWS = Array.from({ length: 60 }, () => ({
  shape: 2.5 + random.uniform(),
  scale: 700 + 400 * random.uniform(),
  share: 0.02,
}));
const ages = Array.from({ length: 40 }, (_, i) => 9 * i);
const ITEMS = [
  { item: 'A-25', size: 25, price: 30, pack: 5, minOrder: 5, onHand: 4 },
  { item: 'A-40', size: 40, price: 90, onHand: 30 },
  { item: 'A-50', size: 50, price: null, onHand: 3 },
  { item: 'A-80', size: 80, price: 200, onHand: 2 },
];

function found(
  options: PlantOptions = {},
  site: { stockBudget?: number; stores?: { name: string; lines: string[]; transportDays: number }[] } = {},
): StockMoney {
  const base = { shape: 3, scale: 900, share: 0.02, openingsPerYear: 0.05, draws: DRAWS, ages };
  const { fleet, grouped } = plant(
    [
      { ...base, size: 25, line: 'A' },
      { ...base, size: 40, line: 'B', ages: ages.slice(0, 12), criticality: 'high' },
      { ...base, size: 50, line: 'B', ages: ages.slice(0, 12) },
    ],
    { items: ITEMS, ...options },
  );
  const { stockBudget, stores } = site;
  if (stockBudget !== undefined) fleet.site.targets.stockBudget = stockBudget;
  if (stores !== undefined) fleet.site.stores = stores;
  const policy: ReplacementPolicy = { name: 'proposed', intervalDays: [500, 500, 500] };
  const forecast = forecastDemand(fleet, grouped, policy, { seed: 1 });
  const money = stockMoney(fleet, grouped, forecast, sizeStock(fleet, forecast));
  if (money === null) throw new Error('the plant has items');
  return money;
}

describe('money in stock of a plant', () => {
  const money = found();
  it('names what cannot be weighed, and weighs the rest', () => {
    expect(money.leftOut).toEqual([{ item: 'A-50', because: 'no price in items.csv' }]);
    expect(money.items.map(({ item }) => item)).toEqual(['A-25', 'A-40', 'A-80']);
    expect(money.items[2]).toMatchObject({ leaksPerYear: 0, best: 0, advised: 0, moneyClass: 'C' });
    expect(money.today.money).toBe(30 * 4 + 90 * 30 + 200 * 2);
  });
  it('the best mix serves what the advised stock serves, for no more money', () => {
    expect(money.budget).toBeNull();
    expect(money.best.served).toBeGreaterThanOrEqual(money.advised.served - 1e-9);
    expect(money.best.money).toBeLessThanOrEqual(money.advised.money);
    expect(money.bestPossible).toBeLessThanOrEqual(money.best.money + 1e-9);
  });
  it('places are sums over the items, and lie in their own range', () => {
    for (const which of ['today', 'advised', 'best'] as const) {
      const place = money[which];
      const sum = money.items.reduce((all, row) => all + row.leaksFindingShelfEmpty[which], 0);
      expect(place.leaksFindingShelfEmptyPerYear).toBeCloseTo(sum, 10);
      expect(place.served).toBeCloseTo(1 - sum / money.leaksPerYear, 10);
      const [low, high] = place.range as [number, number];
      expect(low).toBeLessThan(high);
      expect(place.leaksFindingShelfEmptyPerYear).toBeGreaterThan(low);
      expect(place.leaksFindingShelfEmptyPerYear).toBeLessThan(high);
    }
  });
  it('the curve falls as money rises, from nothing served on, and ends below the others', () => {
    const { curve } = money;
    expect(curve[0]).toMatchObject({ money: 0, served: 0, item: null });
    expect(curve[0]?.leaksFindingShelfEmptyPerYear).toBeCloseTo(money.leaksPerYear, 9);
    for (let i = 1; i < curve.length; i++) {
      const [before, now] = [itemAt(curve, i - 1), itemAt(curve, i)];
      expect(now.money).toBeGreaterThan(before.money);
      expect(now.leaksFindingShelfEmptyPerYear).toBeLessThan(before.leaksFindingShelfEmptyPerYear);
    }
    expect(curve.at(-1)?.served).toBeGreaterThan(0.999);
    const levels = money.levels.map((level) => level.money);
    expect([...levels].sort((a, b) => a - b)).toEqual(levels);
  });
  it('is the same to the last digit again, and JSON keeps it', () => {
    expect(found()).toEqual(money);
    expect(JSON.parse(JSON.stringify(money))).toEqual(money);
  });
});

describe('with a budget', () => {
  it('is kept to, and more of it serves more', () => {
    let before = -1;
    for (const stockBudget of [0, 100, 400, 800, 1500, 4000]) {
      const money = found({}, { stockBudget });
      expect(money.budget).toBe(stockBudget);
      expect(money.best.money).toBeLessThanOrEqual(stockBudget);
      expect(money.best.served).toBeGreaterThanOrEqual(before);
      expect(money.further.money).toBeCloseTo(0.1 * stockBudget, 9);
      expect(money.further.leaksServedPerYear).toBeGreaterThanOrEqual(-1e-12);
      before = money.best.served;
    }
    expect(before).toBeGreaterThan(0.99);
  });
  it('what is bought within it is paid for by what today leaves', () => {
    const stockBudget = 4000;
    const money = found({}, { stockBudget });
    const spent = money.buyNext.filter(({ within }) => within).reduce((all, row) => all + row.money, 0);
    expect(spent).toBeGreaterThan(0);
    expect(spent).toBeLessThanOrEqual(stockBudget - money.today.money);
    expect(found({}, { stockBudget: 100 }).buyNext.some(({ within }) => within)).toBe(false);
  });
});

describe('today, kits and the plan', () => {
  it('kits that are laid out before an order could come are not there for leaks', () => {
    const shutdowns = [{ name: 'soon', inDays: 20 }];
    const stock = [{ ...ITEMS[0], onHand: 60 }];
    const [without, with_] = [found({ items: stock }), found({ items: stock, shutdowns })];
    const later = found({ items: stock, shutdowns: [{ name: 'later', inDays: 200 }] });
    const today = (money: StockMoney): number => itemAt(money.items, 0).today;
    expect(today(later)).toBe(60);
    expect(today(with_)).toBeLessThan(60);
    expect(today(without)).toBeLessThanOrEqual(60);
  });
  it('the share served of the advised stock is that of the reorder point', () => {
    const { fleet, grouped } = plant([{ shape: 3, scale: 900, share: 0.05, draws: DRAWS, ages }], {
      items: [{ price: 30, onHand: 4 }],
    });
    const forecast = forecastDemand(fleet, grouped, { name: 'proposed', intervalDays: [500] }, { seed: 1 });
    const stock = sizeStock(fleet, forecast);
    const money = stockMoney(fleet, grouped, forecast, stock) as StockMoney;
    const { reorderPoint, orderQuantity } = itemAt(stock, 0);
    const demand = itemAt(forecast.items, 0);
    const days = 365;
    const mean = demand.byDraw?.randomPerDay.reduce((a, b) => a + b, 0) ?? 0;
    const perDay = mean / (demand.byDraw?.randomPerDay.length ?? 1);
    expect(perDay * days).toBeGreaterThan(1);
    // The draws' mean is the rate that the plan stands on; their spread is the part of it that nobody knows.
    const leaks = demand.byDraw?.leaksPerYear.reduce((a, b) => a + b, 0) ?? 0;
    expect(leaks / (demand.byDraw?.leaksPerYear.length ?? 1)).toBeCloseTo(demand.leaksPerYear, 9);
    const row = itemAt(money.items, 0);
    expect(row.advised).toBe(reorderPoint + orderQuantity);
    const share = 1 - row.leaksFindingShelfEmpty.advised / row.leaksPerYear;
    const rough = servedShare(
      { perDay, variancePerDay: perDay, rateSd: 0 },
      { leadDays: 40, leadSdDays: 10, reviewDays: 7 },
      reorderPoint,
      orderQuantity,
    );
    expect(Math.abs(share - rough)).toBeLessThan(0.03);
    expect(share).toBeGreaterThan(0.95 - 1e-9);
  });
  it('nothing in items.csv that has a price: empty, and never NaN', () => {
    const money = found({ items: [{ ...ITEMS[2] }] });
    expect(money.items).toEqual([]);
    expect(money.best).toMatchObject({ money: 0, served: 1, shortageCostPerYear: null });
    expect(JSON.stringify(money)).not.toMatch(/null,null|NaN/);
  });
});

describe('several stores', () => {
  const stores = [
    { name: 'Hall A', lines: ['A'], transportDays: 2 },
    { name: 'Hall X', lines: ['X'], transportDays: 1 },
  ];
  const money = found({}, { stores });
  it('gives levels per item where its positions are, and the counter for lines without a store', () => {
    expect(found().twoLevel).toBeNull();
    const [first, second] = money.twoLevel ?? [];
    expect(first?.item).toBe('A-25');
    expect(first?.stores.map(({ store, positions }) => [store, positions])).toEqual([['Hall A', 40]]);
    expect(second?.stores.map(({ store, level }) => [store, level])).toEqual([['central store', 0]]);
    for (const row of money.twoLevel ?? []) {
      expect(row.served).toBeGreaterThanOrEqual(row.target - 1e-12);
      expect(row.pieces).toBe(row.central + row.stores.reduce((all, { level }) => all + level, 0));
      expect(row.pieces).toBeGreaterThanOrEqual(row.piecesInOneStore);
    }
    // Handed out over the counter: as one store.
    expect(second?.pieces).toBe(second?.piecesInOneStore);
  });
  it('says which lines have no store, and which stores have no line', () => {
    const text = money.assumed.join(' ');
    expect(text).toMatch(/No store serves B: they draw on the central store/);
    expect(text).toMatch(/No position is on X, named under stores/);
  });
});
