import { describe, expect, it } from 'vitest';
import { choosePolicy, type PolicyFamily } from '../../lib/stock/choosePolicy.js';
import type { LeadTimeDemand } from '../../lib/stock/leadTimeDemand.js';
import { stockMeasures } from '../../lib/stock/measures.js';
import type { StockPolicy } from '../../lib/stock/policy.js';
import { stockCost } from '../../lib/stock/stockCost.js';

const DEMANDS: LeadTimeDemand[] = [
  { kind: 'poisson', mean: 0.3 },
  { kind: 'poisson', mean: 6.5 },
  { kind: 'negativeBinomial', mean: 4, variance: 11 },
  { kind: 'empirical', pmf: [0.5, 0.1, 0, 0, 0.3, 0.1] },
  { kind: 'compound', jobs: 1.5, sizes: [0, 0.5, 0.2, 0, 0.3] },
];

const at = (family: PolicyFamily, k: number, quantity: number): StockPolicy =>
  family.kind === 'baseStock' || family.kind === 'review'
    ? { ...family, level: k }
    : { ...family, point: k, quantity };

describe('least cost', () => {
  const costs = { holdingCost: 2, shortageCost: 30, orderCost: 9, span: 0.5 };
  const families: PolicyFamily[] = [
    { kind: 'baseStock' },
    { kind: 'reorder', quantity: 4 },
    { kind: 'review', leadPeriods: 2, reviewPeriods: 1 },
    { kind: 'reviewReorder', quantity: 3, leadPeriods: 2, reviewPeriods: 1 },
  ];
  it.each(DEMANDS)('is that of trying every level or point: $kind', (demand) => {
    for (const family of families) {
      const quantity = 'quantity' in family ? (family.quantity as number) : 1;
      const chosen = choosePolicy(family, demand, costs);
      let least = Infinity;
      const lowest = 'quantity' in family ? -quantity : 0;
      for (let k = lowest; k < 40; k++) {
        least = Math.min(least, stockCost(at(family, k, quantity), demand, costs).total);
      }
      expect(chosen.cost?.total).toBeLessThanOrEqual(least * (1 + 1e-11));
      expect(chosen.cost?.total).toBeGreaterThanOrEqual(least * (1 - 1e-11));
    }
  });
  it.each(DEMANDS)('is that of trying every point and quantity: $kind', (demand) => {
    for (const orderCost of [0, 15]) {
      const all = { ...costs, orderCost };
      const chosen = choosePolicy({ kind: 'reorder' }, demand, all);
      let least = Infinity;
      for (let quantity = 1; quantity <= 30; quantity++) {
        for (let point = -quantity; point < 20; point++) {
          least = Math.min(least, stockCost({ kind: 'reorder', point, quantity }, demand, all).total);
        }
      }
      expect(Math.abs((chosen.cost?.total as number) / least - 1)).toBeLessThan(1e-11);
    }
  });
  it('a shortage that costs nothing needs no stock', () => {
    const free = { holdingCost: 1, shortageCost: 0 };
    expect(choosePolicy({ kind: 'baseStock' }, { kind: 'poisson', mean: 3 }, free).policy).toEqual({
      kind: 'baseStock',
      level: 0,
    });
  });
});

