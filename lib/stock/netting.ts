/**
 * What to order and when: time-phased netting (METHODS 5.4; Silver, Pyke & Thomas 2017, ch. 15, from memory).
 * Moments are in one unit of time (days in this library) from now; a review happens at 0 and every `review` after.
 */
import { UsageError } from '../errors.js';
import {
  advance,
  JUST,
  type PlannedPieces,
  type Receipt,
  type ShelfState,
  type Supply,
  usedOf,
  type Watch,
} from './course.js';
import { emptyLedger, type Ledger, ledgerWatch, type OrderReason, reasonAt } from './ledger.js';
import { purposeOf } from './purpose.js';
import type { Pieces } from './shelf.js';
import { sortedShelf, total } from './shelf.js';

export interface NettingInput {
  /** On the shelf now, with last good moments. */
  shelf: Pieces[];
  /** Orders already placed: when they come and how long they keep. */
  receipts: Receipt[];
  /** Dated planned need, known ahead, so that it carries no safety stock beside the kit's own. */
  planned: PlannedPieces[];
  /** Target quantile of random demand in (from, to]. */
  randomTarget: (from: number, to: number) => number;
  /** Mean random demand in (from, to]: what a look ahead takes as used. */
  randomMean: (from: number, to: number) => number;
  lead: number;
  review: number;
  /** No order is placed for a need after this moment. */
  horizon: number;
  pack: number;
  /** Smallest order worth placing at the usual lead time. */
  minOrder: number;
  /** Smallest order that the supplier takes, for what must be hurried; minOrder where not given. */
  leastOrder?: number;
  /** How soon a hurried delivery can come; 0 where not given. */
  emergency?: number;
  /** Largest sensible order that comes at this moment, so that it is used before it expires; Infinity = no limit. */
  mostAt?: (moment: number) => number;
  /** How long a new delivery keeps; Infinity = it does not expire. */
  keeps: number;
}

export interface NettedOrder {
  placed: number;
  quantity: number;
  due: number;
  /** Names of the planned needs without which it would be smaller. */
  serves: string[];
  /** True where leaks and openings alone would lack something. */
  random: boolean;
  /** True where the usual lead time is too long: the delivery must be hurried. */
  expedite: boolean;
  /** When it is needed, where it is hurried; it is late where that is before `due`. */
  needed: number;
  reason: OrderReason;
}

/** Pieces for random demand at a moment, as known at the last review whose order could come by then. */
export interface Cover {
  from: number;
  at: number;
  /** Days of demand that this moment stands for. */
  span: number;
  usable: number;
}

export interface NettingResult {
  orders: NettedOrder[];
  /** Pieces expected to pass their last good moment unused. */
  expired: (Pieces & { moment: number })[];
  /** For the share of random demand served along these orders. */
  cover: Cover[];
}

/**
 * Orders that keep kits complete and random demand covered at its target. At each review t the smallest allowed quantity
 * is ordered so that at every moment s of [t + lead, t + lead + review] usable pieces and receipts, less the expected use
 * of kits in (t, s], are at or above the target quantile of random demand in (t, s] and what those kits may take above
 * what is expected (kits of one such span put together as independent: root of the sum of squares). After a kit its
 * expected use is gone and the rest back on the shelf. What falls due before the first delivery can come is an expedite
 * order. `watch` follows the course with all orders. Throws UsageError where lead is below 0 or review, pack or minOrder
 * are not above 0.
 */
