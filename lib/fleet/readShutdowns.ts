/** shutdowns.csv: planned windows in which positions can be replaced. */
import { type Day, textFromDay } from '../numeric/day.js';
import { localDay } from '../numeric/localWords.js';
import { dateCell, type Fault, fault, numberCell, remembered, textCell, tidyText, wordCell } from './cell.js';
import { columnOf } from './columnReader.js';
import type { CsvRow, CsvTable } from './csvTable.js';
import { type Mappings, wordsOf } from './mappings.js';
import { mended } from './mended.js';
import type { Position, Shutdown } from './types.js';

const STOPS = ['replacements', 'anyway'] as const;

/** Reads the shutdowns. Past ones are set aside; overlapping ones of a line are used and asked about. */
export function readShutdowns(
  table: CsvTable,
  positions: readonly Position[],
  mappings: Mappings,
  dataUntil: Day,
): Shutdown[] {
  const read = shutdownReader(table, mappings, dataUntil);
  const lines = new Set(positions.map(({ line }) => line));
  const found: { shutdown: Shutdown; row: number }[] = [];
  table.forEach((row) => {
    const shutdown = read(row);
    if (shutdown === null) return;
    for (const line of shutdown.lines.filter((name) => !lines.has(name))) {
      table.book.ask(row.row, 'lines', line, UNKNOWN_LINE);
    }
    askAboutTags(table, row.row, shutdown, positions);
    for (const other of found) askAboutPair(table, other, { shutdown, row: row.row });
    found.push({ shutdown, row: row.row });
  });
  return found.map(({ shutdown }) => shutdown);
}

/** Tags that must be replaced or must not be touched, and what is wrong with them. */
function askAboutTags(
  { book }: CsvTable,
  row: number,
  { must, notOn, lines }: Shutdown,
  positions: readonly Position[],
): void {
  const lineOf = new Map(positions.map(({ position, line }) => [position, line]));
  const known = new Set(positions.map(({ line }) => line));
  for (const tag of must) {
    const line = lineOf.get(tag);
    if (line === undefined) book.ask(row, 'must', tag, UNKNOWN_TAG);
    else if (lines.length > 0 && !lines.includes(line)) book.ask(row, 'must', tag, OTHER_LINE);
    else if (notOn.includes(tag) || notOn.includes(line)) book.ask(row, 'must', tag, MUST_AND_NOT);
  }
  for (const name of notOn)
    if (!lineOf.has(name) && !known.has(name)) book.ask(row, 'not_on', name, UNKNOWN_TAG);
}

const UNKNOWN_TAG = fault(
  'shutdown-tag-unknown',
  'positions.csv has no such position; it is not used.',
  'Check the spelling against positions.csv, and the old tags against aliases in site.json.',
);
const OTHER_LINE = fault(
  'must-on-other-line',
  'This position must be replaced in a shutdown that does not cover its line; it is not.',
  'Add the line to lines, or name a shutdown of that line.',
);
const MUST_AND_NOT = fault(
  'must-and-not-on',
  'This position must be replaced in this shutdown and must not be touched in it; it is not touched.',
  'Take it out of must or out of not_on.',
);

const UNKNOWN_LINE = fault(
  'line-unknown',
  'No position is on this line.',
  'Check the spelling against the lines of positions.csv.',
);

function shutdownReader(table: CsvTable, mappings: Mappings, dataUntil: Day) {
  const name = columnOf(table, 'name', textCell);
  const from = columnOf(table, 'start', dateCell);
  const to = columnOf(table, 'end', dateCell);
  const least = (column: string) => mended(table, column, columnOf(table, column, numberCell({ least: 0 })));
  const hours = least('crew_hours');
  const fitters = least('fitter_hours');
  const instruments = least('instrument_hours');
  const most = least('most_replacements');
  const mostLines = least('most_lines');
  const stop = mended(
    table,
    'stop_for',
    columnOf(table, 'stop_for', remembered(wordCell(STOPS, wordsOf(mappings, 'stop_for')))),
  );
  const aside = (row: CsvRow, column: string, why: Fault): null => {
    table.book.setAside(row.row, column, table.text(row, table.place(column)), why);
    return null;
  };
  return (row: CsvRow): Shutdown | null => {
    const start = from(row);
    const end = to(row);
    if (start.value === null) return aside(row, 'start', start.fault ?? NO_DATE);
    if (end.value === null) return aside(row, 'end', end.fault ?? NO_DATE);
    if (end.value < start.value) return aside(row, 'end', END_FIRST);
    if (end.value <= dataUntil) return aside(row, 'end', past(dataUntil));
    if (start.value <= dataUntil) table.book.ask(row.row, 'start', textFromDay(start.value), UNDER_WAY);
    return {
      name: name(row).value ?? textFromDay(start.value),
      start: start.value,
      end: end.value,
      crewHours: hours(row),
      fitterHours: fitters(row),
      instrumentHours: instruments(row),
      mostReplacements: most(row),
      mostLines: mostLines(row),
      must: tagsOf(table.text(row, table.place('must')), mappings),
      notOn: tagsOf(table.text(row, table.place('not_on')), mappings),
      lines: linesOf(table.text(row, table.place('lines')), wordsOf(mappings, 'line')),
      stopFor: stop(row) ?? 'anyway',
    };
  };
}

function linesOf(text: string, words: ReadonlyMap<string, string>): string[] {
  return text
    .split('|')
    .map(tidyText)
    .filter((line) => line !== '')
    .map((line) => words.get(line.toLowerCase()) ?? line);
}

/** Tags or lines as positions.csv writes them. */
function tagsOf(text: string, mappings: Mappings): string[] {
  const lines = wordsOf(mappings, 'line');
  return text
    .split('|')
    .map(tidyText)
    .filter((name) => name !== '')
    .map((name) => mappings.aliases.get(name) ?? lines.get(name.toLowerCase()) ?? name);
}

const NO_DATE = fault('shutdown-date-missing', 'The date is missing.', 'Give the first and the last day.');
const END_FIRST = fault(
  'shutdown-end-before-start',
  'The shutdown ends before it starts.',
  'Correct the dates.',
);
const UNDER_WAY = fault(
  'shutdown-under-way',
  'The shutdown had begun when the extract was made; no work is planned into it.',
  'Nothing, if its work is already decided.',
);

function past(dataUntil: Day): Fault {
  const text = `The shutdown was over when the extract was made (${localDay(dataUntil)}), so it plays no part.`;
  return fault('shutdown-past', text, 'List the shutdowns still to come.');
}

interface Found {
  shutdown: Shutdown;
  row: number;
}

function askAboutPair(table: CsvTable, one: Found, other: Found): void {
  const a = one.shutdown;
  const b = other.shutdown;
  const sameLine =
    a.lines.length === 0 || b.lines.length === 0 || a.lines.some((line) => b.lines.includes(line));
  if (sameLine && a.start <= b.end && b.start <= a.end) {
    const text = `It overlaps the shutdown of row ${one.row} on the same line.`;
    table.book.ask(
      other.row,
      'start',
      textFromDay(b.start),
      fault('shutdowns-overlap', text, 'Check the dates and lines.'),
    );
  } else if (a.name === b.name) {
    const text = `The shutdown of row ${one.row} has the same name.`;
    table.book.ask(other.row, 'name', b.name, fault('shutdown-name-twice', text, 'Give each its own name.'));
  }
}
