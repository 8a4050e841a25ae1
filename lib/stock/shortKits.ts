/** Kits that what is there and on the way leaves short. */
import { goOn, type PlannedPieces, type Supply, sortedReceipts, startOf, usedOf } from './course.js';
import { type Pieces, total } from './shelf.js';

export type Course = Supply & { shelf: readonly Pieces[] };

/** The first kit before a moment that these receipts, in any order, leave short, and by how many pieces; null where none is. */
export function firstShort(course: Course, until: number): { need: PlannedPieces; short: number } | null {
  const plan = { ...course, receipts: sortedReceipts(course.receipts) };
  for (const need of kitsBefore(plan, until)) {
    const short = shortOf(plan, need);
    if (short > 1e-9) return { need, short };
  }
  return null;
}

export function kitsBefore({ planned }: Pick<Course, 'planned'>, until: number): PlannedPieces[] {
  return planned.filter(({ moment }) => moment < until).sort((a, b) => a.moment - b.moment);
}

/** Pieces that a kit is short of after the leaks and openings expected before it. */
export function shortOf(plan: Course, { moment }: PlannedPieces): number {
  const { shelf, owed } = goOn(plan, startOf(plan), moment, true);
  return marginOf(plan.planned, 0, moment) + owed - total(shelf);
}

/** What kits in (from, to] may take above what is expected, put together as independent. */
export function marginOf(planned: readonly PlannedPieces[], from: number, to: number): number {
  let squares = 0;
  for (const need of planned) {
    if (need.moment > from && need.moment <= to) squares += Math.max(0, need.quantity - usedOf(need)) ** 2;
  }
  return Math.sqrt(squares);
}
