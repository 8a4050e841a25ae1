import { describe, expect, it } from 'vitest';
import {
  type Amount,
  addAmounts,
  exactly,
  fromSetting,
  multiplyAmounts,
  scaleAmount,
} from '../../lib/cost/amount.js';
import { amountDrawer } from '../../lib/cost/draw.js';
import { groupCost } from '../../lib/cost/groupCost.js';
import { addSpreads, meanOf, scaleSpread, spreadQuantile } from '../../lib/cost/spread.js';
import { randomStream } from '../../lib/numeric/random.js';
import { exact, testPlant } from '../interval/fixtures.js';

const a = { low: 1, likely: 2, high: 6 };

describe('spreads', () => {
  it('add end by end', () => {
    expect(addSpreads(a, exact(10))).toEqual({ low: 11, likely: 12, high: 16 });
    expect(scaleSpread(a, 2)).toEqual({ low: 2, likely: 4, high: 12 });
    expect(addSpreads()).toEqual(exact(0));
  });

  it('the mean is that of the triangle', () => expect(meanOf(a)).toBe(3));

  it('the quantile inverts the triangular distribution', () => {
    // Below the peak F(x) = (x - 1)² / (5 · 1): the peak is at 0.2; above it 1 - F(x) = (6 - x)² / (5 · 4).
    expect(spreadQuantile(a, 0)).toBe(1);
    expect(spreadQuantile(a, 0.2)).toBeCloseTo(2, 12);
    expect(spreadQuantile(a, 0.05)).toBeCloseTo(1.5, 12);
    expect(spreadQuantile(a, 0.8)).toBeCloseTo(4, 12);
    expect(spreadQuantile(a, 1)).toBe(6);
    expect(spreadQuantile(exact(7), 0.3)).toBe(7);
    expect(spreadQuantile({ low: 1, likely: 1, high: 2 }, 0.75)).toBeCloseTo(1.5, 12);
    expect(spreadQuantile({ low: 1, likely: 2, high: 2 }, 0.25)).toBeCloseTo(1.5, 12);
  });
});

describe('amounts', () => {
  const chance = fromSetting('chance', { low: 0.01, likely: 0.05, high: 0.2 });
  const value = fromSetting('value', { low: 50_000, likely: 100_000, high: 500_000 });

  it('add and multiply end by end, and keep their mean', () => {
    const product = multiplyAmounts(chance, value);
    expect(product).toMatchObject({ low: 500, likely: 5000, high: 100_000 });
    // 0.26 / 3 times 650 000 / 3; the mean of the three ends would be 35 167.
    expect(meanOf(product)).toBeCloseTo((0.26 / 3) * (650_000 / 3), 9);
    expect(addAmounts(product, exactly(10))).toMatchObject({ low: 510, likely: 5010, high: 100_010 });
    expect(meanOf(addAmounts(product, product, exactly(10)))).toBeCloseTo(2 * meanOf(product) + 10, 8);
    expect(meanOf(scaleAmount(product, 3))).toBeCloseTo(3 * meanOf(product), 8);
    expect(addAmounts()).toMatchObject({ low: 0, likely: 0, high: 0, mean: 0 });
    expect(meanOf(fromSetting('not given', null))).toBe(0);
  });

  it('are drawn with the mean of the product, between its ends, within 4 standard errors', () => {
    const product = multiplyAmounts(chance, value);
    const drawn = amountDrawer(100_000, randomStream(11, 'test'))(product);
    const mean = drawn.reduce((sum, x) => sum + x, 0) / drawn.length;
    const variance = drawn.reduce((sum, x) => sum + (x - mean) ** 2, 0) / drawn.length;
    expect(Math.abs(mean - (0.26 / 3) * (650_000 / 3))).toBeLessThan(4 * Math.sqrt(variance / drawn.length));
    expect(drawn.every((x) => x >= product.low && x <= product.high)).toBe(true);
  });

  it('of one setting are high or low together, in whatever amount it is', () => {
    const draw = amountDrawer(50, randomStream(11, 'test'));
    const doubled = draw(scaleAmount(value, 2));
    draw(value).forEach((x, d) => {
      expect(doubled[d]).toBeCloseTo(2 * x, 9);
    });
    // Another line's rate, of the same setting: the same rank.
    const other = draw(fromSetting('value', { low: 0, likely: 0, high: 1 }));
    const order = (column: Float64Array): number[] =>
      [...column.keys()].sort((x, y) => (column[x] as number) - (column[y] as number));
    expect(order(other)).toEqual(order(draw(value)));
  });
});

describe('draws of the costs of a group', () => {
  const { fleet, grouped } = testPlant(
    [
      { shape: 3, scale: 900, ages: [1, 2] },
      { material: 'FKM', shape: 3, scale: 900, ages: [1] },
    ],
    {
      money: {
        labourPerHour: a,
        fittingHours: exact(2),
        cleanupCost: { low: 100, likely: 100, high: 400 },
      },
    },
  );
  const costs = grouped.groups.map((group) => groupCost(fleet, group));
  const draw = amountDrawer(20_000, randomStream(5, 'test'));
  const mean = (amount?: Amount): number => draw(amount ?? exactly(0)).reduce((x, y) => x + y, 0) / 20_000;

  it('have the mean that plans are made on, within 4 standard errors', () => {
    // Labour 2 h at a triangle 1, 2, 6 (sd 1.08): 6, plus the part at 40; clean-up a triangle 100, 100, 400 (sd 70.7).
    expect(meanOf(costs[0]?.replacement ?? exactly(0))).toBeCloseTo(46, 9);
    expect(Math.abs(mean(costs[0]?.replacement) - 46)).toBeLessThan((4 * 2 * 1.08) / Math.sqrt(20_000));
    expect(Math.abs(mean(costs[0]?.leak) - 246)).toBeLessThan((4 * 71) / Math.sqrt(20_000));
  });

  it('share a rate between groups and repeat with the seed', () => {
    const [first, second] = costs.map(({ labour }) => draw(labour));
    expect(second).toEqual(first);
    const again = amountDrawer(50, randomStream(5, 'test'))(costs[0]?.labour ?? exactly(0));
    expect(again).toEqual(first?.slice(0, 50));
  });
});
