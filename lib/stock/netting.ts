/**
 * What to order and when: time-phased netting (METHODS 5.4; Silver, Pyke & Thomas 2017, ch. 15, from memory).
 * Moments are in one unit of time (days in this library) from now; a review happens at 0 and every `review` after.
 */
import { UsageError } from '../errors.js';
import type { Pieces } from './shelf.js';
import { expire, put, sortedShelf, take, total } from './shelf.js';

export interface NettingInput {
  /** On the shelf now, with last good moments. */
  shelf: Pieces[];
  /** Orders already placed: when they come and how long they keep. */
  receipts: { moment: number; quantity: number; useBy: number }[];
  /** Dated planned need, known ahead, so that it carries no safety stock. */
  planned: { moment: number; quantity: number; name: string }[];
  /** Target quantile of random demand in (from, to]. */
  randomTarget: (from: number, to: number) => number;
  /** Mean random demand in (from, to]: what a look ahead takes as used. */
  randomMean: (from: number, to: number) => number;
  lead: number;
  review: number;
  /** No order is placed for a need after this moment. */
  horizon: number;
  pack: number;
  minOrder: number;
  /** Largest sensible order that comes at this moment, so that it is used before it expires; Infinity = no limit. */
  mostAt?: (moment: number) => number;
  /** How long a new delivery keeps; Infinity = it does not expire. */
  keeps: number;
}

export interface NettedOrder {
  placed: number;
  quantity: number;
  due: number;
  /** Names of the planned needs it serves; empty = random demand. */
  serves: string[];
  /** True where the usual lead time is too long: the delivery must be hurried. */
  expedite: boolean;
}

export interface NettingResult {
  orders: NettedOrder[];
  /** Pieces expected to pass their last good moment unused. */
  expired: { moment: number; quantity: number }[];
}

interface State {
  now: number;
  shelf: Pieces[];
  /** Asked for and not met yet. */
  owed: number;
}

const JUST = 1e-6;

/**
 * Orders that keep planned need met and random demand covered at its target. At each review t the smallest allowed
 * quantity is ordered so that at every moment s of [t + lead, t + lead + review] usable pieces and receipts less planned
 * need are at or above the target quantile of random demand in (t, s]. What falls due before the first delivery can come
 * is an expedite order. Throws UsageError where lead is below 0 or review, pack or minOrder are not above 0.
 */
export function netOrders(input: NettingInput): NettingResult {
  check(input);
  const plan = { ...input, receipts: [...input.receipts] };
  const orders = expediteOrders(plan);
  const expired: NettingResult['expired'] = [];
  let state: State = { now: 0, shelf: sortedShelf(input.shelf), owed: 0 };
  for (let review = 0; ; review++) {
    const now = review * plan.review;
    if (now + plan.lead > plan.horizon) break;
    state = advance(plan, state, now, (moment, quantity) => expired.push({ moment, quantity }), true);
    const order = orderAt(plan, state);
    if (order !== null) {
      orders.push(order);
      plan.receipts.push({ moment: order.due, quantity: order.quantity, useBy: order.due + plan.keeps });
    }
  }
  advance(plan, state, plan.horizon, (moment, quantity) => expired.push({ moment, quantity }), true);
  return { orders, expired };
}

function check({ lead, review, pack, minOrder, horizon }: NettingInput): void {
  const rule = (holds: boolean, text: string, received: number): void => {
    if (!holds) throw new UsageError('netOrders', text, received);
  };
  rule(lead >= 0 && lead < Infinity, 'lead must be at or above 0.', lead);
  rule(review > 0 && review < Infinity, 'review must be above 0.', review);
  rule(pack > 0 && pack < Infinity, 'pack must be above 0.', pack);
  rule(minOrder >= 0 && minOrder < Infinity, 'minOrder must be at or above 0.', minOrder);
  rule(horizon >= 0 && horizon < Infinity, 'horizon must be at or above 0, and finite.', horizon);
}

/** Smallest multiple of the pack at or above the need and the minimum order. */
export function allowedQuantity(need: number, pack: number, minOrder: number): number {
  return Math.ceil(Math.max(need, minOrder) / pack - 1e-9) * pack;
}

