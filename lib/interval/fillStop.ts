/** Which candidates of a stop get its hours: what must be done first, then by criticality, then by what waiting costs. */

import type { PieceStore } from '../fleet/pieces.js';
import type { Criticality } from '../fleet/types.js';
import type { Day } from '../numeric/day.js';
import { capacityOf, type ShortOf } from './capacity.js';
import type { PlacedCandidate } from './placed.js';
import { type Calendars, nextWindow, type Stop } from './stopCalendar.js';
import {
  costOfWaiting,
  holdsTo,
  NO_LATER_WINDOW_DAYS,
  overdueOn,
  type WaitingCost,
  type WorkPosition,
} from './workList.js';

const RANK: Readonly<Record<Criticality, number>> = { safety: 0, high: 1, normal: 2, low: 3 };

/** A candidate, and whether the shutdown names it as one that must be done. */
export interface Wanted extends PlacedCandidate {
  must: boolean;
  /** True where it cannot wait for a piece: it must be done, is judged by its chance to hold, or would pass a limit of the maker. */
  firm: boolean;
}

/** A candidate with what it is short of; null where it fits. */
export interface Choice extends Wanted {
  shortOf: ShortOf | null;
  waiting: WaitingCost;
  nextWindow: Day | null;
}

/** Candidates of a stop in order of rank, each with what it is short of there: what must be done comes first; takes pieces of `store`. */
export function fillStop(
  stop: Stop,
  candidates: readonly Wanted[],
  state: readonly WorkPosition[],
  calendars: Calendars,
  store: PieceStore,
): Choice[] {
  const ranked = candidates
    .map((candidate) => {
      const place = state[candidate.index] as WorkPosition;
      const next = nextWindow(stop, place.position.line, calendars);
      const until = holdsTo(place, next ?? stop.start + NO_LATER_WINDOW_DAYS);
      const waiting = costOfWaiting(place, stop.start, until);
      return { candidate, place, waiting, nextWindow: next, overdue: overdueOn(place, stop.start) ?? 0 };
    })
    .sort(
      (a, b) =>
        Number(b.candidate.must) - Number(a.candidate.must) ||
        RANK[a.place.position.criticality] - RANK[b.place.position.criticality] ||
        b.waiting.net - a.waiting.net ||
        b.overdue - a.overdue ||
        a.candidate.index - b.candidate.index,
    );
  const capacity = capacityOf(stop.shutdown, store);
  const noPiece = new Set<Wanted>();
  for (const { candidate, place } of ranked) {
    if (candidate.placed?.fits !== true) continue;
    if (candidate.firm || capacity.hasPiece(place)) capacity.take(place);
    else noPiece.add(candidate);
  }
  return ranked.map(({ candidate, place, waiting, nextWindow: next }) => {
    const { placed } = candidate;
    if (noPiece.has(candidate)) return { ...candidate, shortOf: 'stock', waiting, nextWindow: next };
    const short = placed?.fits === true ? null : capacity.shortOf(place, candidate.firm);
    // The fleet plan may leave hours to what is dearer to leave elsewhere: then it does not fit here either.
    const shortOf = placed?.fits === false ? (short ?? 'crew hours') : short;
    if (shortOf === null && placed === undefined) capacity.take(place);
    return { ...candidate, shortOf, waiting, nextWindow: next };
  });
}
