/**
 * Where the header of a table stands: names over columns of dates, numbers and words that come again and again, which a name does not. A row of
 * headings above it, each over one column or more, and a row of units under it are told apart.
 */
import { itemAt } from '../../numeric/columns.js';
import { isUnits } from '../takeRow.js';
import { datePartsOf } from '../written/dates.js';
import { isColumnWord } from './dictionary.js';

export interface HeaderRows {
  /** Row of the header among the rows, from 0. */
  at: number;
  /** Headings of the row above it, each carried on to the next; null where there is none. */
  above: string[] | null;
  /** Cells of the row of units under it; null where there is none. */
  units: string[] | null;
}

/** Rows that are looked through for the header, and rows under each that are looked at. */
const WITHIN = 40;
const UNDER = 60;

type Rows = readonly (readonly string[])[];

/** Null where no row can be one. */
export function headerRows(rows: Rows): HeaderRows | null {
  let best: { at: number; score: number } | null = null;
  for (let at = 0; at < Math.min(WITHIN, rows.length); at++) {
    const score = scoreOf(rows, at);
    if (score !== null && (best === null || score > best.score + 1e-9)) best = { at, score };
  }
  if (best === null) return null;
  let { at } = best;
  while (
    isHeading(rows, at + 1) &&
    filledOf(itemAt(rows, at + 1)).length >= filledOf(itemAt(rows, at)).length
  )
    at += 1;
  const before = rows[at - 1];
  const header = itemAt(rows, at);
  const isAbove = before !== undefined && at > 0 && isHeading(rows, at - 1) && !alike(before, header);
  const after = rows[at + 1];
  return {
    at,
    above: isAbove ? carried(before, header.length) : null,
    units: after !== undefined && isUnits(after) ? [...after] : null,
  };
}

function alike(one: readonly string[], other: readonly string[]): boolean {
  return other.every((cell, i) => cell.trim() === '' || cell.trim() === (one[i] ?? '').trim());
}

function carried(cells: readonly string[], width: number): string[] {
  let last = '';
  return Array.from({ length: width }, (_, i) => {
    last = (cells[i] ?? '').trim() || last;
    return last;
  });
}

function filledOf(row: readonly string[]): number[] {
  return row.flatMap((cell, i) => (cell.trim() === '' ? [] : [i]));
}

function under(rows: Rows, at: number): Rows {
  return rows.slice(at + 1, at + 1 + UNDER).filter((row) => filledOf(row).length > 1 && !isUnits(row));
}

/** How much a row is like a header: names that are known, names unlike what stands under them, as wide as what follows. */
function scoreOf(rows: Rows, at: number): number | null {
  const row = itemAt(rows, at);
  const filled = filledOf(row);
  const below = under(rows, at);
  if (filled.length < 2 || below.length === 0 || isUnits(row)) return null;
  const widest = Math.max(...below.slice(0, 20).map((cells) => filledOf(cells).length));
  const known = filled.filter((i) => isColumnWord(row[i] ?? '')).length;
  const unlike = filled.reduce((sum, i) => sum + unlikeBelow(row, i, below), 0) / filled.length;
  return known / filled.length + 3 * unlike + Math.min(1, filled.length / widest);
}

/** Whether all cells of a row are names that do not come again under it, some of them over dates or numbers. */
function isHeading(rows: Rows, at: number): boolean {
  const row = rows[at];
  if (row === undefined || isUnits(row)) return false;
  const filled = filledOf(row);
  const below = under(rows, at);
  if (filled.length < 2 || below.length < 2) return false;
  const unlike = filled.map((i) => unlikeBelow(row, i, below));
  return unlike.every((one) => one > 0) && unlike.some((one) => one === 1);
}

/** 1 for a name over dates or numbers, more than 0 for one that does not stand under itself again, less for what is no name. */
function unlikeBelow(row: readonly string[], column: number, below: Rows): number {
  const text = (row[column] ?? '').trim();
  if (!isNaming(text)) return -1;
  const cells = below.map((cells) => (cells[column] ?? '').trim()).filter((cell) => cell !== '');
  if (cells.length === 0) return 0.3;
  if (cells.includes(text)) return -1;
  return cells.filter((cell) => !isNaming(cell)).length >= 0.6 * cells.length ? 1 : 0.6;
}

function isNaming(text: string): boolean {
  return !/^[\d.,\s%+-]*$/.test(text) && datePartsOf(text) === null;
}
