/** Lead times from past deliveries: what is taken from them, when they are not enough, and when they contradict what is given. */
import { describe, expect, it } from 'vitest';
import type { Warning } from '../../lib/findings.js';
import type { Delivery } from '../../lib/fleet/types.js';
import { itemAt } from '../../lib/numeric/columns.js';
import { randomStream } from '../../lib/numeric/random.js';
import { normalQuantile } from '../../lib/numeric/special.js';
import { leadTimeOf } from '../../lib/stock/leadTime.js';
import { type PlantOptions, plant, TODAY } from '../demand/plant.js';

const came = (days: number[], item = 'P-1'): Delivery[] =>
  days.map((each, i) => ({
    item,
    quantity: 5,
    placed: TODAY - 900 + 40 * i,
    received: TODAY - 900 + 40 * i + each,
  }));

const NOT_GIVEN = { leadTimeDays: null, leadTimeSdDays: null };

function leadOf(options: PlantOptions) {
  const { fleet } = plant([{ shape: 3, scale: 900, ages: [1] }], options);
  const warnings: Warning[] = [];
  const lead = leadTimeOf(fleet, itemAt(fleet.items, 0), warnings);
  return { ...lead, codes: warnings.map(({ code }) => code), warnings };
}

describe('where nothing is given', () => {
  it('the mean of three deliveries is used, and their spread with a quarter of it weighed as three', () => {
    const { leadDays, leadSdDays, codes, leadTimeSeen } = leadOf({
      items: [NOT_GIVEN],
      deliveries: came([30, 40, 50]),
    });
    expect(leadDays).toBe(40);
    // Squares 200 and 3 x 10 x 10 over 2 + 3, times 4 / 3 for a mean of three.
    expect(leadSdDays).toBeCloseTo(Math.sqrt((500 / 5) * (4 / 3)), 12);
    expect(codes).toEqual(['lead-time-from-deliveries', 'lead-spread-from-deliveries']);
    expect(leadTimeSeen).toMatchObject({ of: 'item', deliveries: 3, shortestDays: 30, longestDays: 50 });
  });
  it('three deliveries after the same number of days still leave a spread', () => {
    expect(leadOf({ items: [NOT_GIVEN], deliveries: came([24, 24, 24]) }).leadSdDays).toBeGreaterThan(4);
  });
  it('two deliveries are not enough; those of the material are taken together, of other materials they are not', () => {
    const two = came([20, 30]);
    expect(leadOf({ items: [NOT_GIVEN], deliveries: two })).toMatchObject({
      leadDays: 60,
      leadTimeSeen: null,
    });
    const items = [NOT_GIVEN, { item: 'P-2', size: 40 }, { item: 'P-3', material: 'FKM' }];
    const pooled = leadOf({
      items,
      deliveries: [...two, ...came([70, 80], 'P-2'), ...came([500, 500, 500], 'P-3')],
    });
    expect(pooled.leadDays).toBe(50);
    expect(pooled.leadTimeSeen).toMatchObject({ of: 'material', deliveries: 4 });
    expect(pooled.warnings[0]?.text).toContain(
      '4 deliveries of all items of this material took 50 days on average, 20 to 80',
    );
  });
  it('many deliveries show their own spread', () => {
    const random = randomStream(41, 'deliveries');
    const days = Array.from({ length: 400 }, () => Math.round(40 + 3 * normalQuantile(random.uniform())));
    const { leadSdDays } = leadOf({ items: [NOT_GIVEN], deliveries: came(days) });
    expect(leadSdDays).toBeGreaterThan(2.8);
    expect(leadSdDays).toBeLessThan(3.5);
  });
});

describe('where it is given', () => {
  const given = { leadTimeDays: 24, leadTimeSdDays: 6 };
  it('what is given is used, and doubted where the deliveries speak against it', () => {
    const late = leadOf({ items: [given], deliveries: came([40, 44, 50, 41, 47]) });
    expect(late).toMatchObject({ leadDays: 24, leadSdDays: 6, codes: ['lead-time-contradicted'] });
    expect(late.warnings[0]?.text).toBe(
      'items.csv gives a lead time of 24 days, and 5 deliveries of this item took 44 days on average, 40 to 50: by the lead time given orders come late.',
    );
    expect(leadOf({ items: [given], deliveries: came([20, 24, 30, 21, 27]) }).codes).toEqual([]);
  });
  it('a spread that is too small is doubted', () => {
    const wide = leadOf({ items: [{ ...given, leadTimeSdDays: 2 }], deliveries: came([10, 38, 24, 12, 36]) });
    expect(wide.codes).toEqual(['lead-spread-contradicted']);
  });
  it('a spread alone may be missing: it is taken about the lead time given', () => {
    const { leadDays, leadSdDays, codes } = leadOf({
      items: [{ leadTimeDays: 40, leadTimeSdDays: null }],
      deliveries: came([44, 46, 42, 44]),
    });
    expect(leadDays).toBe(40);
    expect(leadSdDays).toBeGreaterThan(4);
    expect(codes).toEqual(['lead-spread-from-deliveries']);
  });
  it('a record that agrees is doubted in some 1 of 100 cases, one two fifths longer in most', () => {
    const random = randomStream(42, 'doubts');
    const doubted = (mean: number): number => {
      let doubts = 0;
      for (let run = 0; run < 1000; run++) {
        const days = Array.from({ length: 8 }, () =>
          Math.max(1, Math.round(mean + 8 * normalQuantile(random.uniform()))),
        );
        const { codes } = leadOf({
          items: [{ leadTimeDays: 30, leadTimeSdDays: 8 }],
          deliveries: came(days),
        });
        if (codes.includes('lead-time-contradicted')) doubts += 1;
      }
      return doubts / 1000;
    };
    // 1 in 100 by the test, and less where the spread is weighed against an assumed one.
    expect(doubted(30)).toBeLessThan(0.01 + 4 * Math.sqrt((0.01 * 0.99) / 1000));
    expect(doubted(42)).toBeGreaterThan(0.6);
  });
});
