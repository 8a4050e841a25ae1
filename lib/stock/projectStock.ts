/** One item's shelf through the months planned: today's stock and orders against what is used. */
import { FIRST_YEAR_DAYS } from '../demand/itemPath.js';
import type { DemandForecast } from '../demand/types.js';
import { UsageError } from '../errors.js';
import type { Fleet, Item } from '../fleet/types.js';
import { floatAt, sum } from '../numeric/columns.js';
import { type Day, dayFromText, textFromDay } from '../numeric/day.js';
import { advance, JUST, type Receipt, type Supply, sortedReceipts, startOf, usedOf } from './course.js';
import { type ItemNeed, itemNeed } from './itemNeed.js';
import { type ItemState, itemState } from './itemState.js';
import { recordedDemand } from './recordedUse.js';
import { total } from './shelf.js';
import type { StockAdvice, StockOrder } from './types.js';

/** Share of courses of leaks and openings that the range holds, the rest half above and half below. */
const RANGE = 0.8;
const STEP_DAYS = 7;

/** Something that moves the shelf on a day: pieces come (above 0) or go (below 0). */
export interface ShelfEvent {
  /** YYYY-MM-DD */
  day: string;
  kind: 'on order' | 'ordered here' | 'kit' | 'expired';
  quantity: number;
  /** Shutdown, lot or purpose, in words. */
  name: string;
}

/** Usable pieces on the shelf, less those owed, so that below 0 means: so many wait. */
export interface StockProjection {
  item: string;
  /** The day of the data, YYYY-MM-DD; `days` count from it and rise. */
  from: string;
  days: number[];
  /** With the orders placed and those of the advice. */
  expected: number[];
  /** The same where leaks and openings from today on are at the lower and upper end of their range (10 % and 90 %). */
  low: number[];
  high: number[];
  /** Expected, if nothing more were ordered. */
  withoutOrders: number[];
  events: ShelfEvent[];
  /** When and how much to order, from the advice. */
  orders: Pick<StockOrder, 'quantity' | 'orderBy' | 'dueBy' | 'for'>[];
  /** For leaks and openings alone. */
  reorderPoint: number;
  /** Use of the first year (of the months planned, where these are fewer), pieces: kits as expected, leaks and openings with their range. */
  firstYear: { kits: number; random: number; low: number; high: number };
}

/**
 * The shelf of one item as expected, week by week and on the days when something happens. Kits take their expected use on
 * their day; orders of the advice come on theirs (they are worked out anew every review, so far ones are an outlook). `advice` is a
 * row of `sizeStock` for the same fleet and forecast. Throws UsageError where items.csv does not list its item.
 */
export function projectStock(fleet: Fleet, forecast: DemandForecast, advice: StockAdvice): StockProjection {
  const item = fleet.items.find((each) => each.item === advice.item);
  if (item === undefined) throw new UsageError('projectStock', 'items.csv must list the item.', advice.item);
  const demand = forecast.items.find((each) => each.item === item.item) ?? recordedDemand(fleet, item);
  const need = itemNeed(demand);
  const state = itemState(fleet, item);
  const today = fleet.site.dataUntil;
  const planned = plannedOf(need, today);
  const placed = sortedReceipts(state.receipts.filter(({ moment }) => moment <= need.horizon));
  const ordered = receiptsOf(advice, item, state, today);
  const supply: Supply = {
    planned,
    receipts: sortedReceipts([...placed, ...ordered]),
    randomMean: need.randomMean,
  };
  const days = momentsOf(supply, state, need.horizon);
  const events: ShelfEvent[] = [];
  const course = (with_: Partial<Supply>, told: ShelfEvent[] | null = null): number[] =>
    courseOf({ ...supply, ...with_ }, state, days, told, today);
  return {
    item: item.item,
    from: textFromDay(today),
    days,
    expected: course({}, events),
    low: course({ randomMean: randomAt(need, (1 + RANGE) / 2) }),
    high: course({ randomMean: randomAt(need, (1 - RANGE) / 2) }),
    withoutOrders: course({ receipts: placed }),
    events: withReceipts(events, placed, advice, today),
    orders: advice.orders.map(({ quantity, orderBy, dueBy, for: purpose }) => ({
      quantity,
      orderBy,
      dueBy,
      for: purpose,
    })),
    reorderPoint: advice.reorderPoint,
    firstYear: firstYear(need, planned),
  };
}

function firstYear(need: ItemNeed, planned: Supply['planned']): StockProjection['firstYear'] {
  const until = Math.min(FIRST_YEAR_DAYS, need.horizon);
  const kits = planned.filter(({ moment }) => moment <= until).map((each) => usedOf(each));
  const [low, high] = [(1 - RANGE) / 2, (1 + RANGE) / 2].map((p) => need.randomQuantile(p, 0, until, 0));
  return { kits: sum(kits), random: need.randomMean(0, until), low: low ?? 0, high: high ?? 0 };
}

