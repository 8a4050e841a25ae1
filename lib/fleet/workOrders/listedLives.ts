/**
 * Lives of lives.csv and orders of one position together. Up to the last day that lives.csv knows of a position (and three days more) it
 * stands: orders of that time repeat it, or contradict it and are set aside. Later orders go on from the diaphragm in place then.
 */
import { at, floatAt, itemAt } from '../../numeric/columns.js';
import { textFromDay } from '../../numeric/day.js';
import { type Fault, fault } from '../cell.js';
import { type Cleaning, isOn } from '../cleaning/rules.js';
import { type DraftLives, isRunning, KEPT, reasonOf } from '../draftLives.js';
import type { RowBook } from '../rowBook.js';
import { REASONS } from '../types.js';
import { type InPlace, unknownLife } from './followPosition.js';
import { ONE_JOB_DAYS, opened } from './jobs.js';
import { NONE, type OrderTable } from './types.js';

/** Lives of the draft by position, in the order of the file. */
export function listedByPosition(draft: DraftLives): Map<number, number[]> {
  const listed = new Map<number, number[]>();
  for (let i = 0; i < draft.length; i++) {
    const p = at(draft.position, i);
    const rows = listed.get(p);
    if (rows === undefined) listed.set(p, [i]);
    else rows.push(i);
  }
  return listed;
}

/** What is in place when the orders take over, and the orders that are left. */
export function heldAgainstLives(
  draft: DraftLives,
  listed: readonly number[],
  orders: OrderTable,
  ks: readonly number[],
  { orders: book, cleaning }: { orders: RowBook; cleaning: Cleaning },
): { start: InPlace; rest: readonly number[] } {
  if (listed.length === 0) return { start: unknownLife(), rest: ks };
  const kept = listed.filter((i) => at(draft.state, i) === KEPT);
  const last = Math.max(-Infinity, ...kept.flatMap((i) => daysOf(draft, i)));
  const rest: number[] = [];
  for (const k of ks) {
    if (!(floatAt(orders.day, k) <= last + ONE_JOB_DAYS)) rest.push(k);
    else if (opened(orders, k)) {
      const day = floatAt(orders.day, k);
      book.setAside(at(orders.row, k), 'date', textFromDay(day), whyCovered(draft, kept, orders, k));
    }
  }
  const start = inPlaceAfter(draft, listed, kept);
  const isLeftOut = start.kind === 'built' && !isOn(cleaning, 'missing_lives');
  return { start: isLeftOut ? { ...unknownLife(), material: start.material } : start, rest };
}

function daysOf(draft: DraftLives, i: number): number[] {
  return [floatAt(draft.fitted, i), floatAt(draft.removed, i)].filter((day) => !Number.isNaN(day));
}

function whyCovered(draft: DraftLives, kept: readonly number[], orders: OrderTable, k: number): Fault {
  const day = floatAt(orders.day, k);
  const near = (other: number): boolean => Math.abs(other - day) <= ONE_JOB_DAYS;
  const ended = kept.find((i) => near(floatAt(draft.removed, i)));
  const reason = at(orders.reason, k);
  if (ended !== undefined) {
    const listed = reasonOf(draft, ended);
    const given = reason === NONE ? 'unknown' : itemAt(REASONS, reason);
    return listed === given || listed === 'unknown' || given === 'unknown'
      ? repeats(at(draft.row, ended))
      : contradicts(`lives.csv gives the reason ${listed} in row ${at(draft.row, ended)}`);
  }
  const begun = kept.find((i) => near(floatAt(draft.fitted, i)));
  if (begun !== undefined) return repeats(at(draft.row, begun));
  const across = kept.find((i) => floatAt(draft.fitted, i) < day && !(floatAt(draft.removed, i) < day));
  return contradicts(
    across === undefined
      ? 'lives.csv has no diaphragm of this position on that day'
      : `by row ${at(draft.row, across)} of lives.csv the diaphragm stayed in place that day`,
  );
}

function repeats(row: number): Fault {
  return fault('order-in-lives', `Row ${row} of lives.csv tells of this work already.`, 'Nothing.');
}

function contradicts(how: string): Fault {
  return fault(
    'order-contradicts-lives',
    `The order opened the valve, but ${how}; lives.csv is used.`,
    'Correct the one that is wrong, or take the lives of this position out of lives.csv.',
  );
}

/** The diaphragm in place after the last day of lives.csv; of unknown age where rows that were set aside make it doubtful. */
function inPlaceAfter(draft: DraftLives, listed: readonly number[], kept: readonly number[]): InPlace {
  const removed = Math.max(
    -Infinity,
    ...kept.map((i) => floatAt(draft.removed, i)).filter((day) => !Number.isNaN(day)),
  );
  const running = kept.filter((i) => isRunning(draft, i) && !(floatAt(draft.fitted, i) < removed)).pop();
  if (running !== undefined) {
    return {
      ...unknownLife(),
      kind: 'listed',
      fitted: floatAt(draft.fitted, running),
      material: at(draft.material, running),
      size: floatAt(draft.size, running),
      lastTight: floatAt(draft.lastTight, running),
      listed: running,
    };
  }
  const last = kept.find((i) => floatAt(draft.removed, i) === removed);
  if (last === undefined) return { ...unknownLife(), kind: 'built' };
  const kind = reasonOf(draft, last) === 'retired' ? 'none' : 'built';
  const doubtful = kept.length < listed.length || kind === 'none';
  return {
    ...unknownLife(),
    kind,
    fitted: doubtful ? Number.NaN : removed,
    material: at(draft.material, last),
    size: floatAt(draft.size, last),
  };
}
