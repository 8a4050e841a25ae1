/** Checks at the door of the counters. */
import { UsageError } from '../errors.js';
import type { ReadingTable } from '../fleet/types.js';
import { floatAt, wholeAt } from '../numeric/columns.js';
import type { DaySpans } from './exposeSpans.js';
import type { ExposureLimits, ExposureOptions } from './exposureTypes.js';

const LIMITS: ExposureLimits = {
  nearDays: 7,
  longestInterpolationDays: 400,
  longestBridgeDays: 400,
  longestExtrapolationDays: 365,
  flat: 'stood still',
  mostListed: 50,
};

export function exposureLimits(where: string, options: ExposureOptions): ExposureLimits {
  const limits = { ...LIMITS, ...options };
  const {
    flat,
    mostListed,
    nearDays,
    longestInterpolationDays,
    longestBridgeDays,
    longestExtrapolationDays,
  } = limits;
  const days = {
    nearDays,
    longestInterpolationDays,
    longestBridgeDays,
    longestExtrapolationDays,
    mostListed,
  };
  for (const [name, value] of Object.entries(days)) {
    if (!(value >= 0 && value < Infinity)) throw new UsageError(where, `${name} must be 0 or more.`, value);
  }
  if (flat !== 'stood still' && flat !== 'idle') {
    throw new UsageError(where, "flat must be 'stood still' or 'idle'.", flat);
  }
  return limits;
}

export function checkReadings(where: string, readings: ReadingTable, positions: number): void {
  const { length, position, date, strokes, steamCycles, hotCleans } = readings;
  for (const column of [position, date, strokes, steamCycles, hotCleans]) {
    if (column.length !== length) {
      throw new UsageError(where, `the columns of readings must have ${length} rows each.`, column.length);
    }
  }
  for (let i = 0; i < length; i++) {
    const day = floatAt(date, i);
    if (Math.floor(day) !== day || Math.abs(day) > MOST_DAYS) {
      throw new UsageError(where, `row ${i + 1} of readings: date must be whole days since 1970-01-01.`, day);
    }
    requirePosition(where, 'readings', i, wholeAt(position, i), positions);
  }
}

/** Far beyond every calendar, and small enough to be sorted as one number with a place. */
const MOST_DAYS = 1e8;

export function checkSpans(where: string, { position, from, to }: DaySpans, positions: number): void {
  if (from.length !== position.length || to.length !== position.length) {
    const received = `${position.length}, ${from.length}, ${to.length}`;
    throw new UsageError(where, 'position, from and to must have the same length.', received);
  }
  for (let i = 0; i < position.length; i++) {
    requirePosition(where, 'spans', i, wholeAt(position, i), positions);
    for (const day of [floatAt(from, i), floatAt(to, i)]) {
      if (Number.isNaN(day) || (Math.floor(day) === day && Math.abs(day) <= MOST_DAYS)) continue;
      throw new UsageError(
        where,
        `row ${i + 1} of spans: days must be whole days since 1970-01-01, or NaN.`,
        day,
      );
    }
    if (floatAt(to, i) < floatAt(from, i)) {
      throw new UsageError(where, `row ${i + 1} of spans ends before it begins.`, `${from[i]} to ${to[i]}`);
    }
  }
}

function requirePosition(where: string, table: string, i: number, position: number, positions: number): void {
  if (position >= 0 && position < positions) return;
  throw new UsageError(
    where,
    `row ${i + 1} of ${table}: there are ${positions} positions, from 0.`,
    position,
  );
}
