/**
 * Prices at which the lower bound is highest, by the subgradient method with steps after Polyak and directions after
 * Camerini, Fratta and Maffioli (Mathematical Programming Study 3 (1975) 26), from memory; and the best plan met with.
 */
import { floatAt, itemAt, wholeAt } from '../../numeric/columns.js';
import { type Draft, draftOf } from './draft.js';
import { addSchedule } from './farSchedules.js';
import { type Effort, improve } from './improve.js';
import { addUse } from './limitRows.js';
import type { Model, ModelLine, ModelPlace } from './model.js';
import { relaxed } from './relaxation.js';
import { repair } from './repair.js';
import { windowsOf } from './schedules.js';
import type { FleetOptimum } from './types.js';

/** A plan is made of the relaxed one in every so many rounds. */
const REPAIR_EVERY = 12;
/** Steps are halved after so many rounds without a better bound, and the search ends below the least step. */
const PATIENCE = 8;
const LEAST_STEP = 1e-4;
const DEFLECTION = 1.5;
/** Pairs of windows looked at in all rounds, where lines have many of them; and rounds that are made in any case. */
const MOST_PAIRS = 3e8;
const LEAST_ROUNDS = 40;

export interface Found {
  plan: Draft;
  bound: number;
  prices: Float64Array;
  rounds: number;
  status: FleetOptimum['status'];
}

interface Search {
  model: Model;
  prices: Float64Array;
  direction: Float64Array;
  step: number;
  stalled: number;
  best: Point;
  plan: Draft;
}

/** Prices, the bound that they give, and by how much the relaxed plan is over each limit, in units of the row. */
interface Point {
  bound: number;
  prices: Float64Array;
  over: Float64Array;
}

/** Searches, from another plan where one is given, until the plan is within a share of the bound, or the rounds are used up. */
export function search(
  model: Model,
  mostRounds: number,
  gap: number,
  start: readonly number[][] | null = null,
): Found {
  const free = relaxed(model, new Float64Array(model.rows.list.length));
  const state = started(model, free.chosen);
  if (start !== null) tryPlan(state, listedParts(model, start), 'lines');
  let rounds = 0;
  let status: Found['status'] = 'rounds';
  const most = Math.min(Math.max(1, mostRounds), roundsWithin(model));
  for (; rounds < most; rounds++) {
    const { bound, chosen } = relaxed(model, state.prices);
    const from = keepBest(state, { bound, prices: state.prices, over: excess(model, chosen) });
    if (rounds % REPAIR_EVERY === REPAIR_EVERY - 1) tryPlan(state, chosen, 'places');
    if (isClose(state, gap)) break;
    if (state.step < LEAST_STEP || model.rows.list.length === 0) {
      status = 'stalled';
      break;
    }
    takeStep(state, from);
  }
  tryPlan(state, relaxed(model, state.best.prices).chosen, 'lines');
  improve(state.plan, 'exchanges');
  if (isClose(state, gap)) status = isClose(state, 1e-9) ? 'best' : 'close';
  return { plan: state.plan, bound: state.best.bound, prices: state.best.prices, rounds, status };
}

/** Fewer rounds where many positions with many windows have nothing in common: each round works out all of them. */
function roundsWithin({ places }: Model): number {
  const known = new Map<number, number>();
  for (const { far, arcs } of places) if (far >= 0) known.set(far, arcs.known);
  let pairs = 0;
  for (const windows of known.values()) pairs += windows * windows;
  return pairs === 0 ? Infinity : Math.max(LEAST_ROUNDS, Math.floor(MOST_PAIRS / pairs));
}

function started(model: Model, chosen: Int32Array): Search {
  const count = model.rows.list.length;
  const prices = new Float64Array(count);
  const plan = draftOf(model, chosen);
  repair(plan, prices);
  improve(plan, 'lines');
  return {
    model,
    prices,
    direction: new Float64Array(count),
    step: 1,
    stalled: 0,
    best: { bound: -Infinity, prices, over: new Float64Array(count) },
    plan,
  };
}

