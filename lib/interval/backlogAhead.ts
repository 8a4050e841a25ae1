/** How many positions are past their interval, day by day, along the shutdown plan (METHODS 4.6: the way there). */
import { UsageError } from '../errors.js';
import { itemAt } from '../numeric/columns.js';
import { type Day, dayFromText } from '../numeric/day.js';
import { countUpTo } from '../numeric/sorted.js';
import type { DueDate } from './dueDates.js';
import type { ShutdownTask } from './types.js';

/** Steps of a count: from each day on, days after the first day, so many. */
export interface BacklogAhead {
  /** The first day, the one of the data. */
  from: string;
  /** Length of what is looked at, days: to the last replacement planned. */
  span: number;
  day: number[];
  past: number[];
  /** Shutdowns, or months of a line without any, by their first day: replacements that fit, and positions past their interval after it. */
  stops: { name: string; day: number; replaced: number; after: number }[];
}

/**
 * The count if nothing leaks or is opened meanwhile. A position is past its interval from the day after it is due until the
 * shutdown at which it is replaced. Positions without an interval, or of unknown age, are not counted.
 * @throws UsageError where `from` is no day
 */
export function backlogAhead(
  dueDates: readonly Pick<DueDate, 'position' | 'due' | 'intervalDays'>[],
  tasks: readonly Pick<ShutdownTask, 'position' | 'shutdown' | 'start' | 'overdueDays' | 'fits'>[],
  from: string,
): BacklogAhead {
  const start = dayFromText(from);
  if (start === null) throw new UsageError('backlogAhead', 'from must be a day, YYYY-MM-DD.', from);
  const planned = tasks.filter(({ fits }) => fits);
  const span = planned.reduce((last, task) => Math.max(last, after(task.start, start)), 0);
  const changes = new Map<number, number>();
  const add = (day: number, by: number): void => {
    changes.set(day, (changes.get(day) ?? 0) + by);
  };
  const byPosition = new Map<string, typeof planned>();
  for (const task of planned) byPosition.set(task.position, [...(byPosition.get(task.position) ?? []), task]);
  for (const place of dueDates) {
    for (const [first, last] of spellsOf(place, byPosition.get(place.position) ?? [], start, span)) {
      if (first >= span && first > 0) continue;
      add(first, 1);
      if (last <= span) add(last, -1);
    }
  }
  const day = [...new Set([0, ...changes.keys()])].sort((a, b) => a - b);
  let running = 0;
  const past = day.map((each) => {
    running += changes.get(each) ?? 0;
    return running;
  });
  return { from, span, day, past, stops: stopsOf(planned, start, { day, past }) };
}

function after(text: string, start: Day): number {
  return Math.max(0, (dayFromText(text) ?? start) - start);
}

/** Days, after the start, from and to which a position is past its interval. */
function spellsOf(
  { due, intervalDays }: Pick<DueDate, 'due' | 'intervalDays'>,
  tasks: readonly Pick<ShutdownTask, 'start' | 'overdueDays'>[],
  start: Day,
  span: number,
): [number, number][] {
  const spells: [number, number][] = [];
  const spell = (dueDay: number, until: number): void => {
    const first = Math.max(0, dueDay + 1);
    if (first < until) spells.push([first, until]);
  };
  const sorted = [...tasks].sort((a, b) => (a.start < b.start ? -1 : 1));
  let next = due === null ? null : (dayFromText(due) ?? start) - start;
  for (const { start: text, overdueDays } of sorted) {
    const until = after(text, start);
    // The plan's own count where it has one: it knows what was fitted in between.
    const dueDay = overdueDays === null ? next : until - overdueDays;
    if (dueDay !== null) spell(dueDay, until);
    next = intervalDays === null ? null : until + intervalDays;
  }
  if (next !== null && sorted.length === 0) spell(next, span + 1);
  return spells;
}

function stopsOf(
  planned: readonly Pick<ShutdownTask, 'shutdown' | 'start'>[],
  start: Day,
  { day, past }: { day: readonly number[]; past: readonly number[] },
): BacklogAhead['stops'] {
  const byDay = new Map<number, { names: Set<string>; replaced: number }>();
  for (const { shutdown, start: text } of planned) {
    const at = after(text, start);
    const stop = byDay.get(at) ?? { names: new Set<string>(), replaced: 0 };
    stop.names.add(shutdown);
    stop.replaced += 1;
    byDay.set(at, stop);
  }
  return [...byDay]
    .sort(([a], [b]) => a - b)
    .map(([at, { names, replaced }]) => {
      const i = countUpTo(day, at) - 1;
      return { name: [...names].join(', '), day: at, replaced, after: itemAt(past, i) };
    });
}
