/** A fleet folder in, one checked `Fleet` out, with everything that was found on the way. */
import { inLocale } from '../numeric/locale.js';
import { askAboutSettings } from './askAboutSettings.js';
import { fault } from './cell.js';
import { CSV_FILES, type CsvFile, columnsOf, SITE_FILE } from './columnNames.js';
import type { CsvTable } from './csvTable.js';
import { type FolderBytes, readFolder } from './folder.js';
import { type FileTally, fileTallies } from './quality/fileTallies.js';
import { type History, readHistory } from './readHistory.js';
import { askAboutUse, readItems } from './readItems.js';
import { readMonthlyUse } from './readMonthlyUse.js';
import { readLots, readOrders } from './readOrders.js';
import { noReadings, readReadings } from './readReadings.js';
import { readShutdowns } from './readShutdowns.js';
import { findingsOf, type RowBook, rowBook } from './rowBook.js';
import { readSettings, type Settings } from './settings.js';
import { tableTexts } from './tableTexts.js';
import type { Fleet, Position } from './types.js';

export interface ReadOptions {
  /** The day of the extract, YYYY-MM-DD, for a folder whose site.json does not say. */
  dataUntil?: string;
  /**
   * Bytes that a packed file, a workbook or a file kept by columns may unpack to, and cells that the last may hold; 536 870 888 by default.
   * More lets larger CSV files be read; a workbook never unpacks to more than that.
   */
  mostBytes?: number;
  /** Told how much of a large file has been read, from 0 to 1: its name in the folder, and the share. */
  onReading?: (file: string, share: number) => void;
}

/**
 * Reads and checks a fleet folder. Rows that contradict something are set aside, never mended in a way that changes
 * how long a life was; each is in `findings.problems`, and rows in = rows used + rows set aside, per file and in total.
 * The same bytes give the same fleet in every time zone.
 *
 * @throws InputError where the folder, a file or site.json cannot be used as a whole, with what to do about it.
 */
export async function readFleet(folder: string, options: ReadOptions = {}): Promise<Fleet> {
  return fleetOf(await readFolder(folder, options.mostBytes, options.onReading), options);
}

/** A fleet with what its tables have: for saying how good the records are. */
export interface FleetRecords {
  fleet: Fleet;
  /** Columns of ours that each file has. */
  columns: ReadonlyMap<CsvFile, readonly string[]>;
  /** How often each thing was found, over all rows. */
  found: FileTally[];
}

/** The same as `readFleet`, with what the tables have beside it. */
export async function readRecords(folder: string, options: ReadOptions = {}): Promise<FleetRecords> {
  const { books, ...records } = recordsOf(
    await readFolder(folder, options.mostBytes, options.onReading),
    options,
  );
  return { ...records, found: [...books.values()].flatMap(fileTallies) };
}

/** The fleet from bytes already read. */
export function fleetOf(bytes: FolderBytes, options: ReadOptions = {}): Fleet {
  return recordsOf(bytes, options).fleet;
}

function recordsOf(bytes: FolderBytes, options: ReadOptions): Tables {
  const siteBook = rowBook(SITE_FILE);
  const settings = readSettings(bytes.files.get(SITE_FILE), siteBook);
  return inLocale(settings.site.locale, () => readTables(bytes, options, settings, siteBook));
}

