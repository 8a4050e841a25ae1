/** Orders and the action of one item in words. */

import type { Day } from '../numeric/day.js';
import { dayFromText } from '../numeric/day.js';
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
  usable: number;
  neededPerYear: number;
}

export function actionOf(input: ActionInput): Pick<StockAdvice, 'action' | 'kind'> {
  const first = input.orders[0];
  const orderDay = first === undefined ? null : (dayFromText(first.orderBy) ?? input.today);
  const useFirst = useFirstWords(input.lots);
  const chase = input.chase?.action ?? null;
  if (first !== undefined && orderDay !== null && orderDay <= input.today + input.reviewDays) {
    return { kind: 'order now', action: joined([chase, nowWords(input), useFirst]) };
  }
  const near = orderDay !== null && orderDay <= input.today + FAR_DAYS;
  const later = near ? (first as StockOrder).action : restWords(input, orderDay);
  if (chase !== null) return { kind: 'chase', action: joined([chase, useFirst, later]) };
  if (useFirst !== null) return { kind: 'use first', action: joined([useFirst, later]) };
  return { kind: near ? 'order later' : 'do not order', action: later };
}

/** 'order 24 by 3 March 2027 for the spring shutdown'; what must be hurried with the day it is needed. */
export function orderWords(
  order: Pick<StockOrder, 'quantity' | 'orderBy' | 'dueBy' | 'for'>,
  needed: Day,
  hurry: Hurry | null,
): string {
  if (hurry === null)
    return `order ${amount(order.quantity, 9)} by ${textWords(order.orderBy)} for ${order.for}`;
  const start = `order ${amount(order.quantity, 9)} at once and hurry the delivery: needed by ${dayWords(needed)} for ${order.for}`;
  if (hurry.shortOnDay === 0) return start;
  return `${start}, and an emergency delivery comes ${textWords(order.dueBy)} at the earliest: borrow ${amount(hurry.shortOnDay, 9)} or leave so many out that day`;
}

/** Everything to be ordered at the first review together. */
function nowWords({ orders, today, reviewDays }: ActionInput): string {
  const now = orders.filter(({ orderBy }) => (dayFromText(orderBy) ?? today) <= today + reviewDays);
  return joined(now.map(({ action }) => action));
}

function useFirstWords(lots: readonly LotUse[]): string | null {
  const first = lots.find(({ expires }) => expires >= 1);
  if (first === undefined) return null;
  const { quantity, useBy, expires } = first;
  const them = expires === quantity ? 'all' : `${expires} of them`;
  return `use the ${quantity} that ${quantity === 1 ? 'expires' : 'expire'} by ${textWords(useBy)} first; ${them} will expire even so`;
}

function restWords({ monthsOfCover, neededPerYear, usable }: ActionInput, orderDay: Day | null): string {
  if (neededPerYear <= 0) return usable > 0 ? 'nothing needed: do not order' : 'not needed: do not order';
  const until = orderDay === null ? 'do not order' : `do not order before ${dayWords(orderDay)}`;
  return monthsOfCover === null ? until : `enough for ${coverWords(monthsOfCover)}: ${until}`;
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
