/** A plan found, in the words of who asked: windows by name, what binds and what it is worth, what cannot be met. */
import { at, floatAt, itemAt } from '../../numeric/columns.js';
import type { Draft } from './draft.js';
import { addUse } from './limitRows.js';
import type { Model, ModelPlace } from './model.js';
import { hasWindow, leastCost, missedBy, scheduleCost, windowsOf } from './schedules.js';
import type { Found } from './search.js';
import type { FleetChoice, FleetLimit, FleetOptimum, FleetProblem } from './types.js';
import { unmetDemands } from './unmet.js';

/** A price below this share of the cost of a plan, for a whole limit, is rounding. */
const NO_PRICE = 1e-9;

export function answerOf(
  problem: FleetProblem,
  model: Model,
  { plan, bound, prices, rounds, status }: Found,
  against: readonly number[][] | null,
): FleetOptimum {
  const unlimited = Int32Array.from(problem.positions, (position, p) =>
    ownBest(model, p, position.stopShare),
  );
  const choices = problem.positions.map((position, p): FleetChoice => {
    const place = itemAt(model.places, p);
    return {
      position: position.position,
      windows: windowNames(model, p, at(plan.chosen, p)),
      unlimited: windowNames(model, p, at(unlimited, p)),
      cost: scheduleCost(place.arcs, windowsOf(place.schedules, at(plan.chosen, p))),
      unlimitedCost: scheduleCost(place.arcs, windowsOf(place.schedules, at(unlimited, p))),
    };
  });
  const missed = model.places.reduce(
    (sum, { arcs, schedules, unmetCost }, p) =>
      sum + missedBy(arcs, windowsOf(schedules, at(plan.chosen, p))) * unmetCost,
    0,
  );
  const cost = choices.reduce((sum, choice) => sum + choice.cost, stopCosts(plan));
  const lowerBound = Math.min(cost, bound - missed);
  return {
    choices,
    cost,
    lowerBound,
    leastCost: Math.min(cost, leastOfAll(model)),
    gap: cost > 0 ? Math.max(0, (cost - lowerBound) / cost) : 0,
    againstCost: against === null ? null : costOfOther(model, against),
    unmetCost: model.unmetCost,
    limits: limitsOf(problem, model, plan, unlimited, prices, cost),
    unmet: unmetDemands(problem, model, plan),
    status,
    rounds,
  };
}

/** Every position at its own least cost, nothing limited and stops free. */
function leastOfAll({ places }: Model): number {
  return places.reduce((sum, { arcs, windows }) => sum + leastCost(arcs, windows.frozen), 0);
}

/** What another plan costs, stops included. */
function costOfOther(model: Model, schedules: readonly number[][]): number {
  let total = 0;
  for (const line of model.lines) {
    const open = new Set<number>();
    for (const p of line.places) {
      total += scheduleCost(itemAt(model.places, p).arcs, itemAt(schedules, p));
      for (const k of itemAt(schedules, p)) open.add(k);
    }
    for (let k = 0; k < line.windows.length; k++) if (open.has(k)) total += floatAt(line.stopCost, k);
  }
  return total;
}

/** Schedules of a plan that names windows: by place, the windows of its line from 0 on. */
export function schedulesOf(
  { positions }: FleetProblem,
  model: Model,
  plan: ReadonlyMap<string, readonly string[]>,
): number[][] {
  return positions.map(({ position }, p) => {
    const { line, windows } = itemAt(model.places, p);
    const own = itemAt(model.lines, line).windows;
    const names = new Set(plan.get(position));
    const known = Array.from({ length: windows.known }, (_, k) => k);
    return names.size === 0 ? [] : known.filter((k) => names.has(itemAt(model.windows, at(own, k)).name));
  });
}

/** The schedule of a place if nothing is limited and each replacement in a stop made for it pays its share. */
function ownBest(model: Model, p: number, stopShare: number): number {
  const { schedules, windows }: ModelPlace = itemAt(model.places, p);
  let [least, found] = [Infinity, 0];
  for (let n = 0; n < schedules.count; n++) {
    const c = at(schedules.order, n);
    if (floatAt(schedules.cost, c) >= least) break;
    let total = floatAt(schedules.cost, c);
    for (let i = at(schedules.start, c); i < at(schedules.start, c + 1); i++) {
      if (windows.made[at(schedules.nodes, i) + 1] === 1) total += stopShare;
    }
    if (total < least) [least, found] = [total, c];
  }
  return found;
}

function windowNames(model: Model, p: number, schedule: number): string[] {
  const { line, schedules } = itemAt(model.places, p);
  const { windows } = itemAt(model.lines, line);
  return windowsOf(schedules, schedule).map((k) => itemAt(model.windows, at(windows, k)).name);
}

function stopCosts({ model, open }: Draft): number {
  let total = 0;
  for (const { offset, stopCost } of model.lines) {
    for (let k = 0; k < stopCost.length; k++) if (at(open, offset + k) > 0) total += floatAt(stopCost, k);
  }
  return total;
}

/** Limits that are asked for more than there is, or that have a price. */
function limitsOf(
  problem: FleetProblem,
  model: Model,
  plan: Draft,
  unlimited: Int32Array,
  prices: Float64Array,
  cost: number,
): FleetLimit[] {
  const wanted = wantedUse(model, unlimited);
  const { list, nextOfItem } = model.rows;
  return list
    .map(({ kind, window, item, capacity }, row): FleetLimit => {
      // A piece that is there by a window is there for all later ones too.
      let price = floatAt(prices, row);
      for (let next = at(nextOfItem, row); next >= 0; next = at(nextOfItem, next))
        price += floatAt(prices, next);
      return {
        window: itemAt(model.windows, window).name,
        limit: kind,
        item: item < 0 ? null : ((problem.stock ?? [])[item]?.item ?? null),
        available: capacity,
        used: floatAt(plan.use, row),
        wanted: floatAt(wanted, row),
        savingPerUnit: price * Math.max(1, capacity) <= NO_PRICE * Math.abs(cost) ? 0 : price,
      };
    })
    .filter(({ wanted: asked, available, savingPerUnit }) => savingPerUnit > 0 || asked > available + 1e-9);
}

function wantedUse(model: Model, unlimited: Int32Array): Float64Array {
  const use = new Float64Array(model.rows.list.length);
  for (let p = 0; p < unlimited.length; p++) addUse(model, p, at(unlimited, p), 1, use);
  for (const { windows, lineRow, places } of model.lines) {
    for (let k = 0; k < windows.length; k++) {
      const row = at(lineRow, k);
      const isOpen = (p: number): boolean =>
        hasWindow(itemAt(model.places, p).schedules, at(unlimited, p), k);
      if (row >= 0 && places.some(isOpen)) use[row] = floatAt(use, row) + 1;
    }
  }
  return use;
}
