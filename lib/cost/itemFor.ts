/** The stores item for a material in a size. */
import type { Fleet, Item } from '../fleet/types.js';

/** First item of items.csv with this material and size, one with a price before one without; null where none. */
export function itemFor(fleet: Fleet, material: string, size: number): Item | null {
  const items = fleet.items.filter((item) => item.material === material && item.size === size);
  return items.find((item) => item.price !== null) ?? items[0] ?? null;
}
