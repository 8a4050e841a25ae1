/** What the rows of lives.csv say together: from the draft to the table of lives. */
import { at, floatAt, itemAt } from '../numeric/columns.js';
import { askAboutGaps, askAboutOldLives } from './askAboutLives.js';
import { fault } from './cell.js';
import { isOn } from './cleaning/rules.js';
import { type DraftLives, rowsByPosition, UNDATED } from './draftLives.js';
import { checkLifeDates, type DataSpan } from './lifeDates.js';
import { checkPositionLives } from './lifeOverlaps.js';
import { lifeTable } from './lifeTable.js';
import type { NameList } from './names.js';
import type { PositionList } from './readPositions.js';
import type { RowBook } from './rowBook.js';
import { type BuiltLife, buildRunningLife } from './runningLives.js';
import type { LifeTable } from './types.js';

export interface CheckedLives {
  lives: LifeTable;
  livesBuilt: number;
}

/** Checks every life, builds the ones in place that are not listed, and may take retired positions out of service. */
export function checkLives(
  draft: DraftLives,
  list: PositionList,
  materials: NameList,
  span: DataSpan,
  books: { lives: RowBook; positions: RowBook },
): CheckedLives {
  checkLifeDates(draft, list.positions, span, books.lives);
  const { order, start } = rowsByPosition(draft, list.positions.length);
  const rowsOf = (p: number): Int32Array => order.subarray(at(start, p), at(start, p + 1));
  for (let p = 0; p < list.positions.length; p++)
    checkPositionLives(draft, rowsOf(p), books.lives, span.cleaning);
  setUndatedAside(draft, books.lives);
  const built = builtLives(draft, rowsOf, list, materials, span, books);
  const lives = lifeTable(draft, order, built);
  if (isOn(span.cleaning, 'gaps')) askAboutGaps(lives, list.positions, books.lives);
  askAboutOldLives(lives, materials.names, list.positions, span.dataUntil, books.lives);
  return { lives, livesBuilt: built.length };
}

function setUndatedAside(draft: DraftLives, book: RowBook): void {
  for (let i = 0; i < draft.length; i++) {
    if (at(draft.state, i) === UNDATED) {
      book.setAside(
        at(draft.row, i),
        'fitted',
        null,
        Number.isNaN(floatAt(draft.fitted, i)) ? NO_FITTING : UNWATCHED,
      );
    }
  }
}

const NO_FITTING = fault(
  'fitted-missing',
  'The day it was fitted is not known, so it is set aside from fitting; it still counts for openings and demand.',
  'Give the date if it can be found; a guess would do harm.',
);
const UNWATCHED = fault(
  'never-watched',
  'Watching began on the day of the extract, so it tells nothing about age; it still counts for demand.',
  'Check records_from and data_until in site.json.',
);

function builtLives(
  draft: DraftLives,
  rowsOf: (p: number) => Int32Array,
  { positions, rows }: PositionList,
  materials: NameList,
  { dataUntil, cleaning }: DataSpan,
  books: { lives: RowBook; positions: RowBook },
): BuiltLife[] {
  return positions.flatMap((position, index) => {
    const place = {
      index,
      position,
      row: itemAt(rows, index),
      dataUntil,
      build: isOn(cleaning, 'missing_lives'),
    };
    const life = buildRunningLife(draft, rowsOf(index), place, materials.add, books);
    return life === null ? [] : [life];
  });
}
