/** One item under all draws: its classes of positions, and what is added up over the draws. */
import { at, columnOf, floatAt, itemAt } from '../numeric/columns.js';
import type { Parts } from './countLaw.js';
import { momentsOf } from './countLaw.js';
import type { Spans, StepShares, TimeGrid } from './grid.js';
import { addToSpans, stepShares } from './grid.js';
import { addFirst, addLaterPlanned } from './itemChances.js';
import { type JobSizes, jobSpread } from './jobs.js';
import type { KitList } from './kits.js';
import type { ClassSchedule } from './laterLives.js';
import type { Mixture } from './mixture.js';
import { addDraw, emptyMixture } from './mixture.js';
import type { ClassFlow } from './path.js';

/** Days of the year whose rate the stock room plans on. */
export const FIRST_YEAR_DAYS = 365;

/** Months laid over the grid. */
export interface Months {
  spans: Spans & { names: string[] };
  shares: StepShares;
  /** Where the months end: whole step, and part of the next. */
  ends: { step: Int32Array; part: Float64Array };
  /** Months that make up the first year, at most 12. */
  firstYear: number;
  /** Steps that make up 365 days, at most all. */
  stepsOfYear: number;
}

/** Sums over draws. */
export interface ItemPath {
  item: string;
  material: string;
  size: number;
  jobs: JobSizes;
  schedules: ClassSchedule[];
  kitList: KitList;
  /** Per class: days of each month in which it is in service. */
  servedDays: Float64Array[];
  /** Positions per cell, cells of all classes one after another. */
  cellPositions: Float64Array;
  /** Per month. */
  planned: Float64Array;
  leaks: Float64Array;
  opened: Float64Array;
  total: Mixture[];
  /** Per kit. */
  kit: Mixture[];
  kitExpected: Float64Array;
  /** Random demand by step: sum and sum of squares over draws. */
  random: Float64Array;
  randomSquare: Float64Array;
  openedByStep: Float64Array;
  /** Per draw: random demand of the first year, and leaks of the whole horizon, pieces. */
  randomOfDraw: number[];
  leaksOfDraw: number[];
  /** Total of the first year: sums over draws of mean, square of the mean, variance within the draw. */
  year: { mean: number; square: number; within: number };
  /** Columns that each draw fills anew. */
  view: DrawView;
}

export function openItemPath(
  name: { item: string; material: string; size: number },
  schedules: ClassSchedule[],
  jobs: JobSizes,
  months: Months,
  kits: KitList,
): ItemPath {
  const count = months.spans.count;
  const steps = schedules[0]?.grid.steps ?? 0;
  const cells = schedules.reduce((sum, { positions }) => sum + positions.cells.length, 0);
  return {
    ...name,
    jobs,
    schedules,
    kitList: kits,
    servedDays: schedules.map(({ positions }) => servedDays(months.spans, positions.ends)),
    cellPositions: Float64Array.from(
      schedules.flatMap(({ positions }) => positions.cells.map((cell) => cell.positions)),
    ),
    planned: new Float64Array(count),
    leaks: new Float64Array(count),
    opened: new Float64Array(count),
    total: Array.from({ length: count }, emptyMixture),
    kit: kits.kits.map(emptyMixture),
    kitExpected: new Float64Array(kits.kits.length),
    random: new Float64Array(steps),
    randomSquare: new Float64Array(steps),
    openedByStep: new Float64Array(steps),
    randomOfDraw: [],
    leaksOfDraw: [],
    year: { mean: 0, square: 0, within: 0 },
    view: emptyView(cells, kits.kits.length, count, steps),
  };
}

function servedDays({ edges, count }: Spans, ends: number | null): Float64Array {
  const served = (m: number): number => Math.min(floatAt(edges, m), ends ?? Infinity);
  return Float64Array.from({ length: count }, (_, m) => served(m + 1) - served(m));
}

/** Months laid over a grid; the first twelve make up the first year. */
export function monthsOver(grid: TimeGrid, spans: Months['spans']): Months {
  const ends = Array.from({ length: spans.count }, (_, m) => floatAt(spans.edges, m + 1) / grid.stepDays);
  // The last month may end with the last step: then it is that step's end, and no part of one beyond.
  const step = Int32Array.from(ends, (end) => Math.min(Math.floor(end), grid.steps - 1));
  return {
    spans,
    shares: stepShares(grid, spans),
    ends: { step, part: columnOf(ends, (end, m) => Math.min(end - at(step, m), 1)) },
    firstYear: Math.min(12, spans.count),
    stepsOfYear: Math.min(grid.steps, FIRST_YEAR_DAYS / grid.stepDays),
  };
}

/** What one draw says about one item; `chance` and `kitChance` have a row of cells per month or kit. */
export interface DrawView {
  cells: number;
  chance: Float64Array;
  kitChance: Float64Array;
  /** Poisson numbers beside the cells. */
  later: Float64Array;
  kitLater: Float64Array;
  randomStep: Float64Array;
}

