/**
 * Lives fitted from today on: every leak, opening and replacement starts one, and births are followed together.
 * The renewal equation is solved step by step. Births of a step are spread evenly over it and meet the mean of the
 * survival curve over the step; replacements in a window are born on its day. Second order in the step.
 */
import { scheduledDay } from '../interval/dueRule.js';
import { at, columnOf, floatAt, itemAt } from '../numeric/columns.js';
import type { NextWindow } from './carriedOut.js';
import type { PositionClass } from './classes.js';
import type { FirstFlow } from './firstLives.js';
import type { TimeGrid } from './grid.js';
import type { SurvivalTable } from './survivalTable.js';
import { areaTo, interpolationWeights, survivalAt, survivalBetween } from './survivalTable.js';

/** Expected events of lives fitted from today on, by step. */
export interface LaterFlow {
  /** Leaks and openings. */
  gone: Float64Array;
  /** Replaced on the day they are due, where a line has no windows. */
  plannedByStep: Float64Array;
  /** Replaced in window w of the class. */
  plannedByWindow: Float64Array;
}

/** What of a class does not depend on the draw. */
export interface ClassSchedule {
  positions: PositionClass;
  grid: TimeGrid;
  /** Windows within the grid, their step, and when the diaphragms fitted there are replaced next. */
  windowStep: Int32Array;
  windowNext: NextWindow[][];
  /** Lives born during step k are replaced in these windows (index, share of the step). */
  birthPlans: { window: number; share: number }[][];
  /** Share of the lives born during step k that no window within the grid replaces. */
  unplanned: Float64Array;
}

export function classSchedule(positions: PositionClass, grid: TimeGrid): ClassSchedule {
  const horizon = grid.steps * grid.stepDays;
  const inside = positions.windows.filter((window) => window.moment <= horizon + 1e-9);
  const windowStep = Int32Array.from(inside, ({ moment }) => stepOf(moment, grid));
  const windowNext = inside.map(
    ({ moment }) => positions.after.get(moment) ?? [{ moment: plannedMoment(positions, moment), share: 1 }],
  );
  const birthPlans =
    positions.windows.length === 0
      ? []
      : Array.from({ length: grid.steps }, (_, k) => plansOfStep(positions, k, grid, inside.length));
  const unplanned = columnOf(birthPlans, (plans) => 1 - plans.reduce((sum, { share }) => sum + share, 0));
  return { positions, grid, windowStep, windowNext, birthPlans, unplanned };
}

/** Index of the step that a moment falls in; a moment on an edge belongs to the step that ends there. */
function stepOf(moment: number, { stepDays, steps }: TimeGrid): number {
  return Math.min(steps - 1, Math.max(0, Math.ceil(moment / stepDays - 1e-9) - 1));
}

function plannedMoment({ windows, intervalNext, ends }: PositionClass, moment: number): number | null {
  const lineWindows = windows.map(({ name, moment: day }) => ({ name, day, known: true }));
  return scheduledDay(moment, intervalNext, lineWindows, moment, ends);
}

/** The window of lives born in a step, by thirds of the step. */
function plansOfStep(
  positions: PositionClass,
  k: number,
  grid: TimeGrid,
  known: number,
): { window: number; share: number }[] {
  const shares = new Map<number, number>();
  for (const third of [1 / 6, 1 / 2, 5 / 6]) {
    const born = (k + third) * grid.stepDays;
    const window = windowAfter(positions, plannedMoment(positions, born), (k + 1) * grid.stepDays);
    if (window < 0 || window >= known) continue;
    shares.set(window, (shares.get(window) ?? 0) + 1 / 3);
  }
  return [...shares].map(([window, share]) => ({ window, share }));
}

/**
 * Place of the window of a planned moment; -1 where there is none. A window within the step of the birth itself, which only intervals of days
 * ask for, is left out for the one after it.
 */
function windowAfter(positions: PositionClass, planned: number | null, end: number): number {
  const { windows } = positions;
  let moment = planned;
  while (moment !== null && moment <= end) {
    const next = plannedMoment(positions, moment);
    if (next === null || next <= moment) break;
    moment = next;
  }
  return windows.findIndex((window) => window.moment === moment);
}

