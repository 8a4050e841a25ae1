/** What to order, hold and use up, per item. */
import type { Warning } from '../findings.js';

export interface StockOrder {
  quantity: number;
  /** YYYY-MM-DD; a past day means: order now and chase it. */
  orderBy: string;
  dueBy: string;
  for: string;
  /** True where the lead time no longer fits and the delivery must be hurried. */
  expedite: boolean;
}

export interface StockAdvice {
  item: string;
  material: string;
  size: number;
  onHand: number;
  /** On hand and still within its use-by date today. */
  usable: number;
  onOrder: number;
  reorderPoint: number;
  orderQuantity: number;
  /** Target and reached share of unplanned demand met at once. */
  servedTarget: number;
  served: number;
  leaksFindingShelfEmptyPerYear: number;
  /** Value of what is on the shelf, in the site's currency; null without a price. */
  value: number | null;
  /** Pieces expected to pass their use-by date unused within the horizon, and the first such day. */
  expiring: { quantity: number; useBy: string | null };
  monthsOfCover: number | null;
  orders: StockOrder[];
  /** The action in words: 'order 24 by 3 March 2027 for the spring shutdown'. */
  action: string;
  /** 'order now', 'order later', 'use first', 'do not order', 'no data'. */
  kind: 'order now' | 'order later' | 'use first' | 'do not order' | 'no data';
  warnings: Warning[];
}
