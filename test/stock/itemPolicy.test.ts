/** The rule of an item: what it does, what it comes to, and a plain run of the store that must agree. */
import { describe, expect, it } from 'vitest';
import { itemAt } from '../../lib/numeric/columns.js';
import { randomStream } from '../../lib/numeric/random.js';
import { gammaQuantile } from '../../lib/numeric/special.js';
import { choosePolicy } from '../../lib/stock/choosePolicy.js';
import { countTable } from '../../lib/stock/countTable.js';
import { itemPolicy, type PolicyInput } from '../../lib/stock/itemPolicy.js';
import { type CountLaw, countDistribution } from '../../lib/stock/leadTimeDemand.js';
import { stockMeasures } from '../../lib/stock/measures.js';
import { reorderPoint, servedShare } from '../../lib/stock/reorderPoint.js';
import type { ItemPolicy } from '../../lib/stock/types.js';
import { NO_MONEY } from '../demand/empty.js';
import { fullItem } from '../demand/plant.js';
import { storeRun } from './storeRun.js';

const exactly = (likely: number) => ({ low: likely, likely, high: likely });
const MONEY = { ...NO_MONEY, orderCost: exactly(60), holdingRatePerYear: exactly(0.25) };

function inputOf(change: Partial<PolicyInput> & { quantity?: number } = {}): PolicyInput {
  const { quantity = 6, ...rest } = change;
  const random = rest.random ?? { perDay: 0.05, variancePerDay: 0.05, rateSd: 0 };
  const supply = rest.supply ?? { leadDays: 40, leadSdDays: 0, reviewDays: 7 };
  const target = rest.target ?? 0.95;
  return {
    item: fullItem({ price: 40 }),
    leaksPerYear: 10,
    money: MONEY,
    shortCost: 1000,
    ...rest,
    random,
    supply,
    target,
    reorder: { point: reorderPoint(random, supply, target, quantity), quantity },
  };
}

function policyOf(input: PolicyInput): ItemPolicy {
  const policy = itemPolicy(input);
  if (policy === null) throw new Error('something is asked for');
  return policy;
}

describe('a table of a law', () => {
  const laws: CountLaw[] = [
    { kind: 'poisson', mean: 1e-9 },
    { kind: 'poisson', mean: 0.4 },
    { kind: 'poisson', mean: 900 },
    { kind: 'poisson', mean: 1e5 },
    { kind: 'negativeBinomial', mean: 0.3, variance: 2 },
    { kind: 'negativeBinomial', mean: 5, variance: 5.0001 },
    { kind: 'negativeBinomial', mean: 900, variance: 90_000 },
  ];
  it.each(laws)('has the chances of the functions it stands for: %j', (law) => {
    const exact = countDistribution('test', law);
    const table = countTable(law);
    const { mean } = law;
    const sd = Math.sqrt(law.kind === 'poisson' ? mean : law.variance);
    for (const z of [-4, -1, -0.3, 0, 0.5, 2, 5]) {
      const k = Math.max(0, Math.round(mean + z * sd));
      expect(table.cdf(k)).toBeCloseTo(exact.cdf(k), 10);
      expect(table.pmf(k) / exact.pmf(k)).toBeCloseTo(1, 7);
      // Tails as far as they matter to a mean number of pieces.
      if (exact.above(k) > 1e-14) expect(table.above(k) / exact.above(k)).toBeCloseTo(1, 3);
    }
    expect(table.cdf(-1)).toBe(0);
    expect(table.above(-1)).toBe(1);
  });
});

