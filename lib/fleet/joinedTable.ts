/**
 * One table of several files. Rows are numbered through all of them, and what is told of a row names its file and its row there. What two
 * files both have is one row: exports of following years overlap, and a diaphragm that was in place in the older one is removed in the newer.
 */
import { InputError } from '../errors.js';
import { itemAt } from '../numeric/columns.js';
import { type Fault, fault } from './cell.js';
import { type CsvFile, columnsOf } from './columnNames.js';
import type { CsvRow, CsvTable } from './csvTable.js';
import { KEY_ROW, type PartBook, partBook, settleNames } from './partBook.js';
import type { RowBook } from './rowBook.js';
import { type Copies, copiesIn, type Known } from './sameRows.js';

export interface TablePart {
  /** What the file, or the sheet of it, is called. */
  name: string;
  open: (book: RowBook) => CsvTable;
}

/** How the plant's words are read, so that rows in two languages can be seen to be the same. */
export type PlainText = (column: string, text: string) => string;

interface OpenPart {
  name: string;
  table: CsvTable;
  book: PartBook;
  /** Place in it of each column of the joined table, -1 where it has none. */
  places: number[];
}

interface JoinedRow extends CsvRow {
  readonly part: number;
  readonly inner: CsvRow;
}

/**
 * @param sameRows how to read words, where rows that two files have are to be one; null where each is taken for itself
 * @throws InputError as `openTable` does, with the name of the file
 */
export function joinedTable(
  file: CsvFile,
  parts: readonly TablePart[],
  book: RowBook,
  sameRows: PlainText | null,
): CsvTable {
  const opened = parts.map(({ name, open }) => {
    const own = partBook(book, name);
    return { name, book: own, table: naming(file, name, () => open(own)) };
  });
  settleNames(opened, book);
  const columns = columnsOf(file).filter((column) => opened.some(({ table }) => table.has(column)));
  const all: OpenPart[] = opened.map((part) => ({
    ...part,
    places: columns.map((column) => part.table.place(column)),
  }));
  const textOf = (row: CsvRow, column: number): string => {
    if (column < 0) return '';
    if (!isJoined(row)) return row.cells[column] ?? '';
    const { name, table, places } = itemAt(all, row.part);
    return naming(file, name, () => table.text(row.inner, itemAt(places, column)));
  };
  let found: Copies | null = null;
  return {
    file,
    book,
    coded: null,
    mostRows: all.reduce((sum, { table }) => sum + table.mostRows, 0),
    has: (column) => columns.includes(column),
    text: (row, column) => {
      const own = textOf(row, column);
      const twin = own === '' && isJoined(row) ? found?.twinOf(row.row) : undefined;
      return twin === undefined
        ? own
        : textOf(
            joined(twin.row, twin.part, 0, () => []),
            column,
          );
    },
    isSilent: () => false,
    place: (column) => columns.indexOf(column),
    forEach: (onRow) => {
      found = numberRows(file, all, columns, book, sameRows);
      all.forEach((part, p) => {
        naming(file, part.name, () =>
          part.table.forEach((row) => {
            const whole = joined(row, p, part.book.offset(), (own) => columns.map((_, c) => textOf(own, c)));
            const why = found?.copyOf(whole.row);
            if (why === undefined) onRow(whole);
            else book.setAside(whole.row, null, null, copyFault(why, all));
          }),
        );
      });
    },
  };
}

function joined(
  inner: CsvRow,
  part: number,
  offset: number,
  cellsOf: (row: JoinedRow) => string[],
): JoinedRow {
  const row: JoinedRow = {
    part,
    inner,
    row: offset + inner.row,
    get cells() {
      return cellsOf(row);
    },
  };
  return row;
}

function isJoined(row: CsvRow): row is JoinedRow {
  return 'inner' in row;
}

/** Looks through all parts once, silently: gives each its place in the numbers of rows, and finds what two of them have. */
function numberRows(
  file: CsvFile,
  parts: readonly OpenPart[],
  columns: readonly string[],
  book: RowBook,
  sameRows: PlainText | null,
): Copies | null {
  const known: Known[] = [];
  let offset = 0;
  parts.forEach(({ name, table, book: own, places }, part) => {
    own.begin(offset);
    naming(file, name, () =>
      table.forEach((row) => {
        own.sees(row.row);
        if (sameRows === null) return;
        const silent = silentRow(row);
        const texts = columns.map((column, c) => {
          const place = itemAt(places, c);
          return place < 0 ? null : sameRows(column, table.text(silent, place));
        });
        known.push({ part, row: offset + row.row, inner: silent, texts });
      }),
    );
    offset += own.end();
  });
  book.namePlaces((row) => placeName(parts, row));
  tellParts(parts, book);
  return sameRows === null ? null : copiesIn(file, columns, known);
}

/** The same row, of which nothing is told. */
function silentRow(row: CsvRow): CsvRow {
  return row.at === undefined
    ? { cells: row.cells, row: KEY_ROW }
    : {
        at: row.at,
        row: KEY_ROW,
        get cells() {
          return row.cells;
        },
      };
}

function placeName(parts: readonly OpenPart[], row: number): string {
  const part = [...parts].reverse().find(({ book }) => book.offset() < row) ?? itemAt(parts, 0);
  return `${part.name}, row ${row - part.book.offset()}`;
}

function tellParts(parts: readonly OpenPart[], book: RowBook): void {
  const each = parts.map(({ name, book: own }) => {
    const rows = own.rows();
    return rows === 0 ? `${name} (no rows)` : `${name} (rows ${own.offset() + 1} to ${own.offset() + rows})`;
  });
  const text = `The table is joined from ${parts.length === 1 ? '1 file' : `${parts.length} files`}: ${each.join(', ')}.`;
  book.mend(
    null,
    null,
    null,
    fault('files-joined', text, 'Nothing, if these are all the files of this kind and each is meant.'),
  );
}

function copyFault(why: NonNullable<ReturnType<Copies['copyOf']>>, parts: readonly OpenPart[]): Fault {
  const other = placeName(parts, why.of);
  return why.kind === 'same'
    ? fault(
        'row-in-two-files',
        `The same row is in ${other}, which is used.`,
        'Nothing: exports may overlap.',
      )
    : fault(
        'row-in-two-files',
        `It is in place here and removed in ${other}, which is the later record and is used.`,
        'Nothing: the one export is older than the other.',
      );
}

/** Says of which file an error is. */
function naming<T>(file: CsvFile, name: string, run: () => T): T {
  try {
    return run();
  } catch (cause) {
    if (!(cause instanceof InputError) || cause.place.file !== file) throw cause;
    const before = new InputError('', cause.place, '').message.length;
    const what = cause.message.slice(before, cause.message.length - cause.todo.length).trim();
    throw new InputError(what, { ...cause.place, file: `${file} (${name})` }, cause.todo);
  }
}
