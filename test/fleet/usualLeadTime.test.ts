/** One rule for how long a delivery takes: the shutdown plan and the order list must not differ. */
import { describe, expect, it } from 'vitest';
import { orderedComes, pieceStore, piecesReady } from '../../lib/fleet/pieces.js';
import type { Delivery } from '../../lib/fleet/types.js';
import { itemAt } from '../../lib/numeric/columns.js';
import { leadTimeOf } from '../../lib/stock/leadTime.js';
import { type PlantOptions, plant, TODAY } from '../demand/plant.js';

const took = (item: string, ...days: number[]): Delivery[] =>
  days.map((each) => ({ item, quantity: 5, placed: TODAY - 400, received: TODAY - 400 + each }));

const NOT_GIVEN = { leadTimeDays: null, leadTimeSdDays: null };
const fleetOf = (options: PlantOptions) => plant([{ shape: 3, scale: 900, ages: [1] }], options).fleet;

const CASES: [string, PlantOptions, number][] = [
  ['what items.csv gives', { items: [{ leadTimeDays: 35 }], deliveries: took('P-1', 90, 90, 90) }, 35],
  [
    'the mean of its deliveries, up to whole days',
    { items: [NOT_GIVEN], deliveries: took('P-1', 90, 91, 91) },
    91,
  ],
  [
    'those of its material where there are fewer than three',
    {
      items: [NOT_GIVEN, { item: 'P-2', size: 40 }],
      deliveries: [...took('P-1', 90, 94), ...took('P-2', 110, 110)],
    },
    101,
  ],
  ['60 days where nothing tells it', { items: [NOT_GIVEN], deliveries: took('P-1', 90, 90) }, 60],
  ['at once', { items: [{ leadTimeDays: 0 }] }, 0],
];

describe('a piece ordered now is there after', () => {
  it.each(CASES)('%s', (_, options, days) => {
    const fleet = fleetOf(options);
    const item = itemAt(fleet.items, 0);
    expect(orderedComes(fleet, item) - TODAY).toBe(days);
    expect(Math.ceil(leadTimeOf(fleet, item, []).leadDays)).toBe(days);
  });
});

describe('an empty shelf that is counted', () => {
  it('limits the work until a new order can come by past deliveries, not by 60 days', () => {
    const items = [{ ...NOT_GIVEN, onHand: 0, onHandKnown: true }];
    const fleet = fleetOf({ items, deliveries: took('P-1', 90, 90, 90) });
    const store = pieceStore(fleet);
    expect(store.has('P-1', TODAY + 70)).toBe(false);
    expect(store.has('P-1', TODAY + 90)).toBe(true);
    expect(piecesReady(fleet, itemAt(fleet.items, 0), [TODAY + 70, TODAY + 90])).toEqual([0, null]);
  });
});
