import { expect, it } from 'vitest';
import { lotAndPoint } from '../../lib/stock/lotAndPoint.js';

const MUSTARD = {
  demandPerYear: 200,
  orderCost: 50,
  holdingCost: 2,
  costPerShort: 25,
  leadMean: 100,
  leadSd: 25,
};

it('settles where no small change of lot or point is cheaper', () => {
  const { quantity, point, costPerYear, rounds } = lotAndPoint(MUSTARD);
  expect(rounds.length).toBeLessThan(60);
  // Loss by a sum of small steps, apart from the formula.
  const short = (r: number): number => {
    let total = 0;
    for (let x = r; x < 400; x += 0.01) {
      const z = (x + 0.005 - 100) / 25;
      total += ((x + 0.005 - r) * Math.exp(-0.5 * z * z) * 0.01) / (25 * Math.sqrt(2 * Math.PI));
    }
    return total;
  };
  const cost = (q: number, r: number): number => (200 / q) * (50 + 25 * short(r)) + 2 * (q / 2 + r - 100);
  expect(cost(quantity, point)).toBeCloseTo(costPerYear, 4);
  for (const step of [-2, 2]) {
    expect(cost(quantity + step, point)).toBeGreaterThan(costPerYear);
    expect(cost(quantity, point + step)).toBeGreaterThan(costPerYear);
  }
});

it('refuses nonsense, and shortages too cheap for any stock', () => {
  expect(() => lotAndPoint({ ...MUSTARD, leadSd: 0 })).toThrow(/leadSd must be above 0/);
  expect(() => lotAndPoint({ ...MUSTARD, costPerShort: 0.5 })).toThrow(/no stock pays/);
});
