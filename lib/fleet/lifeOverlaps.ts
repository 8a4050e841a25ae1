/**
 * One position holds one diaphragm at a time. Rows that cannot all be true are set aside, never mended: shortening
 * one would invent an age. Which ones, in this order:
 * - of rows that repeat each other, all but the first;
 * - a life without removal that is followed by another fitting in its position: it ended on a day nobody recorded;
 * - of lives that overlap, the one that clashes with most others (a mistyped year clashes with all it spans), and
 *   so on; where two clash only with each other nothing tells them apart, and both go.
 * An overlap of up to three days between neighbours is a slip of the pen; both are used as they are and asked about.
 */

import { at, byteAt, floatAt, wholeAt } from '../numeric/columns.js';
import { textFromDay } from '../numeric/day.js';
import { localDay } from '../numeric/localWords.js';
import { daysWords } from '../numeric/words.js';
import { type Fault, fault } from './cell.js';
import { ALL_ON, type Cleaning, isOn } from './cleaning/rules.js';
import { type DraftLives, endOf, GONE, isRunning, KEPT, REPEATED, rowText, UNDATED } from './draftLives.js';
import type { RowBook } from './rowBook.js';

/** Days by which neighbours may overlap and still be used. */
export const SLIP_DAYS = 3;
/** More lives than these in one clash are not told apart. */
const MOST_IN_CLASH = 200;

/** Checks the rows of one position, given in order of time. */
export function checkPositionLives(
  draft: DraftLives,
  rows: Int32Array,
  book: RowBook,
  cleaning: Cleaning = ALL_ON,
): void {
  if (rows.length < 2 || followEachOther(draft, rows)) return;
  if (isOn(cleaning, 'repeated_rows')) dropRepeats(draft, rows, book);
  dropLeftOpen(draft, rows, book);
  dropSecondUndated(draft, rows, book);
  if (isOn(cleaning, 'overlaps')) dropOverlaps(draft, keptOf(draft, rows), book);
}

/** Whether each life was fitted after the one before it was, and not before that one was removed: then nothing below finds anything. */
function followEachOther({ state, fitted, removed }: DraftLives, rows: Int32Array): boolean {
  let lastFitted = -Infinity;
  let lastEnd = -Infinity;
  for (let k = 0; k < rows.length; k++) {
    const i = wholeAt(rows, k);
    const begin = floatAt(fitted, i);
    if (byteAt(state, i) !== KEPT || !(begin > lastFitted && begin >= lastEnd)) return false;
    const end = floatAt(removed, i);
    lastFitted = begin;
    lastEnd = Number.isNaN(end) ? Infinity : end;
  }
  return true;
}

function keptOf(draft: DraftLives, rows: Int32Array): number[] {
  return Array.from(rows).filter((i) => at(draft.state, i) === KEPT);
}

function setAside(draft: DraftLives, i: number, book: RowBook, why: Fault): void {
  draft.state[i] = GONE;
  const fitted = floatAt(draft.fitted, i);
  book.setAside(at(draft.row, i), 'fitted', Number.isNaN(fitted) ? null : textFromDay(fitted), why);
}

/** Rows that say the same stand next to each other, but for others of the same days. */
function dropRepeats(draft: DraftLives, rows: Int32Array, book: RowBook): void {
  let firsts: number[] = [];
  for (const i of rows) {
    if (at(draft.state, i) > UNDATED) continue;
    if (firsts.length > 0 && !sameDays(draft, firsts[0] as number, i)) firsts = [];
    const first = firsts.find((other) => sameFacts(draft, other, i));
    if (first === undefined) {
      firsts.push(i);
      continue;
    }
    draft.state[i] = REPEATED;
    const text = `The row repeats row ${rowText(draft, at(draft.row, first))}.`;
    book.setAside(at(draft.row, i), null, null, fault('life-duplicate', text, 'Take one of them out.'));
  }
}

function sameDays(draft: DraftLives, a: number, b: number): boolean {
  return Object.is(floatAt(draft.fitted, a), floatAt(draft.fitted, b)) && endOf(draft, a) === endOf(draft, b);
}

/** Everything but the day of recording is the same. */
function sameFacts(draft: DraftLives, a: number, b: number): boolean {
  const columns = [
    draft.material,
    draft.size,
    draft.reason,
    draft.finding,
    draft.lastTight,
    draft.lot,
    draft.fittedBy,
  ];
  return columns.every((column) => Object.is(at(column, a), at(column, b)));
}

/** A life without removal before another fitting; of two fitted on one day the one with a removal is the later record. */
function dropLeftOpen(draft: DraftLives, rows: Int32Array, book: RowBook): void {
  const kept = keptOf(draft, rows);
  const running = kept.filter((i) => isRunning(draft, i));
  const lastFitted = kept.reduce((last, i) => Math.max(last, floatAt(draft.fitted, i)), -Infinity);
  const closedDays = new Set(
    kept
      .filter((i) => endOf(draft, i) > floatAt(draft.fitted, i) && !isRunning(draft, i))
      .map((i) => floatAt(draft.fitted, i)),
  );
  for (const i of running) {
    const fitted = floatAt(draft.fitted, i);
    if (fitted < lastFitted || closedDays.has(fitted))
      setAside(draft, i, book, leftOpen(draft, i, running.length > 1));
  }
  const left = running.filter((i) => at(draft.state, i) === KEPT);
  if (left.length > 1) for (const i of left) setAside(draft, i, book, TWO_RUNNING);
}

