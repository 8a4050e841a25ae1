/**
 * What orders say holds: a store run day by day, written here without the netting, ends with what each order names as
 * left, lacks what it names as missing, and lacks it for what it names.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { forecastDemand } from '../../lib/demand/forecast.js';
import type { DemandForecast, ItemDemand } from '../../lib/demand/types.js';
import type { Fleet, Item, Lot, OpenOrder } from '../../lib/fleet/types.js';
import { dayFromText } from '../../lib/numeric/day.js';
import { type ItemNeed, itemNeed } from '../../lib/stock/itemNeed.js';
import { sizeStock } from '../../lib/stock/size.js';
import type { StockAdvice, StockOrder } from '../../lib/stock/types.js';
import { fullItem, plant, TODAY } from '../demand/plant.js';

interface Batch {
  quantity: number;
  useBy: number;
}
interface Kit {
  name: string;
  day: number;
  expected: number;
  layOut: number;
}
interface Receipt {
  day: number;
  quantity: number;
}

/** Plants of 30 positions without a shelf life, whose deliveries do not expire; forecasts are made once. */
const PLANTS = [
  { openingsPerYear: 0.1, shutdowns: [80, 260, 445], share: 0.02 },
  { openingsPerYear: 0.6, shutdowns: [12, 20, 190, 375, 560], share: 0 },
  { openingsPerYear: 0, shutdowns: [150, 152, 330, 333, 515, 700], share: 0.05 },
  { openingsPerYear: 0.3, shutdowns: [], share: 0.01 },
].map(({ openingsPerYear, shutdowns, share }) => {
  const ages = Array.from({ length: 30 }, (_, i) => 13 * i);
  const { fleet, grouped } = plant(
    [{ material: 'compound 7', shape: 3, scale: 900, share, openingsPerYear, ages }],
    {
      shutdowns: shutdowns.map((inDays) => ({ name: `stop of day ${inDays}`, inDays })),
      items: [{ material: 'compound 7' }],
    },
  );
  const forecast = forecastDemand(fleet, grouped, { name: 'proposed', intervalDays: [400] }, { seed: 1 });
  return { fleet, forecast };
});

interface Folder {
  fleet: Fleet;
  forecast: DemandForecast;
  demand: ItemDemand;
  need: ItemNeed;
  row: StockAdvice;
  lead: number;
  review: number;
  kits: Kit[];
  start: Batch[];
  receipts: Receipt[];
}

const folders: fc.Arbitrary<Folder> = fc
  .record({
    which: fc.integer({ min: 0, max: PLANTS.length - 1 }),
    onHand: fc.integer({ min: 0, max: 60 }),
    pack: fc.constantFrom(1, 1, 4, 10),
    minOrder: fc.constantFrom(1, 5, 12),
    lead: fc.integer({ min: 1, max: 90 }),
    review: fc.integer({ min: 1, max: 30 }),
    lots: fc.array(
      fc.record({ quantity: fc.integer({ min: 1, max: 15 }), useBy: fc.integer({ min: 5, max: 500 }) }),
      {
        maxLength: 3,
      },
    ),
    orders: fc.array(
      fc.record({ quantity: fc.integer({ min: 1, max: 20 }), due: fc.integer({ min: -20, max: 150 }) }),
      {
        maxLength: 2,
      },
    ),
  })
  .map(({ which, onHand, pack, minOrder, lead, review, lots, orders }) => {
    const { fleet: plain, forecast } = PLANTS[which] as (typeof PLANTS)[number];
    const inLots = lots.reduce((sum, { quantity }) => sum + quantity, 0);
    const item: Item = fullItem({
      material: 'compound 7',
      onHand: onHand + inLots,
      pack,
      minOrder,
      leadTimeDays: lead,
      leadTimeSdDays: 0,
    });
    const fleet: Fleet = {
      ...plain,
      site: { ...plain.site, reviewDays: review },
      items: [item],
      lots: lots.map(
        (each, i): Lot => ({
          item: 'P-1',
          lot: `L${i}`,
          quantity: each.quantity,
          cured: null,
          useBy: TODAY + each.useBy,
        }),
      ),
      orders: orders.map(
        (each): OpenOrder => ({ item: 'P-1', quantity: each.quantity, placed: null, due: TODAY + each.due }),
      ),
    };
    const demand = forecast.items[0] as ItemDemand;
    return {
      fleet,
      forecast,
      demand,
      need: itemNeed(demand),
      row: sizeStock(fleet, forecast)[0] as StockAdvice,
      lead,
      review,
      kits: demand.planned
        .filter(({ kit }) => kit > 0)
        .map(({ name, day, expected, kit }) => ({
          name,
          day: day - TODAY,
          expected: Math.min(expected, kit),
          layOut: kit,
        })),
      start: [...lots, { quantity: onHand, useBy: Infinity }],
      // What is overdue is taken to come at the next review.
      receipts: orders.map(({ quantity, due }) => ({ quantity, day: due > 0 ? due : review })),
    };
  });

