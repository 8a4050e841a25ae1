/** The lives that run today, followed until each leaks, is opened or is replaced on schedule. */
import { at, columnOf, floatAt, itemAt } from '../numeric/columns.js';
import type { CellLife, PositionClass } from './classes.js';
import type { TimeGrid } from './grid.js';
import type { SurvivalTable } from './survivalTable.js';
import { interpolationWeights, logSurvivalAt, survivalAt, YOUNG_STEPS } from './survivalTable.js';

/** Below this survival at its present age a life is followed by logarithms: interpolated, a ratio loses its digits. */
const TINY = 1e-6;

/** What happens to the lives of a class that run today; amounts are expected numbers of positions. */
export interface FirstFlow {
  /** Row c, element k: positions of cell c whose first life still runs at the end of k steps (row length steps + 1). */
  alive: Float64Array;
  /** The rows of `alive`. */
  rows: Float64Array[];
  /** Replaced on schedule: cell, moment and step of each date, the same in every draw, and the amounts of the draw. */
  due: { cell: Int32Array; moment: Float64Array; step: Int32Array; amount: Float64Array };
  /** All cells together: leaks and openings by step, mean number still running by step. */
  gone: Float64Array;
  running: Float64Array;
}

/** Columns for a class, to be filled for each draw anew. */
export function emptyFirstFlow(positions: PositionClass, grid: TimeGrid): FirstFlow {
  const length = grid.steps + 1;
  const alive = new Float64Array(positions.cells.length * length);
  return {
    alive,
    rows: positions.cells.map((_, c) => alive.subarray(c * length, (c + 1) * length)),
    due: emptyDue(positions, grid),
    gone: new Float64Array(grid.steps),
    running: new Float64Array(grid.steps),
  };
}

function emptyDue({ cells }: PositionClass, { stepDays, steps }: TimeGrid): FirstFlow['due'] {
  const dates = cells.flatMap(({ lives }, cell) =>
    lives.flatMap((life) =>
      insideGrid(life, stepDays, steps) ? life.due.map(({ moment }) => ({ cell, moment })) : [],
    ),
  );
  return {
    cell: Int32Array.from(dates, ({ cell }) => cell),
    moment: columnOf(dates, ({ moment }) => moment),
    step: Int32Array.from(dates, ({ moment }) => stepBefore(moment, stepDays)),
    amount: new Float64Array(dates.length),
  };
}

function insideGrid({ plannedAt }: CellLife, stepDays: number, steps: number): boolean {
  return plannedAt !== null && plannedAt <= steps * stepDays + 1e-9;
}

/** Fills the flow of a class under one draw. */
export function fillFirstFlow(
  flow: FirstFlow,
  positions: PositionClass,
  table: SurvivalTable,
  grid: TimeGrid,
): void {
  flow.alive.fill(0);
  flow.running.fill(0);
  let date = 0;
  for (let c = 0; c < positions.cells.length; c++) {
    for (const life of itemAt(positions.cells, c).lives) date = followLife(flow, c, life, table, grid, date);
  }
  if (positions.ends !== null) endService(flow, positions.ends, grid);
  sumCells(flow, grid);
}

/** From a moment on nothing happens to the lives in place; in its step they go as far as the step runs, evenly. */
function endService({ rows, due }: FirstFlow, ends: number, { stepDays, steps }: TimeGrid): void {
  const k = Math.max(0, Math.ceil(ends / stepDays - 1e-9) - 1);
  if (k >= steps) return;
  const part = ends / stepDays - k;
  rows.forEach((row, cell) => {
    const replaced = due.step.reduce(
      (sum, step, i) => (step === k && at(due.cell, i) === cell ? sum + floatAt(due.amount, i) : sum),
      0,
    );
    const before = floatAt(row, k);
    row.fill(before + part * (floatAt(row, k + 1) + replaced - before) - replaced, k + 1);
  });
}

/**
 * Adds one life to the row of its cell, and its scheduled replacement where that lies inside the grid, as the next of
 * the dates; gives the index of the date after it.
 */
