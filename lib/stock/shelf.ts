/** Pieces on the shelf by use-by date, taken first expired first. Amounts may be fractions: expected use. */
import { itemAt } from '../numeric/columns.js';

/** Where pieces come from: today's shelf, an order placed, an order placed and overdue, an order of this plan. */
export type Source = 'shelf' | 'on order' | 'late' | 'planned';

/** Pieces that must be used by a moment (its last good day); Infinity = they do not expire. */
export interface Pieces {
  quantity: number;
  useBy: number;
  /** Today's shelf where not given. */
  source?: Source;
  /** Lot number, where the pieces are of one lot. */
  lot?: string;
}

/** Told of what is taken. */
export type OnTaken = (from: Pieces, quantity: number) => void;

/** A copy in order of use-by. */
export function sortedShelf(pieces: readonly Pieces[]): Pieces[] {
  return pieces
    .filter(({ quantity }) => quantity > 0)
    .map((each) => ({ ...each }))
    .sort((a, b) => a.useBy - b.useBy);
}

/**
 * Takes pieces that are good until a moment, first expired first; gives what could not be met. Changes `shelf`, which is
 * sorted.
 */
export function take(
  shelf: Pieces[],
  quantity: number,
  goodUntil = Number.NEGATIVE_INFINITY,
  onTaken: OnTaken | null = null,
): number {
  let wanted = quantity;
  let i = 0;
  while (i < shelf.length && itemAt(shelf, i).useBy < goodUntil) i++;
  while (wanted > 1e-12 && i < shelf.length) {
    const first = itemAt(shelf, i);
    const taken = Math.min(wanted, first.quantity);
    onTaken?.(first, taken);
    first.quantity -= taken;
    wanted -= taken;
    if (first.quantity <= 1e-12) shelf.splice(i, 1);
  }
  return Math.max(0, wanted);
}

/** Puts pieces on the shelf, keeping its order. */
export function put(shelf: Pieces[], pieces: Pieces): void {
  if (pieces.quantity <= 0) return;
  const index = shelf.findIndex(({ useBy }) => useBy > pieces.useBy);
  shelf.splice(index < 0 ? shelf.length : index, 0, { ...pieces });
}

/** Takes off what is past its use-by at a moment; gives it. */
export function expire(shelf: Pieces[], moment: number): Pieces[] {
  let end = 0;
  while (end < shelf.length && itemAt(shelf, end).useBy < moment) end++;
  return end === 0 ? NONE : shelf.splice(0, end);
}

const NONE: Pieces[] = [];

/** Pieces that are good until a moment. */
export function total(shelf: readonly Pieces[], goodUntil = Number.NEGATIVE_INFINITY): number {
  let sum = 0;
  for (const { quantity, useBy } of shelf) if (!(useBy < goodUntil)) sum += quantity;
  return sum;
}
