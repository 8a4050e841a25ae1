/** orders.csv and lots.csv: what is on the way, and what lies on the shelf until when. */

import { type Day, textFromDay } from '../numeric/day.js';
import { localDay } from '../numeric/localWords.js';
import { count } from '../numeric/words.js';
import { dateCell, type Fault, fault, numberCell, remembered, textCell } from './cell.js';
import { columnOf } from './columnReader.js';
import type { CsvRow, CsvTable } from './csvTable.js';
import { mended } from './mended.js';
import type { Delivery, Item, Lot, OpenOrder } from './types.js';

const NO_ITEM = fault('item-missing', 'The row has no part number.', 'Give the part number.');
const UNKNOWN_ITEM = fault(
  'item-unknown',
  'items.csv has no such part number that is planned.',
  'Add the item there, or correct the part number.',
);
const NO_QUANTITY = fault('quantity-missing', 'The quantity is missing.', 'Give the number of pieces.');

/** A quantity of a known item, or null where the row was set aside. */
function quantityReader(table: CsvTable, items: ReadonlyMap<string, Item>) {
  const part = columnOf(table, 'item', remembered(textCell));
  const quantity = columnOf(
    table,
    'quantity',
    remembered(numberCell({ least: 0, above: true, whole: true })),
  );
  const aside = (row: CsvRow, column: string, why: Fault): null => {
    table.book.setAside(row.row, column, table.text(row, table.place(column)), why);
    return null;
  };
  return (row: CsvRow): { item: Item; quantity: number } | null => {
    const name = part(row).value;
    if (name === null) return aside(row, 'item', NO_ITEM);
    const item = items.get(name);
    if (item === undefined) return aside(row, 'item', UNKNOWN_ITEM);
    const pieces = quantity(row);
    if (pieces.value === null) return aside(row, 'quantity', pieces.fault ?? NO_QUANTITY);
    return { item, quantity: pieces.value };
  };
}

function byPart(items: readonly Item[]): ReadonlyMap<string, Item> {
  return new Map(items.map((item) => [item.item, item]));
}

/**
 * Open orders, and those that have come (with a day received): these are not on order any more. An open one without a due date
 * is due a lead time after it was placed, or after the extract.
 */
export function readOrders(
  table: CsvTable,
  items: readonly Item[],
  dataUntil: Day,
): { orders: OpenOrder[]; deliveries: Delivery[] } {
  const read = quantityReader(table, byPart(items));
  const date = (column: string) => mended(table, column, columnOf(table, column, remembered(dateCell)));
  const placedOn = date('placed');
  const dueOn = date('due');
  const receivedOn = receivedColumn(table, dataUntil);
  const orders: OpenOrder[] = [];
  const deliveries: Delivery[] = [];
  table.forEach((row) => {
    const what = read(row);
    if (what === null) return;
    const head = { item: what.item.item, quantity: what.quantity };
    const placed = placedOn(row);
    const received = receivedOn(row);
    if (received === 'unclear') return;
    if (received !== null) {
      if (placed === null) table.book.ask(row.row, 'placed', null, NOT_PLACED);
      else if (placed > received)
        table.book.setAside(row.row, 'received', textFromDay(received), RECEIVED_FIRST);
      else deliveries.push({ ...head, placed, received });
      return;
    }
    const given = dueOn(row);
    const due = given ?? (placed ?? dataUntil) + (what.item.leadTimeDays ?? 0);
    if (given === null) table.book.mend(row.row, 'due', null, noDue(due));
    askAboutOrder(table, row, placed, due, dataUntil);
    orders.push({ ...head, placed, due });
  });
  return { orders, deliveries };
}

/** Day received; null where it has not come. A cell that cannot be read leaves it open whether it has: the row is set aside. */
function receivedColumn(table: CsvTable, dataUntil: Day): (row: CsvRow) => Day | null | 'unclear' {
  const place = table.place('received');
  const read = columnOf(table, 'received', remembered(dateCell));
  return (row) => {
    const { value, fault: wrong } = read(row);
    const why = wrong ?? (value !== null && value > dataUntil ? RECEIVED_LATER : null);
    if (why === null) return value;
    table.book.setAside(row.row, 'received', table.text(row, place), why);
    return 'unclear';
  };
}

const NOT_PLACED = fault(
  'placed-missing',
  'The order has come and has no day placed: it is not on order, and tells nothing of the lead time.',
  'Give the day it was placed.',
);
const RECEIVED_FIRST = fault(
  'received-before-placed',
  'The order came before it was placed.',
  'Correct the dates.',
);
const RECEIVED_LATER = fault(
  'received-after-extract',
  'The day received is after the extract was made.',
  'Correct the day, or leave the cell empty while the order is open.',
);

function noDue(due: Day): Fault {
  const text = `The due date is not known; it is taken as ${localDay(due)}, a usual lead time after the order or the extract.`;
  return fault('due-missing', text, 'Give the date the supplier confirmed.');
}

function askAboutOrder(table: CsvTable, row: CsvRow, placed: Day | null, due: Day, dataUntil: Day): void {
  if (placed !== null && placed > due) {
    table.book.ask(row.row, 'due', textFromDay(due), DUE_FIRST);
  } else if (due < dataUntil) {
    table.book.ask(row.row, 'due', textFromDay(due), OVERDUE);
  }
}

const DUE_FIRST = fault('due-before-placed', 'The order is due before it was placed.', 'Correct the dates.');
const OVERDUE = fault(
  'order-overdue',
  'The order was due before the extract was made and counts as still to come.',
  'Ask the supplier, or take the row out if it has arrived.',
);

/** Lots on the shelf. */
export function readLots(table: CsvTable, items: readonly Item[]): Lot[] {
  const read = quantityReader(table, byPart(items));
  const date = (column: string) => mended(table, column, columnOf(table, column, remembered(dateCell)));
  const name = columnOf(table, 'lot', textCell);
  const curedOn = date('cured');
  const useByDay = date('use_by');
  const lots: Lot[] = [];
  table.forEach((row) => {
    const what = read(row);
    if (what === null) return;
    const cured = curedOn(row);
    const useBy = useByDay(row);
    if (cured !== null && useBy !== null && useBy < cured) {
      table.book.setAside(row.row, 'use_by', textFromDay(useBy), USE_BY_FIRST);
    } else
      lots.push({ item: what.item.item, lot: name(row).value ?? '', quantity: what.quantity, cured, useBy });
  });
  askAboutStock(table, items, lots);
  return lots;
}

const USE_BY_FIRST = fault(
  'use-by-before-cured',
  'The lot is past its use before it was cured.',
  'Correct the dates.',
);

function askAboutStock(table: CsvTable, items: readonly Item[], lots: readonly Lot[]): void {
  const inLots = new Map<string, number>();
  for (const lot of lots) inLots.set(lot.item, (inLots.get(lot.item) ?? 0) + lot.quantity);
  for (const item of items) {
    const pieces = inLots.get(item.item);
    if (pieces === undefined || pieces === item.onHand) continue;
    const text = `The lots hold ${count(pieces, 'piece')} and items.csv says ${count(item.onHand, 'is', 'are')} on hand.`;
    table.book.ask(null, 'quantity', item.item, fault('lots-differ-from-stock', text, 'Count the shelf.'));
  }
}
