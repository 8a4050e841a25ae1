/** Chances of the positions of one class by month and by kit, under one draw. */
import { at, floatAt, itemAt } from '../numeric/columns.js';
import type { Spans } from './grid.js';
import { addToSpans, spanOf } from './grid.js';
import type { DrawView, ItemPath, Months } from './itemPath.js';
import type { ClassSchedule } from './laterLives.js';
import type { ClassFlow } from './path.js';

/** One class of an item under one draw. */
export interface ClassPart {
  path: ItemPath;
  view: DrawView;
  schedule: ClassSchedule;
  flow: ClassFlow;
  months: Months;
  /** Index of the first cell of the class. */
  from: number;
  /** Days of each month in which the class is in service. */
  servedDays: Float64Array;
}

/** Chances of the lives that run today: leak or replacement, by month; replacement, by kit. */
export function addFirst({ path, view, schedule, flow, months, from, servedDays }: ClassPart): void {
  const { chance, cells } = view;
  const { count } = months.spans;
  const { step, part } = months.ends;
  for (let i = 0; i < schedule.positions.cells.length; i++) {
    const row = itemAt(flow.first.rows, i);
    const positions = floatAt(path.cellPositions, from + i);
    let before = floatAt(row, 0);
    for (let m = 0; m < count; m++) {
      const k = step[m] as number;
      const whole = floatAt(row, k);
      const now = whole + floatAt(part, m) * (floatAt(row, k + 1) - whole);
      const opened = (flow.openingsNow * floatAt(servedDays, m) * (before + now)) / 2;
      chance[m * cells + from + i] = Math.max(0, before - now - opened) / positions;
      before = now;
    }
  }
  const { due } = flow.first;
  for (let i = 0; i < due.moment.length; i++) {
    const cell = from + at(due.cell, i);
    const moment = floatAt(due.moment, i);
    const amount = floatAt(due.amount, i);
    const m = spanOf(months.spans, moment);
    if (m < 0) continue;
    path.planned[m] = floatAt(path.planned, m) + amount;
    const share = amount / floatAt(path.cellPositions, cell);
    moveToMonth(view, months.spans, schedule.grid.stepDays, cell, moment, share);
    addToKit(path, view, path.kitList.kitOf(schedule, moment), cell, amount);
  }
}

/** Where the step of a replacement reaches over the end of a month, its chance goes to the month of its day. */
function moveToMonth(
  view: DrawView,
  spans: Spans,
  stepDays: number,
  cell: number,
  moment: number,
  share: number,
): void {
  const start = Math.max(0, Math.ceil(moment / stepDays - 1e-9) - 1) * stepDays;
  const first = spanOf(spans, start + 1e-6);
  const last = spanOf(spans, start + stepDays);
  if (first === last || first < 0) return;
  const early = (floatAt(spans.edges, first + 1) - start) / stepDays;
  const add = (m: number, amount: number): void => {
    if (m >= 0) view.chance[m * view.cells + cell] = floatAt(view.chance, m * view.cells + cell) + amount;
  };
  add(first, -share * early);
  add(last, -share * (1 - early));
  add(spanOf(spans, moment), share);
}

function addToKit(path: ItemPath, view: DrawView, kit: number, cell: number, amount: number): void {
  if (kit < 0) return;
  const index = kit * view.cells + cell;
  view.kitChance[index] = floatAt(view.kitChance, index) + amount / floatAt(path.cellPositions, cell);
}

/** Replacements of lives fitted from today on: shared out among the positions whose first life has ended by then. */
export function addLaterPlanned(part: ClassPart): void {
  const { schedule, flow, months } = part;
  const { windows } = schedule.positions;
  flow.later.plannedByWindow.forEach((amount, w) => {
    if (amount > 0) shareOut(part, itemAt(windows, w).moment, amount);
  });
  if (windows.length > 0) return;
  const byMonth = new Float64Array(months.spans.count);
  addToSpans(months.shares, flow.later.plannedByStep, byMonth);
  byMonth.forEach((amount, m) => {
    if (amount > 0) shareOut(part, floatAt(months.spans.edges, m + 1), amount);
  });
}

function shareOut(
  { path, view, schedule, flow, months, from }: ClassPart,
  moment: number,
  amount: number,
): void {
  const m = spanOf(months.spans, moment);
  if (m < 0) return;
  path.planned[m] = floatAt(path.planned, m) + amount;
  const { stepDays, steps } = schedule.grid;
  const step = Math.min(steps - 1, Math.floor(floatAt(months.spans.edges, m) / stepDays));
  const ended = schedule.positions.cells.map((cell, i) =>
    Math.max(0, cell.positions - floatAt(itemAt(flow.first.rows, i), step)),
  );
  const all = ended.reduce((sum, each) => sum + each, 0);
  const share = all > 0 ? Math.min(1, amount / all) : 0;
  const kit = path.kitList.kitOf(schedule, moment);
  ended.forEach((each, i) => {
    const index = m * view.cells + from + i;
    view.chance[index] = floatAt(view.chance, index) + (share * each) / floatAt(path.cellPositions, from + i);
    addToKit(path, view, kit, from + i, share * each);
  });
  view.later[m] = floatAt(view.later, m) + amount - share * all;
  if (kit >= 0) view.kitLater[kit] = floatAt(view.kitLater, kit) + amount - share * all;
}
