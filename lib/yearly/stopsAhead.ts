/** Stops that are made for the replacements and held, by line and year, along a path. */
import type { ClassSchedule } from '../demand/laterLives.js';
import type { ClassFlow } from '../demand/path.js';
import { columnOf, floatAt } from '../numeric/columns.js';
import { DAYS_PER_YEAR } from '../numeric/day.js';
import { chanceHeld, type PlantLine } from './lines.js';

/** Expected replacements of a line in each of its coming windows. */
export interface LineStops {
  /** Day of each window, from the day of the data. */
  moments: Float64Array;
  made: boolean[];
  expected: Float64Array;
}

/** Where each class's replacements are counted. */
export interface StopCounts {
  byLine: LineStops[];
  /** By class: its lines, with their share of its positions. */
  linesOf: Map<ClassSchedule, { stops: LineStops; share: number }[]>;
}

/** Nothing counted yet, for every line with windows. */
export function stopCounts(lines: readonly PlantLine[], schedules: readonly ClassSchedule[]): StopCounts {
  const byName = new Map<string, LineStops>();
  const linesOf: StopCounts['linesOf'] = new Map();
  for (const schedule of schedules) {
    const { positions } = schedule;
    const own = positions.lines.map(({ line, positions: count }) => {
      const stops = byName.get(line) ?? emptyStops(schedule);
      byName.set(line, stops);
      return { stops, share: count / positions.positions };
    });
    linesOf.set(schedule, own);
  }
  return { byLine: lines.map(({ line }) => byName.get(line) ?? NO_STOPS), linesOf };
}

const NO_STOPS: LineStops = { moments: new Float64Array(0), made: [], expected: new Float64Array(0) };

function emptyStops({ positions, windowStep }: ClassSchedule): LineStops {
  const windows = positions.windows.slice(0, windowStep.length);
  return {
    moments: columnOf(windows, ({ moment }) => moment),
    made: windows.map(({ stopFor }) => stopFor === 'replacements'),
    expected: new Float64Array(windows.length),
  };
}

export function clearStops({ byLine }: StopCounts): void {
  for (const { expected } of byLine) expected.fill(0);
}

/** Adds the replacements of a class under one draw to its lines, in proportion to its positions on each. */
export function addStops(
  { linesOf }: StopCounts,
  schedule: ClassSchedule,
  { first, later }: ClassFlow,
): void {
  for (const { stops, share } of linesOf.get(schedule) ?? []) {
    const { moments, expected } = stops;
    for (let w = 0; w < expected.length; w++)
      expected[w] = floatAt(expected, w) + share * floatAt(later.plannedByWindow, w);
    const { moment, amount } = first.due;
    for (let i = 0; i < moment.length; i++) {
      const w = moments.indexOf(floatAt(moment, i));
      if (w >= 0) expected[w] = floatAt(expected, w) + share * floatAt(amount, i);
    }
  }
}

/** Stops held by line and year: those with a replacement to be done, one at most for each window. */
export function stopsByYear({ byLine }: StopCounts, years: number): Float64Array[] {
  return byLine.map(({ moments, made, expected }) => {
    const held = new Float64Array(years);
    for (let w = 0; w < moments.length; w++) {
      const year = Math.ceil(floatAt(moments, w) / DAYS_PER_YEAR) - 1;
      if (made[w] && year >= 0 && year < years)
        held[year] = floatAt(held, year) + chanceHeld(floatAt(expected, w));
    }
    return held;
  });
}
