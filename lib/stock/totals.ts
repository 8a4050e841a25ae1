/** What the orders come to: to place now, and within a year. */
import { addMonths, dayFromText, textFromDay } from '../numeric/day.js';
import type { StockAdvice } from './types.js';

export interface OrderTotal {
  orders: number;
  pieces: number;
  /** Price times quantity, in the site's currency, of the orders that have a price. */
  value: number;
  /** Cost of hurrying, where it is given. */
  hurry: number;
  /** Orders without a price. */
  unpriced: number;
}

/** Orders to place by the day of the data (YYYY-MM-DD), and within twelve months of it. */
export function orderTotals(
  stock: readonly StockAdvice[],
  dataUntil: string,
): { now: OrderTotal; next12Months: OrderTotal } {
  const today = dayFromText(dataUntil);
  const year = today === null ? dataUntil : textFromDay(addMonths(today, 12));
  return { now: totalUntil(stock, dataUntil), next12Months: totalUntil(stock, year) };
}

function totalUntil(stock: readonly StockAdvice[], until: string): OrderTotal {
  const total: OrderTotal = { orders: 0, pieces: 0, value: 0, hurry: 0, unpriced: 0 };
  for (const order of stock.flatMap(({ orders }) => orders)) {
    if (order.orderBy > until) continue;
    total.orders += 1;
    total.pieces += order.quantity;
    total.value += order.value ?? 0;
    total.hurry += order.hurry?.extraCost ?? 0;
    total.unpriced += order.value === null ? 1 : 0;
  }
  return total;
}
