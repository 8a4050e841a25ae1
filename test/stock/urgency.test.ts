import { describe, expect, it } from 'vitest';
import type { StockAdvice } from '../../lib/stock/types.js';
import { byUrgency } from '../../lib/stock/urgency.js';
import { ordinaryPlan } from '../fixtures/plan.js';

describe('items by urgency', () => {
  const [like] = ordinaryPlan().stock as [StockAdvice];
  const quiet: StockAdvice = { ...like, kind: 'do not order', orders: [], chase: null };
  const item = (name: string, change: Partial<StockAdvice>): StockAdvice => ({
    ...quiet,
    item: name,
    ...change,
  });
  const order = (orderBy: string, expedite = false) => ({
    ...(like.orders[0] as StockAdvice['orders'][number]),
    orderBy,
    expedite,
  });
  const late = { quantity: 4, due: '2026-02-01', decideBy: null, action: '' };
  it('come as they press: hurried, a shutdown short, now, chase, no part number, expiring, later by day, not', () => {
    const stock = [
      item('not', {}),
      item('later B', { kind: 'order later', orders: [order('2026-05-02')] }),
      item('later A', { kind: 'order later', orders: [order('2026-06-02')] }),
      item('first', { kind: 'use first', expiring: { quantity: 3, useBy: '2026-09-30' } }),
      item('unlisted', { kind: 'no data' }),
      item('late', { kind: 'chase', chase: { ...late, needed: null } }),
      item('now', { kind: 'order now', orders: [order('2026-03-01')] }),
      item('short', { kind: 'chase', chase: { ...late, needed: { for: 'x', short: 1, day: '2026-04-06' } } }),
      item('hurried', { kind: 'order now', orders: [order('2026-03-01', true)] }),
    ];
    const names = byUrgency(stock).map((each) => each.item);
    expect(names).toEqual([
      'hurried',
      'short',
      'now',
      'late',
      'unlisted',
      'first',
      'later B',
      'later A',
      'not',
    ]);
    expect(stock[0]?.item).toBe('not');
  });
});
