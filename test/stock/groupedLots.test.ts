/** Needs grouped into orders of least cost: nothing is ever short that would not be short otherwise, and no plan is cheaper. */
import { describe, expect, it } from 'vitest';
import { randomStream } from '../../lib/numeric/random.js';
import { poissonQuantile } from '../../lib/numeric/special.js';
import { groupedLots, type LotCosts } from '../../lib/stock/groupedLots.js';
import { type NettedOrder, type NettingInput, netOrders } from '../../lib/stock/netting.js';

const LEAD = 10;
const REVIEW = 7;

const costs = (orderCost: number, holdingCost: number): LotCosts => ({
  orderCost,
  holdingCost,
  price: null,
  beyond: { rate: 0, span: 0 },
});

function input(change: Partial<NettingInput>): NettingInput {
  return {
    shelf: [],
    receipts: [],
    planned: [],
    randomTarget: () => 0,
    randomMean: () => 0,
    lead: LEAD,
    review: REVIEW,
    horizon: 100,
    pack: 1,
    minOrder: 1,
    keeps: Infinity,
    ...change,
  };
}

/** What stands on the shelf at a moment, by a plain sum: kits and mean random demand gone, orders in. */
function standing(plan: NettingInput, orders: readonly NettedOrder[], placedBy: number, at: number): number {
  const kits = plan.planned.filter(({ moment }) => moment <= at);
  const shelf = plan.shelf.reduce((sum, { quantity }) => sum + quantity, 0);
  const came = orders.filter(({ placed, due }) => placed <= placedBy && due <= at);
  return (
    shelf +
    came.reduce((sum, { quantity }) => sum + quantity, 0) -
    kits.reduce((sum, { expected = 0 }) => sum + expected, 0) -
    plan.randomMean(0, placedBy)
  );
}

describe('safety (METHODS 5.4)', () => {
  it('every point of the rule holds at each moment of each window, with grouped orders as without', () => {
    const random = randomStream(21, 'windows');
    for (let run = 0; run < 40; run++) {
      const rate = random.uniform() / 5;
      const planned = Array.from({ length: 5 }, (_, i) => {
        const quantity = 5 + random.below(20);
        const expected = quantity * (0.5 + random.uniform() / 2);
        return { name: `kit ${i}`, moment: LEAD + 1 + random.below(85), quantity, expected };
      });
      const plan = input({
        planned,
        shelf: [{ quantity: random.below(40), useBy: Infinity }],
        randomTarget: (from, to) => poissonQuantile(0.95, rate * (to - from) + 1e-9),
        randomMean: (from, to) => rate * (to - from),
        pack: 1 + random.below(5),
        minOrder: random.below(12),
        lots: costs(random.below(100), random.uniform() / 20 + 1e-3),
      });
      const { orders } = netOrders(plan);
      for (let t = 0; t + LEAD <= plan.horizon; t += REVIEW) {
        for (let s = t + LEAD; s <= Math.min(t + LEAD + REVIEW, plan.horizon); s += 0.5) {
          const kits = planned.filter(({ moment }) => moment > t && moment <= s);
          const margin = Math.hypot(...kits.map(({ quantity, expected }) => quantity - expected));
          const have = standing(plan, orders, t, s) - margin;
          expect(have).toBeGreaterThanOrEqual(plan.randomTarget(t, s) - 1e-6);
        }
      }
    }
  });
});

/** Kits in the middle of the windows of eight reviews, so that a piece is held for whole review periods. */
const kitsOf = (needs: number[]): NettingInput['planned'] =>
  needs
    .map((quantity, k) => ({
      name: `kit ${k}`,
      moment: k * REVIEW + LEAD + 3.5,
      quantity,
      expected: quantity,
    }))
    .filter(({ quantity }) => quantity > 0);

/** Ordering, and holding from the delivery to the middle of its window on. */
function costOf(needs: number[], orders: readonly number[], { orderCost, holdingCost }: LotCosts): number {
  let [stock, cost] = [0, 0];
  for (let k = 0; k < needs.length; k++) {
    stock += (orders[k] ?? 0) - (needs[k] ?? 0);
    if (stock < -1e-9) return Infinity;
    cost += ((orders[k] ?? 0) > 0 ? orderCost : 0) + stock * REVIEW * holdingCost;
  }
  return cost;
}

