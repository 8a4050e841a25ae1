/** How one file writes dates and numbers: given by site.json, or found from all its rows. Where it cannot be found the plant is asked. */
import { InputError } from '../../errors.js';
import { localNumber } from '../../numeric/localWords.js';
import { count } from '../../numeric/words.js';
import type { CsvFile } from '../columnNames.js';
import { type Evidence, type Sighting, verdict } from './evidence.js';
import type { DateOrder, Decimal, FileFormat, Separator } from './types.js';

export interface FileStyle {
  /** Null where no number tells: those that could be read both ways are then left out, cell by cell. */
  decimal: Decimal | null;
  /** By column; columns without a date that needs it are left out. `mixed` where most dates of the column need none. */
  order: ReadonlyMap<string, { order: DateOrder; mixed: boolean }>;
  /** What was found, a sentence each with the column it is about, or null for all numbers. */
  told: { column: string | null; text: string; value: string }[];
}

/**
 * The style that the evidence speaks for. A column whose dates could be read both ways takes the order of the file's other columns, where
 * those have one.
 * @throws InputError where dates or numbers could be read in two ways, or contradict each other, and site.json does not say which is meant
 */
export function fileStyle(
  file: CsvFile,
  evidence: Evidence,
  given: FileFormat,
  separator: Separator,
): FileStyle {
  const told: FileStyle['told'] = [];
  const order = new Map<string, { order: DateOrder; mixed: boolean }>();
  const found = new Map(
    [...evidence.dates].map(([column, seen]) => [column, columnOrder(file, column, seen, given)]),
  );
  const ofOthers = sharedOrder([...found.values()]);
  for (const [column, seen] of evidence.dates) {
    const own = found.get(column) ?? null;
    const which = own ?? (seen.has('either') ? ofOthers : null);
    const either = seen.get('either');
    if (which === null && either !== undefined && isMoreThanSlips(either, seen))
      throw ambiguousDate(file, either);
    if (which === null) continue;
    order.set(column, { order: which, mixed: isMixed(seen) });
    if (given.dates === undefined) told.push(toldOrder(column, seen, which, own !== null));
  }
  const decimal = given.decimal ?? decimalOf(file, evidence, separator, told);
  return { decimal, order, told };
}

type DateSightings = NonNullable<ReturnType<Evidence['dates']['get']>>;

function columnOrder(
  file: CsvFile,
  column: string,
  seen: DateSightings,
  given: FileFormat,
): DateOrder | null {
  if (given.dates !== undefined) return given.dates;
  const order = verdict(seen, 'day first', 'month first');
  if (order === 'contradiction') throw contradictingDates(file, column, seen);
  return order === 'day first' || order === 'month first' ? order : null;
}

/** Among dates that are certain, a few that are not are set aside with their rows; more than one in twenty are a way of writing. */
function isMoreThanSlips(either: Sighting, seen: DateSightings): boolean {
  const dates = seen.get('dates')?.times ?? 0;
  return either.times === dates || either.times > Math.max(1, dates / 20);
}

/** Whether fewer than half of the dates need an order: such ones are slips, and told one by one. */
function isMixed(seen: DateSightings): boolean {
  const times = (what: 'day first' | 'month first' | 'either' | 'dates'): number =>
    seen.get(what)?.times ?? 0;
  return 2 * (times('day first') + times('month first') + times('either')) < times('dates');
}

/** The one order of the columns that have one; null where none has, or they differ. */
function sharedOrder(orders: readonly (DateOrder | null)[]): DateOrder | null {
  const known = new Set(orders.filter((order) => order !== null));
  return known.size === 1 ? ([...known][0] ?? null) : null;
}

const EXAMPLE: Readonly<Record<DateOrder, string>> = {
  'day first': 'day, month, year',
  'month first': 'month, day, year',
  'year first': 'year, month, day',
};

function toldOrder(
  column: string,
  seen: DateSightings,
  order: DateOrder,
  own: boolean,
): FileStyle['told'][number] {
  const proof = seen.get(order);
  const dates = seen.get('dates')?.times ?? 0;
  const why =
    own && proof !== undefined
      ? `${localNumber(proof.times)} of ${localNumber(dates)} can only be that (row ${proof.row}: ${proof.text})`
      : 'as in the other columns of the file; none of its own dates tells';
  return {
    column,
    text: `Dates are read as ${EXAMPLE[order]}: ${why}.`,
    value: (proof ?? seen.get('either'))?.text ?? '',
  };
}

function ambiguousDate(file: CsvFile, { row, column, text }: Sighting): InputError {
  return new InputError(
    'Whether the day or the month comes first cannot be told from any date of the column, and is not guessed.',
    { file, row, column, value: text },
    `Say it in site.json: "formats": { "${file}": { "dates": "day first" } }, or "month first"; or write dates as YYYY-MM-DD.`,
  );
}

function contradictingDates(file: CsvFile, column: string, seen: DateSightings): InputError {
  const [day, month] = [seen.get('day first') as Sighting, seen.get('month first') as Sighting];
  return new InputError(
    `No single order fits: row ${day.row} (${day.text}) has the day first, row ${month.row} (${month.text}) the month.`,
    { file, row: Math.max(day.row, month.row), column, value: (day.row > month.row ? day : month).text },
    'Correct the dates that are wrong, or say in site.json under "formats" which order holds; those that do not fit are then set aside.',
  );
}

function decimalOf(
  file: CsvFile,
  { numbers }: Evidence,
  separator: Separator,
  told: FileStyle['told'],
): Decimal | null {
  // The documentation's own format has a decimal point: a comma in one of its cells is a slip of that cell.
  const mark = separator === ',' && numbers.has('.') ? '.' : verdict(numbers, '.', ',');
  const [point, comma, either] = [numbers.get('.'), numbers.get(','), numbers.get('either')];
  if (mark === 'contradiction') throw contradictingNumbers(file, point as Sighting, comma as Sighting);
  if (mark === '.' || mark === ',') {
    const proof = (mark === '.' ? point : comma) as Sighting;
    const seen = `${count(proof.times, 'number tells', 'numbers tell')} (row ${proof.row}, ${proof.column}: ${proof.text})`;
    if (mark === ',' || separator !== ',') {
      told.push({
        column: null,
        text: `Numbers are read with a decimal ${mark === ',' ? 'comma' : 'point'}: ${seen}.`,
        value: proof.text,
      });
    }
    return mark;
  }
  // A comma-separated file has its decimal point by the documentation; in others a mark that could be either is asked about.
  if (either !== undefined && separator !== ',') throw ambiguousNumber(file, either);
  return null;
}

function ambiguousNumber(file: CsvFile, { row, column, text }: Sighting): InputError {
  return new InputError(
    'The mark in this number may be a decimal mark or stand between thousands; no number of the file tells which.',
    { file, row, column, value: text },
    `Say it in site.json: "formats": { "${file}": { "decimal": "," } }, or ".".`,
  );
}

function contradictingNumbers(file: CsvFile, point: Sighting, comma: Sighting): InputError {
  const later = point.row > comma.row ? point : comma;
  return new InputError(
    `No decimal mark fits all numbers: row ${point.row} (${point.column}: ${point.text}) has a point, row ${comma.row} (${comma.column}: ${comma.text}) a comma.`,
    { file, row: later.row, column: later.column, value: later.text },
    'Correct the numbers that are wrong, or say in site.json under "formats" which mark holds; those that do not fit are then left out.',
  );
}