/** Planned need that comes before any normal delivery and is not covered. */
function expediteOrders(plan: NettingInput): NettedOrder[] {
  const orders: NettedOrder[] = [];
  const early = plan.planned.filter(({ moment }) => moment < plan.lead).sort((a, b) => a.moment - b.moment);
  for (const { moment, name } of early) {
    const state = advance(plan, { now: 0, shelf: sortedShelf(plan.shelf), owed: 0 }, moment, null, false);
    const short = state.owed - total(state.shelf);
    if (short <= 1e-9) continue;
    const quantity = allowedQuantity(short, plan.pack, plan.minOrder);
    orders.push({ placed: 0, quantity, due: moment, serves: [name], expedite: true });
    plan.receipts.push({ moment, quantity, useBy: moment + plan.keeps });
  }
  return orders;
}

function orderAt(plan: NettingInput, state: State): NettedOrder | null {
  const due = state.now + plan.lead;
  let need = 0;
  for (const moment of criticalMoments(plan, state.now)) {
    const then = advance(plan, state, moment, null, false);
    const have = total(then.shelf) - then.owed;
    need = Math.max(need, plan.randomTarget(state.now, moment) - have);
  }
  if (need <= 1e-9) return null;
  const most = plan.mostAt?.(due) ?? Infinity;
  const least = allowedQuantity(Math.min(need, 1), plan.pack, plan.minOrder);
  const wanted = allowedQuantity(need, plan.pack, plan.minOrder);
  const capped = wanted > most ? Math.floor(most / plan.pack) * plan.pack : wanted;
  return {
    placed: state.now,
    quantity: Math.max(least, capped),
    due,
    serves: servedBy(plan, state.now),
    expedite: false,
  };
}

/** Where the cover can be lowest: both ends of the window, at planned needs, before receipts and after expiries. */
function criticalMoments(plan: NettingInput, now: number): number[] {
  const from = now + plan.lead;
  const to = Math.min(from + plan.review, Math.max(from, plan.horizon));
  const inside = (moment: number): boolean => moment > from && moment < to;
  const moments = [
    from,
    to,
    ...plan.planned.map(({ moment }) => moment),
    ...plan.receipts.map(({ moment }) => moment - JUST),
    ...plan.shelf.map(({ useBy }) => useBy + JUST),
    ...plan.receipts.map(({ useBy }) => useBy + JUST),
  ];
  return [...new Set(moments.filter((moment) => moment === from || moment === to || inside(moment)))];
}

function servedBy({ planned, lead, review }: NettingInput, now: number): string[] {
  const names = planned
    .filter(({ moment, quantity }) => quantity > 0 && moment > now && moment >= now + lead)
    .filter(({ moment }) => moment <= now + lead + review)
    .map(({ name }) => name);
  return [...new Set(names)];
}

/**
 * The shelf at a later moment: receipts put on it, planned need taken, expired pieces gone; with `useRandom` the mean
 * random demand is taken as well. The state given stays as it is.
 */
function advance(
  plan: NettingInput,
  from: State,
  to: number,
  onExpired: ((moment: number, quantity: number) => void) | null,
  useRandom: boolean,
): State {
  const state: State = { now: from.now, shelf: from.shelf.map((each) => ({ ...each })), owed: from.owed };
  for (const moment of momentsBetween(plan, state, to)) {
    if (useRandom) serve(state, plan.randomMean(state.now, moment));
    const gone = expire(state.shelf, moment);
    if (gone > 0) onExpired?.(moment, gone);
    for (const receipt of plan.receipts) {
      if (receipt.moment > state.now && receipt.moment <= moment) put(state.shelf, receipt);
      // What comes at the very start counts on hand.
      else if (state.now === 0 && receipt.moment <= 0) put(state.shelf, receipt);
    }
    if (state.owed > 0) state.owed = take(state.shelf, state.owed);
    for (const need of plan.planned) {
      if (need.moment > state.now && need.moment <= moment) serve(state, need.quantity);
    }
    state.now = moment;
  }
  return state;
}

function serve(state: State, quantity: number): void {
  state.owed += take(state.shelf, quantity);
}

/** Moments in (from, to] at which something happens, and `to` itself. */
function momentsBetween(plan: NettingInput, { now, shelf }: State, to: number): number[] {
  if (to <= now) return [];
  const all = [
    to,
    ...plan.planned.map(({ moment }) => moment),
    ...plan.receipts.map(({ moment }) => moment),
    ...plan.receipts.map(({ useBy }) => useBy + JUST),
    ...shelf.map(({ useBy }) => useBy + JUST),
  ];
  return [...new Set(all.filter((moment) => moment > now && moment <= to))].sort((a, b) => a - b);
}
