/**
 * Stock and demand functions that know no fleet against values computed outside the library: library.json, which library.py
 * makes with scipy from definitions (sums, transforms, integrals, searches), and values found before with R.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { compoundLaw } from '../../../lib/demand/compoundLaw.js';
import { intermittentDemand } from '../../../lib/demand/intermittentDemand.js';
import { choosePolicy } from '../../../lib/stock/choosePolicy.js';
import type { LeadTimeDemand } from '../../../lib/stock/leadTimeDemand.js';
import { lotAndPoint } from '../../../lib/stock/lotAndPoint.js';
import { stockMeasures } from '../../../lib/stock/measures.js';
import { newsvendorQuantity } from '../../../lib/stock/newsvendor.js';
import { orderQuantity } from '../../../lib/stock/orderQuantity.js';
import { stockCost } from '../../../lib/stock/stockCost.js';
import { twoLevelStock } from '../../../lib/stock/twoLevelStock.js';

const METHODS = ['croston', 'syntetosBoylan', 'shaleBoylanJohnston', 'teunterSyntetosBabai'] as const;

type Spread = { mean: number; variance: number };
type Intermittent = { smoothing: number; size: number; interval: number } & Record<
  (typeof METHODS)[number],
  Spread
>;
interface Rates {
  point: number;
  quantity: number;
  fill: number;
  ready: number;
  shortage: number;
  cycle: number;
}
interface Reference {
  intermittent: Intermittent[];
  review: (Rates & { demand: LeadTimeDemand; lead: number; review: number; onHand: number })[];
  jobs: (Rates & { jobs: number; sizes: number[]; ordersPerSpan: number; pmf: number[] })[];
  newsstand: { quantity: number; cost: number };
  newsvendor: { mean: number; short: number; left: number; quantity: number; cost: number }[];
  lotAndPoint: { quantity: number; point: number; cost: number; shortPerCycle: number };
  twoLevels: {
    level: number;
    lead: number;
    stores: {
      level: number;
      rate: number;
      transport: number;
      mean: number;
      variance: number;
      fill: number;
      ready: number;
      shortage: number;
    }[];
  }[];
}

const reference = JSON.parse(readFileSync(new URL('./library.json', import.meta.url), 'utf8')) as Reference;

/** Both roads add up a few hundred chances: 1e-10 of the value, or of a piece or a chance where that is tiny. */
function near(value: number, expected: number, relative = 1e-10): void {
  expect(Math.abs(value - expected)).toBeLessThanOrEqual(relative * Math.max(Math.abs(expected), 1e-2));
}

describe('F9: intermittent demand by four methods', () => {
  const series = [0, 0, 3, 0, 0, 0, 1, 0, 2, 0, 0, 0, 0, 5, 0, 0, 1, 0, 0, 2, 0, 0, 0, 4];
  it.each(reference.intermittent)('smoothing $smoothing', (row) => {
    for (const method of METHODS) {
      const forecast = intermittentDemand(series, { method, smoothing: row.smoothing });
      near(forecast.mean, row[method].mean, 1e-12);
      near(forecast.variance, row[method].variance, 1e-11);
    }
    near(intermittentDemand(series, { smoothing: row.smoothing }).size as number, row.size, 1e-12);
  });
  it('has the values that were found before, and the forecast known at the end of each period', () => {
    const at = (method: (typeof METHODS)[number]) => intermittentDemand(series, { method, smoothing: 0.1 });
    near(at('croston').mean, 0.8675161048629014, 1e-12);
    near(at('syntetosBoylan').mean, 0.8241402996197563, 1e-12);
    near(at('shaleBoylanJohnston').mean, 0.821857362501696, 1e-12);
    near(at('teunterSyntetosBabai').mean, 0.833063762730031, 1e-12);
    near(at('teunterSyntetosBabai').chance, 0.3197809403963705, 1e-12);
    const { means } = at('croston');
    // What is forecast for a period is known at the end of the one before.
    expect(means.slice(0, 2)).toEqual([null, null]);
    near(means[2] as number, 1, 1e-12);
    near(means[6] as number, 0.9032258064516129, 1e-12);
    near(means[8] as number, 0.9096989966555183, 1e-12);
    near(means[19] as number, 0.8488513999702033, 1e-12);
  });
});

