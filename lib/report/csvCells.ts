/** Rows as CSV (RFC 4180): columns, rounding of numbers, quotes, and cells that a spreadsheet would run. */
import type { Warning } from '../findings.js';
import { csvQuoted } from '../fleet/csvQuoted.js';
import { neutralCell } from '../fleet/neutralCell.js';

type Value = string | number | boolean | null;

/** A column: its header and how to read it from a row. */
export type Columns<Row> = readonly (readonly [header: string, value: (row: Row) => Value])[];

export function warningsText(warnings: readonly Warning[]): string {
  return warnings.map(({ text, todo }) => `${text} ${todo}`).join(' | ');
}

/** Two decimals: hundredths of a piece are more than a forecast knows. */
export function hundredths(value: number | null): number | null {
  return value === null || !Number.isFinite(value) ? null : Math.round(value * 100) / 100;
}

export function tenThousandths(value: number): number | null {
  return Number.isFinite(value) ? Math.round(value * 1e4) / 1e4 : null;
}

/** Six significant digits: more than any of these numbers is known to. */
export function rounded(value: number | null): number | null {
  return value === null || !Number.isFinite(value) ? null : Number(value.toPrecision(6));
}

export function csvText<Row>(columns: Columns<Row>, rows: readonly Row[]): string {
  const lines = [
    columns.map(([header]) => header),
    ...rows.map((row) => columns.map(([, value]) => cell(value(row)))),
  ];
  return `${lines.map((line) => line.join(',')).join('\r\n')}\r\n`;
}

function cell(value: Value): string {
  if (value === null) return '';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value === 'number') return Number.isFinite(value) ? String(value) : '';
  return csvQuoted(neutralCell(value));
}
