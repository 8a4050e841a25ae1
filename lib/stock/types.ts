/** What to order, chase, hold and use up, per item. */
import type { UseForecast } from '../demand/useForecast.js';
import type { Warning } from '../findings.js';
import type { LeadTimeSeen } from '../fleet/usualLeadTime.js';

/** What hurrying a delivery takes. */
export interface Hurry {
  /** Days that an emergency delivery takes. */
  days: number;
  /** True where items.csv gives no emergency_days: a quarter of the lead time is taken. */
  assumed: boolean;
  /** On top of the price, per order, in the site's currency; null where not given. */
  extraCost: number | null;
  /** Pieces that are missing on the day all the same, because even an emergency delivery comes later; 0 = in time. */
  shortOnDay: number;
}

export interface StockOrder {
  quantity: number;
  /** YYYY-MM-DD; a past day means: order now and chase it. */
  orderBy: string;
  dueBy: string;
  for: string;
  /** True where the lead time no longer fits and the delivery must be hurried. */
  expedite: boolean;
  /** The order in words: 'order 24 by 3 March 2027 for the spring shutdown'. */
  action: string;
  /** The sum behind it, in words. */
  because: string;
  /** Quantity times unit price, in the site's currency; null without a price. */
  value: number | null;
  /** True where it must be placed within six months; later ones are an outlook and are worked out anew by then. */
  firm: boolean;
  /** Null where the usual lead time fits. */
  hurry: Hurry | null;
  /** Pieces of this order that are likely to expire unused. */
  scrap: number;
  warnings: Warning[];
}

/** An order that should have come. */
export interface Chase {
  quantity: number;
  /** Day the first of it was due, YYYY-MM-DD. */
  due: string;
  /** The first shutdown that is short without it, pieces missing there, and its day; null where none is before a new order could come. */
  needed: { for: string; short: number; day: string } | null;
  /** Last day to place an emergency order instead, YYYY-MM-DD; null where nothing is short. */
  decideBy: string | null;
  /** 'chase the 40 due 26 September 2026: ...' */
  action: string;
}

/** A lot of today's shelf with a use-by date within the months planned. */
export interface LotUse {
  lot: string | null;
  quantity: number;
  /** YYYY-MM-DD */
  useBy: string;
  /** Kits that are expected to take it, 'leaks and openings' among them. */
  for: string[];
  /** Pieces expected to pass the date unused. */
  expires: number;
}

/** Whole pieces of a kit that come from one lot, one order, or one order to be placed. */
export interface KitSource {
  from: 'shelf' | 'on order' | 'late' | 'planned';
  /** Lot number; null where it is not known. */
  lot: string | null;
  /** Last good day, YYYY-MM-DD; null where they do not expire or no day is known. */
  useBy: string | null;
  quantity: number;
}

/** What there is for one kit. Amounts are expected pieces on its day. */
export interface KitSupply {
  name: string;
  /** Day of the shutdown, YYYY-MM-DD. */
  day: string;
  /** Left of today's shelf, of orders placed and in time, of orders placed and overdue, and of the orders listed here. */
  onShelf: number;
  onTheWay: number;
  late: number;
  toOrder: number;
  /** Where its pieces are to be taken from, first expired first out. */
  from: KitSource[];
  /** Missing for a complete kit, all of these counted. */
  short: number;
  /** Last day to order for it at the usual lead time and its spread, YYYY-MM-DD; may be past. */
  orderBy: string;
}

/** What monthly-use.csv says of an item. */
export interface RecordedUse {
  /** First and last month, YYYY-MM; months between them that are not given count as 0. */
  from: string;
  until: string;
  months: number;
  monthsGiven: number;
  pieces: number;
  plannedPieces: number;
  perYear: number;
  /** 'forecast': orders rest on it; 'check': positions need the item, and their model is used. */
  purpose: 'forecast' | 'check';
  class: UseForecast['class'];
  method: UseForecast['method'];
  chosenBy: UseForecast['chosenBy'];
  errors: UseForecast['errors'];
  /** Forecast of the use that is not planned, pieces a month. */
  perMonth: number;
  /** By the positions' model under today's practice, with the 95 % range for as many months; null where there is none. */
  modelledPerYear: number | null;
  modelledRange: [number, number] | null;
  words: string;
}