function followLife(
  flow: FirstFlow,
  cell: number,
  life: CellLife,
  table: SurvivalTable,
  { stepDays, steps }: TimeGrid,
  date: number,
): number {
  const inside = insideGrid(life, stepDays, steps);
  const planned = life.plannedAt ?? 0;
  const last = inside ? stepBefore(planned, stepDays) : steps;
  const now = survivalAt(table, life.age);
  const row = itemAt(flow.rows, cell);
  row[0] = floatAt(row, 0) + life.weight;
  const before =
    now > TINY ? fillRow(row, life, table, last, life.weight / now) : fillByLogs(row, life, table, last);
  if (!inside) return date;
  const later = life.age + planned;
  const left =
    now > TINY
      ? survivalAt(table, later) / now
      : Math.exp(logSurvivalAt(table.model, later) - logSurvivalAt(table.model, life.age));
  const amount = life.weight * left * Math.exp(-table.openings * planned);
  // The trapezoid over the whole step, that sumCells adds, takes the life as gone at the end of the step.
  const ran = ((planned - last * stepDays) / stepDays) * ((before + amount) / 2) - before / 2;
  flow.running[last] = floatAt(flow.running, last) + ran;
  const { due } = life;
  for (let i = 0; i < due.length; i++) flow.due.amount[date + i] = amount * itemAt(due, i).share;
  return date + due.length;
}

/** Index of the step that a moment falls in; a moment on an edge belongs to the step that ends there. */
function stepBefore(moment: number, stepDays: number): number {
  return Math.max(0, Math.ceil(moment / stepDays - 1e-9) - 1);
}

/** Adds the life at the end of 1 to `last` steps; gives the last amount. */
function fillRow(
  row: Float64Array,
  life: CellLife,
  table: SurvivalTable,
  last: number,
  scale: number,
): number {
  const { stepDays, survival: s, unopened } = table;
  const first = Math.floor(life.age / stepDays);
  const { a, b, c, d } = interpolationWeights(life.age / stepDays - first);
  let left = life.weight;
  let k = 1;
  for (; k <= last && first + k < YOUNG_STEPS; k++) {
    left = Math.min(left, scale * survivalAt(table, life.age + k * stepDays) * floatAt(unopened, k));
    row[k] = floatAt(row, k) + left;
  }
  for (; k <= last; k++) {
    const i = first + k;
    const survival =
      a * floatAt(s, i - 1) + b * floatAt(s, i) + c * floatAt(s, i + 1) + d * floatAt(s, i + 2);
    left = Math.min(left, scale * survival * floatAt(unopened, k));
    row[k] = floatAt(row, k) + left;
  }
  return left;
}

function fillByLogs(row: Float64Array, life: CellLife, table: SurvivalTable, last: number): number {
  const logNow = logSurvivalAt(table.model, life.age);
  let left = life.weight;
  for (let k = 1; k <= last; k++) {
    const survival = Math.exp(logSurvivalAt(table.model, life.age + k * table.stepDays) - logNow);
    left = life.weight * survival * floatAt(table.unopened, k);
    row[k] = floatAt(row, k) + left;
  }
  return left;
}

function sumCells(flow: FirstFlow, { steps }: TimeGrid): void {
  const { alive, gone, running } = flow;
  const all = new Float64Array(steps + 1);
  for (let from = 0; from < alive.length; from += steps + 1) {
    for (let k = 0; k <= steps; k++) all[k] = floatAt(all, k) + floatAt(alive, from + k);
  }
  for (let k = 0; k < steps; k++) {
    gone[k] = floatAt(all, k) - floatAt(all, k + 1);
    running[k] = floatAt(running, k) + (floatAt(all, k) + floatAt(all, k + 1)) / 2;
  }
  const { step, amount } = flow.due;
  for (let i = 0; i < step.length; i++) {
    const k = step[i] as number;
    gone[k] = floatAt(gone, k) - floatAt(amount, i);
  }
}
