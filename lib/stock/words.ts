/** Orders and the action of one item in words. */

import { isMonthKit } from '../demand/kits.js';
import type { PlannedNeed } from '../demand/types.js';
import type { Day } from '../numeric/day.js';
import { dayFromText, textFromDay } from '../numeric/day.js';
import { amount, coverWords, dayWords, listed } from '../numeric/words.js';
import type { Chase, Hurry, LotUse, StockAdvice, StockOrder } from './types.js';

/** An order that need not be placed within so many days is 'do not order' today, and an outlook. */
export const FAR_DAYS = 183;

interface ActionInput {
  orders: readonly StockOrder[];
  chase: Chase | null;
  lots: readonly LotUse[];
  monthsOfCover: number | null;
  today: Day;
  reviewDays: number;
  onHand: number;
  usable: number;
  onOrder: number;
  neededPerYear: number;
}

export function actionOf(input: ActionInput): Pick<StockAdvice, 'action' | 'kind'> {
  const { orders, today, reviewDays } = input;
  const first = orders[0];
  const orderDay = first === undefined ? null : (dayFromText(first.orderBy) ?? today);
  const { words: useFirst, loss } = useFirstWords(input.lots, today);
  const expired = expiredWords(input.onHand - input.usable);
  const chase = input.chase?.action ?? null;
  if (first !== undefined && orderDay !== null && orderDay <= today + reviewDays) {
    return { kind: 'order now', action: joined([chase, nowWords(input), useFirst, expired]) };
  }
  const near = orderDay !== null && orderDay <= today + FAR_DAYS;
  const later = near ? (first as StockOrder).action : restWords(input, orderDay);
  const action = joined([chase, useFirst, later, expired]);
  if (chase !== null) return { kind: 'chase', action };
  if (loss) return { kind: 'use first', action };
  return { kind: near ? 'order later' : 'do not order', action };
}

/**
 * 'order 24 by 3 March 2027 for the spring shutdown', 'at once' where that is today or past; what must be hurried with the
 * day it is needed.
 */
export function orderWords(
  order: Pick<StockOrder, 'quantity' | 'orderBy' | 'dueBy' | 'for'>,
  today: Day,
  needed: Day,
  hurry: Hurry | null,
): string {
  const quantity = amount(order.quantity, 9);
  if (hurry === null) {
    const due = dayFromText(order.orderBy);
    const when = due !== null && due <= today ? 'at once' : `by ${textWords(order.orderBy)}`;
    return `order ${quantity} ${when} for ${order.for}`;
  }
  const start = `order ${quantity} at once and hurry the delivery: needed by ${dayWords(needed)} for ${order.for}`;
  if (hurry.shortOnDay === 0) return start;
  return `${start}, and an emergency delivery comes ${textWords(order.dueBy)} at the earliest: borrow ${amount(hurry.shortOnDay, 9)} or leave so many out that day`;
}

/** What is overdue, what is short without it, and what to do by when. */
export function chaseWords(
  chase: Omit<Chase, 'action'>,
  orders: number,
  today: Day,
  inTime: boolean,
): string {
  const { quantity, due, needed, decideBy } = chase;
  const [them, have] = quantity === 1 ? ['it', 'has'] : ['them', 'have'];
  const what =
    orders === 1
      ? `chase the ${amount(quantity, 9)} due ${textWords(due)}, which ${have} not come`
      : `chase the ${amount(quantity, 9)} of ${orders} overdue orders, the first due ${textWords(due)}`;
  if (needed === null || decideBy === null)
    return `${what}: nothing is short without ${them} yet, but the orders listed count on ${them}`;
  const missing = `${amount(needed.short, 9)} ${needed.short === 1 ? 'is' : 'are'} missing`;
  const short = `without ${them} ${missing} for ${dayedPurpose(needed.for, needed.day)}`;
  if (!inTime)
    return `${what}: ${short}, and an emergency delivery would come too late: borrow ${amount(needed.short, 9)} or leave so many out`;
  return decideBy <= textFromDay(today)
    ? `${what}: ${short}; if no date is promised at once, place an emergency order`
    : `${what}: ${short}; if no date is promised by ${textWords(decideBy)}, place an emergency order then`;
}

/** What positions need and items.csv does not list. */
export function unlistedWords(perYear: number, next: PlannedNeed | null): string {
  const yearly =
    perYear < 0.05
      ? 'hardly any is needed'
      : `about ${amount(roundly(perYear), 9)} a year ${roundly(perYear) === 1 ? 'is' : 'are'} needed`;
  const first =
    next === null
      ? ''
      : `, the next ${amount(next.kit, 9)} for ${dayedPurpose(next.name, textFromDay(next.day))}`;
  return `no part number: ${yearly}${first}`;
}

