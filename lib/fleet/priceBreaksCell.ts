/** Prices that fall with the size of an order, as one cell: `50:38.50|200:35` is 38.50 each from 50 pieces on, 35 from 200. */
import { type Cell, fault, numberCell } from './cell.js';
import type { PriceBreak } from './types.js';

const FROM = numberCell({ least: 2, most: 1e6, whole: true });
const PRICE = numberCell({ least: 0, above: true, most: 1e9 });

/** Steps in rising order of pieces and falling order of price; a fault where one cannot be read, or they do not. */
export function priceBreaksCell(raw: string): Cell<PriceBreak[]> {
  if (raw.trim() === '') return { value: null, fault: null };
  const steps: PriceBreak[] = [];
  for (const text of raw.split('|')) {
    const parts = text.split(':');
    const from = FROM(parts[0] ?? '');
    const price = PRICE(parts[1] ?? '');
    if (parts.length !== 2 || from.value === null || price.value === null) {
      return { value: null, fault: from.fault ?? price.fault ?? FORMAT };
    }
    const before = steps.at(-1);
    if (before !== undefined && !(from.value > before.from && price.value < before.price)) {
      return { value: null, fault: ORDER };
    }
    steps.push({ from: from.value, price: price.value });
  }
  return { value: steps, fault: null };
}

const FORMAT = fault(
  'price-breaks-format',
  'Price breaks are written as pieces, a colon and the price of each, several separated by a vertical bar.',
  'Write for example 50:38.50|200:35.',
);
const ORDER = fault(
  'price-breaks-order',
  'Price breaks must rise in pieces and fall in price.',
  'Write them from the smallest order to the largest, for example 50:38.50|200:35.',
);
