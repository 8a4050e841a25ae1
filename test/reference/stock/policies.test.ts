/**
 * Stock measures against values computed outside the library: policies.json, which policies.py makes with scipy. Values
 * in the text of a check were printed by the source named there, or computed before with R.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  negativeBinomialCdf,
  negativeBinomialQuantile,
  poissonQuantile,
} from '../../../lib/numeric/special.js';
import { stockMeasures } from '../../../lib/stock/measures.js';
import { servedShare } from '../../../lib/stock/reorderPoint.js';

interface Row {
  mean: number;
  shortage: number;
  onHand: number;
  ready: number;
  fill: number;
}
interface Reference {
  assurance: { mean: number; spares: Record<string, number> }[];
  lamp: { mean: number; spares: number; assurance: number };
  oneForOne: (Row & { level: number })[];
  large: (Row & { level: number })[];
  lots: (Row & {
    point: number;
    quantity: number;
    holding: number;
    backorder: number;
    orderCostPerTime: number;
    cost: number;
  })[];
  uncertainRate: { mean: number; variance: number; cdf: number[]; spares95: number }[];
  mixedTarget: { leadMean: number; fill2: number; fill5: number };
  periodic: {
    rate: number;
    lead: number;
    leadSd: number;
    review: number;
    point: number;
    quantity: number;
    served: number;
  }[];
}

const reference = JSON.parse(readFileSync(new URL('./policies.json', import.meta.url), 'utf8')) as Reference;

function near(value: number, expected: number, relative: number): void {
  expect(Math.abs(value - expected)).toBeLessThanOrEqual(relative * Math.max(Math.abs(expected), 1e-9));
}

describe('F1: spares for a stated assurance', () => {
  it.each(reference.assurance)('mean $mean', ({ mean, spares }) => {
    for (const [assurance, least] of Object.entries(spares)) {
      expect(poissonQuantile(Number(assurance), mean)).toBe(least);
    }
  });
  it('gives .968 for nine spares at a mean of five, as the handbook prints (MIL-HDBK-338B, projector lamps, from memory)', () => {
    const { readyRate } = stockMeasures({ kind: 'baseStock', level: 9 }, { kind: 'poisson', mean: 5 });
    expect(readyRate).toBeCloseTo(0.968, 3);
    near(readyRate, reference.lamp.assurance, 1e-12);
  });
});

describe('F2: one-for-one stock (Palm; Sherbrooke 2004, ch. 2)', () => {
  it.each(reference.oneForOne)(
    'mean $mean, level $level',
    ({ mean, level, shortage, onHand, ready, fill }) => {
      const measures = stockMeasures({ kind: 'baseStock', level }, { kind: 'poisson', mean });
      near(measures.expectedShortage, shortage, 1e-10);
      near(measures.expectedOnHand, onHand, 1e-10);
      near(measures.readyRate, ready, 1e-11);
      near(measures.cycleService, ready, 1e-11);
      near(measures.fillRate, fill, 1e-11);
    },
  );
  it.each(reference.large)('stays exact at a mean of $mean, level $level', (row) => {
    const measures = stockMeasures(
      { kind: 'baseStock', level: row.level },
      { kind: 'poisson', mean: row.mean },
    );
    near(measures.readyRate, row.ready, 1e-8);
    near(measures.fillRate, row.fill, 1e-8);
    near(measures.expectedShortage, row.shortage, 1e-7);
    near(measures.expectedOnHand, row.onHand, 1e-7);
  });
  it('keeps chance of no shortage and share served apart: mean 3, 95 % takes 6 or 7', () => {
    // R: ppois(3:8, 3) and ppois(2:7, 3).
    const levels = [3, 4, 5, 6, 7, 8].map((level) =>
      stockMeasures({ kind: 'baseStock', level }, { kind: 'poisson', mean: 3 }),
    );
    const ready = [0.647232, 0.815263, 0.916082, 0.966491, 0.988095, 0.996197];
    const fill = [0.42319, 0.647232, 0.815263, 0.916082, 0.966491, 0.988095];
    levels.forEach((measures, i) => {
      expect(measures.readyRate).toBeCloseTo(ready[i] as number, 6);
      expect(measures.fillRate).toBeCloseTo(fill[i] as number, 6);
    });
  });
  it('K8: shows that a target over all demand hides leaks: 2 meet it with half the leaks served, leaks need 5', () => {
    const { leadMean, fill2, fill5 } = reference.mixedTarget;
    const at = (level: number) =>
      stockMeasures({ kind: 'baseStock', level }, { kind: 'poisson', mean: leadMean }).fillRate;
    near(at(2), fill2, 1e-11);
    near(at(2), 0.5112454927679877, 1e-10);
    near(at(5), fill5, 1e-11);
    near(at(5), 0.9738871357298156, 1e-10);
    expect((90 + 10 * at(2)) / 100).toBeGreaterThanOrEqual(0.95);
    expect(at(4)).toBeLessThan(0.95);
  });
});

describe('point and quantity (instances of Federgruen & Zheng 1992)', () => {
  it.each(reference.lots)('point $point, quantity $quantity at mean $mean', (row) => {
    const { point, quantity, mean } = row;
    const measures = stockMeasures({ kind: 'reorder', point, quantity }, { kind: 'poisson', mean });
    near(measures.expectedShortage, row.shortage, 1e-10);
    near(measures.expectedOnHand, row.onHand, 1e-10);
    near(measures.fillRate, row.fill, 1e-11);
    near(measures.readyRate, row.ready, 1e-11);
    const stock = row.holding * measures.expectedOnHand + row.backorder * measures.expectedShortage;
    near(row.orderCostPerTime / quantity + stock, row.cost, 1e-10);
  });
  it('has the published best cost of 95.46 at point 50, quantity 7', () => {
    const { expectedOnHand, expectedShortage } = stockMeasures(
      { kind: 'reorder', point: 50, quantity: 7 },
      { kind: 'poisson', mean: 50 },
    );
    near(50 / 7 + 10 * expectedOnHand + 25 * expectedShortage, 95.46105689347954, 1e-10);
  });
});

describe('F10: spares under an uncertain rate', () => {
  it.each(reference.uncertainRate)('mean $mean, variance $variance', ({ mean, variance, cdf, spares95 }) => {
    cdf.forEach((chance, k) => {
      near(negativeBinomialCdf(k, mean, variance), chance, 1e-10);
      const demand = { kind: 'negativeBinomial', mean, variance } as const;
      near(stockMeasures({ kind: 'baseStock', level: k }, demand).readyRate, chance, 1e-10);
    });
    expect(negativeBinomialQuantile(0.95, mean, variance)).toBe(spares95);
  });
});

describe('a target on a step of the distribution', () => {
  it.each([0.2, 0.8, 2.5, 6, 17.3])('gives the step back at mean %d', (mean) => {
    for (let k = 0; k <= 30; k++) {
      const { readyRate } = stockMeasures({ kind: 'baseStock', level: k }, { kind: 'poisson', mean });
      expect(readyRate).toBeLessThanOrEqual(1);
      if (readyRate < 1 - 1e-12) expect(poissonQuantile(readyRate, mean)).toBe(k);
    }
  });
});

describe('periodic review with undershoot (Hadley & Whitin 1963, ch. 5)', () => {
  it.each(reference.periodic)('review $review, spread of the lead time $leadSd', (row) => {
    const random = { perDay: row.rate, variancePerDay: row.rate, rateSd: 0 };
    const supply = { leadDays: row.lead, leadSdDays: row.leadSd, reviewDays: row.review };
    near(servedShare(random, supply, row.point, row.quantity), row.served, 1e-9);
  });
});
