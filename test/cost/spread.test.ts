import { describe, expect, it } from 'vitest';
import { drawCosts, drawnLeak, drawnReplacement } from '../../lib/cost/draw.js';
import { groupCost } from '../../lib/cost/groupCost.js';
import {
  addSpreads,
  exactly,
  meanOf,
  multiplySpreads,
  scaleSpread,
  spreadQuantile,
} from '../../lib/cost/spread.js';
import { randomStream } from '../../lib/numeric/random.js';
import { testPlant } from '../interval/fixtures.js';

const a = { low: 1, likely: 2, high: 6 };

describe('spreads', () => {
  it('add and multiply end by end', () => {
    expect(addSpreads(a, exactly(10))).toEqual({ low: 11, likely: 12, high: 16 });
    expect(multiplySpreads(a, { low: 0, likely: 1, high: 3 })).toEqual({ low: 0, likely: 2, high: 18 });
    expect(scaleSpread(a, 2)).toEqual({ low: 2, likely: 4, high: 12 });
    expect(addSpreads()).toEqual(exactly(0));
  });

  it('the mean is that of the triangle', () => expect(meanOf(a)).toBe(3));

  it('the quantile inverts the triangular distribution', () => {
    // Below the peak F(x) = (x - 1)² / (5 · 1): the peak is at 0.2; above it 1 - F(x) = (6 - x)² / (5 · 4).
    expect(spreadQuantile(a, 0)).toBe(1);
    expect(spreadQuantile(a, 0.2)).toBeCloseTo(2, 12);
    expect(spreadQuantile(a, 0.05)).toBeCloseTo(1.5, 12);
    expect(spreadQuantile(a, 0.8)).toBeCloseTo(4, 12);
    expect(spreadQuantile(a, 1)).toBe(6);
    expect(spreadQuantile(exactly(7), 0.3)).toBe(7);
    expect(spreadQuantile({ low: 1, likely: 1, high: 2 }, 0.75)).toBeCloseTo(1.5, 12);
    expect(spreadQuantile({ low: 1, likely: 2, high: 2 }, 0.25)).toBeCloseTo(1.5, 12);
  });
});

describe('draws of costs', () => {
  const { fleet, grouped } = testPlant(
    [
      { shape: 3, scale: 900, ages: [1, 2] },
      { material: 'FKM', shape: 3, scale: 900, ages: [1] },
    ],
    {
      money: {
        labourPerHour: a,
        fittingHours: exactly(2),
        cleanupCost: { low: 100, likely: 100, high: 400 },
      },
    },
  );
  const costs = grouped.groups.map((group) => groupCost(fleet, group));
  const drawn = drawCosts(costs, 20_000, randomStream(5, 'test'));
  const mean = (of: (d: number) => number): number =>
    Array.from({ length: 20_000 }, (_, d) => of(d)).reduce((x, y) => x + y, 0) / 20_000;

  it('have the mean of the spreads, within 4 standard errors', () => {
    const [first] = drawn;
    if (first === undefined) throw new Error('no draws');
    // Labour 2 h at a triangle 1, 2, 6 (sd 1.08): 6, plus the part at 40; clean-up a triangle 100, 100, 400 (sd 70.7).
    expect(Math.abs(mean((d) => drawnReplacement(first, d)) - 46)).toBeLessThan(
      (4 * 2 * 1.08) / Math.sqrt(20_000),
    );
    expect(Math.abs(mean((d) => drawnLeak(first, d)) - 246)).toBeLessThan((4 * 71) / Math.sqrt(20_000));
  });

  it('share a rate between groups and repeat with the seed', () => {
    expect(drawn[1]?.labour).toEqual(drawn[0]?.labour);
    expect(drawCosts(costs, 50, randomStream(5, 'test'))[0]?.labour).toEqual(drawn[0]?.labour.slice(0, 50));
  });
});