/** An item whose material and size another one has, which all need is planned on. */
export function secondItemWords(usable: number, first: string): string {
  return usable > 0
    ? `use the ${amount(usable, 9)} on the shelf before ordering ${first}, which has the same material and size`
    : `do not order: ${first} has the same material and size`;
}

/** Everything to be ordered at the first review together. */
function nowWords({ orders, today, reviewDays }: ActionInput): string {
  const now = orders.filter(({ orderBy }) => (dayFromText(orderBy) ?? today) <= today + reviewDays);
  return joined(now.map(({ action }) => action));
}

/** The lots to issue first: the next to expire within half a year, and the first that will expire in part. */
function useFirstWords(lots: readonly LotUse[], today: Day): { words: string | null; loss: boolean } {
  const [losing, ...rest] = lots.filter(({ expires }) => expires >= 1);
  const until = textFromDay(today + FAR_DAYS);
  const soon = lots.find(({ useBy, expires, quantity }) => useBy <= until && expires < quantity);
  const first = soon === undefined ? null : `use ${lotWords(soon)} first`;
  if (losing === undefined) return { words: first, loss: false };
  const { quantity, expires } = losing;
  const before = soon === losing ? null : first;
  const later = rest.reduce((sum, lot) => sum + lot.expires, 0);
  const more = later === 0 ? '' : `, and ${amount(later, 9)} of later lots`;
  const which = lotWords(losing);
  if (expires >= quantity) {
    const off = `${which} will not be used in time${more}: return, swap or write ${quantity + later === 1 ? 'it' : 'them'} off`;
    return { words: joined([before, off]), loss: true };
  }
  const order = before === null ? `use ${which} first` : `${before}, then ${which}`;
  return { words: `${order}; ${amount(expires, 9)} of them will expire even so${more}`, loss: true };
}

/** 'the 20 that expire by 30 June 2027'. */
function lotWords({ quantity, useBy }: LotUse): string {
  return `the ${amount(quantity, 9)} that ${quantity === 1 ? 'expires' : 'expire'} by ${textWords(useBy)}`;
}

function expiredWords(pieces: number): string | null {
  return pieces < 1 ? null : `take the ${amount(pieces, 9)} past use-by off the shelf`;
}

function restWords(input: ActionInput, orderDay: Day | null): string {
  const { neededPerYear, usable, onOrder } = input;
  const until = orderDay === null ? 'do not order' : `do not order before ${dayWords(orderDay)}`;
  if (neededPerYear > 0) return `${stockWords(input)}: ${until}`;
  const cancel = onOrder > 0 ? `, and cancel the ${amount(onOrder, 9)} on order if you can` : '';
  return `${usable > 0 ? 'nothing needed' : 'not needed'}: do not order${cancel}`;
}

/** How long the shelf lasts, and what is to come beside it. */
function stockWords({ usable, onOrder, monthsOfCover, chase }: ActionInput): string {
  const cover = monthsOfCover ?? 0;
  const lasts = cover < 1 ? 'less than a month' : coverWords(cover);
  const shelf = usable <= 0 ? 'none on the shelf' : `enough for ${lasts}`;
  const late = chase?.quantity ?? 0;
  const coming = [
    ...(onOrder > late ? [`${amount(onOrder - late, 9)} on order`] : []),
    ...(late > 0 ? [`${amount(late, 9)} overdue`] : []),
  ];
  if (coming.length > 0) return `${shelf}, and ${listed(coming)}`;
  return cover < 1 ? `${shelf}, and needed too seldom to keep ${usable <= 0 ? 'any' : 'more'}` : shelf;
}

/** 'the spring shutdown on 3 March 2027'; of a month only its name. */
function dayedPurpose(name: string, day: string): string {
  return isMonthKit(name) ? name : `${withArticle(name)} on ${textWords(day)}`;
}

/** 'the spring shutdown and Spring 2027'. */
export function listedPurposes(names: readonly string[]): string {
  return listed(names.map(withArticle));
}

/** 'the spring shutdown', and 'Spring 2027' as it is. */
function withArticle(name: string): string {
  return /^(?!the )[^(]*\b(shutdown|stop|outage|turnaround)\b/i.test(name) && !/\d/.test(name)
    ? `the ${name}`
    : name;
}

function joined(parts: readonly (string | null)[]): string {
  return parts.filter((part) => part !== null).join('; ');
}

function textWords(text: string): string {
  const day = dayFromText(text);
  return day === null ? text : dayWords(day);
}

/** A yearly amount as a person says it: 0.4, 7, 23, 140. */
function roundly(perYear: number): number {
  if (perYear < 1) return Number(perYear.toPrecision(1));
  return perYear < 100 ? Math.round(perYear) : Number(perYear.toPrecision(2));
}
