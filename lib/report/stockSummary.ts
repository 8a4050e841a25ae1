/** What the summary says of stock beside orders: what to use first and what has no part number. */
import { plainName } from '../chart/words.js';
import type { Plan } from '../planTypes.js';
import { byUrgency } from '../stock/urgency.js';
import { more, wrapped } from './plainText.js';

const MOST_ITEMS = 10;

export function stockSection({ stock }: Pick<Plan, 'stock'>): string[] {
  const items = byUrgency(stock).filter(({ kind }) => kind === 'use first' || kind === 'no data');
  if (items.length === 0) return [];
  const shown = items.slice(0, MOST_ITEMS);
  return [
    'STOCK  beside orders: what to use first, and what has no part number',
    ...shown.flatMap(({ item, action }) =>
      wrapped(`${plainName(item)}: ${plainName(action)}`, '  ', '      '),
    ),
    ...more(items.length - shown.length, 'item', ' (stock.csv)'),
  ];
}
