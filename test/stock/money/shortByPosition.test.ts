import { describe, expect, it } from 'vitest';
import { servedByLevel, shortByPosition } from '../../../lib/stock/money/shortByPosition.js';
import { servedShare } from '../../../lib/stock/reorderPoint.js';

const SUPPLIES = [
  { leadDays: 40, leadSdDays: 10, reviewDays: 7 },
  { leadDays: 120, leadSdDays: 0, reviewDays: 28 },
  { leadDays: 0, leadSdDays: 0, reviewDays: 7 },
  { leadDays: 25, leadSdDays: 6, reviewDays: 0 },
];
const RANDOM = [
  { perDay: 0.02, variancePerDay: 0.02, rateSd: 0 },
  { perDay: 0.2, variancePerDay: 0.5, rateSd: 0.03 },
  { perDay: 1e-5, variancePerDay: 1e-5, rateSd: 2e-6 },
  { perDay: 3, variancePerDay: 3.5, rateSd: 0.2 },
];

describe('share served by position', () => {
  it('is that of the policy, position by position and lot by lot', () => {
    let compared = 0;
    for (const supply of SUPPLIES) {
      for (const random of RANDOM) {
        const served = servedByLevel(shortByPosition(random, supply));
        for (const lot of [1, 2, 10]) {
          for (let level = lot; level < 40; level += 3) {
            const policy = servedShare(random, supply, level - lot, lot);
            // Both sum shares of a review's demand: differences of back orders some 10 to 1000 times as large.
            expect(Math.abs(served(level, lot) - policy)).toBeLessThan(1e-10);
            compared += 1;
          }
        }
      }
    }
    expect(compared).toBeGreaterThan(500);
  });

  it('holds for hundreds of pieces in a lead time', () => {
    const random = { perDay: 20, variancePerDay: 60, rateSd: 1 };
    const supply = { leadDays: 60, leadSdDays: 0, reviewDays: 7 };
    const served = servedByLevel(shortByPosition(random, supply));
    for (const level of [900, 1300, 1500, 1700]) {
      expect(served(level, 20)).toBeCloseTo(servedShare(random, supply, level - 20, 20), 9);
    }
  });

  it('never rises, starts at all and ends at next to nothing', () => {
    for (const supply of SUPPLIES) {
      for (const random of RANDOM) {
        const short = shortByPosition(random, supply);
        expect(short[0]).toBeCloseTo(1, 9);
        expect(short.at(-1)).toBeLessThan(1e-10);
        for (let y = 1; y < short.length; y++) {
          expect(short[y]).toBeLessThanOrEqual(short[y - 1] as number);
          expect(short[y]).toBeGreaterThanOrEqual(0);
        }
      }
    }
  });

  it('no stock serves nothing, no demand is served, a level below the lot is filled up when it is empty', () => {
    const random = { perDay: 0.1, variancePerDay: 0.1, rateSd: 0 };
    const supply = { leadDays: 30, leadSdDays: 0, reviewDays: 7 };
    const served = servedByLevel(shortByPosition(random, supply));
    expect(served(0, 1)).toBe(0);
    expect(served(0, 10)).toBe(0);
    expect(served(3, 10)).toBeCloseTo(servedShare(random, supply, 0, 3), 12);
    expect(servedByLevel(shortByPosition({ perDay: 0, variancePerDay: 0, rateSd: 0 }, supply))(0, 1)).toBe(1);
  });
});