const dayOf = (text: string): number => (dayFromText(text) ?? Number.NaN) - TODAY;

/** A shelf that goes on by whole days. */
class Store {
  day = 0;
  owed = 0;
  shelf: Batch[];
  constructor(start: readonly Batch[]) {
    this.shelf = start.map((batch) => ({ ...batch })).sort((a, b) => a.useBy - b.useBy);
  }
  copy(): Store {
    const other = new Store(this.shelf);
    other.day = this.day;
    other.owed = this.owed;
    return other;
  }
  get net(): number {
    return this.shelf.reduce((sum, { quantity }) => sum + quantity, 0) - this.owed;
  }
  take(wanted: number, goodOn: number): void {
    let left = wanted;
    for (const batch of this.shelf) {
      if (batch.useBy < goodOn) continue;
      const taken = Math.min(left, batch.quantity);
      batch.quantity -= taken;
      left -= taken;
    }
    this.owed += left;
  }
  /** The next day: yesterday's last pieces are gone, then random demand, what comes, what is owed, and kits. */
  next(random: number, receipts: readonly Receipt[], kits: readonly Kit[]): void {
    this.shelf = this.shelf.filter(({ useBy }) => useBy > this.day - 0.5);
    this.day += 1;
    this.take(random, this.day);
    for (const { day, quantity } of receipts) {
      if (day === this.day) this.shelf.push({ quantity, useBy: Infinity });
    }
    const { owed } = this;
    this.owed = 0;
    this.take(owed, this.day);
    for (const kit of kits) if (kit.day === this.day) this.take(kit.expected, this.day);
  }
}

/** Orders with their days; those to hurry are taken to come in time, as the list says. */
function listed({ row, lead }: Folder): (StockOrder & { placed: number; comes: number })[] {
  return row.orders.map((order) => {
    const placed = dayOf(order.orderBy);
    const needed = /needed by (\d+ \w+ \d{4})/.exec(order.action)?.[1];
    return { ...order, placed, comes: needed === undefined ? placed + lead : wordsDay(needed) };
  });
}

function wordsDay(words: string): number {
  return Math.round(Date.parse(`${words} UTC`) / 86_400_000) - TODAY;
}

/** What is missing of a target at the worst day from a review's delivery to the next one's. */
function missing(folder: Folder, at: Store, kits: readonly Kit[], receipts: readonly Receipt[]): number {
  const { need, row, lead, review } = folder;
  const store = at.copy();
  const last = Math.min(at.day + lead + review, Math.max(at.day + lead, Math.floor(need.horizon)));
  let worst = 0;
  while (store.day < last) {
    store.next(0, receipts, kits);
    if (store.day < at.day + lead) continue;
    const ahead = kits.filter(({ day }) => day > at.day && day <= store.day);
    const margin = Math.sqrt(ahead.reduce((sum, { layOut, expected }) => sum + (layOut - expected) ** 2, 0));
    const target = need.randomQuantile(row.servedTarget, at.day, store.day, 0);
    worst = Math.max(worst, target + margin - store.net);
  }
  return worst;
}

const left = (because: string): number =>
  Number((/ = (−?[\d.\u00a0]+) on /.exec(because)?.[1] ?? '').replace('−', '-').replaceAll('\u00a0', ''));
const RUNS = { numRuns: 60, seed: 7 };

