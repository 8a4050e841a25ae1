/** Prices that fall with the size of an order: all pieces of an order cost the price of its step. */
import { UsageError } from '../errors.js';
import type { Item, PriceBreak } from '../fleet/types.js';
import { itemAt } from '../numeric/columns.js';

export type { PriceBreak };

/** The prices of an item by the size of an order; null without a price. */
export function priceSteps({ price, priceBreaks }: Pick<Item, 'price' | 'priceBreaks'>): PriceBreak[] | null {
  return price === null ? null : [{ from: 0, price }, ...priceBreaks];
}

/** What a piece of an order of this size costs; null without a price. */
export function unitPrice(item: Pick<Item, 'price' | 'priceBreaks'>, quantity: number): number | null {
  const steps = priceSteps(item);
  return steps === null ? null : priceAt(steps, quantity);
}

/** Price of a piece in an order of this size; below the first step that of the first. Preconditions: steps rise, one at least. */
export function priceAt(steps: readonly PriceBreak[], quantity: number): number {
  let found = itemAt(steps, 0).price;
  for (const { from, price } of steps) if (from <= quantity + 1e-9) found = price;
  return found;
}

/** The steps as they are. Throws UsageError where there is none, a price is below 0 or not finite, or they do not rise. */
export function checkedSteps(where: string, steps: readonly PriceBreak[]): readonly PriceBreak[] {
  if (steps.length === 0) throw new UsageError(where, 'price needs at least one step.');
  steps.forEach((step, i) => {
    if (!(step.price >= 0 && Number.isFinite(step.price))) {
      throw new UsageError(where, `price[${i}] must be at or above 0, and finite.`, step.price);
    }
    const rises = i === 0 ? step.from >= 0 : step.from > itemAt(steps, i - 1).from;
    if (!(rises && Number.isFinite(step.from))) {
      throw new UsageError(where, 'breaks must rise from 0 or above.', step.from);
    }
  });
  return steps;
}