export function netOrders(input: NettingInput, watch: Watch | null = null): NettingResult {
  check(input);
  const plan = { ...input, receipts: [...input.receipts] };
  const ledger = emptyLedger(total(plan.shelf));
  const orders = expediteOrders(plan, ledger);
  const expired: NettingResult['expired'] = [];
  const follow = ledgerWatch(ledger, watch, (moment, pieces) => expired.push({ ...pieces, moment }));
  let state: ShelfState = { now: 0, shelf: sortedShelf(input.shelf), owed: 0 };
  const cover = coverUntilLead(plan, state);
  for (let review = 0; ; review++) {
    const now = review * plan.review;
    if (now + plan.lead > plan.horizon) break;
    state = advance(plan, state, now, true, follow);
    const order = orderAt(plan, state, ledger);
    if (order !== null) {
      orders.push(order);
      plan.receipts.push(receiptOf(order, plan.keeps));
    }
    const at = now + plan.lead + plan.review / 2;
    cover.push({ from: now, at, span: plan.review, usable: usableAt(plan, state, at) });
  }
  advance(plan, state, plan.horizon, true, follow);
  return { orders, expired, cover };
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

function receiptOf({ due, quantity }: NettedOrder, keeps: number): Receipt {
  return { moment: due, quantity, useBy: due + keeps, source: 'planned' };
}

type Course = Pick<NettingInput, 'shelf' | 'planned' | 'receipts' | 'randomMean'>;

const startOf = ({ shelf }: Course): ShelfState => ({ now: 0, shelf: sortedShelf(shelf), owed: 0 });

/** The first kit before a moment that these receipts leave short, and by how many pieces; null where none is. */
export function firstShort(plan: Course, until: number): { need: PlannedPieces; short: number } | null {
  for (const need of kitsBefore(plan, until)) {
    const short = shortOf(plan, need);
    if (short > 1e-9) return { need, short };
  }
  return null;
}

function kitsBefore({ planned }: Course, until: number): PlannedPieces[] {
  return planned.filter(({ moment }) => moment < until).sort((a, b) => a.moment - b.moment);
}

/** Pieces that a kit is short of after the leaks and openings expected before it. */
function shortOf(plan: Course, { moment }: PlannedPieces): number {
  const { shelf, owed } = advance(plan, startOf(plan), moment, true);
  return marginOf(plan.planned, 0, moment) + owed - total(shelf);
}

/** Planned need that comes before any normal delivery and is not covered. */
function expediteOrders(plan: NettingInput, ledger: Ledger): NettedOrder[] {
  const orders: NettedOrder[] = [];
  for (const need of kitsBefore(plan, plan.lead)) {
    const short = shortOf(plan, need);
    if (short <= 1e-9) continue;
    const before = { ...plan, planned: plan.planned.filter((each) => each !== need) };
    const order: NettedOrder = {
      placed: 0,
      quantity: allowedQuantity(short, plan.pack, plan.leastOrder ?? plan.minOrder),
      due: Math.max(need.moment, plan.emergency ?? 0),
      serves: [need.name],
      random: false,
      expedite: true,
      needed: need.moment,
      reason: { ...reasonAt(before, startOf(plan), ledger, need.moment), short, kits: [need] },
    };
    orders.push(order);
    // Taken as in time, so that no second order is placed for the same kit; `due` says when it can come.
    plan.receipts.push({ ...receiptOf(order, plan.keeps), moment: need.moment });
  }
  return orders;
}

/** What kits in (from, to] may take above what is expected, put together as independent. */
function marginOf(planned: readonly PlannedPieces[], from: number, to: number): number {
  let squares = 0;
  for (const need of planned) {
    if (need.moment > from && need.moment <= to) squares += Math.max(0, need.quantity - usedOf(need)) ** 2;
  }
  return Math.sqrt(squares);
}

function usableAt(plan: Supply, state: ShelfState, at: number): number {
  const then = advance(plan, state, at, false);
  return total(then.shelf) - then.owed;
}

function orderAt(plan: NettingInput, state: ShelfState, ledger: Ledger): NettedOrder | null {
  const due = state.now + plan.lead;
  const need = needAt(plan, state);
  if (need <= 1e-9) return null;
  const { kits, random } = purposeOf(need, kitsServed(plan, state.now), (dropped) =>
    needAt({ ...plan, planned: plan.planned.filter((each) => !dropped.includes(each)) }, state),
  );
  return {
    placed: state.now,
    quantity: quantityFor(plan, need, due),
    due,
    serves: [...new Set(kits.map(({ name }) => name))],
    random,
    expedite: false,
    needed: due,
    reason: { ...reasonAt(plan, state, ledger, due), short: need, kits },
  };
}

/** Most that is missing at the critical moments; no random target is above that of the last of them. */
function needAt(plan: NettingInput, state: ShelfState): number {
  const moments = criticalMoments(plan, state.now);
  const most = plan.randomTarget(state.now, Math.max(...moments));
  let need = 0;
  for (const moment of moments) {
    const have = usableAt(plan, state, moment) - marginOf(plan.planned, state.now, moment);
    if (most - have > need) need = Math.max(need, plan.randomTarget(state.now, moment) - have);
  }
  return need;
}

function quantityFor({ pack, minOrder, mostAt }: NettingInput, need: number, due: number): number {
  const most = mostAt?.(due) ?? Infinity;
  const least = allowedQuantity(Math.min(need, 1), pack, minOrder);
  const wanted = allowedQuantity(need, pack, minOrder);
  return Math.max(least, wanted > most ? Math.floor(most / pack) * pack : wanted);
}

/** Where the cover can be lowest: both ends of the window, at planned needs, before receipts and after expiries. */
function criticalMoments(plan: NettingInput, now: number): Set<number> {
  const from = now + plan.lead;
  const to = Math.min(from + plan.review, Math.max(from, plan.horizon));
  const found = new Set([from, to]);
  const add = (moment: number): void => {
    if (moment > from && moment < to) found.add(moment);
  };
  for (const { moment } of plan.planned) add(moment);
  for (const { moment, useBy } of plan.receipts) {
    add(moment - JUST);
    add(useBy + JUST);
  }
  for (const { useBy } of plan.shelf) add(useBy + JUST);
  return found;
}

function kitsServed({ planned, lead, review }: NettingInput, now: number): PlannedPieces[] {
  return planned
    .filter(({ moment, quantity }) => quantity > 0 && moment > now && moment >= now + lead)
    .filter(({ moment }) => moment <= now + lead + review);
}

/** Cover up to the first delivery that can still be ordered, by steps of a review. */
function coverUntilLead(plan: NettingInput, state: ShelfState): Cover[] {
  const until = Math.min(plan.lead, plan.horizon);
  const steps = Math.ceil(until / plan.review - 1e-9);
  return Array.from({ length: steps }, (_, i) => {
    const end = Math.min(until, (i + 1) * plan.review);
    const at = (i * plan.review + end) / 2;
    return { from: 0, at, span: end - i * plan.review, usable: usableAt(plan, state, at) };
  });
}
