/** The rows of a coded table, for readers that take them one by one. */
import { byteAt, itemAt, wholeAt } from '../../numeric/columns.js';
import type { CsvRow } from '../csvTable.js';
import type { CodedTable } from './types.js';

/** One row; its cells are put together only where somebody asks for all of them. */
function codedRow(table: CodedTable, at: number): CsvRow & { at: number } {
  return {
    at,
    get row() {
      return this.at + 1;
    },
    get cells() {
      return cellsAt(table, this.at);
    },
  };
}

/** One cell; undefined where the row is too short. */
export function cellAt({ columns, odd }: CodedTable, at: number, column: number): string | undefined {
  const cells = odd.get(at);
  if (cells !== undefined) return cells[column];
  const coded = columns[column];
  return coded === undefined ? undefined : itemAt(coded.texts, wholeAt(coded.codes, at));
}

export function cellsAt({ columns, odd }: CodedTable, at: number): readonly string[] {
  return odd.get(at) ?? columns.map(({ codes, texts }) => itemAt(texts, wholeAt(codes, at)));
}

/**
 * Calls back for every row: with true where nothing is special about it (one cell for each column, the first neither blank nor such as
 * `special` names), so that it need not be looked at further.
 * @param passing whether no row is kept by who is called: rows about which nothing is special are then one object that goes on
 */
export function eachCodedRow(
  table: CodedTable,
  special: (firstCell: string) => boolean,
  onRow: (row: CsvRow, isPlain: boolean) => void,
  passing: boolean,
): void {
  const first = table.columns[0];
  if (first === undefined) return;
  const marks = Uint8Array.from(first.texts, (text) => (text.trim() === '' || special(text) ? 1 : 0));
  const hasOdd = table.odd.size > 0;
  const here = codedRow(table, 0);
  for (let i = 0; i < table.length; i++) {
    const isPlain = !(hasOdd && table.odd.has(i)) && byteAt(marks, wholeAt(first.codes, i)) === 0;
    if (isPlain && passing) {
      here.at = i;
      onRow(here, true);
    } else onRow(codedRow(table, i), isPlain);
  }
}

/** Whether any cell of a column that is asked for fits a pattern. */
export function someText({ columns, odd }: CodedTable, pattern: RegExp): boolean {
  return (
    columns.some(({ texts }) => texts.some((text) => pattern.test(text))) ||
    [...odd.values()].some((cells) => cells.some((cell) => pattern.test(cell)))
  );
}
