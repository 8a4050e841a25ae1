/** Kits that what is there and on the way leaves short. */
import { itemAt } from '../numeric/columns.js';
import {
  fittedOf,
  goOn,
  laidOutUntil,
  type PlannedPieces,
  type Supply,
  sortedReceipts,
  startOf,
  usedOf,
} from './course.js';
import { type Pieces, total } from './shelf.js';

export type Course = Supply & { shelf: readonly Pieces[] };

/** The first kit before a moment that these receipts, in any order, leave short, and by how many pieces; null where none is. */
export function firstShort(course: Course, until: number): { need: PlannedPieces; short: number } | null {
  const plan = { ...course, receipts: sortedReceipts(course.receipts) };
  const kits = kitsBefore(plan, until);
  for (let i = 0; i < kits.length; i++) {
    const short = shortOf(plan, kits, i);
    if (short > 1e-9) return { need: itemAt(kits, i), short };
  }
  return null;
}

/** In order of date; of one day as they were given. */
export function kitsBefore({ planned }: Pick<Course, 'planned'>, until: number): PlannedPieces[] {
  return planned.filter(({ moment }) => moment < until).sort((a, b) => a.moment - b.moment);
}

/** Pieces that a kit is short of after the kits listed before it and the leaks and openings expected by then. */
export function shortOf(plan: Course, kits: readonly PlannedPieces[], i: number): number {
  const { moment } = itemAt(kits, i);
  const planned = kits.slice(0, i + 1);
  const { shelf, owed } = goOn({ ...plan, planned }, startOf(plan), moment, true);
  return marginOf(planned, 0, moment) + owed - total(shelf);
}

/**
 * What kits in (from, to] may take above what is expected, put together as independent; those laid out at one time, as a chain of them
 * overlaps, in full, since no piece can lie in two kits. `planned` is in the order of the days on which they are fitted.
 */
export function marginOf(planned: readonly PlannedPieces[], from: number, to: number): number {
  let squares = 0;
  let [together, until] = [0, Number.NEGATIVE_INFINITY];
  for (const need of planned) {
    if (!(need.moment > from && need.moment <= to)) continue;
    if (fittedOf(need) > until) {
      squares += together * together;
      together = 0;
    }
    together += Math.max(0, need.quantity - usedOf(need));
    until = Math.max(until, laidOutUntil(need));
  }
  return Math.sqrt(squares + together * together);
}
