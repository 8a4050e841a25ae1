/** positions.csv: one row a valve. */
import { type Day, dayFromText } from '../numeric/day.js';
import { dateCell, fault, type NumberRule, numberCell, remembered, tidyText, wordCell } from './cell.js';
import { columnOf } from './columnReader.js';
import type { CsvRow, CsvTable } from './csvTable.js';
import { heatReader } from './heat/readHeat.js';
import { type Mappings, wordsOf } from './mappings.js';
import { mended } from './mended.js';
import { type NameList, spellingCell } from './names.js';
import { nothingUsable } from './refusals.js';
import type { RowBook } from './rowBook.js';
import { CRITICALITIES, type Criticality, type Position } from './types.js';

/** A nominal size DN, from the smallest to the largest that a pipe has. */
export const SIZE_RULE: NumberRule = { least: 1, most: 4000 };

/** Positions in the order of the file, with the row each stands in. */
export interface PositionList {
  positions: Position[];
  rows: number[];
}

/**
 * Reads the positions.
 * @throws InputError where no row can be used.
 */
export function readPositions(table: CsvTable, mappings: Mappings, materials: NameList): PositionList {
  const read = positionReader(table, mappings, materials);
  const list: PositionList = { positions: [], rows: [] };
  const firstRow = new Map<string, CsvRow>();
  table.forEach((row) => {
    const position = read(row);
    if (position === null) return;
    const before = firstRow.get(position.position);
    if (before !== undefined) {
      table.book.setAside(row.row, 'position', position.position, twice(before, row));
      return;
    }
    firstRow.set(position.position, row);
    list.positions.push(position);
    list.rows.push(row.row);
  });
  if (list.positions.length === 0) throw nothingUsable(table.book);
  return list;
}

function twice(before: CsvRow, row: CsvRow) {
  const same = before.cells.join('\n') === row.cells.join('\n');
  return same
    ? fault('position-duplicate', `The row repeats row ${before.row}.`, 'Take one of them out.')
    : fault(
        'position-twice',
        `The tag is already in row ${before.row} with other values; row ${before.row} is used.`,
        'Keep one row per position; a block body with several diaphragms needs a tag for each.',
      );
}

/** The row as a position, or null where it was set aside. */
function positionReader(table: CsvTable, mappings: Mappings, materials: NameList) {
  const text = (column: string) => textColumn(table, column, wordsOf(mappings, column));
  const number = (column: string, whole = false) =>
    mended(table, column, columnOf(table, column, remembered(numberCell({ least: 0, whole }))));
  const date = (column: string) => mended(table, column, columnOf(table, column, remembered(dateCell)));
  const tag = text('position');
  const line = text('line');
  const location = text('location');
  const duty = text('duty');
  const size = columnOf(table, 'size', remembered(numberCell(SIZE_RULE)));
  const criticality = criticalityColumn(table, mappings);
  const accessories = number('accessories', true);
  const steam = number('steam_cycles_per_week');
  const strokes = number('strokes_per_day');
  const cleans = number('hot_cleans_per_week');
  const next = columnOf(
    table,
    'material_next',
    remembered(spellingCell(materials, wordsOf(mappings, 'material'))),
  );
  const since = date('in_service_since');
  const until = date('out_of_service_since');
  const idle = idleColumn(table);
  const heat = heatReader(table);

  return (row: CsvRow): Position | null => {
    const position = aliased(table, row, tag(row), mappings.aliases);
    if (position === '') return aside(table.book, row, 'position', '', NO_TAG);
    const dn = size(row);
    if (dn.value === null) return aside(table.book, row, 'size', sizeText(table, row), dn.fault ?? NO_SIZE);
    const inServiceSince = since(row);
    const outOfServiceSince = until(row);
    if (inServiceSince !== null && outOfServiceSince !== null && outOfServiceSince <= inServiceSince) {
      return aside(table.book, row, 'out_of_service_since', null, OUT_BEFORE_IN);
    }
    return {
      position,
      line: line(row),
      location: location(row),
      size: dn.value,
      duty: duty(row),
      criticality: criticality(row),
      steamCyclesPerWeek: steam(row),
      strokesPerDay: strokes(row),
      hotCleansPerWeek: cleans(row),
      accessories: accessories(row) ?? 0,
      materialNext: next(row).value,
      inServiceSince,
      outOfServiceSince,
      idle: idle(row),
      ...heat(row),
    };
  };
}

const NO_TAG = fault('position-missing', 'The row names no position.', 'Give the tag.');
const NO_SIZE = fault(
  'size-missing',
  'The position has no size.',
  'Give the nominal diameter (DN) as a number.',
);
const OUT_BEFORE_IN = fault(
  'service-dates-contradict',
  'The position goes out of service before it comes into service.',
  'Correct the dates; a valve that pauses has "idle" periods.',
);

function aside(
  book: RowBook,
  row: CsvRow,
  column: string,
  value: string | null,
  why: ReturnType<typeof fault>,
): null {
  book.setAside(row.row, column, value, why);
  return null;
}

function sizeText(table: CsvTable, row: CsvRow): string {
  return table.text(row, table.place('size'));
}

function textColumn(
  table: CsvTable,
  column: string,
  words: ReadonlyMap<string, string>,
): (row: CsvRow) => string {
  const place = table.place(column);
  return (row) => {
    const raw = table.text(row, place);
    const text = tidyText(raw);
    if (text !== raw) table.book.tidy(row.row, column, raw);
    return words.get(text.toLowerCase()) ?? text;
  };
}

function aliased(table: CsvTable, row: CsvRow, tag: string, aliases: ReadonlyMap<string, string>): string {
  const known = aliases.get(tag);
  if (known !== undefined) table.book.tidy(row.row, 'position', tag);
  return known ?? tag;
}

/** A word that cannot be read counts as high, so that no caution is lost; an empty cell as normal. */
function criticalityColumn(table: CsvTable, mappings: Mappings): (row: CsvRow) => Criticality {
  const read = columnOf(
    table,
    'criticality',
    remembered(wordCell(CRITICALITIES, wordsOf(mappings, 'criticality'))),
  );
  const place = table.place('criticality');
  return (row) => {
    const cell = read(row);
    if (cell.fault === null) return cell.value ?? 'normal';
    const text = `${cell.fault.text} It is read as high, so that no caution is lost.`;
    table.book.mend(row.row, 'criticality', table.text(row, place), {
      ...cell.fault,
      code: 'criticality-unknown',
      text,
    });
    return 'high';
  };
}

/** start..end periods separated by a vertical bar. */
function idleColumn(table: CsvTable): (row: CsvRow) => { start: Day; end: Day }[] {
  const place = table.place('idle');
  return (row) => {
    const raw = table.text(row, place);
    return raw
      .split('|')
      .map((part) => part.trim())
      .filter((part) => part !== '')
      .flatMap((part) => {
        const [start, end, more] = part.split('..').map((text) => dayFromText(text.trim()));
        if (more === undefined && typeof start === 'number' && typeof end === 'number' && start <= end)
          return [{ start, end }];
        table.book.mend(row.row, 'idle', part, BAD_IDLE);
        return [];
      });
  };
}

const BAD_IDLE = fault(
  'idle-format',
  'The idle period is not two dates in order; the row is used without it.',
  'Write 2024-03-01..2024-05-31, several separated by a vertical bar.',
);