/** The cheapest of all plans of orders in packs: every quantity at every review. */
function cheapest(needs: number[], lots: LotCosts, pack: number, minOrder: number): number {
  const all = needs.reduce((sum, each) => sum + each, 0);
  const from = (k: number, orders: number[]): number => {
    if (k === needs.length) return costOf(needs, orders, lots);
    let best = Infinity;
    for (let q = 0; q < all + Math.max(pack, minOrder); q += pack) {
      if (q > 0 && q < minOrder) continue;
      if (costOf(needs.slice(0, k + 1), [...orders, q], lots) === Infinity) continue;
      best = Math.min(best, from(k + 1, [...orders, q]));
    }
    return best;
  };
  return from(0, []);
}

describe('cost (Wagner & Whitin 1958)', () => {
  it.each([
    { pack: 1, minOrder: 0 },
    { pack: 2, minOrder: 0 },
    { pack: 1, minOrder: 4 },
  ])('is that of the cheapest of all plans: packs of $pack, at least $minOrder', ({ pack, minOrder }) => {
    const random = randomStream(22, 'kits');
    for (let run = 0; run < 15; run++) {
      const needs = Array.from({ length: 5 }, () => (random.uniform() < 0.4 ? 0 : random.below(4)));
      const lots = costs(random.below(30), (1 + random.below(6)) / 10);
      const horizon = 4 * REVIEW + LEAD + 3.5;
      const { orders } = netOrders(input({ planned: kitsOf(needs), horizon, pack, minOrder, lots }));
      const placed = needs.map((_, k) =>
        orders.filter((each) => each.placed === k * REVIEW).reduce((sum, { quantity }) => sum + quantity, 0),
      );
      expect(costOf(needs, placed, lots)).toBeCloseTo(cheapest(needs, lots, pack, minOrder), 9);
    }
  });
  it('says which kits an order serves and how long it lasts; free orders are placed one by one', () => {
    const planned = kitsOf([5, 0, 0, 6, 0, 0, 0, 0, 0, 7]);
    const dear = netOrders(input({ planned, lots: costs(1000, 0.01) })).orders;
    expect(dear.map(({ quantity, serves, until }) => [quantity, serves, until])).toEqual([
      [18, ['kit 0', 'kit 3', 'kit 9'], 13 * REVIEW + LEAD],
    ]);
    const free = netOrders(input({ planned, lots: costs(0, 0.01) })).orders;
    expect(free.map(({ quantity, serves }) => [quantity, serves])).toEqual([
      [5, ['kit 0']],
      [6, ['kit 3']],
      [7, ['kit 9']],
    ]);
  });
  it('holds an order to what is used before it expires', () => {
    const planned = kitsOf([5, 0, 0, 6, 0, 0, 0, 0, 0, 7]);
    const { orders, expired } = netOrders(
      input({ planned, lots: costs(1000, 0.001), keeps: 30, mostAt: (moment) => (moment < 15 ? 11 : 7) }),
    );
    expect(orders.map(({ quantity }) => quantity)).toEqual([11, 7]);
    expect(expired).toEqual([]);
  });
  it('looks beyond the months planned, so that the last lot is no stub', () => {
    const base = { needs: [0, 2, 2], review: 1, pack: 1, minOrder: 1, mostAt: () => Infinity };
    const lots = (span: number): LotCosts => ({ ...costs(8, 1), beyond: { rate: 1, span } });
    expect(groupedLots({ ...base, costs: lots(0) })(1, 2, 0)).toEqual({ quantity: 2, until: 2 });
    // Then one piece in each of the next four periods: 3 now and 3 two periods later cost 16 + 2 + 1 + 2 = 21; 6 now or 2 and 4 cost 22.
    expect(groupedLots({ ...base, costs: lots(4) })(1, 2, 0).quantity).toBe(3);
  });
});
