/** Laws that stock and demand keep whatever the numbers are. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type CountLaw, countLaw, momentsOf } from '../../lib/demand/countLaw.js';
import { compoundPoisson, jobsOf } from '../../lib/demand/jobs.js';
import { stockMeasures } from '../../lib/stock/measures.js';
import { netOrders } from '../../lib/stock/netting.js';
import { reorderPoint } from '../../lib/stock/reorderPoint.js';
import { put, sortedShelf, take, total } from '../../lib/stock/shelf.js';

const RUNS = { numRuns: 100, seed: 42 };
const mean = fc.double({ min: 0, max: 60, noNaN: true });
const level = fc.integer({ min: 0, max: 80 });

describe('stock', () => {
  it('more stock never hurts', () => {
    fc.assert(
      fc.property(mean, level, fc.double({ min: 1, max: 4, noNaN: true }), (m, s, spread) => {
        const demand = { kind: 'negativeBinomial', mean: m, variance: m * spread } as const;
        const less = stockMeasures({ kind: 'baseStock', level: s }, demand);
        const more = stockMeasures({ kind: 'baseStock', level: s + 1 }, demand);
        expect(more.readyRate).toBeGreaterThanOrEqual(less.readyRate - 1e-12);
        expect(more.fillRate).toBeGreaterThanOrEqual(less.fillRate - 1e-12);
        expect(more.expectedShortage).toBeLessThanOrEqual(less.expectedShortage + 1e-9);
        expect(more.expectedOnHand).toBeGreaterThanOrEqual(less.expectedOnHand - 1e-9);
      }),
      RUNS,
    );
  });
  it('on hand less on back order is position less demand', () => {
    fc.assert(
      fc.property(mean, level, fc.integer({ min: 1, max: 20 }), (m, point, quantity) => {
        const measures = stockMeasures({ kind: 'reorder', point, quantity }, { kind: 'poisson', mean: m });
        const net = point + (quantity + 1) / 2 - m;
        expect(measures.expectedOnHand - measures.expectedShortage).toBeCloseTo(net, 8);
        for (const share of [measures.readyRate, measures.fillRate, measures.cycleService]) {
          expect(share).toBeGreaterThanOrEqual(0);
          expect(share).toBeLessThanOrEqual(1);
        }
      }),
      RUNS,
    );
  });
  it('at reviews more stock never hurts, rarer looks never help, and on hand less owed is position less demand', () => {
    const time = fc.double({ min: 0.1, max: 5, noNaN: true });
    fc.assert(
      fc.property(
        mean,
        fc.integer({ min: -3, max: 90 }),
        fc.integer({ min: 3, max: 9 }),
        time,
        (m, point, q, t) => {
          const demand = { kind: 'negativeBinomial', mean: m / 5, variance: m / 3 } as const;
          const at = (p: number, reviewPeriods: number) =>
            stockMeasures(
              { kind: 'reviewReorder', point: p, quantity: q, leadPeriods: 2, reviewPeriods },
              demand,
            );
          const [now, more, rarer] = [at(point, t), at(point + 1, t), at(point, 2 * t)];
          for (const name of ['fillRate', 'readyRate', 'cycleService'] as const) {
            expect(more[name]).toBeGreaterThanOrEqual(now[name] - 1e-11);
            expect(rarer[name]).toBeLessThanOrEqual(now[name] + 1e-11);
          }
          expect(more.expectedShortage).toBeLessThanOrEqual(now.expectedShortage + 1e-9);
          const net = point + (q + 1) / 2 - (m / 5) * (2 + t / 2);
          expect(now.expectedOnHand - now.expectedShortage).toBeCloseTo(net, 7);
        },
      ),
      RUNS,
    );
  });
  it('one for one is point and quantity with lots of one', () => {
    fc.assert(
      fc.property(mean, level, (m, s) => {
        const demand = { kind: 'poisson', mean: m } as const;
        const base = stockMeasures({ kind: 'baseStock', level: s }, demand);
        const lots = stockMeasures({ kind: 'reorder', point: s - 1, quantity: 1 }, demand);
        expect(lots.fillRate).toBe(base.fillRate);
        expect(lots.expectedShortage).toBe(base.expectedShortage);
      }),
      RUNS,
    );
  });
  it('an empirical law equal to a Poisson law gives the same measures', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.1, max: 20, noNaN: true }), fc.integer({ min: 0, max: 30 }), (m, s) => {
        const pmf: number[] = [Math.exp(-m)];
        for (let k = 1; k < 150; k++) pmf.push(((pmf[k - 1] as number) * m) / k);
        const own = stockMeasures({ kind: 'baseStock', level: s }, { kind: 'empirical', pmf });
        const poisson = stockMeasures({ kind: 'baseStock', level: s }, { kind: 'poisson', mean: m });
        expect(own.fillRate).toBeCloseTo(poisson.fillRate, 10);
        expect(own.expectedShortage).toBeCloseTo(poisson.expectedShortage, 8);
      }),
      RUNS,
    );
  });
  it('more demand, a longer lead time or a wider one never lowers the reorder point', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 2, noNaN: true }),
        fc.integer({ min: 1, max: 120 }),
        fc.integer({ min: 1, max: 12 }),
        fc.double({ min: 0.5, max: 0.99, noNaN: true }),
        (perDay, leadDays, quantity, served) => {
          const point = (rate: number, lead: number, sd: number): number =>
            reorderPoint(
              { perDay: rate, variancePerDay: rate, rateSd: 0 },
              { leadDays: lead, leadSdDays: sd, reviewDays: 7 },
              served,
              quantity,
            );
          const base = point(perDay, leadDays, 0.2 * leadDays);
          expect(point(perDay * 1.2, leadDays, 0.2 * leadDays)).toBeGreaterThanOrEqual(base);
          expect(point(perDay, leadDays + 10, 0.2 * leadDays)).toBeGreaterThanOrEqual(base);
        },
      ),
      RUNS,
    );
  });
  it('taking from the shelf takes what expires first and loses nothing', () => {
    const piece = fc.record({
      quantity: fc.integer({ min: 0, max: 20 }),
      useBy: fc.integer({ min: 0, max: 50 }),
    });
    fc.assert(
      fc.property(
        fc.array(piece, { maxLength: 6 }),
        fc.integer({ min: 0, max: 60 }),
        piece,
        (pieces, wanted, more) => {
          const shelf = sortedShelf(pieces);
          put(shelf, more);
          const before = total(shelf);
          const short = take(shelf, wanted);
          expect(before - total(shelf)).toBeCloseTo(wanted - short, 9);
          expect(shelf.map(({ useBy }) => useBy)).toEqual(
            shelf.map(({ useBy }) => useBy).sort((a, b) => a - b),
          );
        },
      ),
      RUNS,
    );
  });
  it('netting orders whole packs, never before now, and more on the shelf never orders more', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 60 }),
        fc.integer({ min: 1, max: 12 }),
        fc.array(
          fc.record({ moment: fc.integer({ min: 1, max: 100 }), quantity: fc.integer({ min: 1, max: 40 }) }),
          { maxLength: 4 },
        ),
        (onHand, pack, needs) => {
          const orders = (quantity: number) =>
            netOrders({
              shelf: [{ quantity, useBy: Infinity }],
              receipts: [],
              planned: needs.map((need) => ({ ...need, name: 'kit' })),
              randomTarget: () => 0,
              randomMean: () => 0,
              lead: 10,
              review: 7,
              horizon: 120,
              pack,
              minOrder: 1,
              keeps: Infinity,
            }).orders;
          const sum = (list: { quantity: number }[]): number =>
            list.reduce((all, each) => all + each.quantity, 0);
          const list = orders(onHand);
          for (const order of list) {
            expect(order.quantity % pack).toBe(0);
            expect(order.placed).toBeGreaterThanOrEqual(0);
          }
          const needed = needs.reduce((all, each) => all + each.quantity, 0);
          expect(onHand + sum(list)).toBeGreaterThanOrEqual(needed);
          expect(sum(orders(onHand + pack))).toBeLessThanOrEqual(sum(list));
        },
      ),
      RUNS,
    );
  });
});

describe('demand', () => {
  const chance = fc.oneof(
    fc.double({ min: 0, max: 1, noNaN: true }),
    fc.double({ min: 0, max: 0.06, noNaN: true }),
  );
  const cells = fc.array(fc.record({ chance, positions: fc.integer({ min: 1, max: 6 }) }), { maxLength: 8 });
  it('a count law adds up to one and has the mean of its parts', () => {
    fc.assert(
      fc.property(cells, fc.double({ min: 0, max: 5, noNaN: true }), (list, poisson) => {
        const parts = {
          chance: Float64Array.from(list, (cell) => cell.chance),
          positions: Float64Array.from(list, (cell) => cell.positions),
          poisson,
        };
        const law = countLaw(parts);
        const moments = momentsOf(parts);
        expect(moment(law, 0)).toBeCloseTo(1, 9);
        expect(Math.abs(moment(law, 1) - moments.mean)).toBeLessThanOrEqual(1e-4 * moments.mean + 1e-9);
        const variance = moment(law, 2) - moment(law, 1) ** 2;
        // Chances within a sixth of log odds are taken as equal: variance to one percent.
        expect(Math.abs(variance - moments.variance)).toBeLessThanOrEqual(0.01 * moments.variance + 1e-7);
      }),
      RUNS,
    );
  });
  it('jobs keep every opening, and a compound count has the mean of jobs times valves', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 400 }), { maxLength: 40 }), (days) => {
        expect(jobsOf(days).reduce((a, b) => a + b, 0)).toBe(days.length);
      }),
      RUNS,
    );
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 20, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (jobs, two) => {
          const chances = compoundPoisson(jobs, [0, 1 - two, two]);
          const mean = chances.reduce((sum, each, n) => sum + n * each, 0);
          expect(mean).toBeCloseTo(jobs * (1 + two), 6);
        },
      ),
      RUNS,
    );
  });
});

function moment({ start, chances }: CountLaw, power: number): number {
  return chances.reduce((sum, chance, i) => sum + chance * (start + i) ** power, 0);
}
