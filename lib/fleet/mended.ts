/** A cell that can be missing. */
import type { Cell } from './cell.js';
import type { CsvRow, CsvTable } from './csvTable.js';

/** A value that can be missing: where it cannot be read, the row is used without it. */
export function mended<T>(
  table: CsvTable,
  column: string,
  read: (row: CsvRow) => Pick<Cell<T>, 'value' | 'fault'>,
): (row: CsvRow) => T | null {
  const place = table.place(column);
  return (row) => {
    const cell = read(row);
    if (cell.fault !== null) {
      const text = `${cell.fault.text} The row is used as if the cell were empty.`;
      table.book.mend(row.row, column, table.text(row, place), { ...cell.fault, text });
    }
    return cell.value;
  };
}
