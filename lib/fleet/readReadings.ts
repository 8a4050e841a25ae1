/** readings.csv: counters of strokes, steam cycles and hot cleans, as columns. */
import { at, floatAt } from '../numeric/columns.js';
import { type Day, textFromDay } from '../numeric/day.js';
import { localNumber } from '../numeric/localWords.js';
import { dateCell, type Fault, fault, numberCell, remembered } from './cell.js';
import { columnOf } from './columnReader.js';
import type { CsvRow, CsvTable } from './csvTable.js';
import type { Mappings } from './mappings.js';
import { mended } from './mended.js';
import { positionCell } from './positionCell.js';
import type { Position, ReadingTable } from './types.js';

export function noReadings(): ReadingTable {
  return readingTable(0);
}

function readingTable(length: number) {
  return {
    length,
    position: new Int32Array(length),
    date: new Float64Array(length),
    strokes: new Float64Array(length),
    steamCycles: new Float64Array(length),
    hotCleans: new Float64Array(length),
  };
}

/** Reads the counters. A second reading of a position on one day is set aside. */
export function readReadings(
  table: CsvTable,
  positions: readonly Position[],
  mappings: Mappings,
  dataUntil: Day,
): ReadingTable {
  const read = readingReader(table, positions, mappings, dataUntil);
  const room = readingTable(table.mostRows);
  const rows = new Int32Array(table.mostRows);
  const seen = new Map<string, number>();
  let length = 0;
  table.forEach((row) => {
    if (!read(room, length, row)) return;
    const key = `${at(room.position, length)}/${floatAt(room.date, length)}`;
    const before = seen.get(key);
    if (before !== undefined) {
      table.book.setAside(row.row, 'date', textFromDay(floatAt(room.date, length)), twice(before));
      return;
    }
    seen.set(key, row.row);
    rows[length] = row.row;
    length += 1;
  }, true);
  const readings = trimmed(room, length);
  askAboutResets(readings, positions, rows, table);
  return readings;
}

function twice(before: number): Fault {
  const text = `Row ${before} is a reading of the same position on the same day.`;
  return fault('reading-twice', text, 'Keep one reading a day.');
}

/** Fills row k of the columns; false where the row was set aside. */
function readingReader(table: CsvTable, positions: readonly Position[], mappings: Mappings, dataUntil: Day) {
  const counter = (column: string) =>
    mended(table, column, columnOf(table, column, numberCell({ least: 0 })));
  const position = columnOf(table, 'position', remembered(positionCell(positions, mappings)));
  const date = columnOf(table, 'date', remembered(dateCell));
  const strokes = counter('strokes');
  const steam = counter('steam_cycles');
  const cleans = counter('hot_cleans');
  const aside = (row: CsvRow, column: string, why: Fault): false => {
    table.book.setAside(row.row, column, table.text(row, table.place(column)), why);
    return false;
  };
  return (room: ReadingTable, k: number, row: CsvRow): boolean => {
    const where = position(row);
    if (where.value === null) return aside(row, 'position', where.fault ?? NO_TAG);
    const day = date(row);
    if (day.value === null) return aside(row, 'date', day.fault ?? NO_DATE);
    if (day.value > dataUntil) return aside(row, 'date', LATER);
    room.position[k] = where.value;
    room.date[k] = day.value;
    room.strokes[k] = strokes(row) ?? Number.NaN;
    room.steamCycles[k] = steam(row) ?? Number.NaN;
    room.hotCleans[k] = cleans(row) ?? Number.NaN;
    return true;
  };
}

const NO_TAG = fault('position-missing', 'The row names no position.', 'Give the tag.');
const NO_DATE = fault('reading-date-missing', 'The reading has no date.', 'Give the day of the reading.');
const LATER = fault(
  'reading-after-data',
  'The reading is from after the extract was made.',
  'Correct the date, or data_until in site.json.',
);

function trimmed(room: ReadingTable, length: number): ReadingTable {
  return {
    length,
    position: room.position.slice(0, length),
    date: room.date.slice(0, length),
    strokes: room.strokes.slice(0, length),
    steamCycles: room.steamCycles.slice(0, length),
    hotCleans: room.hotCleans.slice(0, length),
  };
}

/** Counters only rise; where one went down it was reset or replaced, and the step is left out of the rate. */
function askAboutResets(
  readings: ReadingTable,
  positions: readonly Position[],
  rows: Int32Array,
  table: CsvTable,
): void {
  const order = Array.from({ length: readings.length }, (_, i) => i).sort(
    (a, b) =>
      at(readings.position, a) - at(readings.position, b) ||
      floatAt(readings.date, a) - floatAt(readings.date, b),
  );
  const counters: [string, Float64Array][] = [
    ['strokes', readings.strokes],
    ['steam_cycles', readings.steamCycles],
    ['hot_cleans', readings.hotCleans],
  ];
  for (const [column, counter] of counters) {
    let last = -1;
    for (const i of order) {
      if (Number.isNaN(floatAt(counter, i))) continue;
      const same = last >= 0 && at(readings.position, last) === at(readings.position, i);
      if (same && floatAt(counter, i) < floatAt(counter, last)) {
        const tag = positions[at(readings.position, i)]?.position ?? '';
        table.book.ask(
          at(rows, i),
          column,
          String(floatAt(counter, i)),
          wentDown(tag, floatAt(counter, last)),
        );
      }
      last = i;
    }
  }
}

function wentDown(tag: string, before: number): Fault {
  const text = `The counter of ${tag} went down from ${localNumber(before)}; it is taken as reset and the step is left out of the rate.`;
  return fault('counter-went-down', text, 'Correct the reading if the counter was not reset.');
}