describe('what orders say', () => {
  it('is left when they come is what a store run by days holds then, all orders before it come', () => {
    fc.assert(
      fc.property(folders, (folder) => {
        const orders = listed(folder);
        const store = new Store(folder.start);
        const receipts = [
          ...folder.receipts,
          ...orders.map(({ comes, quantity }) => ({ day: comes, quantity })),
        ];
        const until = Math.max(0, ...orders.map(({ comes }) => comes));
        while (store.day < until) {
          const { day } = store;
          store.next(folder.need.randomMean(day, day + 1), receipts, folder.kits);
          for (const [i, order] of orders.entries()) {
            if (order.comes !== store.day) continue;
            // Without it, and without what is hurried for later kits of that day; its own kit not taken yet.
            const later = orders.filter((each, k) => k >= i && each.comes === store.day);
            const own = folder.kits.filter(
              (kit) => order.expedite && later.some(({ for: name }) => name === kit.name),
            );
            const without = later.reduce((sum, { quantity }) => sum + quantity, 0);
            const kits = own.filter(({ day: of }) => of === store.day).slice(0, 1);
            const back = kits.reduce((sum, { expected }) => sum + expected, 0);
            // Said to one decimal.
            if (later.length === 1)
              expect(Math.abs(left(order.because) - (store.net - without + back))).toBeLessThanOrEqual(
                0.0501,
              );
          }
        }
      }),
      RUNS,
    );
  });

  it('covers the target at every day of every review, and what is missing without an order is what it says', () => {
    fc.assert(
      fc.property(folders, (folder) => {
        const orders = listed(folder);
        const { review, lead, need, kits } = folder;
        const hurried = orders.filter(({ expedite }) => expedite);
        const known = [
          ...folder.receipts,
          ...hurried.map(({ comes, quantity }) => ({ day: comes, quantity })),
        ];
        const store = new Store(folder.start);
        while (store.day + lead <= need.horizon) {
          if (store.day % review === 0) {
            const order = orders.find(({ placed, expedite }) => !expedite && placed === store.day);
            const lacks = missing(folder, store, kits, known);
            if (order === undefined) expect(lacks).toBeLessThan(1e-6);
            else {
              expect(Number(/(\d+) missing/.exec(order.because)?.[1])).toBe(Math.ceil(lacks - 1e-6));
              known.push({ day: order.comes, quantity: order.quantity });
              expect(missing(folder, store, kits, known)).toBeLessThan(1e-6);
            }
          }
          store.next(need.randomMean(store.day, store.day + 1), known, kits);
        }
      }),
      RUNS,
    );
  });

  it('they are for is what makes them as large: a kit named takes more, one not named takes nothing', () => {
    let [named, both] = [0, 0];
    fc.assert(
      fc.property(folders, (folder) => {
        const orders = listed(folder);
        const { review, lead, need, kits } = folder;
        const hurried = orders.filter(({ expedite }) => expedite);
        const known = [
          ...folder.receipts,
          ...hurried.map(({ comes, quantity }) => ({ day: comes, quantity })),
        ];
        const store = new Store(folder.start);
        for (const order of orders.filter(({ expedite }) => !expedite)) {
          while (store.day < order.placed) {
            store.next(need.randomMean(store.day, store.day + 1), known, kits);
          }
          const lacks = missing(folder, store, kits, known);
          const inside = kits.filter(
            ({ day }) => day >= store.day + lead && day <= store.day + lead + review,
          );
          const names = inside.filter(({ name }) => order.for.includes(name));
          const random = order.for.includes('leaks and openings');
          const without = (dropped: readonly Kit[]): number =>
            missing(
              folder,
              store,
              kits.filter((kit) => !dropped.includes(kit)),
              known,
            );
          for (const kit of names) expect(without([kit])).toBeLessThan(lacks - 1e-9);
          for (const kit of inside) if (!names.includes(kit)) expect(without([kit])).toBeCloseTo(lacks, 6);
          expect(random).toBe(without(inside) > 1e-6);
          named += names.length > 0 ? 1 : 0;
          both += names.length > 0 && random ? 1 : 0;
          known.push({ day: order.comes, quantity: order.quantity });
        }
      }),
      RUNS,
    );
    expect(named).toBeGreaterThan(50);
    expect(both).toBeGreaterThan(5);
  });
});
