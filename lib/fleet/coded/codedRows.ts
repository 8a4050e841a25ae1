/** The rows of a coded table, for readers that take them one by one. */
import { byteAt, itemAt, wholeAt } from '../../numeric/columns.js';
import type { CsvRow } from '../csvTable.js';
import type { CodedTable } from './types.js';

/** One row; its cells are put together only where somebody asks for all of them. A class, so that a million of them cost little. */
class CodedRow implements CsvRow {
  constructor(
    private readonly table: CodedTable,
    readonly at: number,
  ) {}

  get row(): number {
    return this.at + 1;
  }

  get cells(): readonly string[] {
    return cellsAt(this.table, this.at);
  }
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
 */
export function eachCodedRow(
  table: CodedTable,
  special: (firstCell: string) => boolean,
  onRow: (row: CsvRow, isPlain: boolean) => void,
): void {
  const first = table.columns[0];
  if (first === undefined) return;
  const marks = Uint8Array.from(first.texts, (text) => (text.trim() === '' || special(text) ? 1 : 0));
  const hasOdd = table.odd.size > 0;
  for (let i = 0; i < table.length; i++) {
    const isPlain = !(hasOdd && table.odd.has(i)) && byteAt(marks, wholeAt(first.codes, i)) === 0;
    onRow(new CodedRow(table, i), isPlain);
  }
}

/** Whether any cell of a column that is asked for fits a pattern. */
export function someText({ columns, odd }: CodedTable, pattern: RegExp): boolean {
  return (
    columns.some(({ texts }) => texts.some((text) => pattern.test(text))) ||
    [...odd.values()].some((cells) => cells.some((cell) => pattern.test(cell)))
  );
}
