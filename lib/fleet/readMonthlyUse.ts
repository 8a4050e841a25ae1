/** monthly-use.csv: pieces taken from the shelf, by item and month. */
import { addMonths, type Day, dayFromText } from '../numeric/day.js';
import { type Cell, type Fault, fault, numberCell, remembered, textCell } from './cell.js';
import { columnOf } from './columnReader.js';
import type { CsvRow, CsvTable } from './csvTable.js';
import type { Item, MonthlyUse } from './types.js';

/** Month of a text 'YYYY-MM', numbered year x 12 + month - 1. */
function monthCell(raw: string): Cell<number> {
  const text = raw.trim();
  if (text === '') return { value: null, fault: null };
  const day = /^\d{4}-\d{2}$/.test(text) ? dayFromText(`${text}-01`) : null;
  if (day === null || text < '1950') return { value: null, fault: MONTH_FORMAT };
  return {
    value: Number(text.slice(0, 4)) * 12 + Number(text.slice(5)) - 1,
    fault: null,
    tidied: text !== raw,
  };
}

/** First day of a numbered month. */
export function firstDay(month: number): Day {
  return dayFromText(`${monthName(month)}-01`) as Day;
}

/** 'YYYY-MM' of a numbered month. */
export function monthName(month: number): string {
  return `${String(Math.floor(month / 12)).padStart(4, '0')}-${String((month % 12) + 1).padStart(2, '0')}`;
}

interface UseRow {
  item: string;
  month: number;
  used: number | null;
  planned: number | null;
}

/** Use by item, in the order of items.csv. Months not given between the first and the last of an item count as 0. */
export function readMonthlyUse(table: CsvTable, items: readonly Item[], dataUntil: Day): MonthlyUse[] {
  const read = useReader(table, new Set(items.map(({ item }) => item)));
  const byItem = new Map<string, Map<number, UseRow>>();
  table.forEach((row) => {
    const found = read(row);
    if (found === null) return;
    const why = faultOf(found, dataUntil);
    const rows = byItem.get(found.item) ?? new Map<number, UseRow>();
    if (why !== null) table.book.setAside(row.row, 'month', monthName(found.month), why);
    else if (rows.has(found.month)) table.book.setAside(row.row, 'month', monthName(found.month), TWICE);
    else byItem.set(found.item, rows.set(found.month, found));
  });
  return items.flatMap(({ item }) => {
    const rows = byItem.get(item);
    return rows === undefined ? [] : [useOf(item, [...rows.values()])];
  });
}

function useReader(table: CsvTable, known: ReadonlySet<string>) {
  const whole = remembered(numberCell({ least: 0, most: 1e6, whole: true }));
  const part = columnOf(table, 'item', remembered(textCell));
  const month = columnOf(table, 'month', remembered(monthCell));
  const used = columnOf(table, 'used', whole);
  const planned = columnOf(table, 'planned', whole);
  const aside = (row: CsvRow, column: string, why: Fault): null => {
    table.book.setAside(row.row, column, table.text(row, table.place(column)), why);
    return null;
  };
  return (row: CsvRow): UseRow | null => {
    const item = part(row).value;
    const when = month(row);
    const pieces = used(row);
    const ofThem = planned(row);
    if (item === null) return aside(row, 'item', NO_ITEM);
    if (!known.has(item)) return aside(row, 'item', UNKNOWN_ITEM);
    if (when.value === null) return aside(row, 'month', when.fault ?? MONTH_FORMAT);
    if (pieces.fault !== null) return aside(row, 'used', pieces.fault);
    if (ofThem.fault !== null) return aside(row, 'planned', ofThem.fault);
    return { item, month: when.value, used: pieces.value, planned: ofThem.value };
  };
}

/** A month that is over tells what was used, one to come what is planned. */
function faultOf({ month, used, planned }: UseRow, dataUntil: Day): Fault | null {
  const start = firstDay(month);
  if (addMonths(start, 1) - 1 <= dataUntil) {
    if (used === null) return NO_USE;
    return (planned ?? 0) > used ? PLANNED_ABOVE : null;
  }
  if (used !== null) return start <= dataUntil ? NOT_OVER : TO_COME;
  return planned === null ? NO_PLAN : null;
}

function useOf(item: string, rows: UseRow[]): MonthlyUse {
  const past = rows.filter(({ used }) => used !== null);
  const ahead = rows
    .filter(({ used, planned }) => used === null && (planned ?? 0) > 0)
    .map(({ month, planned }) => ({ month, pieces: planned ?? 0 }))
    .sort((a, b) => a.month - b.month);
  const months = past.map(({ month }) => month);
  const first = past.length === 0 ? 0 : Math.min(...months);
  const length = past.length === 0 ? 0 : Math.max(...months) - first + 1;
  const column = (of: (row: UseRow) => number | null): number[] => {
    const values = new Array<number>(length).fill(0);
    for (const row of past) values[row.month - first] = of(row) ?? 0;
    return values;
  };
  return {
    item,
    first,
    used: column(({ used }) => used),
    planned: column(({ planned }) => planned),
    given: past.length,
    ahead,
  };
}

const MONTH_FORMAT = fault(
  'month-format',
  'The month is missing or not written as YYYY-MM.',
  'Write months as YYYY-MM, for example 2024-03.',
);
const NO_ITEM = fault('item-missing', 'The row has no part number.', 'Give the part number.');
const UNKNOWN_ITEM = fault(
  'item-unknown',
  'items.csv has no such part number that is planned.',
  'Add the item there, or correct the part number.',
);
const TWICE = fault(
  'month-twice',
  'The item already has a row for this month.',
  'Keep one row per item and month.',
);
const NO_USE = fault(
  'used-missing',
  'The month is over, and what was used is not given.',
  'Write 0 if nothing was used.',
);
const PLANNED_ABOVE = fault(
  'planned-above-used',
  'More pieces were planned than used.',
  'Of the pieces used, give those that went into planned work.',
);
const NOT_OVER = fault(
  'month-not-over',
  'The month was not over when the extract was made.',
  'Leave the row out until then.',
);
const TO_COME = fault(
  'month-to-come',
  'The month was still to come when the extract was made, and has a use.',
  'Give what is planned for it in the column planned.',
);
const NO_PLAN = fault(
  'planned-missing',
  'The month is to come, and nothing is given for it.',
  'Give what is planned, or leave the row out.',
);
