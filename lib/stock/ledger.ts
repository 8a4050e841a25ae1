/** What came and went up to an order: the sum that shows why it is needed. */
import { advance, type PlannedPieces, type ShelfState, type Supply, type Watch } from './course.js';
import { type Pieces, total } from './shelf.js';

/** Amounts from the start on; kits by name, in order of date. */
export interface Ledger {
  /** On the shelf at the start. */
  usable: number;
  received: number;
  kits: Map<string, number>;
  /** Leaks and openings. */
  random: number;
  expired: number;
}

/** Why an order is placed: what stands on the shelf when it comes, and what is missing then. */
export interface OrderReason {
  ledger: Ledger;
  /** On the shelf at the moment it comes, without it; below 0 where something is owed. */
  left: number;
  /** What that is, by use-by. */
  shelf: Pieces[];
  /** Missing to be safe until the next order can come. */
  short: number;
  /** Kits from this delivery to the next one possible without which less would be missing. */
  kits: PlannedPieces[];
}

export function emptyLedger(usable: number): Ledger {
  return { usable, received: 0, kits: new Map(), random: 0, expired: 0 };
}

/** Writes the course into a ledger and tells a second watch. */
export function ledgerWatch(
  ledger: Ledger,
  other: Watch | null,
  onExpired: ((moment: number, pieces: Pieces) => void) | null,
): Watch {
  return {
    expired: (pieces, moment) => {
      ledger.expired += pieces.quantity;
      onExpired?.(moment, pieces);
      other?.expired(pieces, moment);
    },
    received: (receipt) => {
      ledger.received += receipt.quantity;
      other?.received(receipt);
    },
    kit: (need, shelf) => other?.kit(need, shelf),
    taken: (from, quantity, kit) => {
      if (kit === null) ledger.random += quantity;
      else ledger.kits.set(kit, (ledger.kits.get(kit) ?? 0) + quantity);
      other?.taken(from, quantity, kit);
    },
  };
}

/** The sum from the start to the moment an order comes, given the state and ledger of the review that places it. */
export function reasonAt(
  supply: Supply,
  state: ShelfState,
  ledger: Ledger,
  due: number,
): Pick<OrderReason, 'ledger' | 'left' | 'shelf'> {
  const then: Ledger = { ...ledger, kits: new Map(ledger.kits) };
  const { shelf, owed } = advance(supply, state, due, true, ledgerWatch(then, null, null));
  return { ledger: then, left: total(shelf) - owed, shelf };
}