export type PolicyKind = 'one for one' | 'reorder point' | 'order up to';

/** Long-run measures of a rule under leaks and openings. Three of them are easily taken for each other. */
export interface PolicyMeasures {
  /** Share of pieces asked for that are handed out at once: by the piece. */
  fillRate: number;
  /** Chance that nothing is owed just before the next order can come: by the order cycle. It says not how much is short. */
  cycleService: number;
  /** Share of time without any piece owed: by the clock. */
  readyRate: number;
  /** Mean number of pieces owed, over time. */
  expectedShortage: number;
  expectedOnHand: number;
  /** Mean wait of a piece asked for, those at once included, if nothing is hurried. */
  waitingDays: number;
  leaksFindingShelfEmptyPerYear: number;
  ordersPerYear: number;
}

/** Per year, in the site's currency; shortage is null where neither downtime nor an emergency order has a price. */
export interface PolicyCost {
  pieces: number;
  ordering: number;
  holding: number;
  shortage: number | null;
  total: number;
}

/** What a rule does: looked at every so many days; point and quantity, or a level; in words. */
export interface PolicyShown {
  kind: PolicyKind;
  point: number | null;
  quantity: number | null;
  level: number | null;
  everyDays: number;
  rule: string;
}

/** How to keep an item for leaks and openings alone, in the long run; kits are ordered by date. */
export interface ItemPolicy extends PolicyShown {
  /** 'cost': the cheapest of those that meet the target; 'target': costs are not given, and the reorder point is kept. */
  chosenBy: 'cost' | 'target';
  measures: PolicyMeasures;
  costPerYear: PolicyCost | null;
  /** The other rules at the same target, with their cost a year. */
  others: (PolicyShown & { fillRate: number; costPerYear: number | null })[];
  /** The same kind of rule where a shortage is priced: what costs least at or above the target, and how much it saves. */
  leastCost: (PolicyShown & { fillRate: number; costPerYear: number; saving: number }) | null;
}

export interface StockAdvice {
  item: string;
  material: string;
  size: number;
  onHand: number;
  /** On hand and still within its use-by date today. */
  usable: number;
  onOrder: number;
  /** For leaks and openings alone, by the usual lead time: a stationary rule for other systems. Kits are ordered by date. */
  reorderPoint: number;
  orderQuantity: number;
  /** The rule of least cost that meets the target; null where nothing is asked for at random. */
  policy: ItemPolicy | null;
  /** Target share of unplanned demand met at once. */
  servedTarget: number;
  /** Share of leaks and openings met at once over the months planned, along today's stock and the orders listed here. */
  served: number;
  leaksFindingShelfEmptyPerYear: number;
  /** Value of what is on the shelf, in the site's currency; null without a price. */
  value: number | null;
  /** Per piece, in the site's currency; null where not given. */
  price: number | null;
  pack: number;
  minOrder: number;
  leadTimeDays: number;
  /** Null where fewer than three past deliveries are on record. */
  leadTimeSeen: LeadTimeSeen | null;
  /** Pieces expected to pass their use-by date unused within the horizon, and the first such day. */
  expiring: { quantity: number; useBy: string | null };
  /** How long it keeps from the cure date, months, and what says so; null where nothing does. */
  shelfLife: { months: number | null; source: string | null };
  /** Dated lots of today's shelf, the first to expire first. */
  lots: LotUse[];
  /** Months of expected need that today's usable pieces last; what is on order is left out. */
  monthsOfCover: number | null;
  orders: StockOrder[];
  /** Orders placed and overdue; null where there are none. */
  chase: Chase | null;
  /** Null where monthly-use.csv has nothing of it. */
  recordedUse: RecordedUse | null;
  kits: KitSupply[];
  /** The action in words: 'order 24 by 3 March 2027 for the spring shutdown'. */
  action: string;
  /** 'order now', 'chase', 'order later', 'use first', 'do not order', 'no data'. */
  kind: 'order now' | 'chase' | 'order later' | 'use first' | 'do not order' | 'no data';
  warnings: Warning[];
}
