/** The book of one file among several that make one table: what it is told goes into the book of the table, under the table's numbers of rows. */
import type { Fault } from './cell.js';
import type { RowBook } from './rowBook.js';

/** The number of a row that is only looked at: nothing is told of it. */
export const KEY_ROW = -1;

export interface PartBook extends RowBook {
  /** Looks through the file from here on, silently, its rows to be numbered after so many others. */
  begin(offset: number): void;
  /** A row of the file, by its own number. */
  sees(row: number): void;
  /** The last row seen; from here on things are told. */
  end(): number;
  offset(): number;
  rows(): number;
  /** What was said of columns: told together for all files. */
  ofColumns(): ColumnNote[];
}

export interface ColumnNote {
  column: string | null;
  value: string | null;
  why: Fault;
}

/** Told once for all files, and not for each. */
const OF_COLUMNS = ['column-unknown', 'column-mapping-unused'];

export function partBook(main: RowBook, name: string): PartBook {
  const notes: ColumnNote[] = [];
  let offset = 0;
  let last = 0;
  let silent = false;
  let rowsIn = 0;
  const see = (row: number): void => {
    last = Math.max(last, row);
  };
  const tells = (row: number | null): boolean => !silent && row !== KEY_ROW;
  const said = (row: number | null, why: Fault): Fault =>
    row === null ? { ...why, text: `${name}: ${why.text}` } : why;
  const shifted = (row: number | null): number | null => (row === null ? null : row + offset);
  return {
    ...main,
    rowIn: () => {
      rowsIn += 1;
      if (!silent) main.rowIn();
    },
    setAside: (row, column, value, why) => {
      see(row);
      if (tells(row)) main.setAside(row + offset, column, value, why);
    },
    mend: (row, column, value, why) => {
      if (tells(row)) main.mend(shifted(row), column, value, said(row, why));
    },
    ask: (row, column, value, why, times) => {
      if (tells(row)) main.ask(shifted(row), column, value, said(row, why), times);
    },
    leaveOut: (column, value, why) => {
      if (OF_COLUMNS.includes(why.code)) notes.push({ column, value, why });
      else if (!silent) main.leaveOut(column, value, said(null, why));
    },
    tidy: (row, column, value, what) => {
      if (tells(row)) main.tidy(row + offset, column, value, what);
    },
    count: () => ({ ...main.count(), rowsIn }),
    begin: (after) => {
      offset = after;
      silent = true;
    },
    sees: see,
    end: () => {
      silent = false;
      return last;
    },
    offset: () => offset,
    rows: () => last,
    ofColumns: () => notes,
  };
}

/** A column that is not known is told once; a name of the settings that no file has, too. */
export function settleNames(parts: readonly { name: string; book: PartBook }[], main: RowBook): void {
  const keyOf = ({ column, value, why }: ColumnNote): string => JSON.stringify([why.code, column, value]);
  const seen = new Map<string, { note: ColumnNote; names: string[] }>();
  for (const { name, book } of parts) {
    for (const note of book.ofColumns()) {
      const before = seen.get(keyOf(note));
      if (before === undefined) seen.set(keyOf(note), { note, names: [name] });
      else before.names.push(name);
    }
  }
  for (const { note, names } of seen.values()) {
    const unused = note.why.code === 'column-mapping-unused';
    if (unused && names.length < parts.length) continue;
    const text = unused ? note.why.text : `${names.join(', ')}: ${note.why.text}`;
    main.leaveOut(note.column, note.value, { ...note.why, text });
  }
}
