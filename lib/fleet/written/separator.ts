/** Which mark stands between the cells of a file: the one by which the header has most of the columns that are known. */
import { parse } from 'csv-parse/sync';
import { SEPARATORS, type Separator } from './types.js';

/** Rows may be short or long and cells may hold lone quotation marks: what comes of that is told later. */
const LOOSE = { relax_column_count: true, relax_quotes: true, to: 1 } as const;

/**
 * The separator of a text whose first record is its header. `known` says whether a cell names a known column. A comma where no column
 * is known by any mark.
 */
export function separatorOf(text: string, known: (cell: string) => boolean): Separator {
  const scores = SEPARATORS.map((separator) => {
    const cells = headerCells(text, separator);
    return { separator, known: cells.filter(known).length, cells: cells.length };
  });
  const best = scores.reduce((one, other) =>
    other.known > one.known || (other.known === one.known && other.known > 0 && other.cells > one.cells)
      ? other
      : one,
  );
  if (best.known > 0) return best.separator;
  return scores.reduce((one, other) => (other.cells > one.cells ? other : one)).separator;
}

/** Cells of the first record; none where its quotation marks do not pair up. */
function headerCells(text: string, separator: Separator): string[] {
  const firstLine = text.split(/\r\n|\n|\r/, 1)[0] ?? '';
  if (!firstLine.includes('"')) return firstLine.split(separator);
  try {
    return (parse(text, { ...LOOSE, delimiter: separator }) as string[][])[0] ?? [];
  } catch {
    return [];
  }
}