describe('measures', () => {
  it('are those of stockMeasures where the lead time is fixed and the rate is known', () => {
    const policy = policyOf(inputOf());
    const { point, quantity, measures } = policy;
    const week = { kind: 'poisson', mean: 0.35 } as const;
    const own = { kind: 'reviewReorder', point: point ?? 0, quantity: quantity ?? 1 } as const;
    const expected = stockMeasures({ ...own, leadPeriods: 40 / 7, reviewPeriods: 1 }, week);
    expect(policy.kind).toBe('reorder point');
    for (const name of [
      'fillRate',
      'readyRate',
      'cycleService',
      'expectedShortage',
      'expectedOnHand',
    ] as const) {
      expect(measures[name]).toBeCloseTo(expected[name], 9);
    }
    expect(measures.waitingDays).toBeCloseTo(7 * expected.meanWait, 8);
  });
  it('serve what the reorder point of the row serves, lead time and rate uncertain', () => {
    const random = { perDay: 0.05, variancePerDay: 0.09, rateSd: 0.01 };
    const supply = { leadDays: 40, leadSdDays: 10, reviewDays: 7 };
    const input = inputOf({ random, supply });
    const served = servedShare(random, supply, input.reorder.point, input.reorder.quantity);
    expect(policyOf(input).measures.fillRate).toBeCloseTo(served, 9);
    expect(served).toBeGreaterThanOrEqual(0.95);
  });
  it('each rule is the smallest that meets the target, as choosePolicy finds it', () => {
    const policy = policyOf(inputOf({ money: { ...MONEY, orderCost: exactly(0) } }));
    const week = { kind: 'poisson', mean: 0.35 } as const;
    const chosen = choosePolicy({ kind: 'review', leadPeriods: 40 / 7, reviewPeriods: 1 }, week, {
      fillRate: 0.95,
    });
    // Orders that cost nothing: each piece again.
    expect(policy).toMatchObject({ kind: 'one for one', level: (chosen.policy as { level: number }).level });
  });
});

