/** work-orders.csv: one row a work order, read cell by cell. What the rows mean for lives is worked out afterwards. */
import { type Cell, dateCell, type Fault, fault, numberCell, remembered, wordCell } from '../cell.js';
import { columnOf } from '../columnReader.js';
import type { CsvRow, CsvTable } from '../csvTable.js';
import { type Mappings, wordsOf } from '../mappings.js';
import { mended } from '../mended.js';
import { nameCell, nameList } from '../names.js';
import { positionCell } from '../positionCell.js';
import type { LifeNames } from '../readLives.js';
import { SIZE_RULE } from '../readPositions.js';
import { FINDINGS_AT_REMOVAL, type Position, REASONS } from '../types.js';
import { DOUBTFUL, NONE, type OrderTable, orderTable, WORKS } from './types.js';
import { askAboutWords, countWord } from './unknownWords.js';

/**
 * Reads the orders. A row that cannot be used is set aside; one that may have opened a valve all the same (its word or its day cannot be
 * read) stays in the columns as a doubt about the life in place.
 */
export function readWorkOrders(
  table: CsvTable,
  positions: readonly Position[],
  mappings: Mappings,
  names: LifeNames,
): OrderTable {
  const orders = orderTable(table.mostRows);
  const unknownWords = new Map<string, number>();
  const read = orderReader(table, positions, mappings, names, unknownWords);
  table.forEach((row) => {
    read(orders, row);
  }, true);
  askAboutWords(unknownWords, table.book);
  return orders;
}

function orderReader(
  table: CsvTable,
  positions: readonly Position[],
  mappings: Mappings,
  names: LifeNames,
  unknownWords: Map<string, number>,
) {
  const work = workReader(table, positions, mappings, unknownWords);
  const cells = cellsReader(table, mappings, names);
  return (orders: OrderTable, row: CsvRow): void => {
    const what = work(row);
    if (what === null) return;
    const k = orders.length++;
    orders.position[k] = what.position;
    orders.day[k] = what.day;
    orders.work[k] = what.work;
    orders.row[k] = row.row;
    if (what.work !== DOUBTFUL) cells(orders, k, row);
  };
}

/** Where, when and what; null where the row says nothing about any diaphragm. */
function workReader(
  table: CsvTable,
  positions: readonly Position[],
  mappings: Mappings,
  unknownWords: Map<string, number>,
) {
  const { book } = table;
  const place = columnOf(table, 'position', remembered(positionCell(positions, mappings)));
  const date = columnOf(table, 'date', remembered(dateCell));
  const word = columnOf(table, 'work', remembered(wordCell(WORKS, wordsOf(mappings, 'work'))));
  const aside = (row: CsvRow, column: string, why: Fault): null => {
    book.setAside(row.row, column, table.text(row, table.place(column)), why);
    return null;
  };
  return (row: CsvRow): { position: number; day: number; work: number } | null => {
    const where = place(row);
    if (where.value === null) return aside(row, 'position', where.fault ?? NO_TAG);
    const day = date(row);
    const work = word(row);
    if (work.value === 'cancelled') return aside(row, 'work', CANCELLED);
    if (work.fault !== null) countWord(unknownWords, table.text(row, table.place('work')));
    if (work.value === null) aside(row, 'work', work.fault === null ? NO_WORK : unknownWork(work));
    else if (day.value === null) aside(row, 'date', undated(day));
    if (work.value !== null && day.value === null && !opens(work.value)) return null;
    return {
      position: where.value,
      day: day.value ?? Number.NaN,
      work: work.value === null || day.value === null ? DOUBTFUL : WORKS.indexOf(work.value),
    };
  };
}

function opens(work: (typeof WORKS)[number]): boolean {
  return work === 'replaced' || work === 'opened' || work === 'fitted' || work === 'removed';
}

const IN_DOUBT = 'It may have opened the valve, so the life it falls into counts as one of unknown age.';

function unknownWork({ fault: why }: Cell<unknown>): Fault {
  return {
    code: 'work-unknown',
    text: `${why?.text ?? ''} ${IN_DOUBT}`.trim(),
    todo: 'Use one of these words, or say in site.json under "values", "work", which one is meant.',
  };
}

function undated({ fault: why }: Cell<unknown>): Fault {
  const what = why?.text ?? 'The order has no date.';
  return {
    code: 'order-undated',
    text: `${what} It opened the valve on a day that is not known, so the lives of its position count as of unknown age.`,
    todo: why?.todo ?? 'Give the day on which the work was done.',
  };
}

const NO_TAG = fault(
  'position-missing',
  'The row names no position.',
  'Give the tag; it is not taken from the row above.',
);
const NO_WORK = fault(
  'work-missing',
  `The row does not say what was done. ${IN_DOUBT}`,
  `Write one of ${WORKS.join(', ')}.`,
);
const CANCELLED = fault('order-cancelled', 'The order was not carried out.', 'Nothing.');

/** The cells that describe what came out and what went in. */
function cellsReader(table: CsvTable, mappings: Mappings, names: LifeNames) {
  const orderNames = nameList();
  const optional = <T>(name: string, cell: (raw: string) => Cell<T>) =>
    mended(table, name, columnOf(table, name, remembered(cell)));
  const reason = wordColumn(table, 'reason', REASONS, mappings);
  const finding = wordColumn(table, 'finding', FINDINGS_AT_REMOVAL, mappings);
  const material = optional('material', nameCell(names.materials, wordsOf(mappings, 'material')));
  const size = optional('size', numberCell(SIZE_RULE));
  const lot = optional('lot', nameCell(names.lots));
  const doneBy = optional('done_by', nameCell(names.fitters));
  const order = optional('order', nameCell(orderNames));
  const recorded = optional('recorded', dateCell);
  return (orders: OrderTable, k: number, row: CsvRow): void => {
    orders.reason[k] = reason(row);
    orders.finding[k] = finding(row);
    orders.material[k] = material(row) ?? NONE;
    orders.size[k] = size(row) ?? Number.NaN;
    orders.lot[k] = lot(row) ?? NONE;
    orders.doneBy[k] = doneBy(row) ?? NONE;
    orders.order[k] = order(row) ?? NONE;
    orders.recorded[k] = recorded(row) ?? Number.NaN;
  };
}

/** A word of a list as its number; NONE where the cell is empty, that of unknown where it cannot be read. */
function wordColumn<T extends string>(
  table: CsvTable,
  column: string,
  words: readonly T[],
  mappings: Mappings,
): (row: CsvRow) => number {
  const place = table.place(column);
  const read = mended(
    table,
    column,
    columnOf(table, column, remembered(wordCell(words, wordsOf(mappings, column)))),
  );
  const unknown = words.indexOf('unknown' as T);
  return (row) => {
    const word = read(row);
    if (word !== null) return words.indexOf(word);
    return table.text(row, place).trim() === '' ? NONE : unknown;
  };
}
