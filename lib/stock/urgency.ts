/** Items in the order in which a planner should look at them. */
import { compareText } from '../numeric/naturalOrder.js';
import type { StockAdvice } from './types.js';

const KINDS: readonly StockAdvice['kind'][] = [
  'order now',
  'chase',
  'no data',
  'use first',
  'order later',
  'do not order',
];

/**
 * A copy with the most urgent first: what must be hurried, what a shutdown is short without, other orders to place and to
 * chase, what has no part number, what expires, then by the day to order by; of one day by part number.
 */
export function byUrgency(stock: readonly StockAdvice[]): StockAdvice[] {
  return stock
    .map((item) => ({ item, key: keyOf(item) }))
    .sort((a, b) => compareText(a.key, b.key))
    .map(({ item }) => item);
}

function keyOf({ item, kind, orders, chase, expiring }: StockAdvice): string {
  const pressing = orders.some(({ expedite }) => expedite) || (chase?.needed ?? null) !== null ? 0 : 1;
  const day = kind === 'use first' ? expiring.useBy : orders[0]?.orderBy;
  return [pressing, KINDS.indexOf(kind), day ?? '9999-12-31', item].join(' ');
}