describe('policies whose stock is looked at now and then', () => {
  it.each(reference.review)(
    '$demand.kind, lead $lead, review $review, point $point, lots of $quantity',
    (row) => {
      const { point, quantity, lead: leadPeriods, review: reviewPeriods } = row;
      const policy = { kind: 'reviewReorder', point, quantity, leadPeriods, reviewPeriods } as const;
      const measures = stockMeasures(policy, row.demand);
      near(measures.fillRate, row.fill);
      near(measures.readyRate, row.ready);
      near(measures.cycleService, row.cycle);
      near(measures.expectedShortage, row.shortage);
      near(measures.expectedOnHand, row.onHand);
      if (quantity === 1) {
        const level = { kind: 'review', level: point + 1, leadPeriods, reviewPeriods } as const;
        expect(stockMeasures(level, row.demand)).toEqual(measures);
      }
    },
  );
});

describe('jobs of several pieces', () => {
  it.each(reference.jobs)('$jobs jobs, point $point, lots of $quantity', (row) => {
    const { jobs, sizes, point, quantity } = row;
    const demand = { kind: 'compound', jobs, sizes } as const;
    const law = compoundLaw(demand);
    row.pmf.forEach((chance, n) => {
      expect(Math.abs((law[n] ?? 0) - chance)).toBeLessThan(1e-14);
    });
    const measures = stockMeasures({ kind: 'reorder', point, quantity }, demand);
    near(measures.fillRate, row.fill);
    near(measures.readyRate, row.ready);
    near(measures.cycleService, row.cycle);
    near(measures.expectedShortage, row.shortage);
    const costs = { holdingCost: 0, shortageCost: 0, orderCost: 1 };
    near(stockCost({ kind: 'reorder', point, quantity }, demand, costs).orders, row.ordersPerSpan);
  });
  it('K21: two jobs of four on average need 23 with 95 % safety, where a Poisson number would need 13', () => {
    const sizes = Float64Array.from({ length: 300 }, (_, v) => (v === 0 ? 0 : 0.25 * 0.75 ** (v - 1)));
    const demand = { kind: 'compound', jobs: 2, sizes } as const;
    const level = (of: LeadTimeDemand) => choosePolicy({ kind: 'baseStock' }, of, { readyRate: 0.95 }).policy;
    expect(level(demand)).toEqual({ kind: 'baseStock', level: 23 });
    expect(level({ kind: 'poisson', mean: 8 })).toEqual({ kind: 'baseStock', level: 13 });
    near(stockMeasures({ kind: 'baseStock', level: 13 }, demand).readyRate, 0.8023801055664521);
  });
});

describe('F4: point and quantity of least cost (instances of Federgruen & Zheng 1992)', () => {
  it.each([
    [50, 1, 10, 25, 1, 50, 7, 95.46105689347954],
    [50, 1, 10, 25, 5, 48, 12, 115.31981970672776],
    [50, 1, 10, 25, 25, 44, 23, 171.08966460073614],
    [50, 1, 10, 25, 100, 38, 40, 289.37445212219217],
    [50, 1, 10, 25, 1000, 15, 120, 852.4999999990035],
    [2, 1, 1, 20, 10, 2, 7, 7.827078210385286],
    [6, 0.5, 2, 40, 15, 3, 11, 22.202216673822868],
  ])(
    'demand %d, lead %d, holding %d, shortage %d, order %d',
    (rate, lead, h, p, k, point, quantity, cost) => {
      const costs = { holdingCost: h, shortageCost: p, orderCost: k, span: lead };
      const chosen = choosePolicy({ kind: 'reorder' }, { kind: 'poisson', mean: rate * lead }, costs);
      expect(chosen.policy).toEqual({ kind: 'reorder', point, quantity });
      near(chosen.cost?.total as number, cost);
    },
  );
});

describe('F6: the newsvendor', () => {
  it('has the published ratio of 0.77 and quantity of 15 (Nahmias, newsstand, from memory)', () => {
    const best = newsvendorQuantity(
      { kind: 'normal', mean: 11.73, sd: 4.74 },
      { costPerShort: 0.5, costPerLeft: 0.15 },
    );
    expect(best.criticalRatio).toBeCloseTo(0.77, 2);
    expect(Math.round(best.quantity)).toBe(15);
    near(best.quantity, reference.newsstand.quantity, 1e-12);
    near(best.quantity, 15.220137448362854, 1e-11);
    near(best.expectedCost, reference.newsstand.cost);
    near(best.expectedCost, 0.937287813819037, 1e-11);
    near(best.expectedLeft, 4.12670236615456, 1e-11);
    near(best.expectedShort, 0.6365649177917061, 1e-11);
  });
  it.each(reference.newsvendor)('mean $mean, short $short, left $left', (row) => {
    const costs = { costPerShort: row.short, costPerLeft: row.left };
    const best = newsvendorQuantity({ kind: 'poisson', mean: row.mean }, costs);
    expect(best.quantity).toBe(row.quantity);
    near(best.expectedCost, row.cost);
  });
  it('has the costs that were found before', () => {
    const cost = (mean: number, costPerShort: number, costPerLeft: number): number =>
      newsvendorQuantity({ kind: 'poisson', mean }, { costPerShort, costPerLeft }).expectedCost;
    near(cost(4, 9, 1), 3.8476060306036337, 1e-11);
    near(cost(1.2, 50, 3), 7.695354575841872, 1e-11);
    near(cost(20, 4, 1), 6.43800370200873, 1e-11);
  });
});