interface Work {
  schedule: ClassSchedule;
  table: SurvivalTable;
  flow: LaterFlow;
}

/** Columns for a class, to be filled for each draw anew. */
export function emptyLaterFlow({ grid, windowStep }: ClassSchedule): LaterFlow {
  return {
    gone: new Float64Array(grid.steps),
    plannedByStep: new Float64Array(grid.steps),
    plannedByWindow: new Float64Array(windowStep.length),
  };
}

/** Follows all later lives of a class; `first` is what happens to the lives that run today, summed over the class. */
export function fillLaterFlow(
  flow: LaterFlow,
  schedule: ClassSchedule,
  table: SurvivalTable,
  first: FirstFlow,
): void {
  for (const column of [flow.gone, flow.plannedByStep, flow.plannedByWindow]) column.fill(0);
  const work = { schedule, table, flow };
  if (schedule.positions.windows.length === 0) withoutWindows(work, first);
  else withWindows(work, first);
}

function withWindows(work: Work, first: FirstFlow): void {
  const { schedule, table, flow } = work;
  const { steps } = schedule.grid;
  const ownStep = floatAt(table.mean, 1);
  const firstPlanned = plannedPerWindow(schedule, first);
  let window = 0;
  for (let k = 0; k < steps; k++) {
    while (window < schedule.windowStep.length && at(schedule.windowStep, window) === k) {
      const born = floatAt(firstPlanned, window) + floatAt(flow.plannedByWindow, window);
      const { moment } = itemAt(schedule.positions.windows, window);
      for (const next of schedule.windowNext[window] ?? [])
        followTogether(work, moment, born * next.share, next.moment);
      window += 1;
    }
    const events = floatAt(first.gone, k) + floatAt(flow.gone, k);
    const births = events / ownStep;
    flow.gone[k] = floatAt(flow.gone, k) + births - events;
    for (const { window: planned, share } of itemAt(schedule.birthPlans, k)) {
      followStep(work, k, births * share, planned);
    }
    const unplanned = floatAt(schedule.unplanned, k);
    if (unplanned > 1e-9) followStep(work, k, births * unplanned, null);
  }
}

function plannedPerWindow({ positions, windowStep }: ClassSchedule, first: FirstFlow): Float64Array {
  const amounts = new Float64Array(windowStep.length);
  const { moment, amount } = first.due;
  for (let i = 0; i < moment.length; i++) {
    const window = positions.windows.findIndex((each) => each.moment === floatAt(moment, i));
    if (window >= 0 && window < amounts.length)
      amounts[window] = floatAt(amounts, window) + floatAt(amount, i);
  }
  return amounts;
}

/** Lives born evenly over step k, replaced in a window if they get there. */
function followStep({ schedule, table, flow }: Work, k: number, births: number, window: number | null): void {
  const { steps, stepDays } = schedule.grid;
  // A window within days of the birth is not met again: an interval is many steps long.
  const planned = window === null || at(schedule.windowStep, window) <= k ? null : window;
  const end = planned === null ? steps : at(schedule.windowStep, planned);
  const { mean, drop } = table;
  const { gone } = flow;
  for (let j = k + 1; j < end; j++) gone[j] = floatAt(gone, j) + births * floatAt(drop, j - k);
  if (planned === null) return;
  const { moment } = itemAt(schedule.positions.windows, planned);
  const youngest = moment - (k + 1) * stepDays;
  const left = births * ((areaTo(table, youngest + stepDays) - areaTo(table, youngest)) / stepDays);
  gone[end] = floatAt(gone, end) + births * floatAt(mean, end - k) - left;
  flow.plannedByWindow[planned] = floatAt(flow.plannedByWindow, planned) + left;
}

/**
 * Lives all born at one moment, replaced at another (or never). At the ends of steps their ages lie one step apart, so
 * that one set of weights interpolates them all.
 */