describe('choice', () => {
  it('of least cost among those that meet the target', () => {
    const policy = policyOf(inputOf());
    const paid = (policy.costPerYear?.total ?? 0) - (policy.costPerYear?.shortage ?? 0);
    expect(policy.chosenBy).toBe('cost');
    expect(policy.others.map(({ kind }) => kind)).toEqual(['one for one', 'order up to', 'order up to']);
    for (const other of policy.others) {
      expect(other.fillRate).toBeGreaterThanOrEqual(0.95);
      const short = (1 - other.fillRate) * 0.05 * 365.25 * 1000;
      expect((other.costPerYear ?? 0) - short).toBeGreaterThanOrEqual(paid - 0.01);
    }
  });
  it('is the reorder point where a price is missing, and has no cost then', () => {
    for (const item of [fullItem({ price: null }), fullItem({ price: 40 })]) {
      const money = item.price === null ? MONEY : NO_MONEY;
      const policy = policyOf(inputOf({ item, money }));
      expect(policy).toMatchObject({
        kind: 'reorder point',
        chosenBy: 'target',
        costPerYear: null,
        leastCost: null,
      });
    }
  });
  it('leaves out single orders where the supplier does not take them', () => {
    const policy = policyOf(inputOf({ item: fullItem({ pack: 1, minOrder: 6 }) }));
    expect(policy.others).toEqual([]);
    const packs = policyOf(inputOf({ item: fullItem({ pack: 3, minOrder: 3 }) }));
    expect(packs.others.map(({ kind }) => kind)).toEqual(['order up to', 'order up to', 'order up to']);
  });
  it('says what would cost least where a shortage has a price: no neighbour is cheaper', () => {
    const input = inputOf({ shortCost: 20_000 });
    const { leastCost, costPerYear, point } = policyOf(input);
    expect(leastCost?.point).toBeGreaterThan(point ?? 0);
    expect(leastCost?.saving).toBeCloseTo((costPerYear?.total ?? 0) - (leastCost?.costPerYear ?? 0), 9);
    const cost = (k: number): number => {
      const { measures } = policyOf({
        ...input,
        item: fullItem({ price: 40, minOrder: 6 }),
        reorder: { point: k, quantity: 6 },
      });
      return measures.expectedOnHand * 10 + (1 - measures.fillRate) * 0.05 * 365.25 * 20_000;
    };
    const best = leastCost?.point ?? 0;
    expect(cost(best)).toBeLessThanOrEqual(cost(best - 1));
    expect(cost(best)).toBeLessThanOrEqual(cost(best + 1));
  });
  it('is none where nothing is asked for', () => {
    expect(itemPolicy(inputOf({ random: { perDay: 0, variancePerDay: 0, rateSd: 0 } }))).toBeNull();
  });
  it.each([0, 0.5, 0.999])('stays finite at a target of %s, at 1e-6 and at 300 pieces a day', (target) => {
    for (const perDay of [1e-6, 300]) {
      const random = { perDay, variancePerDay: 2 * perDay, rateSd: perDay / 10 };
      for (const supply of [
        { leadDays: 0, leadSdDays: 0, reviewDays: 7 },
        { leadDays: 90, leadSdDays: 30, reviewDays: 28 },
      ]) {
        const policy = policyOf(inputOf({ random, supply, target, quantity: Math.ceil(90 * perDay) }));
        expect(JSON.stringify(policy)).not.toMatch(/NaN|null,"measures|Infinity/);
        for (const rate of [
          policy.measures.fillRate,
          policy.measures.readyRate,
          policy.measures.cycleService,
        ]) {
          expect(rate).toBeGreaterThanOrEqual(0);
          expect(rate).toBeLessThanOrEqual(1);
        }
      }
    }
  });
});

describe('a plain run of the store', () => {
  /** Many spells, each with a lead time and a rate of its own: both are gamma over the spells. */
  function runs(policy: ItemPolicy, { random, supply }: PolicyInput, spells: number, pieces: number) {
    const stream = randomStream(31, policy.rule);
    const draw = (mean: number, sd: number): number =>
      sd > 0 ? gammaQuantile(stream.uniform(), (mean / sd) ** 2, (sd * sd) / mean) : mean;
    const point = policy.point ?? (policy.level ?? 0) - 1;
    return Array.from({ length: spells }, (_, i) => {
      const rate = draw(random.perDay, random.rateSd);
      const run = storeRun({
        jobs: rate,
        sizes: [0, 1],
        lead: draw(supply.leadDays, supply.leadSdDays),
        point,
        quantity: policy.quantity ?? 1,
        review: policy.everyDays,
        seed: 1000 + i,
        blocks: 1,
        jobsPerBlock: pieces,
      });
      return { rate, run };
    });
  }

  it.each([
    ['reorder point', { quantity: 20 }],
    ['one for one', { money: { ...MONEY, orderCost: exactly(0) } }],
    [
      'order up to',
      { money: { ...MONEY, orderCost: exactly(2000), holdingRatePerYear: exactly(0.05) }, quantity: 1 },
    ],
  ] as const)('agrees with the measures of %s, the lead time and the rate uncertain', (kind, change) => {
    const input = inputOf({
      random: { perDay: 0.2, variancePerDay: 0.2, rateSd: 0.03 },
      supply: { leadDays: 30, leadSdDays: 8, reviewDays: 7 },
      target: 0.9,
      ...change,
    });
    const policy = policyOf(input);
    expect(policy.kind).toBe(kind);
    // Of whole lots, so that a spell does not end in the middle of one.
    const spells = runs(policy, input, 1500, 200);
    const seen = (
      value: (each: (typeof spells)[number]) => number,
      weight = (_: (typeof spells)[number]) => 1,
    ) => {
      const weights = spells.map(weight);
      const total = weights.reduce((a, b) => a + b, 0);
      const mean = spells.reduce((sum, each, i) => sum + itemAt(weights, i) * value(each), 0) / total;
      const square = spells.reduce(
        (sum, each, i) => sum + (itemAt(weights, i) * (value(each) - mean)) ** 2,
        0,
      );
      return { mean, error: Math.sqrt(square) / total };
    };
    // A spell counts by its time; pieces served at once by the pieces asked for in it.
    const fill = seen(
      ({ run }) => run.fill.mean,
      ({ rate }) => rate,
    );
    const ready = seen(({ run }) => run.ready.mean);
    const short = seen(({ run }) => run.shortage.mean);
    const shelf = seen(({ run }) => run.onHand.mean);
    const orders = seen(({ run }) => run.orders.mean * 365.25);
    const { measures } = policy;
    // The effects to be found: a tenth of a point of share, a tenth of a piece.
    const agrees = (
      { mean, error }: { mean: number; error: number },
      expected: number,
      effect: number,
    ): void => {
      expect(error).toBeLessThanOrEqual(effect / 8);
      expect(Math.abs(mean - expected)).toBeLessThanOrEqual(4 * error);
    };
    agrees(fill, measures.fillRate, 0.06);
    agrees(ready, measures.readyRate, 0.06);
    agrees(short, measures.expectedShortage, 0.4);
    agrees(shelf, measures.expectedOnHand, 1.2);
    agrees(orders, measures.ordersPerYear, 1);
  });
});
