/** The rows of lives.csv while they are checked: columns with room for every row, and what became of each. */
import { at, floatAt } from '../numeric/columns.js';
import { isLeak } from './eventTable.js';
import { type LifeTable, REASONS, type Reason } from './types.js';

/** Kept and used. */
export const KEPT = 0;
/** Kept for openings and demand, set aside from fitting: its fitting day is not known or it was never watched. */
export const UNDATED = 1;
/** Set aside; what it says is doubtful. */
export const GONE = 2;
/** Set aside, but its removal happened: before the records began, for example. */
export const PAST = 3;
/** Set aside, and nothing is lost by it: it repeats another row. */
export const REPEATED = 4;

/** The columns of a `LifeTable` while they are being filled; a material that is not known is -1. */
export interface DraftLives extends Omit<LifeTable, 'length'> {
  length: number;
  /** Rows above this number are those of work-orders.csv, counted on from it; Infinity where lives.csv is the only table. */
  readonly ordersAfter: number;
  /** One of the five states above. */
  readonly state: Uint8Array;
}

export function draftLives(capacity: number, ordersAfter = Infinity): DraftLives {
  return {
    length: 0,
    ordersAfter,
    position: new Int32Array(capacity),
    material: new Int32Array(capacity),
    size: new Float64Array(capacity),
    fitted: new Float64Array(capacity),
    removed: new Float64Array(capacity),
    reason: new Uint8Array(capacity),
    finding: new Uint8Array(capacity),
    lastTight: new Float64Array(capacity),
    lot: new Int32Array(capacity),
    fittedBy: new Int32Array(capacity),
    recorded: new Float64Array(capacity),
    row: new Int32Array(capacity),
    state: new Uint8Array(capacity),
  };
}

/** The row of a life as a text: 12, or 12 of work-orders.csv where both tables are there. */
export function rowText({ ordersAfter }: DraftLives, row: number): string {
  if (row <= ordersAfter) return String(row);
  return ordersAfter === 0 ? String(row) : `${row - ordersAfter} of work-orders.csv`;
}

/** Still in place: no removal on record. */
export function isRunning(draft: DraftLives, i: number): boolean {
  return Number.isNaN(floatAt(draft.removed, i));
}

export function reasonOf(draft: DraftLives, i: number): Reason {
  return REASONS[at(draft.reason, i)] ?? 'unknown';
}

export function leaked(draft: DraftLives, i: number): boolean {
  return isLeak(reasonOf(draft, i));
}

/** Whether the life is in the table that reading hands over. */
export function inTable(draft: DraftLives, i: number): boolean {
  return at(draft.state, i) <= UNDATED;
}

/** Removal day, with running lives after every day. */
export function endOf(draft: DraftLives, i: number): number {
  return isRunning(draft, i) ? Infinity : floatAt(draft.removed, i);
}

/**
 * Rows of each position, first fitted first (a life with unknown fitting at its removal), then first removed, then in
 * the order of the file. Element p of `start` is where position p begins in `order`.
 */
export function rowsByPosition(
  draft: DraftLives,
  positions: number,
): { order: Int32Array; start: Int32Array } {
  const start = new Int32Array(positions + 1);
  for (let i = 0; i < draft.length; i++)
    start[at(draft.position, i) + 1] = at(start, at(draft.position, i) + 1) + 1;
  for (let p = 0; p < positions; p++) start[p + 1] = at(start, p + 1) + at(start, p);
  const next = start.slice();
  const order = new Int32Array(draft.length);
  for (let i = 0; i < draft.length; i++) {
    const p = at(draft.position, i);
    order[at(next, p)] = i;
    next[p] = at(next, p) + 1;
  }
  for (let p = 0; p < positions; p++) order.subarray(at(start, p), at(start, p + 1)).sort(byTime(draft));
  return { order, start };
}

function byTime(draft: DraftLives): (a: number, b: number) => number {
  const begin = (i: number): number =>
    Number.isNaN(floatAt(draft.fitted, i)) ? endOf(draft, i) : floatAt(draft.fitted, i);
  return (a, b) => compare(begin(a), begin(b)) || compare(endOf(draft, a), endOf(draft, b)) || a - b;
}

/** Safe for Infinity on both sides. */
function compare(a: number, b: number): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
