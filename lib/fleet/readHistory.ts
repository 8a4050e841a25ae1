/** Positions and lives, from one row per diaphragm, one row per work order, or both; and the day of the extract. */
import { InputError } from '../errors.js';
import { at, itemAt } from '../numeric/columns.js';
import { localDay } from '../numeric/localWords.js';
import { fault } from './cell.js';
import { type CheckedLives, checkLives } from './checkLives.js';
import type { CsvFile } from './columnNames.js';
import type { CsvTable } from './csvTable.js';
import { dataDay } from './dataDay.js';
import { type DraftLives, draftLives } from './draftLives.js';
import { askAboutHeat } from './heat/askAboutHeat.js';
import { type NameList, nameList } from './names.js';
import { type LifeNames, readLives } from './readLives.js';
import { type PositionList, readPositions } from './readPositions.js';
import { noRows, nothingUsable } from './refusals.js';
import type { RowBook } from './rowBook.js';
import type { Settings } from './settings.js';
import type { Position, Site } from './types.js';
import { addOrders, type OrderedLives } from './workOrders/addOrders.js';
import { type LifeBook, lifeBook } from './workOrders/lifeBook.js';
import { readWorkOrders } from './workOrders/readWorkOrders.js';
import { NONE, type OrderTable } from './workOrders/types.js';

export interface History extends LifeNames, CheckedLives {
  positions: Position[];
  site: Site;
}

interface Tables {
  positions: CsvTable;
  lives: CsvTable | null;
  orders: CsvTable | null;
}

/**
 * Reads and checks the history.
 * @param optionDay the day of the extract that a caller names, for a folder that does not say
 * @throws InputError where no row can be used
 */
export function readHistory(
  open: (file: CsvFile) => CsvTable | null,
  settings: Settings,
  optionDay: string | undefined,
): History {
  const names = { materials: nameList(), lots: nameList(), fitters: nameList() };
  const tables: Tables = {
    positions: open('positions.csv') as CsvTable,
    lives: open('lives.csv'),
    orders: open('work-orders.csv'),
  };
  const list = readPositions(tables.positions, settings.mappings, names.materials);
  askAboutHeat(list, tables.positions.book);
  const { draft, orders, day, book, ordered } = draftHistory(tables, list, names, settings, optionDay);
  spellNext(list.positions, names.materials);
  const { cleaning } = settings.mappings;
  const span = { recordsFrom: settings.site.recordsFrom, dataUntil: day.dataUntil, cleaning };
  const checked = checkLives(draft, list, names.materials, span, {
    lives: book.book,
    positions: tables.positions.book,
  });
  if (orders !== null) book.settle(draft, ordered.bounds);
  if (checked.lives.length === checked.livesBuilt) throw nothingUsable(mainBook(tables));
  const { assumed } = settings.site;
  const site = {
    ...settings.site,
    dataUntil: day.dataUntil,
    assumed: day.assumed === null ? assumed : [...assumed, day.assumed],
  };
  return { ...names, ...checked, positions: list.positions, site };
}

function draftHistory(
  tables: Tables,
  list: PositionList,
  names: LifeNames,
  settings: Settings,
  optionDay: string | undefined,
) {
  const { lives, orders: orderTable } = tables;
  const room =
    (lives?.mostRows ?? 0) + (orderTable === null ? 0 : orderTable.mostRows + list.positions.length);
  const draft = draftLives(room, orderTable === null ? Infinity : (lives?.mostRows ?? 0));
  if (lives !== null) readLives(lives, list.positions, settings.mappings, names, draft);
  const orders =
    orderTable === null ? null : readWorkOrders(orderTable, list.positions, settings.mappings, names);
  refuseEmpty(tables, draft, orders);

  const { recordsFrom } = settings.site;
  const history = { draft, orders, tables: tableWords(tables) };
  const day = dataDay(history, settings.dataUntil, optionDay, recordsFrom);
  const book = bookOfLives(tables, draft);
  const ordered =
    orders === null
      ? NO_ORDERS
      : addOrders(draft, orders, {
          positions: list.positions,
          dataUntil: day.dataUntil,
          materialOf: ({ materialNext }) =>
            materialNext === null ? NONE : names.materials.add(materialNext),
          cleaning: settings.mappings.cleaning,
          orders: (orderTable as CsvTable).book,
          lives: book.book,
        });
  if (orders !== null && draft.length === 0) throw noOpening(mainBook(tables));
  retire(list, ordered, tables.positions.book);
  return { draft, orders, day, book, ordered };
}

const NO_ORDERS: OrderedLives = { bounds: [], retired: new Float64Array(0) };

/** The book that counts for the history as a whole. */
function mainBook({ lives, orders }: Tables): RowBook {
  const table = lives !== null && (orders === null || lives.book.count().rowsIn > 0) ? lives : orders;
  return (table as CsvTable).book;
}

function bookOfLives({ lives, orders }: Tables, draft: DraftLives): LifeBook {
  if (orders === null) return { book: (lives as CsvTable).book, settle: () => undefined };
  return lifeBook(lives?.book ?? null, orders.book, draft.ordersAfter);
}

function tableWords({ lives, orders }: Tables): string {
  return [lives, orders].flatMap((table) => (table === null ? [] : [table.file])).join(' and ');
}

/** @throws InputError where neither table has a row that can be used */
function refuseEmpty(tables: Tables, draft: DraftLives, orders: OrderTable | null): void {
  if ((orders?.length ?? 0) > 0) return;
  if (!draft.state.subarray(0, draft.length).every((state) => state > 0)) return;
  const book = mainBook(tables);
  throw book.count().rowsIn === 0 ? noRows(book.file) : nothingUsable(book);
}

function noOpening(book: RowBook): InputError {
  if (book.count().rowsUsed === 0) return nothingUsable(book);
  return new InputError(
    'No order opened a valve, so there is no life to learn from.',
    { file: book.file, column: 'work' },
    'Say in site.json under "values", "work", which of your words means replaced, opened, fitted or removed.',
  );
}

/** Positions whose last order took the valve out of service. */
function retire({ positions, rows }: PositionList, { retired }: OrderedLives, book: RowBook): void {
  retired.forEach((day, p) => {
    const position = itemAt(positions, p);
    const { outOfServiceSince, inServiceSince } = position;
    if (Number.isNaN(day) || (outOfServiceSince ?? Infinity) <= day || (inServiceSince ?? -Infinity) >= day)
      return;
    position.outOfServiceSince = day;
    const text = `Its last order took it out of service on ${localDay(day)}; the position counts as out of service from that day.`;
    const todo = 'Give out_of_service_since, or the order that fitted a diaphragm since.';
    book.mend(
      at(rows, p),
      'out_of_service_since',
      position.position,
      fault('retired-without-date', text, todo),
    );
  });
}

/** Spells what will be fitted next as the lives do, and adds materials that no life has yet. */
function spellNext(positions: readonly Position[], materials: NameList): void {
  for (const position of positions) {
    if (position.materialNext === null) continue;
    materials.add(position.materialNext);
    position.materialNext = materials.spelling(position.materialNext);
  }
}
