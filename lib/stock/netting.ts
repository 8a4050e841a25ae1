/**
 * What to order and when: time-phased netting (METHODS 5.4; Silver, Pyke & Thomas 2017, ch. 15, from memory).
 * Moments are in one unit of time (days in this library) from now; a review happens at 0 and every `review` after.
 */
import { UsageError } from '../errors.js';
import {
  addReceipt,
  advance,
  calmShelf,
  fittedOf,
  goOn,
  isCalm,
  type PlannedPieces,
  type Receipt,
  type ShelfState,
  type Supply,
  sortedReceipts,
  startOf,
  type Watch,
} from './course.js';
import type { LotCosts } from './groupedLots.js';
import { allowedQuantity, type Grouping, grouping, quantityFor } from './grouping.js';
import { emptyLedger, type Ledger, ledgerWatch, type OrderReason, reasonAt } from './ledger.js';
import { needAt } from './needAt.js';
import { purposeOf } from './purpose.js';
import type { Pieces } from './shelf.js';
import { total } from './shelf.js';
import { kitsBefore, shortOf } from './shortKits.js';

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
  /** Where an order costs: needs are grouped into orders of least cost. Each need is ordered for itself where not given. */
  lots?: LotCosts | null;
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
  /** Up to when its pieces last, where needs after the next review are put into it as well; null where they are not. */
  until: number | null;
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
 * what is expected (kits of one such span put together as independent, root of the sum of squares; those laid out at one time in full). Where `lots` says what an
 * order costs, it is raised by the needs of later reviews that are cheaper held than ordered again. After a kit its
 * expected use is gone and the rest back on the shelf. What falls due before the first delivery can come is an expedite
 * order. `watch` follows the course with all orders. Throws UsageError where lead is below 0 or review, pack or minOrder
 * are not above 0.
 */
export function netOrders(input: NettingInput, watch: Watch | null = null): NettingResult {
  check(input);
  const planned = [...input.planned].sort((a, b) => fittedOf(a) - fittedOf(b));
  const plan = { ...input, planned, receipts: sortedReceipts(input.receipts) };
  const ledger = emptyLedger(total(plan.shelf));
  const orders = expediteOrders(plan, ledger);
  const expired: NettingResult['expired'] = [];
  const follow = ledgerWatch(ledger, watch, (moment, pieces) => expired.push({ ...pieces, moment }));
  const state = startOf(plan);
  const cover = coverUntilLead(plan, state);
  const group = grouping(plan);
  for (let review = 0; ; review++) {
    const now = review * plan.review;
    if (now + plan.lead > plan.horizon) break;
    goOn(plan, state, now, true, follow);
    const order = orderAt(plan, state, ledger, group);
    if (order !== null) {
      orders.push(order);
      addReceipt(plan.receipts, receiptOf(order, plan.keeps));
    }
    const at = now + plan.lead + plan.review / 2;
    cover.push({ from: now, at, span: plan.review, usable: usableAt(plan, state, at) });
  }
  goOn(plan, state, plan.horizon, true, follow);
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

function receiptOf({ due, quantity }: NettedOrder, keeps: number): Receipt {
  return { moment: due, quantity, useBy: due + keeps, source: 'planned' };
}

/** Planned need that comes before any normal delivery and is not covered. */
function expediteOrders(plan: NettingInput, ledger: Ledger): NettedOrder[] {
  const orders: NettedOrder[] = [];
  const kits = kitsBefore(plan, plan.lead);
  kits.forEach((need, i) => {
    const short = shortOf(plan, kits, i);
    if (short <= 1e-9) return;
    const before = { ...plan, planned: kits.slice(0, i) };
    const order: NettedOrder = {
      placed: 0,
      quantity: allowedQuantity(short, plan.pack, plan.leastOrder ?? plan.minOrder),
      due: Math.max(need.moment, plan.emergency ?? 0),
      serves: [need.name],
      random: false,
      expedite: true,
      needed: need.moment,
      until: null,
      reason: { ...reasonAt(before, startOf(plan), ledger, need.moment), short, kits: [need] },
    };
    orders.push(order);
    // Taken as in time, so that no second order is placed for the same kit; `due` says when it can come.
    addReceipt(plan.receipts, { ...receiptOf(order, plan.keeps), moment: need.moment });
  });
  return orders;
}

function usableAt(plan: Supply, state: ShelfState, at: number): number {
  if (isCalm(plan, state, at)) return calmShelf(plan, state, at);
  const then = advance(plan, state, at, false);
  return total(then.shelf) - then.owed;
}

function orderAt(
  plan: NettingInput,
  state: ShelfState,
  ledger: Ledger,
  group: Grouping | null,
): NettedOrder | null {
  const { now } = state;
  const due = now + plan.lead;
  const short = group === null ? needAt(plan, state) : group.short(now, state);
  if (short <= 1e-9) return null;
  const lot = group?.lot(now, short) ?? null;
  const quantity = quantityFor(plan, short, lot?.quantity ?? 0, due);
  const grouped = lot !== null && quantity > allowedQuantity(short, plan.pack, plan.minOrder);
  const next = now + plan.review;
  const until = grouped ? Math.max(next, (lot.until + 1) * plan.review) : next;
  const { kits, random } = purposeOf(short, kitsServed(plan, now, next), (dropped) =>
    needAt({ ...plan, planned: plan.planned.filter((each) => !dropped.includes(each)) }, state),
  );
  const later = kitsServed(plan, next, until);
  return {
    placed: now,
    quantity,
    due,
    serves: [...new Set([...kits, ...later].map(({ name }) => name))],
    random: random || (until > next && plan.randomMean(next + plan.lead, until + plan.lead) >= 0.5),
    expedite: false,
    needed: due,
    until: until > next ? until + plan.lead : null,
    reason: { ...reasonAt(plan, state, ledger, due), short, kits },
  };
}

/** Kits whose pieces come with an order placed at `now`, up to those that one placed at `next` brings. */
function kitsServed({ planned, lead }: NettingInput, now: number, next: number): PlannedPieces[] {
  return planned
    .filter(({ moment, quantity }) => quantity > 0 && moment > now && moment >= now + lead)
    .filter(({ moment }) => moment <= next + lead);
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
