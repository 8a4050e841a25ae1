import { describe, expect, it } from 'vitest';
import { UsageError } from '../../lib/errors.js';
import { randomStream } from '../../lib/numeric/random.js';
import { gammaQuantile } from '../../lib/numeric/special.js';
import { demandOver, reorderPoint, servedShare } from '../../lib/stock/reorderPoint.js';

const RATE = { perDay: 0.2, variancePerDay: 0.2, rateSd: 0 };

/** Share handed out at once in a plain run of events: demand by Poisson, review every so many days, lots as needed. */
function simulated(
  leadDays: number,
  leadSdDays: number,
  reviewDays: number,
  point: number,
  quantity: number,
  seed: number,
): { share: number; error: number } {
  const random = randomStream(seed, 'periodic review');
  const blocks = 40;
  const shares: number[] = [];
  let onHand = point + quantity;
  let owed = 0;
  let now = 0;
  let nextReview = reviewDays;
  let onOrder: { moment: number; quantity: number }[] = [];
  for (let block = 0; block < blocks; block++) {
    let [asked, served] = [0, 0];
    while (asked < 10_000) {
      const next = now - Math.log(random.uniform()) / RATE.perDay;
      while (nextReview <= next) {
        receive(nextReview);
        const position = onHand - owed + onOrder.reduce((sum, each) => sum + each.quantity, 0);
        const lots = position <= point ? Math.ceil((point + 1 - position) / quantity) : 0;
        if (lots > 0) onOrder.push({ moment: nextReview + leadTime(), quantity: lots * quantity });
        nextReview += reviewDays;
      }
      receive(next);
      now = next;
      asked += 1;
      if (onHand > 0) {
        onHand -= 1;
        served += 1;
      } else owed += 1;
    }
    shares.push(served / asked);
  }
  const mean = shares.reduce((a, b) => a + b, 0) / blocks;
  const variance = shares.reduce((sum, each) => sum + (each - mean) ** 2, 0) / (blocks - 1);
  return { share: mean, error: Math.sqrt(variance / blocks) };

  function receive(until: number): void {
    const come = onOrder.filter(({ moment }) => moment <= until);
    onOrder = onOrder.filter(({ moment }) => moment > until);
    for (const { quantity: pieces } of come) {
      const paid = Math.min(owed, pieces);
      owed -= paid;
      onHand += pieces - paid;
    }
  }

  function leadTime(): number {
    if (leadSdDays === 0) return leadDays;
    const shape = (leadDays / leadSdDays) ** 2;
    return gammaQuantile(random.uniform(), shape, leadDays / shape);
  }
}

describe('share served at once under periodic review', () => {
  it.each([
    [40, 0, 7, 12, 6],
    [40, 0, 28, 12, 6],
    [40, 0, 28, 16, 1],
  ])(
    'lead %d (spread %d), review %d, point %d, lots of %d agrees with a plain run',
    (lead, sd, review, point, quantity) => {
      const supply = { leadDays: lead, leadSdDays: sd, reviewDays: review };
      const { share, error } = simulated(lead, sd, review, point, quantity, 11);
      expect(error).toBeLessThan(0.002);
      expect(Math.abs(servedShare(RATE, supply, point, quantity) - share)).toBeLessThan(4 * error);
    },
  );
  it('is on the safe side where lead times vary: orders that overtake each other help in the run', () => {
    const supply = { leadDays: 40, leadSdDays: 10, reviewDays: 7 };
    const { share, error } = simulated(40, 10, 7, 12, 6, 12);
    const formula = servedShare(RATE, supply, 12, 6);
    expect(formula).toBeLessThan(share + 4 * error);
    expect(share - formula).toBeLessThan(0.02);
  });
  it('falls from 0.979 to 0.961 and 0.850 at a review every 7 and 28 days', () => {
    const at = (reviewDays: number): number =>
      servedShare(RATE, { leadDays: 40, leadSdDays: 0, reviewDays }, 12, 6);
    expect(at(0)).toBeCloseTo(0.979, 3);
    expect(at(7)).toBeCloseTo(0.961, 3);
    expect(at(28)).toBeCloseTo(0.85, 3);
  });
});

describe('demand over a lead time', () => {
  it('keeps units: 6 weeks (spread 2) at 1.5 a month are 2.0698 with standard deviation 1.5956', () => {
    // var = lead x variance of demand + demand squared x variance of lead; month 365.25 / 12 days (R).
    const perDay = 1.5 / (365.25 / 12);
    const demand = demandOver({ perDay, variancePerDay: perDay, rateSd: 0 }, 42, 14);
    if (demand.kind !== 'negativeBinomial') throw new Error('a spread of the lead time widens demand');
    expect(demand.mean).toBeCloseTo(2.069815, 6);
    expect(Math.sqrt(demand.variance)).toBeCloseTo(1.595566, 6);
    const fixed = demandOver({ perDay, variancePerDay: perDay, rateSd: 0 }, 42, 0);
    expect(fixed).toEqual({ kind: 'poisson', mean: demand.mean });
    expect(Math.sqrt(demand.mean)).toBeCloseTo(1.438685, 6);
  });
});

describe('reorder point', () => {
  const supply = { leadDays: 40, leadSdDays: 10, reviewDays: 7 };
  it('is the smallest that meets the target', () => {
    for (const target of [0.5, 0.9, 0.95, 0.99, 0.999]) {
      const point = reorderPoint(RATE, supply, target, 6);
      expect(servedShare(RATE, supply, point, 6)).toBeGreaterThanOrEqual(target);
      if (point > 0) expect(servedShare(RATE, supply, point - 1, 6)).toBeLessThan(target);
    }
  });
  it('is 0 without demand or at target 0, and refuses 100 %', () => {
    expect(reorderPoint({ perDay: 0, variancePerDay: 0, rateSd: 0 }, supply, 0.95, 6)).toBe(0);
    expect(reorderPoint(RATE, supply, 0, 6)).toBe(0);
    expect(() => reorderPoint(RATE, supply, 1, 6)).toThrow(/100 % cannot be met with finite stock/);
    expect(() => reorderPoint(RATE, supply, Number.NaN, 6)).toThrow(UsageError);
  });
  it('works without a lead time', () => {
    const now = { leadDays: 0, leadSdDays: 0, reviewDays: 7 };
    expect(reorderPoint(RATE, now, 0.95, 6)).toBeGreaterThanOrEqual(0);
  });
});