describe('F7: the lot of steady demand', () => {
  it('has the published 3870 pencils (Nahmias, from memory) and the values found before', () => {
    const pencils = orderQuantity({ demand: 3120, orderCost: 12, holdingCost: 0.005 });
    expect(Math.round(pencils.quantity / 10)).toBe(387);
    near(pencils.quantity, 3869.883719183304, 1e-12);
    near(pencils.runningCost, 19.349418595916518, 1e-12);
    near(orderQuantity({ demand: 1000, orderCost: 50, holdingCost: 4 }).quantity, 158.11388300841898, 1e-12);
    const few = orderQuantity({ demand: 12, orderCost: 75, holdingCost: 30 });
    near(few.quantity, 7.745966692414834, 1e-12);
    near(few.runningCost, 232.379000772445, 1e-12);
  });
  it('is wider where lots come bit by bit or pieces may be owed', () => {
    // The source gives no inputs; these have the root 645.5, supply at four times demand, shortage at five times holding.
    const steady = { demand: 2500, orderCost: 500, holdingCost: 6 };
    near(orderQuantity({ ...steady, supplyRate: 10_000 }).quantity, 745.3559924999299, 1e-12);
    const owed = orderQuantity({ ...steady, shortageCost: 30 });
    near(owed.quantity, 707.1067811865476, 1e-12);
    near(owed.mostOwed, 117.85113019775793, 1e-12);
  });
});

describe('F8: lot and point with normal demand over the lead time', () => {
  const found = lotAndPoint({
    demandPerYear: 200,
    orderCost: 50,
    holdingCost: 2,
    costPerShort: 25,
    leadMean: 100,
    leadSd: 25,
  });
  it('has the published 111 and 143 (Nahmias, mustard, from memory) and the values found before', () => {
    expect(Math.round(found.quantity)).toBe(111);
    expect(Math.round(found.point)).toBe(143);
    near(found.quantity, 110.7737374757601);
    near(found.point, 142.5681989874964);
    near(found.shortPerCycle, 0.4541641828697233);
    near(found.cycleService, 0.955690505009696);
    near(found.fillRate, 0.9959000734901708);
    near(found.costPerYear, 306.683872926513);
    near(found.safetyStock, 42.5681989874964);
  });
  it('goes through the rounds that were found before', () => {
    const rounds = [
      [100, 143.76715178130425, 0.40365827939736204],
      [109.62796813307638, 142.6911059722614, 0.4487464404064161],
      [110.65139945808222, 142.58127321202915, 0.45358519052571394],
    ];
    rounds.forEach(([quantity, point, short], i) => {
      near(found.rounds[i]?.quantity as number, quantity as number);
      near(found.rounds[i]?.point as number, point as number);
      near(found.rounds[i]?.shortPerCycle as number, short as number);
    });
  });
  it('costs what a search over all points finds', () => {
    // The valley is flat: the cost to ten digits, its place to the root of that.
    near(found.costPerYear, reference.lotAndPoint.cost);
    near(found.point, reference.lotAndPoint.point, 1e-6);
    near(found.quantity, reference.lotAndPoint.quantity, 1e-6);
  });
});

describe('local stores behind a central one (Graves 1985)', () => {
  it.each(reference.twoLevels)('central level $level, lead $lead', (row) => {
    const stores = row.stores.map(({ level, rate, transport }) => ({
      level,
      demandPerTime: rate,
      transportTime: transport,
    }));
    const found = twoLevelStock({ central: { level: row.level, leadTime: row.lead }, stores });
    row.stores.forEach((store, i) => {
      const measures = found.stores[i];
      near(measures?.outstandingMean as number, store.mean);
      near(measures?.outstandingVariance as number, store.variance);
      near(measures?.fillRate as number, store.fill);
      near(measures?.readyRate as number, store.ready);
      near(measures?.expectedShortage as number, store.shortage);
    });
  });
});