/** Adds one draw; `flows` are those of the item's classes, in order. */
export function addItemDraw(path: ItemPath, flows: readonly ClassFlow[], months: Months): void {
  const view = cleared(path.view);
  const opened = new Float64Array(months.spans.count);
  let from = 0;
  let leaks = 0;
  flows.forEach((flow, c) => {
    const schedule = itemAt(path.schedules, c);
    addToSpans(months.shares, flow.opened, opened);
    addToSpans(months.shares, flow.laterLeaks, view.later);
    addToSpans(months.shares, flow.firstLeaks, path.leaks);
    addToSpans(months.shares, flow.laterLeaks, path.leaks);
    leaks += addSteps(path, view, flow);
    const part = { path, view, schedule, flow, months, from, servedDays: itemAt(path.servedDays, c) };
    addFirst(part);
    addLaterPlanned(part);
    from += schedule.positions.cells.length;
  });
  closeDraw(path, view, opened, months);
  path.leaksOfDraw.push(leaks);
  path.randomOfDraw.push(firstYear(view.randomStep, months.stepsOfYear));
}

function emptyView(cells: number, kits: number, months: number, steps: number): DrawView {
  return {
    cells,
    chance: new Float64Array(cells * months),
    kitChance: new Float64Array(cells * kits),
    later: new Float64Array(months),
    kitLater: new Float64Array(kits),
    randomStep: new Float64Array(steps),
  };
}

function cleared(view: DrawView): DrawView {
  for (const column of [view.chance, view.kitChance, view.later, view.kitLater, view.randomStep])
    column.fill(0);
  return view;
}

/** Adds the random demand of a class; gives its leaks. */
function addSteps(path: ItemPath, view: DrawView, flow: ClassFlow): number {
  let total = 0;
  for (let k = 0; k < view.randomStep.length; k++) {
    const leaks = floatAt(flow.firstLeaks, k) + floatAt(flow.laterLeaks, k);
    view.randomStep[k] = floatAt(view.randomStep, k) + leaks + floatAt(flow.opened, k);
    path.openedByStep[k] = floatAt(path.openedByStep, k) + floatAt(flow.opened, k);
    total += leaks;
  }
  return total;
}

/** Sum of the first so many steps, whole or not. */
function firstYear(steps: Float64Array, count: number): number {
  const whole = Math.min(Math.floor(count), steps.length);
  const part = whole < steps.length ? (count - whole) * floatAt(steps, whole) : 0;
  let total = part;
  for (let k = 0; k < whole; k++) total += floatAt(steps, k);
  return total;
}

/** Adds the draw's distributions and sums to the item. */
function closeDraw(path: ItemPath, view: DrawView, opened: Float64Array, months: Months): void {
  const { cellPositions } = path;
  const { cells } = view;
  for (let i = 0; i < view.chance.length; i++)
    view.chance[i] = Math.min(1, Math.max(0, floatAt(view.chance, i)));
  for (let i = 0; i < view.kitChance.length; i++) view.kitChance[i] = Math.min(1, floatAt(view.kitChance, i));
  path.total.forEach((mixture, m) => {
    const chance = view.chance.subarray(m * cells, (m + 1) * cells);
    addDraw(mixture, { chance, positions: cellPositions, poisson: floatAt(view.later, m) });
    path.opened[m] = floatAt(path.opened, m) + floatAt(opened, m);
  });
  path.kit.forEach((mixture, kit) => {
    const chance = view.kitChance.subarray(kit * cells, (kit + 1) * cells);
    const parts = { chance, positions: cellPositions, poisson: floatAt(view.kitLater, kit) };
    path.kitExpected[kit] = floatAt(path.kitExpected, kit) + addDraw(mixture, parts);
  });
  for (let k = 0; k < view.randomStep.length; k++) {
    const mean = floatAt(view.randomStep, k);
    path.random[k] = floatAt(path.random, k) + mean;
    path.randomSquare[k] = floatAt(path.randomSquare, k) + mean * mean;
  }
  addYear(path, view, opened, months.firstYear);
}

/** Total of the first year: each position's chances over the year together, at most one, the rest as later ones. */
function addYear(path: ItemPath, view: DrawView, opened: Float64Array, months: number): void {
  const chance = new Float64Array(view.cells);
  let poisson = 0;
  let openings = 0;
  for (let m = 0; m < months; m++) {
    poisson += floatAt(view.later, m);
    openings += floatAt(opened, m);
    for (let i = 0; i < view.cells; i++) {
      chance[i] = floatAt(chance, i) + floatAt(view.chance, m * view.cells + i);
    }
  }
  for (let i = 0; i < view.cells; i++) {
    poisson += Math.max(0, floatAt(chance, i) - 1) * floatAt(path.cellPositions, i);
    chance[i] = Math.min(1, floatAt(chance, i));
  }
  const moments: Parts = { chance, positions: path.cellPositions, poisson };
  const { mean, variance } = momentsOf(moments);
  path.year.mean += mean + openings;
  path.year.square += (mean + openings) ** 2;
  path.year.within += variance + openings * jobSpread(path.jobs);
}
