/** Pieces on the shelf by use-by date, taken first expired first. Amounts may be fractions: expected use. */
import { itemAt } from '../numeric/columns.js';

/** Pieces that must be used by a moment (its last good day); Infinity = they do not expire. */
export interface Pieces {
  quantity: number;
  useBy: number;
}

/** A copy in order of use-by. */
export function sortedShelf(pieces: readonly Pieces[]): Pieces[] {
  return pieces
    .filter(({ quantity }) => quantity > 0)
    .map((each) => ({ ...each }))
    .sort((a, b) => a.useBy - b.useBy);
}

/** Takes pieces, first expired first; gives what could not be met. Changes `shelf`, which is sorted. */
export function take(shelf: Pieces[], quantity: number): number {
  let wanted = quantity;
  while (wanted > 1e-12 && shelf.length > 0) {
    const first = itemAt(shelf, 0);
    const taken = Math.min(wanted, first.quantity);
    first.quantity -= taken;
    wanted -= taken;
    if (first.quantity <= 1e-12) shelf.shift();
  }
  return Math.max(0, wanted);
}

/** Puts pieces on the shelf, keeping its order. */
export function put(shelf: Pieces[], pieces: Pieces): void {
  if (pieces.quantity <= 0) return;
  const index = shelf.findIndex(({ useBy }) => useBy > pieces.useBy);
  shelf.splice(index < 0 ? shelf.length : index, 0, { ...pieces });
}

/** Takes off what is past its use-by at a moment; gives how many. */
export function expire(shelf: Pieces[], moment: number): number {
  let gone = 0;
  while (shelf.length > 0 && itemAt(shelf, 0).useBy < moment) gone += (shelf.shift() as Pieces).quantity;
  return gone;
}

export function total(shelf: readonly Pieces[]): number {
  return shelf.reduce((sum, { quantity }) => sum + quantity, 0);
}
