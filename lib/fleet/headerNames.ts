/** The names of a header as the documentation has them. */
import { type CsvFile, columnsOf } from './columnNames.js';

/**
 * Our names of a header's cells; other names stand in small letters, and what site.json says is not read (our name left empty) is ''.
 * `renamed` holds the plant's names in small letters, or `#3` for the third column, which tells apart columns of one name or of none.
 */
export function headerNames(
  file: CsvFile,
  cells: readonly string[],
  renamed: ReadonlyMap<string, string>,
): string[] {
  const named = new Set(cells.map(plain));
  return cells.map((cell, i) => {
    const key = placeKey(i);
    const byPlace = named.has(key) ? undefined : renamed.get(key);
    return byPlace ?? headerName(file, cell, renamed);
  });
}

/** What stands for the column at a place from 0. */
export function placeKey(place: number): string {
  return `#${place + 1}`;
}

/** Columns up to the last that has a name of its own or is named by its place. */
export function headerWidth(cells: readonly string[], renamed: ReadonlyMap<string, string>): number {
  let width = cells.length;
  while (width > 1 && plain(cells[width - 1] ?? '') === '' && !renamed.has(placeKey(width - 1))) width -= 1;
  return width;
}

/** A column's name as the documentation has it, or as it stands in small letters. */
export function headerName(file: CsvFile, cell: string, renamed: ReadonlyMap<string, string>): string {
  const name = renamed.get(plain(cell)) ?? plain(cell);
  const spelled = name.replace(/[\s-]+/g, '_');
  return columnsOf(file).includes(spelled) ? spelled : name;
}

function plain(cell: string): string {
  return cell.trim().toLowerCase();
}
