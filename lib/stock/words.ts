/** The action of one item in words. */
import { dayWords } from '../demand/dates.js';
import type { Day } from '../numeric/day.js';
import { dayFromText } from '../numeric/day.js';
import type { StockAdvice, StockOrder } from './types.js';

/** An order that need not be placed within so many days is 'do not order' today. */
export const FAR_DAYS = 183;

interface ActionInput {
  orders: readonly StockOrder[];
  expiring: StockAdvice['expiring'];
  monthsOfCover: number | null;
  today: Day;
  reviewDays: number;
  usable: number;
  neededPerYear: number;
}

export function actionOf(input: ActionInput): Pick<StockAdvice, 'action' | 'kind'> {
  const first = input.orders[0];
  const orderDay = first === undefined ? null : (dayFromText(first.orderBy) ?? input.today);
  const useFirst = useFirstWords(input.expiring);
  if (first !== undefined && orderDay !== null && orderDay <= input.today + input.reviewDays) {
    return { kind: 'order now', action: joined([nowWords(input), useFirst]) };
  }
  const near = orderDay !== null && orderDay <= input.today + FAR_DAYS;
  const later = near ? orderWords(first as StockOrder) : restWords(input, orderDay);
  if (useFirst !== null) return { kind: 'use first', action: joined([useFirst, later]) };
  return { kind: near ? 'order later' : 'do not order', action: later };
}

/** 'order 24 by 3 March 2027 for the spring shutdown'. */
function orderWords({ quantity, orderBy, for: purpose }: StockOrder): string {
  return `order ${quantity} by ${textWords(orderBy)} for ${purpose}`;
}

/** Everything to be ordered at the first review together; what must be hurried is said first. */
function nowWords({ orders, today, reviewDays }: ActionInput): string {
  const now = orders.filter(({ orderBy }) => (dayFromText(orderBy) ?? today) <= today + reviewDays);
  return joined(
    now.map((order) =>
      order.expedite
        ? `order ${order.quantity} at once and hurry the delivery: needed by ${textWords(order.dueBy)} for ${order.for}`
        : orderWords(order),
    ),
  );
}

function useFirstWords({ quantity, useBy }: StockAdvice['expiring']): string | null {
  if (quantity < 1 || useBy === null) return null;
  return `use the ${quantity} that ${quantity === 1 ? 'expires' : 'expire'} by ${textWords(useBy)} first`;
}

function restWords({ monthsOfCover, neededPerYear, usable }: ActionInput, orderDay: Day | null): string {
  if (neededPerYear <= 0) return usable > 0 ? 'nothing needed: do not order' : 'not needed: do not order';
  const until = orderDay === null ? 'do not order' : `do not order before ${dayWords(orderDay)}`;
  return monthsOfCover === null ? until : `enough for ${coverWords(monthsOfCover)}: ${until}`;
}

/** 'under a month', '1 month', '14 months', 'over 10 years'. */
export function coverWords(months: number): string {
  if (months < 1) return 'under a month';
  if (months >= 120) return 'over 10 years';
  const whole = Math.floor(months);
  return whole === 1 ? '1 month' : `${whole} months`;
}

function joined(parts: readonly (string | null)[]): string {
  return parts.filter((part) => part !== null).join('; ');
}

function textWords(text: string): string {
  const day = dayFromText(text);
  return day === null ? text : dayWords(day);
}
