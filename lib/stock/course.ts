/** The shelf through time: receipts come, kits and random demand take, pieces expire. Moments as in netting.ts. */
import type { OnTaken, Pieces } from './shelf.js';
import { expire, put, take } from './shelf.js';

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
}

export interface Supply {
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

export function usedOf({ expected, quantity }: PlannedPieces): number {
  return expected ?? quantity;
}

/**
 * The shelf at a later moment: receipts put on it, the expected use of kits taken, expired pieces gone; with `useRandom`
 * the mean random demand is taken as well. The state given stays as it is.
 */
export function advance(
  supply: Supply,
  from: ShelfState,
  to: number,
  useRandom: boolean,
  watch: Watch | null = null,
): ShelfState {
  const state: ShelfState = {
    now: from.now,
    shelf: from.shelf.map((each) => ({ ...each })),
    owed: from.owed,
  };
  for (const moment of momentsBetween(supply, state, to)) {
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
  for (const receipt of receipts) {
    // What comes at the very start counts on hand.
    const comes = receipt.moment > state.now || (state.now === 0 && receipt.moment <= 0);
    if (!comes || receipt.moment > moment) continue;
    put(state.shelf, receipt);
    watch?.received(receipt);
  }
}

function serveKit(state: ShelfState, need: PlannedPieces, watch: Watch | null): void {
  watch?.kit(need, state.shelf);
  state.owed += take(state.shelf, usedOf(need), need.fitted ?? need.moment, takenFor(watch, need.name));
}

function takenFor(watch: Watch | null, kit: string | null): OnTaken | null {
  return watch === null ? null : (from, quantity) => watch.taken(from, quantity, kit);
}

/** Moments in (from, to] at which something happens, and `to` itself. */
function momentsBetween({ planned, receipts }: Supply, { now, shelf }: ShelfState, to: number): number[] {
  if (to <= now) return [];
  const found = [to];
  for (const { moment } of planned) if (moment > now && moment < to) found.push(moment);
  for (const { moment, useBy } of receipts) {
    if (moment > now && moment < to) found.push(moment);
    if (useBy + JUST > now && useBy + JUST < to) found.push(useBy + JUST);
  }
  for (const { useBy } of shelf) if (useBy + JUST > now && useBy + JUST < to) found.push(useBy + JUST);
  if (found.length === 1) return found;
  found.sort((a, b) => a - b);
  return found.filter((moment, i) => moment !== found[i - 1]);
}
