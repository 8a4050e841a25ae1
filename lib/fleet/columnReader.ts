/** One column of a table as values. */
import { wholeAt } from '../numeric/columns.js';
import type { CellReader } from './cell.js';
import type { CsvRow, CsvTable } from './csvTable.js';

/** Reads one column of a table, tallying what was tidied. Where the table is coded, a text of which there is nothing to tell is read once. */
export function columnOf<T>(
  table: CsvTable,
  column: string,
  read: CellReader<T>,
): (row: CsvRow) => ReturnType<CellReader<T>> {
  const place = table.place(column);
  const readRow = (row: CsvRow): ReturnType<CellReader<T>> => {
    const raw = table.text(row, place);
    const cell = read(raw);
    const { tidied = false } = cell;
    if (tidied !== false) table.book.tidy(row.row, column, raw, tidied === true ? undefined : tidied);
    return cell;
  };
  if (place < 0) {
    const empty = read('');
    return () => empty;
  }
  const coded = table.coded?.columns[place];
  if (coded === undefined) return readRow;
  const { codes, texts } = coded;
  const known: (ReturnType<CellReader<T>> | undefined)[] = texts.map(() => undefined);
  const odd = table.coded?.odd;
  const hasOdd = (odd?.size ?? 0) > 0;
  return (row) => {
    const { at } = row;
    if (at === undefined || (hasOdd && odd?.has(at))) return readRow(row);
    const code = wholeAt(codes, at);
    const before = known[code];
    if (before !== undefined) return before;
    const cell = readRow(row);
    if ((cell.tidied ?? false) === false && table.isSilent(row, place)) known[code] = cell;
    return cell;
  };
}
