/** Days in use of a position: the calendar without idle spans and the time after it went out of service. */
import type { Position } from '../fleet/types.js';
import { at } from '../numeric/columns.js';
import { countUpTo } from '../numeric/sorted.js';

/** Spans without use, apart and in order; `before[k]` days of earlier spans. */
export interface UseCalendar {
  start: number[];
  end: number[];
  before: number[];
}

/** Null where every day is a day in use. */
export function useCalendar({
  idle,
  outOfServiceSince,
}: Pick<Position, 'idle' | 'outOfServiceSince'>): UseCalendar | null {
  if (idle.length === 0 && outOfServiceSince === null) return null;
  const spans = idle.map(({ start, end }) => ({ start, end }));
  if (outOfServiceSince !== null) spans.push({ start: outOfServiceSince, end: Infinity });
  spans.sort((a, b) => a.start - b.start);
  const calendar: UseCalendar = { start: [], end: [], before: [] };
  for (const { start, end } of spans) {
    const last = calendar.start.length - 1;
    if (last >= 0 && start <= at(calendar.end, last))
      calendar.end[last] = Math.max(at(calendar.end, last), end);
    else {
      calendar.before.push(
        last < 0 ? 0 : at(calendar.before, last) + at(calendar.end, last) - at(calendar.start, last),
      );
      calendar.start.push(start);
      calendar.end.push(end);
    }
  }
  return calendar;
}

/** The day on the clock of use: it stands still while the position is idle. */
export function useDay(calendar: UseCalendar | null, day: number): number {
  if (calendar === null) return day;
  const k = countUpTo(calendar.start, day) - 1;
  if (k < 0) return day;
  return day - at(calendar.before, k) - (Math.min(day, at(calendar.end, k)) - at(calendar.start, k));
}
