import { describe, expect, it } from 'vitest';
import { type OrderQuantityInput, orderQuantity } from '../../lib/stock/orderQuantity.js';

/** Yearly cost written out, with the price that a quantity has. */
function cost(input: OrderQuantityInput, q: number): number {
  const steps = typeof input.price === 'object' ? input.price : [{ from: 0, price: input.price ?? 0 }];
  const price = steps.filter(({ from }) => q >= from).at(-1)?.price;
  if (price === undefined) return Infinity;
  const holding = (input.holdingCost ?? 0) + (input.holdingRate ?? 0) * price;
  return input.demand * price + (input.orderCost * input.demand) / q + (holding * q) / 2;
}

describe('price breaks on all units', () => {
  const breaks = (second: number) => [
    { from: 1, price: 40 },
    { from: 50, price: 39.5 },
    { from: 400, price: second },
  ];
  it.each([39, 38, 30])('is the cheapest of all whole quantities with %d from 400 on', (second) => {
    for (const demand of [40, 600, 20_000]) {
      for (const holdingRate of [0.05, 0.25]) {
        const input = { demand, orderCost: 60, holdingRate, price: breaks(second), pack: 1 };
        const found = orderQuantity(input);
        let least = Infinity;
        for (let q = 1; q < 5000; q++) least = Math.min(least, cost(input, q));
        expect(found.totalCost).toBeCloseTo(least, 6);
        expect(cost(input, found.quantity)).toBeCloseTo(found.totalCost, 6);
      }
    }
  });
  it('goes up to a break where that pays, and stays below where it does not', () => {
    const at = (second: number): number =>
      orderQuantity({ demand: 600, orderCost: 60, holdingRate: 0.25, price: breaks(second) }).quantity;
    expect(at(30)).toBe(400);
    expect(at(39.4)).toBeLessThan(400);
  });
  it('with packs and a least order it is the cheapest multiple', () => {
    const input = { demand: 130, orderCost: 20, holdingCost: 7, price: 3, pack: 12, minOrder: 30 };
    const found = orderQuantity(input);
    const all = Array.from({ length: 80 }, (_, i) => 36 + 12 * i);
    expect(found.quantity).toBe(all.reduce((a, b) => (cost(input, b) < cost(input, a) ? b : a)));
  });
});

describe('nonsense', () => {
  const steady = { demand: 100, orderCost: 10, holdingCost: 2 };
  it.each([
    [{ demand: 0 }, /demand must be above 0/],
    [{ demand: Number.NaN }, /demand must be above 0/],
    [{ orderCost: -1 }, /orderCost/],
    [{ orderCost: 0 }, /limits how small lots are/],
    [{ holdingCost: 0 }, /holding must cost something/],
    [{ pack: 0 }, /pack must be above 0/],
    [{ supplyRate: 100 }, /supplyRate must be above demand/],
    [{ shortageCost: 0 }, /shortageCost must be above 0/],
    [{ price: [] }, /at least one step/],
    [{ price: [{ from: 0, price: -1 }] }, /price\[0\]/],
    [
      {
        price: [
          { from: 5, price: 2 },
          { from: 5, price: 1 },
        ],
      },
      /breaks must rise/,
    ],
  ])('is refused: %j', (change, words) => {
    expect(() => orderQuantity({ ...steady, ...change })).toThrow(words);
  });
});
