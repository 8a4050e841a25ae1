/** How fast each position wears its diaphragm: strokes, steam cycles and hot cleans per day. */
import type { Fleet, Position, ReadingTable } from '../fleet/types.js';
import { at, floatAt } from '../numeric/columns.js';

/** One rate and where it comes from: the counter ('measured') or positions.csv ('given'). */
export interface DailyRate {
  perDay: number;
  source: 'measured' | 'given';
  /** Steps at which the counter went down; each is taken as a reset and left out with its days. 0 where given. */
  resets: number;
  /** How unevenly the counter rose; null where given, and with fewer than three steps between readings. */
  spread: RateSpread | null;
}

/** The rate of something that comes so many times as often. */
export function scaledRate(rate: DailyRate, times: number): DailyRate {
  const { perDay, spread } = rate;
  return {
    ...rate,
    perDay: times * perDay,
    spread: spread === null ? null : { ...spread, variancePerDay: times ** 2 * spread.variancePerDay },
  };
}

/** The rate of days with so much added for each count. */
export function joinedRate(rate: DailyRate, weight: number): DailyRate {
  const own = scaledRate(rate, weight);
  return { ...own, perDay: 1 + own.perDay };
}

/** A counter as a drift with noise that adds up: its rise over t days has mean rate times t and this variance times t. */
export interface RateSpread {
  /** Counts squared per day. */
  variancePerDay: number;
  /** Days over which the rate was measured. */
  days: number;
}

/** Rates of one position; null where nothing is known. */
export interface PositionRates {
  strokes: DailyRate | null;
  steamCycles: DailyRate | null;
  hotCleans: DailyRate | null;
}

const DAYS_PER_WEEK = 7;

/**
 * Rates of every position, in the order of `Fleet.positions`. Measured ones come first: the counter's rise from the
 * first to the last reading over the days between, with steps at which it went down left out together with their days
 * (how far it had risen before its reset is not known). Fewer than two readings on different days measure nothing.
 */
export function dailyRates(fleet: Fleet): PositionRates[] {
  const order = readingsByPosition(fleet.readings, fleet.positions.length);
  return fleet.positions.map((position, p) => {
    const rows = order[p] ?? [];
    const rate = (counter: Float64Array, given: number | null): DailyRate | null =>
      measured(fleet.readings.date, counter, rows) ?? givenRate(given);
    return {
      strokes: rate(fleet.readings.strokes, position.strokesPerDay),
      steamCycles: rate(fleet.readings.steamCycles, weekly(position, 'steamCyclesPerWeek')),
      hotCleans: rate(fleet.readings.hotCleans, weekly(position, 'hotCleansPerWeek')),
    };
  });
}

/** Reading rows of each position in order of date. */
function readingsByPosition(readings: ReadingTable, positions: number): number[][] {
  const rows: number[][] = Array.from({ length: positions }, () => []);
  for (let i = 0; i < readings.length; i++) rows[at(readings.position, i)]?.push(i);
  for (const list of rows) list.sort((a, b) => floatAt(readings.date, a) - floatAt(readings.date, b));
  return rows;
}

function measured(date: Float64Array, counter: Float64Array, rows: readonly number[]): DailyRate | null {
  let rise = 0;
  let days = 0;
  let resets = 0;
  let last = -1;
  const steps: { rise: number; days: number }[] = [];
  for (const row of rows) {
    if (Number.isNaN(floatAt(counter, row))) continue;
    if (last >= 0) {
      const step = floatAt(counter, row) - floatAt(counter, last);
      if (step < 0) resets += 1;
      else {
        const between = floatAt(date, row) - floatAt(date, last);
        rise += step;
        days += between;
        if (between > 0) steps.push({ rise: step, days: between });
      }
    }
    last = row;
  }
  if (days <= 0) return null;
  const perDay = rise / days;
  return { perDay, source: 'measured', resets, spread: spreadOf(steps, perDay, days) };
}

const FEWEST_STEPS = 3;

/** Unbiased variance per day of steps about their common rate (Wiener process with drift, from memory). */
function spreadOf(
  steps: readonly { rise: number; days: number }[],
  perDay: number,
  days: number,
): RateSpread | null {
  if (steps.length < FEWEST_STEPS) return null;
  const squares = steps.reduce((sum, step) => sum + (step.rise - perDay * step.days) ** 2 / step.days, 0);
  return { variancePerDay: squares / (steps.length - 1), days };
}

function weekly(position: Position, name: 'steamCyclesPerWeek' | 'hotCleansPerWeek'): number | null {
  const perWeek = position[name];
  return perWeek === null ? null : perWeek / DAYS_PER_WEEK;
}

function givenRate(perDay: number | null): DailyRate | null {
  return perDay === null ? null : { perDay, source: 'given', resets: 0, spread: null };
}