/** Keeps what is best so far, and says where to step from: back at the best point with half the step where it stalls. */
function keepBest(state: Search, point: Point): Point {
  const { best } = state;
  state.stalled = point.bound > best.bound + 1e-7 * Math.abs(best.bound) ? 0 : state.stalled + 1;
  if (point.bound > best.bound) state.best = { ...point, prices: Float64Array.from(point.prices) };
  if (state.stalled < PATIENCE) return point;
  state.stalled = 0;
  state.step /= 2;
  state.prices = Float64Array.from(state.best.prices);
  state.direction.fill(0);
  return state.best;
}

function isClose({ plan, best }: Search, gap: number): boolean {
  return plan.cost - best.bound <= gap * Math.abs(plan.cost);
}

function tryPlan(state: Search, chosen: Int32Array, effort: Effort): void {
  const plan = draftOf(state.model, chosen);
  repair(plan, state.best.prices);
  improve(plan, effort);
  if (plan.cost < state.plan.cost) state.plan = plan;
}

/** The cheapest part of each schedule that is among those of its place: it costs no more and uses no more. */
function listedParts({ places }: Model, plan: readonly number[][]): Int32Array {
  return Int32Array.from(plan, (schedule, p) => listedPart(itemAt(places, p), schedule));
}

function listedPart({ arcs, windows, schedules, unmetCost, far }: ModelPlace, schedule: number[]): number {
  const touched = new Uint8Array(arcs.known);
  for (const k of schedule) if (windows.frozen[k + 1] === 0) touched[k] = 1;
  if (far >= 0)
    return addSchedule(
      schedules,
      arcs,
      unmetCost,
      [...touched.keys()].filter((k) => touched[k] === 1),
    );
  const { count, start, nodes, order, empty } = schedules;
  for (let n = 0; n < count; n++) {
    const c = wholeAt(order, n);
    const part = nodes.subarray(wholeAt(start, c), wholeAt(start, c + 1));
    if (part.every((k) => touched[k] === 1)) return c;
  }
  return empty;
}

/** Use above capacity by row, in units of the row. */
function excess(model: Model, chosen: Int32Array): Float64Array {
  const { list } = model.rows;
  const use = new Float64Array(list.length);
  for (let p = 0; p < chosen.length; p++) addUse(model, p, wholeAt(chosen, p), 1, use);
  for (const line of model.lines) {
    if (line.lineRow.every((row) => row < 0)) continue;
    const counts = replacementsOf(model, line, chosen);
    for (let k = 0; k < line.windows.length; k++) {
      const row = wholeAt(line.lineRow, k);
      if (row < 0) continue;
      const count = wholeAt(counts, k);
      const part = line.isShared ? count / line.places.length : Math.min(1, count);
      use[row] = floatAt(use, row) + part;
    }
  }
  return use.map((used, row) => (used - itemAt(list, row).capacity) / itemAt(list, row).unit);
}

/** Replacements by window of a line. */
function replacementsOf({ places }: Model, line: ModelLine, chosen: Int32Array): Int32Array {
  const counts = new Int32Array(line.windows.length);
  for (const p of line.places) {
    for (const k of windowsOf(itemAt(places, p).schedules, wholeAt(chosen, p)))
      counts[k] = wholeAt(counts, k) + 1;
  }
  return counts;
}

/** One step of the prices; a price is never below 0. */
function takeStep(state: Search, { bound, over }: Point): void {
  const { direction, prices, model } = state;
  let [along, length] = [0, 0];
  for (let row = 0; row < over.length; row++) {
    along += floatAt(direction, row) * floatAt(over, row);
    length += floatAt(direction, row) ** 2;
  }
  const turn = along < 0 && length > 0 ? (-DEFLECTION * along) / length : 0;
  let norm = 0;
  for (let row = 0; row < over.length; row++) {
    const d = floatAt(over, row) + turn * floatAt(direction, row);
    direction[row] = d;
    if (d > 0 || floatAt(prices, row) > 0) norm += d * d;
  }
  if (norm === 0) return;
  const size = (state.step * Math.max(state.plan.cost - bound, 1e-9 * Math.abs(bound))) / norm;
  for (let row = 0; row < over.length; row++) {
    const { unit } = itemAt(model.rows.list, row);
    prices[row] = Math.max(0, floatAt(prices, row) + (size * floatAt(direction, row)) / unit);
  }
}
