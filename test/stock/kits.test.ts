/** Kits in the netting: complete on their day, used as expected, what is left back on the shelf. */
import { describe, expect, it } from 'vitest';
import { randomStream } from '../../lib/numeric/random.js';
import { binomialPmf, poissonQuantile } from '../../lib/numeric/special.js';
import { type NettingInput, netOrders } from '../../lib/stock/netting.js';

const POSITIONS = 40;
const CHANCE = 0.7;
const EXPECTED = POSITIONS * CHANCE;
const WEEKLY = 0.5;
const LEAD = 6;
/** Enough for 98 of 100 kits: smallest k with chance of k or fewer at or above 0.98. */
const KIT = binomialQuantile(0.98);
const KIT_WEEKS = [20, 46, 72, 98];

function binomialQuantile(p: number): number {
  let below = 0;
  for (let k = 0; k <= POSITIONS; k++) {
    below += binomialPmf(k, POSITIONS, CHANCE);
    if (below >= p) return k;
  }
  return POSITIONS;
}

const kitAt = (moment: number, name: string) => ({ moment, quantity: KIT, expected: EXPECTED, name });

const PLAN: NettingInput = {
  shelf: [{ quantity: 10, useBy: Infinity }],
  receipts: [],
  planned: KIT_WEEKS.map((week) => kitAt(week, `kit ${week}`)),
  randomTarget: (from, to) => poissonQuantile(0.95, WEEKLY * (to - from)),
  randomMean: (from, to) => WEEKLY * (to - from),
  lead: LEAD,
  review: 1,
  horizon: 104,
  pack: 5,
  minOrder: 5,
  keeps: Infinity,
};

describe('kits that use less than they lay out', () => {
  it('are not bought anew each time: supply less expected use stays within safety stock and one lot', () => {
    const { orders } = netOrders(PLAN);
    const bought = orders.reduce((sum, { quantity }) => sum + quantity, 0);
    const used = KIT_WEEKS.length * EXPECTED + WEEKLY * 104;
    const safety = KIT - EXPECTED + poissonQuantile(0.95, WEEKLY * (LEAD + 1));
    expect(10 + bought - used).toBeGreaterThanOrEqual(0);
    expect(10 + bought - used).toBeLessThanOrEqual(safety + 5);
    // Each kit bought whole and never returned would leave four margins.
    const whole = netOrders({ ...PLAN, planned: PLAN.planned.map((need) => ({ ...need, expected: KIT })) });
    const stacked = whole.orders.reduce((sum, { quantity }) => sum + quantity, 0);
    expect(stacked - bought).toBeGreaterThanOrEqual(3 * (KIT - EXPECTED) - 5);
  });
  it('are complete on the day as often as their target says, the plan made anew each week: 600 simulated plants', () => {
    const random = randomStream(3, 'kits');
    let [kits, complete] = [0, 0];
    for (let run = 0; run < 600; run++) {
      for (const whole of simulatedKits(() => random.uniform())) {
        kits += 1;
        if (whole) complete += 1;
      }
    }
    const error = Math.sqrt((0.98 * 0.02) / kits);
    expect(complete / kits).toBeGreaterThan(0.98 - 4 * error);
  });
  it('count only what is still good on the day the pieces are fitted', () => {
    const kit = { moment: 10, fitted: 14, quantity: 10, name: 'kit' };
    const input = { ...PLAN, planned: [kit], randomTarget: () => 0, randomMean: () => 0, horizon: 20 };
    const good = netOrders({ ...input, shelf: [{ quantity: 10, useBy: 14 }] });
    expect(good.orders).toEqual([]);
    const stale = netOrders({ ...input, shelf: [{ quantity: 10, useBy: 12 }] });
    expect(stale.orders.map(({ quantity }) => quantity)).toEqual([10]);
  });
});

/** Two kits of one plant by weeks, netted anew at each review; whether each was complete. */
function simulatedKits(uniform: () => number): boolean[] {
  const days = [12, 30];
  const state = { onHand: 20, receipts: [] as { moment: number; quantity: number; useBy: number }[] };
  const whole: boolean[] = [];
  for (let week = 0; week <= 30; week++) {
    for (const receipt of state.receipts) if (receipt.moment === week) state.onHand += receipt.quantity;
    state.receipts = state.receipts.filter(({ moment }) => moment > week);
    if (days.includes(week)) {
      let needed = 0;
      for (let i = 0; i < POSITIONS; i++) if (uniform() < CHANCE) needed += 1;
      whole.push(needed <= state.onHand);
      state.onHand = Math.max(0, state.onHand - needed);
    }
    const asked = poissonQuantile(Math.min(uniform(), 1 - 1e-12), WEEKLY);
    state.onHand = Math.max(0, state.onHand - asked);
    const quantity = orderedNow(week, state, days);
    if (quantity > 0) state.receipts.push({ moment: week + LEAD, quantity, useBy: Infinity });
  }
  return whole;
}

const NETTED = new Map<string, number>();

function orderedNow(
  week: number,
  { onHand, receipts }: { onHand: number; receipts: { moment: number; quantity: number; useBy: number }[] },
  days: readonly number[],
): number {
  const ahead = days.filter((day) => day > week).map((day) => day - week);
  const coming = receipts.map((receipt) => ({ ...receipt, moment: receipt.moment - week }));
  const near = ahead.filter((day) => day <= LEAD + 1);
  const key = JSON.stringify([onHand, coming, near]);
  const known = NETTED.get(key);
  if (known !== undefined) return known;
  const { orders } = netOrders({
    ...PLAN,
    shelf: [{ quantity: onHand, useBy: Infinity }],
    receipts: coming,
    planned: near.map((day) => kitAt(day, `kit ${day}`)),
    horizon: LEAD + 1,
  });
  const quantity = orders
    .filter(({ placed, expedite }) => placed === 0 && !expedite)
    .reduce((sum, order) => sum + order.quantity, 0);
  NETTED.set(key, quantity);
  return quantity;
}
