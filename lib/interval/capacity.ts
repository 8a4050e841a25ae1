/**
 * What a stop can take: the hours of the crew and of each craft, a number of replacements and of lines, the pieces that can
 * be there, and what must not be touched.
 */
import type { PieceStore } from '../fleet/pieces.js';
import type { Shutdown } from '../fleet/types.js';
import { ROUNDING } from './fleetPlan/limitRows.js';
import type { WorkPosition } from './workList.js';

/** What a replacement does not fit into, in the order in which they are looked at. */
export type ShortOf =
  | 'closed'
  | 'crew hours'
  | 'fitter hours'
  | 'instrument hours'
  | 'replacements'
  | 'lines'
  | 'stock';

/** A stop that is being filled. */
export interface Capacity {
  /** What a replacement there is short of, or null where it fits; one that cannot wait (`firm`) is never short of pieces. */
  shortOf(place: WorkPosition, firm: boolean): ShortOf | null;
  /** Whether a piece for it is there. */
  hasPiece(place: WorkPosition): boolean;
  /** Books a replacement, whether it fits or not. */
  take(place: WorkPosition): void;
}

export function capacityOf(shutdown: Shutdown, store: PieceStore): Capacity {
  let crew = shutdown.crewHours ?? Infinity;
  let fitters = shutdown.fitterHours ?? Infinity;
  let instruments = shutdown.instrumentHours ?? Infinity;
  let replacements = shutdown.mostReplacements ?? Infinity;
  const open = new Set<string>();
  const lines = shutdown.mostLines ?? Infinity;
  const hasPiece = ({ next }: WorkPosition): boolean => store.has(next.item, shutdown.start);
  return {
    hasPiece,
    shortOf: (place, firm) => {
      const { position, fitterHours, instrumentHours } = place;
      if (isClosed(shutdown, position)) return 'closed';
      if (fitterHours + instrumentHours > crew + ROUNDING) return 'crew hours';
      if (fitterHours > fitters + ROUNDING) return 'fitter hours';
      if (instrumentHours > instruments + ROUNDING) return 'instrument hours';
      if (replacements < 1) return 'replacements';
      if (!open.has(position.line) && open.size + 1 > lines) return 'lines';
      return firm || hasPiece(place) ? null : 'stock';
    },
    take: ({ position, next, fitterHours, instrumentHours }) => {
      crew -= fitterHours + instrumentHours;
      fitters -= fitterHours;
      instruments -= instrumentHours;
      replacements -= 1;
      open.add(position.line);
      store.take(next.item, shutdown.start);
    },
  };
}

/** True where a position, or its line, must not be touched in a stop. */
export function isClosed(
  { notOn }: Shutdown,
  { position, line }: { position: string; line: string },
): boolean {
  return notOn.includes(position) || notOn.includes(line);
}

/** "does not fit into the 60 fitter hours", as a part of a sentence. */
export function shortWords(
  short: ShortOf,
  shutdown: Shutdown,
  item: string | null,
  hours: (value: number) => string,
): string {
  switch (short) {
    case 'closed':
      return 'must not be touched at this shutdown (not_on) and stays until the next window';
    case 'crew hours':
      return `does not fit into the ${hours(shutdown.crewHours ?? 0)} crew hours and stays until the next window`;
    case 'fitter hours':
      return `does not fit into the ${hours(shutdown.fitterHours ?? 0)} hours of fitters and stays until the next window`;
    case 'instrument hours':
      return `does not fit into the ${hours(shutdown.instrumentHours ?? 0)} hours of instrument fitters and stays until the next window`;
    case 'replacements':
      return `is beyond the ${hours(shutdown.mostReplacements ?? 0)} replacements allowed and stays until the next window`;
    case 'lines':
      return `is on a line beyond the ${hours(shutdown.mostLines ?? 0)} that may be down (most_lines) and stays until the next window`;
    case 'stock':
      return `no piece of ${item ?? 'its item'} is left for it by then and a new order comes too late: expedite one, else it stays until the next window`;
  }
}
