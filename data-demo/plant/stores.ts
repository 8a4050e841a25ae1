/** What stores keeps: items, lots on the shelf, orders on their way. Part numbers, prices and times are invented. */
import { addMonths, dayFromText, textFromDay } from '../../lib/numeric/day.js';
import { DATA_UNTIL, PIECES_PER_LOT } from './design.js';
import { lotName } from './simulate.js';
import type { Row } from './types.js';

export const ITEM_COLUMNS = [
  'item',
  'material',
  'size',
  'price',
  'lead_time_days',
  'lead_time_sd_days',
  'pack',
  'min_order',
  'shelf_life_months',
  'shelf_life_left_at_receipt_months',
  'on_hand',
  'emergency_days',
  'emergency_extra_cost',
  'approved_substitute',
] as const;
export const LOT_COLUMNS = ['item', 'lot', 'quantity', 'cured', 'use_by'] as const;
export const ORDER_COLUMNS = ['item', 'quantity', 'placed', 'due'] as const;

interface StoreItem {
  item: string;
  material: string;
  size: number;
  price: number;
  lead: readonly [number, number];
  pack: number;
  minOrder: number;
  /** Pieces of each lot on the shelf and months that are left until its use-by. */
  shelf: readonly (readonly [number, number])[];
  /** Quantity, days since it was placed, days until it is due (negative: overdue). */
  orders?: readonly (readonly [number, number, number])[];
  emergency: readonly [number, number] | null;
}

const EPDM = { material: 'EPDM', lead: [24, 8], pack: 10, minOrder: 10 } as const;
const PTFE = { material: 'PTFE-faced EPDM', lead: [38, 12], pack: 10, minOrder: 10 } as const;
const OTHER = { lead: [52, 16], pack: 25, minOrder: 25, emergency: null } as const;

const ITEMS: readonly StoreItem[] = [
  { ...EPDM, item: 'WD-1008', size: 8, price: 21, shelf: [[14, 30]], emergency: [4, 140] },
  {
    ...EPDM,
    item: 'WD-1025',
    size: 25,
    price: 31,
    shelf: [
      [22, 2],
      [60, 26],
    ],
    orders: [[60, 12, 16]],
    emergency: [4, 140],
  },
  { ...EPDM, item: 'WD-1040', size: 40, price: 43, shelf: [[38, 19]], emergency: [4, 160] },
  {
    ...EPDM,
    item: 'WD-1050',
    size: 50,
    price: 56,
    shelf: [
      [9, 3],
      [30, 31],
    ],
    orders: [[40, 30, -4]],
    emergency: [5, 160],
  },
  {
    ...PTFE,
    item: 'WD-2015',
    size: 15,
    price: 48,
    shelf: [[34, 22]],
    orders: [[30, 20, 21]],
    emergency: [6, 220],
  },
  {
    ...PTFE,
    item: 'WD-2025',
    size: 25,
    price: 62,
    shelf: [
      [12, 1],
      [40, 24],
    ],
    emergency: [6, 220],
  },
  { ...PTFE, item: 'WD-2040', size: 40, price: 88, shelf: [[55, 28]], emergency: [7, 240] },
  { ...PTFE, item: 'WD-2050', size: 50, price: 112, shelf: [[18, 20]], emergency: [7, 240] },
  {
    ...PTFE,
    item: 'WD-2080',
    size: 80,
    price: 215,
    lead: [75, 24],
    pack: 5,
    minOrder: 5,
    shelf: [[26, 9]],
    emergency: [12, 380],
  },
  { ...OTHER, item: 'WD-3015', material: 'FKM', size: 15, price: 58, shelf: [[31, 14]] },
  { ...OTHER, item: 'WD-3025', material: 'FKM', size: 25, price: 76, shelf: [[6, 33]] },
  {
    ...OTHER,
    item: 'WD-4025',
    material: 'VMQ',
    size: 25,
    price: 44,
    shelf: [
      [15, 2],
      [20, 27],
    ],
  },
  { ...OTHER, item: 'WD-4040', material: 'VMQ', size: 40, price: 63, shelf: [[4, 25]] },
];

/** The site's own limit from the cure date, and what is left of it when a lot comes in. */
const SHELF_MONTHS = 48;
const LEFT_AT_RECEIPT = 36;

export interface Stores {
  items: Row[];
  lots: Row[];
  orders: Row[];
}

/** `times` as in the options of the plant: pieces on the shelf and on order grow with the plant. */
export function makeStores(times: number): Stores {
  return {
    items: ITEMS.map((item) => itemRow(item, times)),
    lots: ITEMS.flatMap((item) => item.shelf.map((lot, i) => lotRow(item, lot, i, times))),
    orders: ITEMS.flatMap((item) => (item.orders ?? []).map((order) => orderRow(item, order, times))),
  };
}

function itemRow(
  { item, material, size, price, lead, pack, minOrder, shelf, emergency }: StoreItem,
  times: number,
): Row {
  return {
    item,
    material,
    size: String(size),
    price: price.toFixed(2),
    lead_time_days: String(lead[0]),
    lead_time_sd_days: String(lead[1]),
    pack: String(pack),
    min_order: String(minOrder),
    shelf_life_months: String(SHELF_MONTHS),
    shelf_life_left_at_receipt_months: String(LEFT_AT_RECEIPT),
    on_hand: String(times * shelf.reduce((sum, [pieces]) => sum + pieces, 0)),
    emergency_days: emergency === null ? '' : String(emergency[0]),
    emergency_extra_cost: emergency === null ? '' : String(emergency[1]),
    approved_substitute: '',
  };
}

function lotRow(
  { item, material, size }: StoreItem,
  [pieces, left]: readonly [number, number],
  i: number,
  times: number,
): Row {
  const until = dayFromText(DATA_UNTIL) as number;
  const useBy = addMonths(until, left);
  return {
    item,
    // Numbers go on from those that were fitted.
    lot: lotName(material, size, 900 + PIECES_PER_LOT + i),
    quantity: String(times * pieces),
    cured: textFromDay(addMonths(useBy, -SHELF_MONTHS)),
    use_by: textFromDay(useBy),
  };
}

function orderRow(
  { item }: StoreItem,
  [quantity, since, left]: readonly [number, number, number],
  times: number,
): Row {
  const until = dayFromText(DATA_UNTIL) as number;
  return {
    item,
    quantity: String(times * quantity),
    placed: textFromDay(until - since),
    due: textFromDay(until + left),
  };
}