function followTogether(work: Work, born: number, amount: number, plannedAt: number | null): void {
  if (amount <= 0) return;
  const { schedule, table, flow } = work;
  const { steps, stepDays } = schedule.grid;
  const first = stepOf(born + 1e-6, schedule.grid);
  const youngest = Math.max(0, (first + 1) * stepDays - born) / stepDays;
  const whole = Math.floor(youngest);
  const part = youngest - whole;
  const weights = interpolationWeights(part);
  const scale = amount * Math.exp(-table.openings * part * stepDays);
  const last = plannedAt === null ? steps : Math.max(first, Math.ceil(plannedAt / stepDays - 1e-9) - 1);
  let before = amount;
  for (let k = first; k < Math.min(last, steps); k++) {
    const age = whole + k - first;
    const now = scale * survivalBetween(table, age, part, weights) * floatAt(table.unopened, age);
    flow.gone[k] = floatAt(flow.gone, k) + before - now;
    before = now;
  }
  if (plannedAt === null || last >= steps) return;
  const age = plannedAt - born;
  const left = amount * survivalAt(table, age) * Math.exp(-table.openings * age);
  flow.gone[last] = floatAt(flow.gone, last) + before - left;
  const window = schedule.positions.windows.findIndex(({ moment }) => moment === plannedAt);
  if (window >= 0) flow.plannedByWindow[window] = floatAt(flow.plannedByWindow, window) + left;
  else flow.plannedByStep[last] = floatAt(flow.plannedByStep, last) + left;
}

function withoutWindows(work: Work, first: FirstFlow): void {
  const { schedule, table, flow } = work;
  const { grid, positions } = schedule;
  const interval = positions.intervalNext;
  const ownStep = floatAt(table.mean, 1);
  const planned = new Float64Array(grid.steps);
  let overdue = 0;
  const { moment, step, amount } = first.due;
  for (let i = 0; i < moment.length; i++) {
    // What is overdue today is replaced at once and ages together; the rest is spread over its step.
    if (floatAt(moment, i) <= 1) overdue += floatAt(amount, i);
    else planned[at(step, i)] = floatAt(planned, at(step, i)) + floatAt(amount, i);
  }
  if (overdue > 0) followTogether(work, 1, overdue, interval === null ? null : 1 + interval);
  for (let k = 0; k < grid.steps; k++) {
    const events =
      floatAt(first.gone, k) + floatAt(planned, k) + floatAt(flow.gone, k) + floatAt(flow.plannedByStep, k);
    const births = events / ownStep;
    flow.gone[k] = floatAt(flow.gone, k) + births - events;
    if (interval === null) followStep(work, k, births, null);
    else followInterval(work, k, births, interval);
  }
}

/** Lives born evenly over step k, replaced at age `interval` (at least two steps). */
function followInterval({ schedule, table, flow }: Work, k: number, births: number, interval: number): void {
  const { steps, stepDays } = schedule.grid;
  const { mean, drop } = table;
  const whole = Math.floor(interval / stepDays + 1e-9);
  const part = Math.max(0, interval / stepDays - whole);
  const reach = Math.min(steps, k + whole);
  for (let j = k + 1; j < reach; j++) {
    flow.gone[j] = floatAt(flow.gone, j) + births * floatAt(drop, j - k);
  }
  const left = births * survivalAt(table, interval) * Math.exp(-table.openings * interval);
  // Of the lives running at the last whole step, those past the interval are gone by then.
  const lastRunning = (births * (areaTo(table, interval) - areaTo(table, whole * stepDays))) / stepDays;
  const now = k + whole;
  if (now < steps) {
    flow.plannedByStep[now] = floatAt(flow.plannedByStep, now) + left * (1 - part);
    flow.gone[now] =
      floatAt(flow.gone, now) + births * floatAt(mean, whole) - lastRunning - left * (1 - part);
  }
  if (now + 1 < steps) {
    flow.plannedByStep[now + 1] = floatAt(flow.plannedByStep, now + 1) + left * part;
    flow.gone[now + 1] = floatAt(flow.gone, now + 1) + lastRunning - left * part;
  }
}