describe('a target', () => {
  it.each(DEMANDS)('is met by the smallest level or point: $kind', (demand) => {
    const families: PolicyFamily[] = [
      { kind: 'baseStock' },
      { kind: 'reorder', quantity: 4 },
      { kind: 'review', leadPeriods: 2, reviewPeriods: 1 },
      { kind: 'reviewReorder', quantity: 3, leadPeriods: 2, reviewPeriods: 1 },
    ];
    for (const family of families) {
      const quantity = 'quantity' in family ? (family.quantity as number) : 1;
      for (const of of ['fillRate', 'readyRate'] as const) {
        for (const target of [0.5, 0.9, 0.999]) {
          const goal = of === 'fillRate' ? { fillRate: target } : { readyRate: target };
          const { policy, measures, cost } = choosePolicy(family, demand, goal);
          expect(cost).toBeNull();
          expect(measures[of]).toBeGreaterThanOrEqual(target - 1e-12);
          const k = 'level' in policy ? policy.level : policy.point;
          if (k > (quantity > 1 ? -quantity : 0)) {
            expect(stockMeasures(at(family, k - 1, quantity), demand)[of]).toBeLessThan(target);
          }
        }
      }
    }
  });
  it('of 95 % of pieces takes a point of 15 where stock is looked at every 28 days, 11 where it is watched', () => {
    const reviewed = { kind: 'reviewReorder', quantity: 6, leadPeriods: 40, reviewPeriods: 28 } as const;
    const target = { fillRate: 0.95 };
    expect(choosePolicy(reviewed, { kind: 'poisson', mean: 0.2 }, target).policy).toEqual({
      ...reviewed,
      point: 15,
    });
    const watched = choosePolicy({ kind: 'reorder', quantity: 6 }, { kind: 'poisson', mean: 8 }, target);
    // R: mean(ppois(point:(point + 5), 8)) is 0.9301 at 10 and 0.9601 at 11.
    expect(watched.policy).toEqual({ kind: 'reorder', point: 11, quantity: 6 });
  });
  it('stays quick and finite at a mean of 1e5', () => {
    const review = { kind: 'review', leadPeriods: 1, reviewPeriods: 0.5 } as const;
    const { policy } = choosePolicy(review, { kind: 'poisson', mean: 1e5 }, { readyRate: 0.95 });
    if (policy.kind !== 'review') throw new Error('another kind of policy');
    // Nineteen twentieths of the way from one lead time to one and a half.
    expect(policy.level).toBeGreaterThan(147_000);
    expect(policy.level).toBeLessThan(148_000);
    const large = choosePolicy(
      { kind: 'reorder' },
      { kind: 'poisson', mean: 1e5 },
      {
        holdingCost: 1,
        shortageCost: 20,
        orderCost: 100,
      },
    );
    expect(Number.isFinite(large.cost?.total)).toBe(true);
  });
  it('of 0 needs nothing; of 100 %, or two at once, is refused', () => {
    const demand = { kind: 'poisson', mean: 3 } as const;
    const base = { kind: 'baseStock' } as const;
    expect(choosePolicy(base, demand, { fillRate: 0 }).policy).toEqual({ kind: 'baseStock', level: 0 });
    for (const target of [1, 1.2, -0.1, Number.NaN]) {
      expect(() => choosePolicy(base, demand, { fillRate: target })).toThrow(/100 % cannot be met/);
      expect(() => choosePolicy(base, demand, { readyRate: target })).toThrow(/100 % cannot be met/);
    }
    expect(() => choosePolicy(base, demand, { fillRate: 0.5, readyRate: 0.5 })).toThrow(/one target/);
    expect(() => choosePolicy({ kind: 'reorder' }, demand, { fillRate: 0.5 })).toThrow(
      /quantity must be given/,
    );
    expect(() => choosePolicy({ kind: 'reorder', quantity: 0 }, demand, { fillRate: 0.5 })).toThrow(
      /quantity/,
    );
    expect(() => choosePolicy(base, demand, { holdingCost: 0, shortageCost: 1 })).toThrow(/holdingCost/);
    expect(() => choosePolicy(base, demand, { holdingCost: 1, shortageCost: -1 })).toThrow(/shortageCost/);
    expect(() => choosePolicy(base, demand, { holdingCost: 1, shortageCost: 1, span: 0 })).toThrow(/span/);
    expect(() =>
      choosePolicy({ kind: 'reorder' }, { kind: 'poisson', mean: 0 }, { holdingCost: 1, shortageCost: 1 }),
    ).toThrow(/demand must be above 0/);
  });
});
