/**
 * The positions that a table of lives, or of work orders, names, as a table of their own: one row each, a cell from the rows that have one. Where rows of a
 * position contradict each other the most frequent cell is used, of two as frequent the later, and the contradiction is told.
 */
import { itemAt } from '../numeric/columns.js';
import { count, fixed } from '../numeric/words.js';
import { fault, tidyText } from './cell.js';
import { columnsOf, type HistoryFile } from './columnNames.js';
import type { CsvRow, CsvTable } from './csvTable.js';
import type { RowBook } from './rowBook.js';

/** Cells of one position by column: how many rows have each, and the last row that has it. */
interface Gathered {
  row: number;
  rows: number;
  cells: Map<number, Map<string, { raw: string; times: number; last: number }>>;
}

export function distinctPositions(
  lives: CsvTable,
  book: RowBook,
  aliases: ReadonlyMap<string, string>,
  from: HistoryFile,
): CsvTable {
  const tag = lives.place('position');
  const places = columnsOf('positions.csv')
    .map((column) => ({ column, place: lives.place(column) }))
    .filter(({ place }) => place >= 0);
  return {
    ...lives,
    book,
    forEach: (onRow) => {
      const found = gather(lives, tag, places, aliases);
      for (const gathered of found.values()) {
        book.rowIn();
        onRow({ row: gathered.row, cells: cellsOf(gathered, places, book) });
      }
      askAboutSingles([...found.values()], tag, book, from);
    },
  };
}

type Places = readonly { column: string; place: number }[];

/** By tag in small letters, after changed tags are replaced: spellings that differ in capitals alone are one position. */
function gather(
  lives: CsvTable,
  tag: number,
  places: Places,
  aliases: ReadonlyMap<string, string>,
): Map<string, Gathered> {
  const found = new Map<string, Gathered>();
  lives.forEach((row) => {
    const written = tidyText(lives.text(row, tag));
    const key = (aliases.get(written) ?? written).toLowerCase();
    if (key === '') return;
    const gathered = found.get(key) ?? { row: row.row, rows: 0, cells: new Map() };
    found.set(key, gathered);
    gathered.rows += 1;
    for (const { place } of places) note(gathered, place, row, lives, aliases);
  });
  return found;
}

function note(
  gathered: Gathered,
  place: number,
  row: CsvRow,
  lives: CsvTable,
  aliases: ReadonlyMap<string, string>,
): void {
  const plain = tidyText(lives.text(row, place));
  if (plain === '') return;
  const seen = gathered.cells.get(place) ?? new Map();
  gathered.cells.set(place, seen);
  const isTag = place === lives.place('position');
  const text = isTag ? (aliases.get(plain) ?? plain) : plain;
  const raw = isTag ? text : (row.cells[place] ?? '');
  const known = seen.get(text);
  if (known === undefined) seen.set(text, { raw, times: 1, last: row.row });
  else {
    known.times += 1;
    known.last = row.row;
  }
}

function cellsOf(gathered: Gathered, places: Places, book: RowBook): string[] {
  const width = Math.max(...places.map(({ place }) => place)) + 1;
  const cells = Array.from({ length: width }, () => '');
  for (const { column, place } of places) {
    const isTag = column === 'position';
    const seen = [...(gathered.cells.get(place) ?? [])].sort(
      ([, a], [, b]) => b.times - a.times || (isTag ? a.last - b.last : b.last - a.last),
    );
    const used = seen[0];
    if (used === undefined) continue;
    cells[place] = used[1].raw;
    if (seen.length > 1 && !isTag)
      book.mend(gathered.row, column, used[0], contradiction(column, seen, cells, places));
  }
  return cells;
}

function contradiction(
  column: string,
  seen: readonly (readonly [string, { times: number }])[],
  cells: readonly string[],
  places: Places,
) {
  const tag = cells[places.find((one) => one.column === 'position')?.place ?? -1] ?? '';
  const each = seen.slice(0, 4).map(([text, { times }]) => `${text} (${count(times, 'row', 'rows')})`);
  return fault(
    'position-contradicts',
    `The rows of ${tag} have ${seen.length} values of ${column}: ${each.join(', ')}. ${itemAt(seen, 0)[0]} is used for the position.`,
    'Correct the rows that are wrong; or give positions a table of their own.',
  );
}

/** A tag that only one of many rows has may be mistyped, and would then be a position that is not there. */
function askAboutSingles(found: readonly Gathered[], tag: number, book: RowBook, from: HistoryFile): void {
  const rows = found.reduce((sum, one) => sum + one.rows, 0);
  const singles = found.filter((one) => one.rows === 1);
  if (singles.length === 0 || rows < FEW_ROWS * found.length || singles.length > found.length / 2) return;
  const tags = singles.slice(0, 5).map((one) => [...(one.cells.get(tag)?.keys() ?? [])][0] ?? '');
  book.ask(
    null,
    'position',
    tags.join(', '),
    fault(
      'position-once',
      `Positions are taken from ${from}, and ${count(singles.length, 'tag stands', 'tags stand')} in one row only, while tags stand in ${fixed(rows / found.length, 1)} rows on average.`,
      'Look whether they are mistyped; if so correct them, or say in site.json under "aliases" which tag each is.',
    ),
  );
}

const FEW_ROWS = 3;
