/** Long-run events per year of a policy on the plant's calendar, over joint draws of the life models. */
import { calendarAges } from '../interval/calendarAges.js';
import type { Cycle } from '../interval/cycle.js';
import type { ReplacementPolicy } from '../interval/dueRule.js';
import { floatAt, itemAt } from '../numeric/columns.js';
import { DAYS_PER_YEAR } from '../numeric/day.js';
import { chanceHeld, type PlantLine } from './lines.js';
import { ratesAtAge, ratesOnCalendar, type SteadyRates } from './steadyRates.js';

/** Events per year of all positions of one group, over the draws. */
export interface GroupEventRates {
  /** Every diaphragm fitted: on schedule, after a leak, after an opening. */
  fitted: Float64Array;
  leaks: Float64Array;
  scheduled: Float64Array;
}

/** A line's share of the same: its groups in the order of PlantLine.positions, and its stops. */
export interface LineRun {
  groups: GroupEventRates[];
  /** Stops made for the replacements and held, per year. */
  stops: Float64Array;
}

export interface LongRun {
  groups: GroupEventRates[];
  /** By line: stops made for the replacements and held, per year. */
  stops: Float64Array[];
  lines: LineRun[];
}

/** Rates of a group under an interval and a calendar, worked out once for all lines and policies that share them. */
export type RatesOf = (group: number, days: number | null, line: PlantLine) => SteadyRates;

export function rememberedRates(cycles: readonly Cycle[]): RatesOf {
  const known = new Map<string, SteadyRates>();
  return (group, days, { calendar, period }) => {
    const key = `${group}/${days}/${calendar}`;
    const cycle = itemAt(cycles, group);
    const rates =
      known.get(key) ??
      (period === null || days === null
        ? ratesAtAge(cycle, days)
        : ratesOnCalendar(cycle, calendarAges(period, days)));
    known.set(key, rates);
    return rates;
  };
}

export function longRun(
  { intervalDays }: Pick<ReplacementPolicy, 'intervalDays'>,
  lines: readonly PlantLine[],
  ratesOf: RatesOf,
  draws: number,
): LongRun {
  const groups = intervalDays.map(() => noEvents(draws));
  const runs = lines.map((line) => lineRun(line, intervalDays, ratesOf, draws));
  lines.forEach(({ positions }, l) => {
    positions.forEach(({ group }, i) => {
      const [events, own] = [itemAt(groups, group), itemAt(itemAt(runs, l).groups, i)];
      for (const kind of KINDS) addTo(events[kind], own[kind], 1);
    });
  });
  return { groups, stops: runs.map(({ stops }) => stops), lines: runs };
}

const KINDS = ['fitted', 'leaks', 'scheduled'] as const;

function noEvents(draws: number): GroupEventRates {
  return {
    fitted: new Float64Array(draws),
    leaks: new Float64Array(draws),
    scheduled: new Float64Array(draws),
  };
}

function lineRun(
  line: PlantLine,
  intervalDays: readonly (number | null)[],
  ratesOf: RatesOf,
  draws: number,
): LineRun {
  const windows = line.period === null ? [] : line.period.windows;
  const expected = windows.map(() => new Float64Array(draws));
  const groups = line.positions.map(({ group, positions }) => {
    const rates = ratesOf(group, intervalDays[group] ?? null, line);
    rates.byWindow.forEach((replaced, w) => {
      addTo(itemAt(expected, w), replaced, positions);
    });
    const events = noEvents(draws);
    for (const kind of KINDS) addTo(events[kind], rates[kind], positions * DAYS_PER_YEAR);
    return events;
  });
  return { groups, stops: stopsHeld(line, expected, draws) };
}

function stopsHeld({ period }: PlantLine, expected: Float64Array[], draws: number): Float64Array {
  const held = new Float64Array(draws);
  if (period === null) return held;
  period.windows.forEach(({ stopFor }, w) => {
    if (stopFor !== 'replacements') return;
    const inWindow = itemAt(expected, w);
    for (let d = 0; d < draws; d++)
      held[d] = floatAt(held, d) + (chanceHeld(floatAt(inWindow, d)) * 12) / period.months;
  });
  return held;
}

function addTo(total: Float64Array, values: Float64Array, times: number): void {
  for (let d = 0; d < total.length; d++) total[d] = floatAt(total, d) + times * floatAt(values, d);
}