function readTables(bytes: FolderBytes, options: ReadOptions, settings: Settings, siteBook: RowBook): Tables {
  const { tables, unread } = tableTexts(bytes, settings.mappings, options.mostBytes);
  const books = booksOf(tables, siteBook, [...bytes.unread, ...unread]);
  const columns = new Map<CsvFile, readonly string[]>();
  const open = (file: CsvFile): CsvTable | null => {
    const table = tables.get(file)?.(settings.mappings, bookOf(books, file)) ?? null;
    if (table !== null) columns.set(file, columnsOf(file).filter(table.has));
    return table;
  };
  const history = readHistory(open, settings, options.dataUntil);
  const { positions, lives, materials, site } = history;

  const shelf = readShelf(open, settings, history, books);
  const readings = open('readings.csv');
  const shutdowns = open('shutdowns.csv');
  askAboutSettings(site, settings.mappings, materials, positions, bookOf(books, SITE_FILE));

  const fleet: Fleet = {
    site,
    positions,
    materials: materials.names,
    lotNames: history.lots.names,
    fitters: history.fitters.names,
    lives,
    readings:
      readings === null ? noReadings() : readReadings(readings, positions, settings.mappings, site.dataUntil),
    ...shelf,
    shutdowns:
      shutdowns === null ? [] : readShutdowns(shutdowns, positions, settings.mappings, site.dataUntil),
    filesRead: [...tables.keys(), ...(bytes.files.has(SITE_FILE) ? [SITE_FILE] : [])].sort(),
    findings: findingsOf([...books.values()], history.livesBuilt, settings.mappings.cleaning),
    inputsHash: bytes.hash,
  };
  return { fleet, columns, books };
}

type Open = (file: CsvFile) => CsvTable | null;
type Books = ReadonlyMap<string, RowBook>;
type Tables = Omit<FleetRecords, 'found'> & { books: Books };

/** A book for each file that was read, in the order of the documentation, and for each table that was not. */
function booksOf(tables: ReadonlyMap<CsvFile, unknown>, siteBook: RowBook, unread: readonly string[]): Books {
  const read = CSV_FILES.filter((file) => tables.has(file)).map((file) => [file, rowBook(file)] as const);
  const left = unread.map((file) => [file, rowBook(file)] as const);
  for (const [, book] of left) book.leaveOut(null, null, NOT_READ);
  return new Map([...read, [SITE_FILE, siteBook] as const, ...left]);
}

const NOT_READ = fault(
  'file-not-read',
  'The folder holds a table of this name, which is not one that is read.',
  `Nothing, if it is not meant; otherwise save it as one of ${CSV_FILES.join(', ')}, or name a sheet so.`,
);

function bookOf(books: Books, file: string): RowBook {
  return books.get(file) ?? rowBook(file);
}

/** Items, orders and lots; empty where their files are not there. */
function readShelf(
  open: Open,
  { mappings }: Settings,
  { lives, materials, positions, site }: History,
  books: Books,
): Pick<Fleet, 'items' | 'orders' | 'deliveries' | 'lots' | 'monthlyUse'> {
  const itemTable = open('items.csv');
  const orderTable = open('orders.csv');
  const lotTable = open('lots.csv');
  const useTable = open('monthly-use.csv');
  const list =
    itemTable === null ? { items: [], rowOf: new Map() } : readItems(itemTable, mappings, materials);
  const monthlyUse = useTable === null ? [] : readMonthlyUse(useTable, list.items, site.dataUntil);
  if (itemTable !== null) {
    const counted = new Set(monthlyUse.map(({ item }) => item));
    const next = [
      ...fittedNext(positions),
      ...list.items.filter(({ item }) => counted.has(item)).map(kindOf),
    ];
    askAboutUse(list, lives, materials.names, new Set(next), bookOf(books, 'items.csv'));
  }
  return {
    items: list.items,
    ...(orderTable === null ? NO_ORDERS : readOrders(orderTable, list.items, site.dataUntil)),
    monthlyUse,
    lots: lotTable === null ? [] : readLots(lotTable, list.items),
  };
}

const NO_ORDERS = { orders: [], deliveries: [] };

/** Size and material of what positions will be fitted with next. */
function fittedNext(positions: readonly Position[]): string[] {
  return positions.map(({ size, materialNext }) => kindOf({ size, material: materialNext ?? '' }));
}

function kindOf({ size, material }: { size: number; material: string }): string {
  return `${size}/${material}`;
}
