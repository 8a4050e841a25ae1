/** What looks odd in the lives that are used; nothing is altered. */

import { at, floatAt, itemAt } from '../numeric/columns.js';
import { type Day, textFromDay } from '../numeric/day.js';
import { count, daysWords } from '../numeric/words.js';
import { fault } from './cell.js';
import type { RowBook } from './rowBook.js';
import type { LifeTable, Position } from './types.js';

/** A life in place is asked about from this many times the largest completed age of its material and size. */
export const OLD_TIMES = 3;
/** Gaps up to this many days between a removal and the next fitting are not mentioned. */
const SHORT_GAP_DAYS = 30;

/** Lives in place far older than any completed one: the valve may be gone, or a replacement not recorded. */
export function askAboutOldLives(
  lives: LifeTable,
  materials: readonly string[],
  positions: readonly Position[],
  dataUntil: Day,
  book: RowBook,
): void {
  const oldest = new Map<string, number>();
  const groupOf = (i: number): string => `${at(lives.material, i)}/${floatAt(lives.size, i)}`;
  for (let i = 0; i < lives.length; i++) {
    const age = floatAt(lives.removed, i) - floatAt(lives.fitted, i);
    if (age > (oldest.get(groupOf(i)) ?? 0)) oldest.set(groupOf(i), age);
  }
  for (let i = 0; i < lives.length; i++) {
    if (!Number.isNaN(floatAt(lives.removed, i))) continue;
    const largest = oldest.get(groupOf(i));
    const age = dataUntil - floatAt(lives.fitted, i);
    if (largest === undefined || !(age > OLD_TIMES * largest)) continue;
    const name = `${itemAt(materials, at(lives.material, i))} DN ${floatAt(lives.size, i)}`;
    const tag = itemAt(positions, at(lives.position, i)).position;
    const text = `The diaphragm in place is ${daysWords(age)} old, more than ${OLD_TIMES} times the oldest completed life of ${name} (${daysWords(largest)}).`;
    const todo = 'Is the valve still in service, and was a replacement left off the record?';
    const row = at(lives.row, i);
    book.ask(
      row === 0 ? null : row,
      'fitted',
      row === 0 ? tag : textFromDay(floatAt(lives.fitted, i)),
      fault('running-life-old', text, todo),
    );
  }
}

/** A removed diaphragm is replaced at once; long gaps in which the position was not idle are lives not on record. */
export function askAboutGaps(lives: LifeTable, positions: readonly Position[], book: RowBook): void {
  const gaps: { row: number; days: number }[] = [];
  for (let i = 1; i < lives.length; i++) {
    if (at(lives.position, i) !== at(lives.position, i - 1)) continue;
    const removed = floatAt(lives.removed, i - 1);
    const fitted = floatAt(lives.fitted, i);
    const idle = itemAt(positions, at(lives.position, i)).idle;
    if (
      fitted - removed > SHORT_GAP_DAYS &&
      !idle.some(({ start, end }) => start <= fitted && end >= removed)
    ) {
      gaps.push({ row: at(lives.row, i), days: fitted - removed });
    }
  }
  const first = gaps[0];
  if (first === undefined) return;
  const text = `${count(gaps.length, 'fitting comes', 'fittings come')} more than ${SHORT_GAP_DAYS} days after the removal before it in its position (here ${daysWords(first.days)}).`;
  const todo = 'Is a life missing from the record, or was the position idle?';
  book.ask(first.row, 'fitted', null, fault('gap-between-lives', text, todo), gaps.length);
}
