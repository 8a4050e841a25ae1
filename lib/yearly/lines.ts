/** The plant by line: its calendar, what a stop of it costs, and how many positions of each group it has. */
import type { Amount } from '../cost/amount.js';
import { wholeStop } from '../cost/stops.js';
import { type LinePeriod, linePeriod } from '../fleet/calendar.js';
import type { Fleet } from '../fleet/types.js';
import type { GroupedFleet } from '../group/types.js';
import { itemAt } from '../numeric/columns.js';

export interface PlantLine {
  line: string;
  /** Null where the line has no windows. */
  period: LinePeriod | null;
  /** Lines with the same windows have the same number; -1 without windows. */
  calendar: number;
  /** Cost of one stop of the line. */
  stop: Amount;
  /** Positions by the group that they will be refitted with. */
  positions: { group: number; positions: number }[];
}

/** Lines in order of first appearance among the positions in service. */
export function plantLines(fleet: Fleet, { running }: GroupedFleet): PlantLine[] {
  const counts = new Map<string, Map<number, number>>();
  for (const { position, groupNext } of running) {
    const { line } = itemAt(fleet.positions, position);
    const own = counts.get(line) ?? new Map<number, number>();
    counts.set(line, own);
    own.set(groupNext, (own.get(groupNext) ?? 0) + 1);
  }
  const calendars = new Map<string, number>();
  return [...counts].map(([line, own]) => {
    const period = linePeriod(fleet, line);
    return {
      line,
      period,
      calendar: period === null ? -1 : numberOf(period, calendars),
      stop: wholeStop(fleet, line),
      positions: [...own].map(([group, positions]) => ({ group, positions })),
    };
  });
}

function numberOf({ windows }: LinePeriod, calendars: Map<string, number>): number {
  const key = windows.map(({ name, day }) => `${day} ${name}`).join('|');
  const known = calendars.get(key) ?? calendars.size;
  calendars.set(key, known);
  return known;
}

/**
 * Chance that a stop made for the replacements is held, which it is where at least one is to be done: positions come
 * due one by one, so that none does with chance exp(-expected number).
 */
export function chanceHeld(expected: number): number {
  return -Math.expm1(-expected);
}