function leftOpen(draft: DraftLives, i: number, another: boolean): Fault {
  const day = localDay(floatAt(draft.fitted, i));
  return another
    ? fault(
        'two-running-lives',
        `Two diaphragms are listed as in place; the one fitted ${day} was followed by another, so it was removed on a day that is not on record.`,
        'Give its removal.',
      )
    : fault(
        'life-left-open',
        'It has no removal, yet another was fitted in its position since; the day it was removed is not on record.',
        'Give its removal.',
      );
}

const TWO_RUNNING = fault(
  'two-running-lives',
  'Two different diaphragms are listed as fitted on the same day and still in place.',
  'Keep the row that is true.',
);

/** Of lives in place with unknown fitting day, the first, and none beside one whose day is known. */
function dropSecondUndated(draft: DraftLives, rows: Int32Array, book: RowBook): void {
  const running = Array.from(rows).filter((i) => at(draft.state, i) <= UNDATED && isRunning(draft, i));
  const dated = running.some((i) => at(draft.state, i) === KEPT);
  const undated = running.filter((i) => at(draft.state, i) === UNDATED);
  for (const i of dated ? undated : undated.slice(1)) {
    draft.state[i] = REPEATED;
    book.setAside(at(draft.row, i), 'fitted', null, SECOND_UNDATED);
  }
}

const SECOND_UNDATED = fault(
  'two-running-lives',
  'Another diaphragm is listed as in place in this position.',
  'Give the removal of the one that is gone.',
);

/** Chains of overlapping lives, one after the other. `kept` is in order of fitting. */
function dropOverlaps(draft: DraftLives, kept: readonly number[], book: RowBook): void {
  let chain: number[] = [];
  let end = -Infinity;
  for (const i of kept) {
    if (floatAt(draft.fitted, i) >= end && chain.length > 0) {
      resolveChain(draft, chain, book);
      chain = [];
      end = -Infinity;
    }
    chain.push(i);
    end = Math.max(end, endOf(draft, i));
  }
  resolveChain(draft, chain, book);
}

function resolveChain(draft: DraftLives, chain: readonly number[], book: RowBook): void {
  if (chain.length < 2) return;
  if (chain.length > MOST_IN_CLASH) {
    for (const i of chain) setAside(draft, i, book, clash(`${chain.length - 1} other lives`));
    return;
  }
  const clashes = clashesOf(draft, chain, book);
  for (;;) {
    const most = Math.max(...chain.map((i) => clashes.get(i)?.size ?? 0));
    if (most === 0) return;
    const worst = chain.filter((i) => clashes.get(i)?.size === most);
    const withRows = worst.map((i) => [...(clashes.get(i) ?? [])].map((j) => at(draft.row, j)));
    worst.forEach((i, k) => {
      setAside(draft, i, book, clash(rowNames(draft, withRows[k] ?? [])));
    });
    for (const i of worst) {
      clashes.delete(i);
      for (const others of clashes.values()) others.delete(i);
    }
  }
}

/** Which lives of a chain cannot both be true. Slips between neighbours are asked about here. */
function clashesOf(draft: DraftLives, chain: readonly number[], book: RowBook): Map<number, Set<number>> {
  const clashes = new Map(chain.map((i) => [i, new Set<number>()]));
  chain.forEach((a, k) => {
    for (const b of chain.slice(k + 1)) {
      const overlap = endOf(draft, a) - floatAt(draft.fitted, b);
      if (overlap <= 0) continue;
      if (isSlip(draft, a, b)) {
        const text = `It was fitted ${daysWords(overlap)} before the diaphragm before it was removed (row ${rowText(draft, at(draft.row, a))}).`;
        const day = textFromDay(floatAt(draft.fitted, b));
        book.ask(at(draft.row, b), 'fitted', day, fault('lives-touch', text, 'Check both dates.'));
        continue;
      }
      clashes.get(a)?.add(b);
      clashes.get(b)?.add(a);
    }
  });
  return clashes;
}

/** Neighbours that overlap by a few days, little against both lives. */
function isSlip(draft: DraftLives, a: number, b: number): boolean {
  const overlap = endOf(draft, a) - floatAt(draft.fitted, b);
  const shorter = Math.min(
    endOf(draft, a) - floatAt(draft.fitted, a),
    endOf(draft, b) - floatAt(draft.fitted, b),
  );
  return overlap <= SLIP_DAYS && endOf(draft, b) > endOf(draft, a) && overlap < shorter / 2;
}

function rowNames(draft: DraftLives, rows: readonly number[]): string {
  const shown = [...rows]
    .sort((a, b) => a - b)
    .slice(0, 5)
    .map((row) => rowText(draft, row));
  const more = rows.length > shown.length ? ` and ${rows.length - shown.length} more` : '';
  return `${rows.length === 1 ? 'row' : 'rows'} ${shown.join(', ')}${more}`;
}

function clash(others: string): Fault {
  return fault(
    'lives-overlap',
    `Two diaphragms would be in one position at once: it overlaps ${others}.`,
    'Correct the dates or the tag of one of them.',
  );
}
