/** Values of typed columns as the texts that a CSV file would have: dates YYYY-MM-DD, a decimal point, nothing for what is not known. */
import { MS_PER_DAY, textFromDay } from '../../numeric/day.js';

/** What the numbers of a column stand for. */
export type ValueKind =
  | { kind: 'plain' }
  /** Numbers with the precision of 32 bits: 0.1 is 0.1, not 0.10000000149011612. */
  | { kind: 'single' }
  /** Whole days since 1970-01-01. */
  | { kind: 'days' }
  /** Milliseconds since 1970-01-01 in no time zone, or in UTC. */
  | { kind: 'instant' }
  /** A number with so many places behind the point. */
  | { kind: 'decimal'; scale: number }
  /** A whole number of units of the last of so many places. */
  | { kind: 'scaled'; scale: number };

/** Days of the years 0000 to 9999. */
const FIRST_DAY = -719_528;
const LAST_DAY = 2_932_896;

/** The text of a value; null where it is none that a cell can hold. */
export function plainText(value: unknown, kind: ValueKind): string | null {
  if (value === null || value === undefined) return '';
  if (typeof value === 'string') return value;
  if (typeof value === 'boolean') return String(value);
  if (typeof value === 'bigint')
    return kind.kind === 'scaled' ? scaledText(value, kind.scale) : String(value);
  return typeof value === 'number' ? numberText(value, kind) : null;
}

function numberText(value: number, kind: ValueKind): string {
  if (Number.isNaN(value)) return '';
  switch (kind.kind) {
    case 'days':
      return dayText(value);
    case 'instant':
      return instantText(value);
    case 'single':
      return singleText(value);
    case 'decimal':
      return trimmed(Math.abs(value) < 1e21 ? value.toFixed(Math.min(kind.scale, 100)) : String(value));
    case 'scaled':
      return scaledText(BigInt(value), kind.scale);
    default:
      return String(value);
  }
}

function dayText(day: number): string {
  return day >= FIRST_DAY && day <= LAST_DAY ? textFromDay(Math.floor(day)) : String(day);
}

/** A day, with its time where it has one. */
function instantText(milliseconds: number): string {
  const day = Math.floor(milliseconds / MS_PER_DAY);
  const seconds = Math.floor((milliseconds - day * MS_PER_DAY) / 1000);
  if (seconds === 0) return dayText(day);
  const two = (part: number): string => String(Math.floor(part)).padStart(2, '0');
  return `${dayText(day)} ${two(seconds / 3600)}:${two((seconds / 60) % 60)}:${two(seconds % 60)}`;
}

/** The shortest number that is the same in 32 bits. */
function singleText(value: number): string {
  for (let digits = 6; digits <= 9; digits++) {
    const short = Number(value.toPrecision(digits));
    if (Math.fround(short) === value) return String(short);
  }
  return String(value);
}

function scaledText(units: bigint, scale: number): string {
  if (scale <= 0) return String(units * 10n ** BigInt(-scale));
  const digits = String(units < 0n ? -units : units).padStart(scale + 1, '0');
  const point = digits.length - scale;
  return trimmed(`${units < 0n ? '-' : ''}${digits.slice(0, point)}.${digits.slice(point)}`);
}

/** Without zeros at the end behind the point. */
function trimmed(text: string): string {
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
}
