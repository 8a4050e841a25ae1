/** Time ahead, cut into equal steps from the day of the data (time 0), and months laid over the steps. */
import { columnOf, floatAt } from '../numeric/columns.js';
import type { Day } from '../numeric/day.js';
import { addMonths, DAYS_PER_MONTH, monthOfDay, startOfMonth } from '../numeric/day.js';

export interface TimeGrid {
  /** Length of a step, days. */
  stepDays: number;
  steps: number;
}

/** Four steps a month: with lives of months and years, totals by month are then good to some 1e-4 (tested). */
export const STEP_DAYS = DAYS_PER_MONTH / 4;

/** Share of step k that lies before a moment; all of it where there is none. */
export function shareBefore(moment: number | null, k: number, { stepDays }: TimeGrid): number {
  return moment === null ? 1 : Math.min(1, Math.max(0, moment / stepDays - k));
}

/** Consecutive spans of time; span m runs from edges[m] to edges[m + 1], days from the day of the data. */
export interface Spans {
  edges: Float64Array;
  count: number;
}

/** A grid that covers so many days ahead. */
export function gridOver(days: number, stepDays = STEP_DAYS): TimeGrid {
  return { stepDays, steps: Math.max(1, Math.ceil(days / stepDays - 1e-9)) };
}

/** Equal months of 30.4375 days from the day of the data. */
export function equalMonths(months: number): Spans {
  return { edges: Float64Array.from({ length: months + 1 }, (_, m) => m * DAYS_PER_MONTH), count: months };
}

/** Calendar months from the day after the data on; the first may be a part of its month. Names are YYYY-MM. */
export function calendarMonths(dataUntil: Day, months: number): Spans & { names: string[] } {
  const first = startOfMonth(dataUntil + 1);
  const starts = Array.from({ length: months + 1 }, (_, m) => addMonths(first, m));
  const edges = columnOf(starts, (day, m) => (m === 0 ? 0 : day - dataUntil - 1));
  return { edges, count: months, names: starts.slice(0, months).map(monthOfDay) };
}

/** Which span a moment falls in; moments on an edge belong to the span that ends there. -1 = after the last. */
export function spanOf(spans: Spans, moment: number): number {
  for (let m = 0; m < spans.count; m++) if (moment <= floatAt(spans.edges, m + 1) + 1e-9) return m;
  return -1;
}

/** Which part of each step lies in which span: step k gives `share` of itself to `span`. */
export interface StepShares {
  step: Int32Array;
  span: Int32Array;
  share: Float64Array;
}

export function stepShares(grid: TimeGrid, spans: Spans): StepShares {
  const step: number[] = [];
  const span: number[] = [];
  const share: number[] = [];
  for (let k = 0; k < grid.steps; k++) {
    const start = k * grid.stepDays;
    for (let m = 0; m < spans.count; m++) {
      const low = Math.max(start, floatAt(spans.edges, m));
      const high = Math.min(start + grid.stepDays, floatAt(spans.edges, m + 1));
      if (high - low <= 1e-9) continue;
      step.push(k);
      span.push(m);
      share.push((high - low) / grid.stepDays);
    }
  }
  return { step: Int32Array.from(step), span: Int32Array.from(span), share: Float64Array.from(share) };
}

/** Adds amounts by step to amounts by span, each step split in proportion to time. */
export function addToSpans(
  { step, span, share }: StepShares,
  byStep: Float64Array,
  bySpan: Float64Array,
): void {
  for (let i = 0; i < step.length; i++) {
    const m = span[i] as number;
    bySpan[m] = floatAt(bySpan, m) + floatAt(share, i) * floatAt(byStep, step[i] as number);
  }
}
