/**
 * The book in which lives are checked, whatever table they come from. A life from orders is bounded by two of them, and each bounds two
 * lives: an order is set aside only where no life that it bounds is used; otherwise what is wrong with one life is told beside it.
 */
import { type Fault, fault } from '../cell.js';
import { type DraftLives, inTable } from '../draftLives.js';
import type { RowBook } from '../rowBook.js';
import type { LifeBounds } from './addOrders.js';

export interface LifeBook {
  book: RowBook;
  /** Counts the orders that bound no life that is used, and tells of lives that were set aside. Call it once, after all checks. */
  settle(draft: DraftLives, bounds: readonly LifeBounds[]): void;
}

interface Note {
  row: number;
  column: string | null;
  value: string | null;
  why: Fault;
}

/** @param after rows above this number are those of work-orders.csv, counted on from it */
export function lifeBook(lives: RowBook | null, orders: RowBook, after: number): LifeBook {
  const notes: Note[] = [];
  const main = lives ?? orders;
  const route = (row: number | null): { book: RowBook; row: number | null } =>
    row === null || row <= after ? { book: main, row } : { book: orders, row: row - after };
  const book: RowBook = {
    ...main,
    setAside: (row, column, value, why) => {
      if (row <= after) main.setAside(row, column, value, why);
      else notes.push({ row: row - after, column, value, why });
    },
    mend: (row, column, value, why) => {
      const to = route(row);
      to.book.mend(to.row, column, value, why);
    },
    ask: (row, column, value, why, times) => {
      const to = route(row);
      to.book.ask(to.row, column, value, why, times);
    },
  };
  return { book, settle: (draft, bounds) => settle(draft, bounds, notes, orders) };
}

function settle(
  draft: DraftLives,
  bounds: readonly LifeBounds[],
  notes: readonly Note[],
  orders: RowBook,
): void {
  const used = new Map<number, boolean>();
  for (const { life, rows } of bounds) {
    for (const row of rows) used.set(row, used.get(row) === true || inTable(draft, life));
  }
  const told = new Set<number>();
  for (const { row, column, value, why } of notes) {
    if (used.get(row) === false && !told.has(row)) orders.setAside(row, column, value, why);
    else
      orders.ask(row, column, value, {
        ...why,
        text: `Of the two lives that meet here one is left out. ${why.text}`,
      });
    told.add(row);
  }
  const noteOf = new Map(notes.map((note) => [note.row, note]));
  for (const { rows } of bounds) {
    const why = rows.map((row) => noteOf.get(row)).find((note) => note !== undefined)?.why ?? NO_LIFE;
    for (const row of rows) {
      if (used.get(row) === true || told.has(row)) continue;
      orders.setAside(row, null, null, why);
      told.add(row);
    }
  }
}

const NO_LIFE = fault(
  'order-without-life',
  'No life that it begins or ends can be used.',
  'See what is said of the other orders of this position.',
);
