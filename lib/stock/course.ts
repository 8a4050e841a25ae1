/** The shelf through time: receipts come, kits and random demand take, pieces expire. Moments as in netting.ts. */
import { itemAt } from '../numeric/columns.js';
import type { OnTaken, Pieces } from './shelf.js';
import { expire, put, sortedShelf, take } from './shelf.js';

/** Pieces that come: when, and how long they keep. */
export interface Receipt extends Pieces {
  moment: number;
}

/** Planned need of one date. */
export interface PlannedPieces {
  name: string;
  /** When the pieces must be there. */
  moment: number;
  /** When they are fitted, and must still be good; the same moment where not given. */
  fitted?: number;
  /** To be there, so that the kit is complete. */
  quantity: number;
  /** Used of them on average, the rest goes back to the shelf; all of them where not given. */
  expected?: number;
  /** Up to when they are laid out for it, so that no other kit can have them; the moment they are fitted where not given. */
  until?: number;
}

export interface Supply {
  /** In order of their moments (`sortedReceipts`, `addReceipt`). */
  receipts: readonly Receipt[];
  planned: readonly PlannedPieces[];
  /** Mean random demand in (from, to]. */
  randomMean: (from: number, to: number) => number;
}

export interface ShelfState {
  now: number;
  shelf: Pieces[];
  /** Asked for and not met yet. */
  owed: number;
  /** So many receipts have come, the first ones. */
  received: number;
}

/** Told of what happens on the way. */
export interface Watch {
  expired: (pieces: Pieces, moment: number) => void;
  received: (receipt: Receipt) => void;
  /** Before a kit is taken. */
  kit: (need: PlannedPieces, shelf: readonly Pieces[]) => void;
  /** For a kit (its name) or for leaks and openings (null); a call per lot. */
  taken: (from: Pieces, quantity: number, kit: string | null) => void;
}

/** A little later: a piece may be used on its last good day. */
export const JUST = 1e-6;

/** When the pieces of a kit are fitted, and must still be good. */
export function fittedOf({ fitted, moment }: PlannedPieces): number {
  return fitted ?? moment;
}

/** Up to when the pieces of a kit are laid out. */
export function laidOutUntil(need: PlannedPieces): number {
  return Math.max(fittedOf(need), need.until ?? 0);
}

export function usedOf({ expected, quantity }: PlannedPieces): number {
  return expected ?? quantity;
}

/** Before anything has happened. */
export function startOf({ shelf }: { shelf: readonly Pieces[] }): ShelfState {
  return { now: 0, shelf: sortedShelf(shelf), owed: 0, received: 0 };
}

export function copyOf({ now, shelf, owed, received }: ShelfState): ShelfState {
  return { now, shelf: shelf.map((each) => ({ ...each })), owed, received };
}

/** A copy in order of their moments. */
export function sortedReceipts(receipts: readonly Receipt[]): Receipt[] {
  return [...receipts].sort((a, b) => a.moment - b.moment);
}

/** Puts one more into its place. */
export function addReceipt(receipts: Receipt[], receipt: Receipt): void {
  let index = receipts.length;
  while (index > 0 && itemAt(receipts, index - 1).moment > receipt.moment) index--;
  receipts.splice(index, 0, receipt);
}

/** Whether nothing is owed and no kit is taken up to a moment: then pieces only come and expire as long as none are used at random. */
export function isCalm({ planned }: Supply, { now, owed }: ShelfState, to: number): boolean {
  if (owed > 0) return false;
  for (const { moment } of planned) if (moment > now && moment <= to) return false;
  return true;
}

/** What is then on the shelf, without going through all that comes. */
export function calmShelf({ receipts }: Supply, { shelf, received }: ShelfState, to: number): number {
  let have = 0;
  for (const { quantity, useBy } of shelf) if (useBy >= to) have += quantity;
  for (let i = received; i < receipts.length; i++) {
    const { moment, quantity, useBy } = itemAt(receipts, i);
    if (moment > to) break;
    if (useBy >= to) have += quantity;
  }
  return have;
}

/** The shelf at a later moment, as `goOn`; the state given stays as it is. */
export function advance(
  supply: Supply,
  from: ShelfState,
  to: number,
  useRandom: boolean,
  watch: Watch | null = null,
): ShelfState {
  return goOn(supply, copyOf(from), to, useRandom, watch);
}

/**
 * Takes a state to a later moment and gives it: receipts put on the shelf, the expected use of kits taken, expired pieces gone; with
 * `useRandom` the mean random demand is taken as well.
 */
export function goOn(
  supply: Supply,
  state: ShelfState,
  to: number,
  useRandom: boolean,
  watch: Watch | null = null,
): ShelfState {
  while (state.now < to) {
    const moment = nextMoment(supply, state, to);
    if (useRandom) {
      const mean = supply.randomMean(state.now, moment);
      state.owed += take(state.shelf, mean, undefined, takenFor(watch, null));
    }
    for (const pieces of expire(state.shelf, moment)) watch?.expired(pieces, moment);
    receive(supply, state, moment, watch);
    if (state.owed > 0) state.owed = take(state.shelf, state.owed, undefined, takenFor(watch, null));
    for (const need of supply.planned) {
      if (need.moment > state.now && need.moment <= moment) serveKit(state, need, watch);
    }
    state.now = moment;
  }
  return state;
}

function receive({ receipts }: Supply, state: ShelfState, moment: number, watch: Watch | null): void {
  while (state.received < receipts.length) {
    const receipt = itemAt(receipts, state.received);
    if (receipt.moment > moment) return;
    put(state.shelf, receipt);
    watch?.received(receipt);
    state.received += 1;
  }
}

function serveKit(state: ShelfState, need: PlannedPieces, watch: Watch | null): void {
  watch?.kit(need, state.shelf);
  state.owed += take(state.shelf, usedOf(need), fittedOf(need), takenFor(watch, need.name));
}

function takenFor(watch: Watch | null, kit: string | null): OnTaken | null {
  return watch === null ? null : (from, quantity) => watch.taken(from, quantity, kit);
}

/** The first moment in (now, to] at which something happens, or `to`. */
function nextMoment({ planned, receipts }: Supply, { now, shelf, received }: ShelfState, to: number): number {
  let first = to;
  for (const { moment } of planned) if (moment > now && moment < first) first = moment;
  for (let i = received; i < receipts.length; i++) {
    const { moment } = itemAt(receipts, i);
    if (moment >= first) break;
    if (moment > now) first = moment;
  }
  for (const { useBy } of shelf) {
    if (useBy + JUST >= first) break;
    if (useBy + JUST > now) first = useBy + JUST;
  }
  return first;
}
