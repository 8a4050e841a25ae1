/** What is no row of a table though it stands in it: blank, an example, units under the header, a sum of the rows above, or of another width than the header. */
import { count } from '../numeric/words.js';
import { fault } from './cell.js';
import { EXAMPLE_MARK } from './columnNames.js';
import type { CsvText } from './csvRecords.js';
import type { CsvRow } from './csvTable.js';
import type { RowBook } from './rowBook.js';
import { SEPARATOR_WORDS } from './written/types.js';

/** Hands a row on, or sets it aside. */
export function takeRow(
  row: CsvRow,
  { header, separator }: CsvText,
  book: RowBook,
  onRow: (row: CsvRow) => void,
): void {
  book.rowIn();
  const { cells } = row;
  const width = header.length;
  if (cells.every((cell) => cell.trim() === '')) {
    book.setAside(row.row, null, null, BLANK_ROW);
  } else if (cells[0]?.startsWith(EXAMPLE_MARK) === true) {
    book.setAside(row.row, null, cells[0], EXAMPLE_ROW);
  } else if (row.row === 1 && isUnits(cells)) {
    book.setAside(row.row, null, cells.join(separator), UNITS_ROW);
  } else if (isTotals(cells)) {
    book.setAside(row.row, null, cells.join(separator), TOTALS_ROW);
  } else if (
    cells.length < width ||
    (cells.length > width && cells.slice(width).some((cell) => cell.trim() !== ''))
  ) {
    const text = `The row has ${count(cells.length, 'cell')} and the header ${width}.`;
    const todo = `Put cells that hold ${SEPARATOR_WORDS[separator]} into quotation marks, and give every row all its cells.`;
    book.setAside(row.row, null, cells.join(separator), fault('row-width', text, todo));
  } else onRow(row);
}

const BLANK_ROW = fault('row-blank', 'All cells of the row are empty.', 'Take the row out.');

const EXAMPLE_ROW = fault('row-of-examples', 'The row is the example of an empty folder.', 'Take it out.');

/** What stands first in the row under a table that sums it up, in some languages. */
const TOTALS =
  /^((grand|sub) ?)?(totals?|totale?n?|totaal|sum|summe|gesamt(summe)?|zwischensumme|somme|suma|razem|celkem|spolu|yhteensä|összesen|toplam|ukupno)( g[ée]n[ée]ral(e)?)?\s*:?$/i;

/** Whether a row sums up the rows above it. */
export function isTotals(cells: readonly string[]): boolean {
  const first = cells.find((cell) => cell.trim() !== '') ?? '';
  return TOTALS.test(first.trim());
}

const TOTALS_ROW = fault(
  'row-of-totals',
  'The row sums up the table and is no row of it.',
  'Nothing; or take the row out.',
);

/** What stands in a row of units under the header: a unit, how a date is written, or anything in brackets. */
const UNIT =
  /^(?:[[(].{0,20}[\])]|[-–]|[cµu]?m{1,2}|dn|nps|in(?:ch)?|zoll|"|h(?:rs?|ours?)?|min|d(?:ays?|ate)?|w(?:ks?|eeks?)|mo(?:nths?)?|a|yrs?|years?|(?:per|je|par|por|pro|per|\/)\s?\p{L}{1,8}|\p{L}{1,8}\/\p{L}{1,8}|datum|text|bar(?:\(?g\)?)?|psi|°?[cfk]|deg\s?[cf]|pcs?|stk|stück|st|ea|%|€|\$|£|eur|usd|gbp|chf|[jyatmd]{1,4}[-./][jyatmd]{1,4}[-./][jyatmd]{1,4})$/iu;

/** Whether a row under the header says in which units the columns are. */
export function isUnits(cells: readonly string[]): boolean {
  const filled = cells.map((cell) => cell.trim()).filter((cell) => cell !== '');
  return filled.some((cell) => !/^[-–]$/.test(cell)) && filled.every((cell) => UNIT.test(cell));
}

const UNITS_ROW = fault(
  'row-of-units',
  'The row under the header gives units and is no row of the table.',
  'Nothing, if the units are those of the documentation; otherwise say them in site.json under "formats".',
);

/** Whether a row that begins with this cell may be one that is set aside. */
export function isSpecialStart(firstCell: string): boolean {
  const text = firstCell.trim();
  return firstCell.startsWith(EXAMPLE_MARK) || TOTALS.test(text) || UNIT.test(text);
}

export function isBlankLine(cells: readonly string[]): boolean {
  return cells.length === 1 && (cells[0] ?? '').trim() === '';
}