/** Kits on their day. */
function plannedOf({ demand }: ItemNeed, today: Day): Supply['planned'] {
  return (demand?.planned ?? [])
    .filter(({ kit }) => kit > 0)
    .map(({ name, day, kit, expected }) => ({
      name,
      moment: day - today,
      quantity: kit,
      expected: Math.min(expected, kit),
    }));
}

function receiptsOf({ orders }: StockAdvice, item: Item, { keepsDays }: ItemState, today: Day): Receipt[] {
  return orders.map(({ quantity, dueBy }) => {
    const day = dayFromText(dueBy);
    if (day === null) throw new UsageError('projectStock', `an order of ${item.item} needs a day.`, dueBy);
    const moment = Math.max(day - today, JUST);
    return { moment, quantity, useBy: moment + keepsDays, source: 'planned' };
  });
}

/** Each week, and the day before and of everything that happens, so that a step is drawn as a step. */
function momentsOf({ planned, receipts }: Supply, { shelf }: ItemState, horizon: number): number[] {
  const found = new Set<number>([0, horizon]);
  for (let day = STEP_DAYS; day < horizon; day += STEP_DAYS) found.add(day);
  const steps = [
    ...planned.map(({ moment }) => moment),
    ...receipts.flatMap(({ moment, useBy }) => [moment, useBy + 1]),
    ...shelf.map(({ useBy }) => useBy + 1),
  ];
  for (const moment of steps) {
    if (moment <= 0 || moment > horizon) continue;
    found.add(Math.ceil(moment) - 1).add(Math.ceil(moment));
  }
  return [...found].sort((a, b) => a - b);
}

/** Usable less owed on each of the days; kits and expiries are written into `told`. */
function courseOf(
  supply: Supply,
  { shelf }: ItemState,
  days: readonly number[],
  told: ShelfEvent[] | null,
  today: Day,
): number[] {
  let state = startOf({ shelf });
  const taken = new Map<string, ShelfEvent>();
  const watch = told === null ? null : watchInto(told, taken, supply, today);
  return days.map((day) => {
    state = advance(supply, state, day, true, watch);
    return total(state.shelf) - state.owed;
  });
}

function watchInto(
  told: ShelfEvent[],
  seen: Map<string, ShelfEvent>,
  { planned }: Supply,
  today: Day,
): Parameters<typeof advance>[4] {
  for (const need of planned) {
    const used = usedOf(need);
    if (used < 0.05) continue;
    told.push({ day: textFromDay(today + need.moment), kind: 'kit', quantity: -used, name: need.name });
  }
  return {
    expired: ({ quantity, lot }, moment) => {
      const day = textFromDay(Math.floor(today + moment));
      const known = seen.get(`${day} ${lot}`);
      if (known !== undefined) known.quantity -= quantity;
      else if (quantity >= 0.05) {
        const event: ShelfEvent = { day, kind: 'expired', quantity: -quantity, name: lot ?? 'no lot given' };
        seen.set(`${day} ${lot}`, event);
        told.push(event);
      }
    },
    received: () => undefined,
    kit: () => undefined,
    taken: () => undefined,
  };
}

/** Leaks and openings at one quantile of their number from today on, never falling. */
function randomAt(need: ItemNeed, p: number): Supply['randomMean'] {
  const byDay = new Float64Array(Math.ceil(need.horizon) + 2);
  for (let day = 1; day < byDay.length; day++) {
    byDay[day] = Math.max(floatAt(byDay, day - 1), need.randomQuantile(p, 0, day, 0));
  }
  const at = (moment: number): number =>
    floatAt(byDay, Math.min(byDay.length - 1, Math.max(0, Math.floor(moment))));
  return (from, to) => at(to) - at(from);
}

/** All that happens, in order of the day; receipts before what is taken on the same day. */
function withReceipts(
  events: readonly ShelfEvent[],
  placed: readonly Receipt[],
  { orders }: StockAdvice,
  today: Day,
): ShelfEvent[] {
  const receipts = [
    ...placed.map(
      ({ moment, quantity, source }): ShelfEvent => ({
        day: textFromDay(Math.floor(today + moment)),
        kind: 'on order',
        quantity,
        name: source === 'late' ? 'overdue' : 'order placed',
      }),
    ),
    ...orders.map(
      ({ dueBy, quantity, for: purpose }): ShelfEvent => ({
        day: dueBy,
        kind: 'ordered here',
        quantity,
        name: purpose,
      }),
    ),
  ];
  return [...receipts, ...events].sort((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : 0));
}
