/** What all rows of a file say of the order of its dates and of its decimal mark. */
import { datePartsOf } from './dates.js';
import { decimalEvidence } from './numbers.js';
import type { DateOrder, Decimal } from './types.js';

/** How often something was seen, and where first. */
export interface Sighting {
  times: number;
  /** Data row from 1. */
  row: number;
  column: string;
  text: string;
}

export type Sightings<T extends string> = Map<T, Sighting>;

export interface Evidence {
  /** By column: dates that can only be one order, those that could be both ('either'), and cells with a date of any kind ('dates'). */
  dates: Map<string, Sightings<DateOrder | 'either' | 'dates'>>;
  numbers: Sightings<Decimal | 'either'>;
}

export function noEvidence(): Evidence {
  return { dates: new Map(), numbers: new Map() };
}

/** Adds what a date cell says. */
export function seeDate(evidence: Evidence, text: string, column: string, row: number): void {
  const parts = datePartsOf(text);
  if (parts === null) return;
  const seen = evidence.dates.get(column) ?? new Map();
  evidence.dates.set(column, seen);
  see(seen, 'dates', text, column, row);
  if (parts.kind === 'certain') return;
  const { first, second } = parts;
  if (first > 12 && second > 12) return;
  if (first > 12) see(seen, 'day first', text, column, row);
  else if (second > 12) see(seen, 'month first', text, column, row);
  else if (first !== second) see(seen, 'either', text, column, row);
}

/** Adds what a number cell says. */
export function seeNumber(evidence: Evidence, text: string, column: string, row: number): void {
  const mark = decimalEvidence(text.trim());
  if (mark !== null) see(evidence.numbers, mark, text, column, row);
}

function see<T extends string>(seen: Sightings<T>, what: T, text: string, column: string, row: number): void {
  const before = seen.get(what);
  if (before === undefined) seen.set(what, { times: 1, row, column, text: text.trim() });
  else before.times += 1;
}

/** One slip among so many of the other kind does not decide anything. */
const SLIPS = 100;

/** The kind that the sightings speak for; 'contradiction' where both are seen and neither is a slip; null where none is. */
export function verdict<T extends string>(seen: Sightings<T>, one: T, other: T): T | 'contradiction' | null {
  const [a, b] = [seen.get(one)?.times ?? 0, seen.get(other)?.times ?? 0];
  if (a === 0 && b === 0) return null;
  if (a >= SLIPS * b) return one;
  return b >= SLIPS * a ? other : 'contradiction';
}
